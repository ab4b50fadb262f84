package parse

import (
	"strings"

	"strconv"

	"tankside/engine"
	"tankside/engine/unit"
)

// unknownWords lists the unknown words that may be a unit or a crop: stuck behind
// a bare number, or where a seed's name belongs.
func (b *binder) unknownWords() {
	for i := range b.tokens {
		t := &b.tokens[i]
		switch {
		case t.class == cVague && !t.used:
			b.vague(i)
		case t.class == cDouble && b.factor(i):
		case t.class == cDouble && b.at(i+1).class != cFiller:
			b.req.Unread = append(b.req.Unread, b.piece(i, i+1))
		case t.class != cWord:
		case b.unitPlace(i):
			b.problem(&engine.Problem{Code: engine.UnknownUnit, Words: []string{b.piece(i, i+1).Text}})
			b.req.Unread = append(b.req.Unread, b.piece(i, i+1))
		case b.cropPlace(i), b.cropAskedAt(i):
			b.problem(&engine.Problem{Code: engine.UnknownCrop, Words: []string{b.piece(i, i+1).Text}})
			b.req.Unread = append(b.req.Unread, b.piece(i, i+1))
		}
	}
}

// factor: "double the rate", "el doble de semilla" is a factor on what the chat knows.
func (b *binder) factor(i int) bool {
	for k := i + 1; k < len(b.tokens) && k <= i+4; k++ {
		if t := &b.tokens[k]; t.class == cRole && mentioned[t.key] != engine.NoSlot {
			b.req.Factor, _ = strconv.ParseFloat(b.tokens[i].key, 64)
			return true
		}
	}
	return false
}

// vague: "some", "a few", "a couple hundred" before a unit, a load or a crop are
// asked about, never turned into a number.
func (b *binder) vague(i int) {
	if t := b.tokens[i].text; (strings.Contains(t, "fill") || strings.Contains(t, "full") || strings.Contains(t, "llen")) && !b.given(engine.LoadFraction) && !b.given(engine.LoadVolume) {
		at := b.piece(i, i+1) // "4000 tank, not full": how full, only the person can tell
		b.req.Unread = append(b.req.Unread, at)
		b.problem(&engine.Problem{Code: engine.Vague, Words: []string{at.Text}})
		return
	}
	if i > 0 && i == len(b.tokens)-1 && b.tokens[i-1].class == cCrop {
		at := b.piece(i-1, i+1) // "ryegrass some"
		b.req.Unread = append(b.req.Unread, b.piece(i, i+1))
		b.problem(&engine.Problem{Code: engine.Vague, Words: []string{at.Text}})
		return
	}
	for k := i + 1; k < len(b.tokens) && k <= i+3; k++ {
		switch t := &b.tokens[k]; {
		case t.class == cUnit, t.class == cScale, t.class == cCrop, t.counted(), t.class == cRole && t.key == "seed":
			if b.req.Question && t.class != cUnit && t.class != cScale && !t.counted() {
				return
			}
			at := b.piece(i, k+1)
			b.req.Unread = append(b.req.Unread, at)
			b.problem(&engine.Problem{Code: engine.Vague, Words: []string{at.Text}})
			return
		case t.class != cFiller && t.class != cOf && t.class != cSkip && t.class != cAbout:
			return
		}
	}
}

// unitPlace: right behind a bare number that no role word before it explains.
func (b *binder) unitPlace(i int) bool {
	if b.sampled() && jarPlace[b.tokens[i].text] {
		return false
	}
	for k := range b.qs {
		q := &b.qs[k]
		if q.j == i && !q.done && q.bare() {
			return true
		}
	}
	return false
}

// jarPlace are the words for when, or where, a jar was taken.
var jarPlace = map[string]bool{"start": true, "beginning": true, "begin": true, "first": true, "early": true, "middle": true, "mid": true, "half": true, "end": true, "late": true, "last": true,
	"front": true, "back": true, "left": true, "right": true, "top": true, "bottom": true, "principio": true, "inicio": true, "empezar": true, "medio": true, "mitad": true, "media": true, "final": true, "fin": true, "ultimo": true, "izquierda": true, "derecha": true,
	"low": true, "high": true, "short": true, "bajo": true, "alto": true, "poco": true, "pocas": true} // how they look

// cropPlace: beside an amount of seed that has no crop, or behind "seed of" and
// "what about" with no crop in the message.
func (b *binder) cropPlace(i int) bool {
	for k := range b.qs {
		q := &b.qs[k]
		seed := q.slot == engine.SeedRate && q.of == "" || q.slot == engine.NoSlot && !q.done && (q.dim() == unit.DimMass || q.dim() == unit.DimMassPerArea)
		if seed && (i >= q.j && b.gap(q.j, i) == 0 || i < q.i && b.gap(i+1, q.i) == 0) {
			return true
		}
	}
	return false
}

// cropAskedAt: the unknown word in a question about a crop that names no known one.
func (b *binder) cropAskedAt(i int) bool {
	if b.has(cCrop) || b.has(cRyeQ) || b.has(cCropQ) || len(b.qs) > 0 {
		return false
	}
	for _, a := range b.req.Asks {
		if a.Topic == engine.TopicCrop || a.Topic == engine.TopicSoak {
			return true
		}
	}
	return false
}
