package parse

import (
	"strings"

	"slices"
	"strconv"

	"tankside/engine/unit"
)

// sameUnitAhead says whether the amount after token i is in this unit too.
func (r *reader) sameUnitAhead(i int, unit string) bool {
	for i++; i < len(r.tokens); i++ {
		switch t := &r.tokens[i]; {
		case t.class == cUnit:
			return t.key == unit
		case !t.numeric() && t.class != cAnd:
			return false
		}
	}
	return false
}

// of: "a quarter of an acre", "1/4 de acre": the part is of the unit.
func (r *reader) of(i int) {
	prev, next := r.before(i), r.after(i)
	if prev.class != cFrac && prev.class != cNumFrac {
		return
	}
	if (next.class == cArt || next.class == cUn) && r.after(i+1).class == cUnit {
		next.class = cSkip
		r.tokens[i].class = cSkip
	} else if next.class == cUnit {
		r.tokens[i].class = cSkip
	}
}

// hoist moves what an amount is per in front of what it is of: "120 pounds of
// nitrogen an acre", "30 lb n per 1000 gal", "12 lb ryegrass/acre".
func (r *reader) hoist() {
	for i := range r.tokens {
		t := &r.tokens[i]
		if t.counted() && (r.at(i-1).numeric() || r.at(i-1).class == cUn) && r.at(i+1).class == cAnd && (r.at(i+2).class == cFrac || r.at(i+2).class == cNumFrac) {
			role := *t // "dos cargas y media" is two and a half loads
			r.tokens[i], r.tokens[i+1], r.tokens[i+2] = r.tokens[i+1], r.tokens[i+2], role
			continue
		}
		if t.text == "k" && t.class == cScale && r.at(i-1).class == cUnit {
			t.be(cNutQ, "k") // 20 lb K per 1000
		}
		if t.class != cNut && !(t.class == cNoun && t.key == "total_volume") && t.class != cNutW && t.class != cNutQ && t.class != cCrop && t.class != cRyeQ && t.class != cCropQ && !(t.class == cRole && t.key == "seed") {
			continue
		}
		from, to := i, i+1
		if r.at(to).class == cNutForm {
			to++ // 8 lb P elemental per 1000
		}
		for r.at(from-1).class == cOf || r.at(from-1).class == cNutForm {
			from--
		}
		if before := r.at(from - 1); before.class != cUnit && before.class != cNum || before.class == cUnit && strings.Contains(before.key, "/") {
			continue // "9000 gpa nutrients per acre" has its acre already
		}
		n := r.perLength(to)
		if n == 0 || r.at(from-1).class == cNum && r.at(to).class != cPerThou {
			continue
		}
		moved := make([]token, 0, to-from)
		moved = append(moved, r.tokens[from:to]...)
		copy(r.tokens[from:], r.tokens[to:to+n])
		copy(r.tokens[from+n:], moved)
	}
}

// perLength is how many tokens from i say what an amount is per.
func (r *reader) perLength(i int) int {
	switch c := r.at(i).class; {
	case c == cPerThou:
		return 1
	case c == cPer && r.at(i+1).class == cRole && r.at(i+1).key == "load":
		return 2
	case (c == cPer || c == cSlash || c == cXPer || c == cArt && r.at(i).key != "the") && r.at(i+1).class == cUnit && perUnit[r.at(i+1).key]:
		return 2
	case (c == cPer || c == cSlash) && r.at(i+1).key == "ton?":
		return 2 // 6 lb K2O per ton
	case (c == cPer || c == cSlash || c == cXPer || c == cArt && r.at(i).key != "the") && r.at(i+1).class == cRole && (r.at(i+1).key == "load" || r.at(i+1).key == "tank") && !r.at(i+1).plural() && !r.at(i+2).opens():
		return 2 // 5 lb of oats per load
	}
	return 0
}

// separate parts number words that stand side by side where a list or a mark is
// plain: the counts of jars, the mark behind "gate".
func (r *reader) separate() {
	jars := false
	for i := range r.tokens {
		jars = jars || r.tokens[i].class == cRole && r.tokens[i].key == "jar"
	}
	for i := 0; i < len(r.tokens); i++ {
		t := &r.tokens[i]
		switch {
		case jars && t.class == cFrac && jarPlace[t.text] && !r.partOfUnit(i):
			t.be(cFiller, t.text) // "a la mitad 42 44"
		case r.partOfOne(i):
			r.insert(i, token{class: cNum, key: "1", from: t.from, to: t.from, word: true}) // libra y media
			i++
		case r.ownNumber(i, jars):
			r.insert(i, token{class: cComma, key: ",", text: "and", from: t.from, to: t.from})
			i++
		}
	}
}

// partOfUnit says whether token i is a part of a unit: "half a gallon", "half-gallon".
func (r *reader) partOfUnit(i int) bool {
	next := r.after(i)
	return next.class == cUnit || (next.class == cDash || next.class == cArt || next.class == cUn) && r.after(i+1).class == cUnit
}

// insert puts a token before token i.
func (r *reader) insert(i int, t token) { r.tokens = slices.Insert(r.tokens, i, t) }

// partOfOne says whether token i is a unit whose one is unsaid: "libra y media".
func (r *reader) partOfOne(i int) bool {
	prev := r.at(i - 1)
	return r.tokens[i].class == cUnit && r.at(i+1).class == cAnd && r.at(i+2).class == cFrac && !prev.numeric() && prev.class != cUn && prev.class != cArt && prev.class != cPer
}

// ownNumber says whether the number word at i starts a number of its own: among jar
// counts where it cannot go on the last, behind the mark of a gate.
func (r *reader) ownNumber(i int, jars bool) bool {
	t, prev := &r.tokens[i], r.at(i-1)
	if t.class != cNum || !t.word || prev.class != cNum || !prev.word {
		return false
	}
	gate := r.at(i - 2)
	return jars && !(isTens(prev.key) && len(t.key) == 1) || gate.class == cRole && gate.key == "gate" && len(prev.key) == 1
}

func sameDim(a, b string) bool {
	u, v := unit.Find(a), unit.Find(b)
	return u != nil && v != nil && u.Dim == v.Dim
}

// perUnit are the units that something can be "per" with an article alone.
var perUnit = map[string]bool{"acre": true, "ha": true, "min": true, "h": true, "s": true, "lb": true, "kg": true, "gal": true, "ft2": true, "m2": true,
	"ton": true, "t": true, "m3": true, "L": true, "imp gal": true}

// inch: "12 in" is a width, "1500 gallons in 4 minutes" is not.
func (r *reader) inch(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	free := !next.opens() && !(next.class == cRole && (next.key == "tank" || next.key == "load")) && next.class != cArt && next.class != cMy && next.class != cUnit && next.class != cHom && next.class != cName && next.text != "the"
	if prev.numeric() && (free || next.class == cNum && r.inchesBefore(i)) {
		t.be(cUnit, "in")
	}
}

// inchesBefore: "144 in 600 gpm" is a width before a flow: a number without a unit that
// can be a width, and behind "in" an amount that is neither a time nor ground.
func (r *reader) inchesBefore(i int) bool {
	width, err := strconv.ParseFloat(r.before(i).key, 64)
	if err != nil || width < 60 || width > 480 || r.at(i-2).numeric() {
		return false
	}
	j := i + 1
	for r.at(j).numeric() {
		j++
	}
	u := unit.Find(r.at(j).key)
	return r.at(j).class == cUnit && u != nil && (u.Dim == unit.DimFlow || u.Dim == unit.DimSpeed || u.Dim == unit.DimVolumePerArea)
}

// clash keeps a bare t, m, g or ton as a unit only behind a number; what it means
// is settled when it is bound.
func (r *reader) clash(i int) {
	t, prev := &r.tokens[i], r.before(i)
	if n := r.at(i + 1); t.text == "g" && !t.glued && n.class == cNum && n.glued && r.gateSaid() {
		t.be(cRole, "gate") // g4 gives 610
		return
	}
	if prev.numeric() || prev.class == cPer || prev.class == cSlash || prev.class == cUnit && prev.key == "$" {
		return
	}
	if t.text == "ton" || t.text == "tons" {
		return
	}
	t.be(cFiller, t.text)
}

// gateSaid says whether the gate is named in full somewhere.
func (r *reader) gateSaid() bool {
	for i := range r.tokens {
		if t := &r.tokens[i]; t.class == cRole && t.key == "gate" || t.class == cNoun && t.key == "gate_opening" {
			return true
		}
	}
	return false
}

// sign: # is pounds behind a number and "number" before one; ' and " are feet and
// inches only right behind a number.
func (r *reader) sign(i int) {
	t, prev := &r.tokens[i], r.before(i)
	if over := r.at(i - 2); t.key == "ton?" && (prev.class == cPer || prev.class == cSlash) && over.class == cUnit && over.key == "lb" {
		t.be(cUnit, "ton") // pounds are counted by the short ton
		return
	}
	if per := perUnits[t.key]; per != nil && prev.numeric() { // 6500 gal ac
		if next := r.at(i + 1); next.class == cUnit && per[next.key] != "" {
			t.be(cUnit, per[next.key])
			t.to, next.class = next.to, cSkip
			return
		}
	}
	switch t.text {
	case "#":
		if !prev.numeric() {
			t.be(cFiller, "#")
			if n := r.at(i + 1); n.class == cNum && n.glued {
				n.class = cOrd
			}
		}
	case "'", `"`:
		if !prev.numeric() || !t.glued {
			t.be(cFiller, t.text)
		}
	}
}

// perUnits are units of what goes on, and the ground that people name right behind them.
var perUnits = map[string]map[string]string{
	"gal": {"acre": "gal/acre"}, "lb": {"acre": "lb/acre"}, "L": {"ha": "L/ha"}, "m3": {"ha": "m3/ha"}, "kg": {"ha": "kg/ha"},
}

func (r *reader) clashToUnit(t *token) { t.class = cUnit }
