package parse

import (
	"slices"
	"strings"

	"tankside/engine/unit"
)

// shortOne reads "one of them was only about 10 cube", "la última fue media carga" behind
// loads that were told of.
func (b *binder) shortOne(t *teller, from, to int) bool {
	if t.Count < 2 || t.Volume > 0 {
		return false
	}
	one, was := false, false
	var q *qty
	for i := from; i < to; i++ {
		tok := &b.tokens[i]
		was = was || oneOf(tok.text, wasOnly)
		if a := b.amountAt(i); a != nil && (b.gallons(a) || a.part && a.max < 1) {
			q = a
			i = a.j - 1
			continue
		}
		switch {
		case tok.class == cOrd, tok.text == "last", tok.text == "one", tok.text == "ultima", tok.text == "una", strings.HasPrefix(tok.text, "last one"), strings.HasPrefix(tok.text, "the last"), strings.HasPrefix(tok.text, "la ultima"), tok.class == cAct && tok.key == "correct":
			one = true
		case tok.class == cSkip, tok.class == cFiller, tok.class == cComma, tok.class == cOf, tok.class == cAbout, tok.class == cQ && tok.key == "is", tok.class == cRole && tok.key == "load", tok.class == cPer, tok.class == cArt, tok.class == cUn, tellLetter[tok.text] != 0:
		case b.reason(i):
			i = to
		default:
			return false
		}
	}
	if !one || !was || q == nil {
		return false
	}
	if q.part {
		t.shortPart = q.min
	} else {
		t.short, t.shortUnit = q.min, q.unit
	}
	q.done, q.rule = true, "one of the loads told of"
	return true
}

var wasOnly = words("was", "only", "fue", "era", "iba", "salio", "nomas", "solo", "them", "ellas")

// useUp marks what was read of a clause.
func (b *binder) useUp(from, to int) {
	for i := from; i < to; i++ {
		b.tokens[i].used = true
	}
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool { return a.Name == "correct" })
}

// smallTalk says whether a clause before the loads holds nothing of the job: "quittin
// time.", "arrancamos a las 7".
func (b *binder) smallTalk(from, to int) bool {
	if to >= len(b.tokens) {
		return false
	}
	started := false
	for i := from; i < to; i++ {
		t := &b.tokens[i]
		started = started || setOutWords[t.text]
		switch {
		case t.class == cClock, t.class == cAt, t.class == cTime:
			if !started {
				return false
			}
		case t.class == cWord, t.class == cFiller, t.class == cSkip, t.class == cComma, t.class == cMy, t.class == cOf, setOutWords[t.text]:
		default:
			return false
		}
	}
	return true
}

// onlyFillers says whether nothing but words that carry nothing stand in a clause.
func (b *binder) onlyFillers(from, to int) bool {
	for i := from; i < to; i++ {
		if c := b.tokens[i].class; c != cFiller && c != cSkip && c != cComma && c != cMy {
			return false
		}
	}
	return true
}

var setOutWords = words("started", "start", "starting", "began", "arrancamos", "arranque", "empezamos", "empece", "comenzamos")

// reason says whether words of why begin at token i: "cause the pit hose came off".
func (b *binder) reason(i int) bool {
	t := b.at(i).text
	return (t == "cause" || t == "because" || t == "cuz" || t == "cos" || t == "porque" || t == "pq") && !slices.ContainsFunc(b.qs, func(q qty) bool { return q.i > i && !q.done })
}

// harmless says whether what stands from token i on has no part in how big a load is.
func (b *binder) harmless(i int) bool {
	if slices.ContainsFunc(b.tokens[i:], func(t token) bool {
		return t.class == cNot || t.class == cFix || t.class == cAct && t.key != "left" && t.key != "totals"
	}) {
		return false
	}
	return !slices.ContainsFunc(b.qs, func(q qty) bool {
		return q.i >= i && (q.bare() || q.dim() == unit.DimVolume || q.dim() == unit.DimVolumePerArea || q.dim() == unit.DimMassPerArea || q.dim() == unit.DimFlow)
	})
}
