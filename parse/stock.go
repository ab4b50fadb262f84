package parse

import (
	"regexp"
	"slices"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// stockAsked says whether the loads are asked for that the seed at hand does: "how many loads
// will 25 lb of radish do", "pa cuántas cargas me alcanza esa bolsa de rábano".
func (b *binder) stockAsked() bool {
	if b.given(engine.Area) || b.given(engine.SeedPerLoad) || !b.has(cRole, "load", "tank") {
		return false
	}
	if !b.has(cCrop) && !b.has(cRyeQ) && !b.has(cCropQ) && !b.has(cRole, "seed") {
		return false
	}
	weight := slices.ContainsFunc(b.qs, func(q qty) bool { return q.dim() == unit.DimMass && !q.perLoad })
	return (weight || b.has(cRole, "bag") || b.has(cNoun, "bags")) && stockLoads.MatchString(b.text)
}

var stockLoads = regexp.MustCompile(`\bhow many (more )?(full )?(loads|tanks) (will|would|does|do|can|could|is|are)\b|\b(lasts?|good for|makes?|does|do) (me )?how many (loads|tanks)\b|\bcuant[oa]s (cargas|tanques|tanqueadas|pipas|viajes) (mas )?(completas )?(me |nos |se )?(alcan[zs]an?|rinden?|salen?|dan?|hago|hacemos|saco|sacamos|puedo)\b|\b(alcan[zs]an?|rinden?|dan?) (pa|para) cuant[oa]s (cargas|tanques|viajes)\b`)

// oneBag: "that bag of radish", "esa bolsa", is one bag.
func (b *binder) oneBag() {
	if b.given(engine.BagCount) || !b.stockAsked() {
		return
	}
	for k := range b.qs {
		if q := &b.qs[k]; q.slot == engine.TotalSeed {
			return
		}
	}
	for i := range b.tokens {
		t := &b.tokens[i]
		k := i - 1
		if q := b.amountBehind(i); q != nil && q.slot == engine.BagWeight {
			k = q.i - 1 // a 50 lb bag
		}
		if t.class != cRole || t.key != "bag" || t.plural() || !oneWords[lastWord(b.at(k).text)] {
			continue
		}
		of := ""
		if c := b.onlyCrop(); c >= 0 && (b.tokens[c].class == cCrop || !b.given(engine.SeedRate)) {
			of = b.cropNear(c)
		} else if q := b.first(engine.BagWeight); q != nil && c >= 0 {
			q.of = "" // of the one rye that is in the message, and its rate tells which
		}
		b.qs = append(b.qs, qty{i: k, j: k + 1, lo: k, hi: i + 1, min: 1, max: 1, unit: unit.Must(""), slot: engine.BagCount, of: of, rule: "that bag of radish", done: true})
		b.tokens[i].used, b.claimed[i] = true, true
		return
	}
}

func lastWord(s string) string { return s[strings.LastIndexByte(s, ' ')+1:] } // "will that"

var oneWords = words("that", "this", "a", "the", "my", "esa", "ese", "esta", "este", "la", "el", "mi", "un", "una")
