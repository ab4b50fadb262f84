package parse

import (
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
)

// rigWords are tankers that haul, each with its tractor.
var rigWords = words("rig", "rigs", "tanker", "tankers", "truck", "trucks", "semi", "semis", "spreader", "outfit", "outfits", "pipa", "pipas", "camion", "camiones", "troca", "trocas", "troque", "troques",
	"cisterna", "cisternas", "tanquero", "tanqueros", "tractores")

// secondWords before one of them say that there are two: "the second rig", "otra pipa".
var secondWords = words("second", "2nd", "another", "segunda", "segundo", "otra", "otro")

// rigs reads how many tankers haul, where a round, its time or a trial is spoken of: "what
// if we bring the second rig", "how long to finish with one tanker", "con dos pipas". They
// are no loads and no tank.
func (b *binder) rigs() {
	if b.has(cAct, "log", "totals", "undo", "correct", "loads_list") {
		return
	}
	for i := range b.tokens {
		t := &b.tokens[i]
		if !rigWords[t.text] || b.at(i+1).numeric() {
			continue
		}
		k, q := i-1, b.amountBehind(i)
		for k >= 0 && b.tokens[k].class == cSkip {
			k--
		}
		switch {
		case q != nil && !q.done && q.bare() && !q.part && q.min == q.max && q.min >= 1 && q.min <= 12 && q.min == float64(int(q.min)):
			if b.rigsMeant(q.i) {
				b.set(q, engine.Tankers, "", "with two trucks")
				b.taken(i)
			}
		case k >= 0 && secondWords[b.tokens[k].text] && b.rigsMeant(k):
			two := qty{i: k, j: i, lo: k, hi: i + 1, min: 2, max: 2, unit: unit.Must(""), slot: engine.Tankers, rule: "the second rig", done: true}
			at := slices.IndexFunc(b.qs, func(o qty) bool { return o.i > k })
			if at < 0 {
				at = len(b.qs)
			}
			b.qs = slices.Insert(b.qs, at, two)
			b.taken(k)
			b.taken(i)
		default:
			continue
		}
		if b.given(engine.Tankers) {
			b.sameSize()
			b.triedRigs()
		}
		return
	}
}

// taken keeps other rules off a token.
func (b *binder) taken(i int) {
	b.tokens[i].class, b.tokens[i].used = cSkip, true
}

// rigsMeant says whether a number of tankers that starts at token i is what hauls.
func (b *binder) rigsMeant(i int) bool {
	if b.hauls() || b.daysAsked() >= 0 || b.has(cNoun, "total_time", "tankers") || b.has(cQ, "howlong") || finishTime.MatchString(b.text) || hoursLeft.MatchString(b.text) {
		return true
	}
	if b.loadsNamed() && b.has(cQ, "howmany") {
		return slices.ContainsFunc(b.qs, func(q qty) bool { return q.dim() == unit.DimTime })
	}
	if len(b.qs) > 1 || b.has(cQ, "howmany", "howmuch") {
		return false
	}
	for k := 0; k < i; k++ {
		if t := &b.tokens[k]; t.class == cWhatIf || t.text == "with" || t.text == "con" || t.text == "bring" || t.text == "meto" || t.text == "metemos" || t.text == "traigo" || t.text == "traemos" {
			return true
		}
	}
	return false
}

// sameSize: a rig of the same size changes nothing of what is known.
func (b *binder) sameSize() {
	b.req.Same = false
	for i := range b.tokens {
		if t := &b.tokens[i]; t.text == "same" || t.text == "size" || t.text == "igual" || t.text == "iguales" || t.text == "mismo" || t.text == "misma" || t.text == "tamano" || t.text == "del mismo" || t.text == "same size" || t.text == "like this" {
			b.taken(i)
		}
	}
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool { return a.Name == "same" })
}

// triedRigs: by itself a number of tankers tries the question before it again; beside a
// round that is told, or with something asked, "with" tries nothing.
func (b *binder) triedRigs() {
	alone := len(b.qs) == 1 && !b.has(cNoun, "total_time", "tankers") && !b.has(cQ, "howlong") && b.daysAsked() < 0
	b.req.WhatIf = alone || b.req.WhatIf && !slices.ContainsFunc(b.tokens, func(t token) bool { return t.class == cWhatIf && t.text == "with" })
}
