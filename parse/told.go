package parse

import (
	"math"
	"slices"
	"strconv"

	"tankside/engine"
	"tankside/engine/unit"
)

// doneLoad: "load 4 done at 2:15", "half load done", "2 loads down": a load and a
// word for finished in one clause, and no question, is a load to log.
func (b *binder) doneLoad() {
	if b.movedLoad() || b.loadAmiss() || b.telling() {
		return
	}
	if b.acted("log") && !b.req.Question {
		b.reached() // "just dumped another, that's two"
		return
	}
	if b.req.Question || b.acted("log") || b.acted("correct") || b.acted("left") {
		return
	}
	if b.doneFirst() {
		return
	}
	if b.reached() || b.didLoads() || b.wentOn() || b.finishedCount() {
		return
	}
	if i := b.onlyLoad(); i >= 0 {
		b.tokens[i].used = true
		b.req.Acts = append(b.req.Acts, Act{Name: "log", Text: b.tokens[i].text, At: b.span(i, i+1)})
		return
	}
	for i := range b.tokens {
		t := &b.tokens[i]
		if t.class != cAct || t.key != "done" || t.text == "down" && b.at(i+1).text == "to" { // the tank is down to 2000
			continue
		}
		if n, ok := b.numberDone(i); ok {
			t.used = true
			b.req.Ordinal = n
			to := i + 1
			if b.at(i+2).class == cOrd {
				to = i + 3
			}
			b.req.Acts = append(b.req.Acts, Act{Name: "log", Text: t.text, Not: b.negated(i), At: b.span(i, to)})
			return
		}
		for k := i; k >= 0 && b.tokens[k].class != cQuestion; k-- {
			if l := &b.tokens[k]; (l.class == cRole || l.class == cSkip) && (l.key == "load" || l.key == "tank") {
				t.used, l.used = true, true
				b.req.Acts = append(b.req.Acts, Act{Name: "log", Text: t.text, Not: b.negated(i), At: b.span(k, i+1)})
				return
			}
		}
	}
}

// doneFirst: "done 3 loads" logs them.
func (b *binder) doneFirst() bool {
	for i := range b.tokens {
		switch t := &b.tokens[i]; t.class {
		case cSkip, cFiller:
			continue
		case cAct:
			j := i + 1
			for b.at(j).numeric() {
				j++
			}
			if l := b.at(j); t.key == "done" && j > i+1 && l.class == cRole && l.key == "load" {
				t.used = true
				b.req.Acts = append(b.req.Acts, Act{Name: "log", Text: t.text, Not: b.negated(i), At: b.span(i, j+1)})
				return true
			}
		}
		return false
	}
	return false
}

// reached: "y van cuatro", "that's three loads now" says how many loads there are by now.
func (b *binder) reached() bool {
	for i := range b.tokens {
		if !reachWords[b.tokens[i].text] {
			continue
		}
		q := b.amountAt(b.nextWord(i+1, 1))
		if q == nil && b.tokens[i].class == cFiller {
			q = b.amountAt2(i + 1)
		}
		if q == nil || q.i > i+2 || q.min != math.Trunc(q.min) || q.min < 1 || q.min > 60 || q.unit != nil && q.unit.Symbol != "" || len(b.qs) > 1 || !b.quietFrom(q.j) {
			continue
		}
		q.done, q.slot, q.rule = true, engine.NoSlot, "how many loads that makes"
		b.req.Ordinal, b.req.Reached, b.req.WhatIf = int(q.min), true, false
		at := b.span(i, q.j)
		if !b.acted("log") {
			b.req.Acts = append(b.req.Acts, Act{Name: "log", Text: b.tokens[i].text, At: at})
		} else {
			b.req.Acts = append(b.req.Acts, Act{Name: "reach", Text: b.tokens[i].text, At: at})
		}
		return true
	}
	return false
}

// quietFrom says whether nothing but "loads" and small words stand from token i on.
func (b *binder) quietFrom(i int) bool {
	for ; i < len(b.tokens); i++ {
		switch t := &b.tokens[i]; {
		case t.class == cSkip, t.class == cFiller, t.class == cComma, t.class == cTime, t.class == cScope:
		case t.class == cRole && t.key == "load":
		case t.class == cAct && t.key == "done":
			t.used = true
		default:
			return false
		}
	}
	return true
}

// wentOn: "third one went on at 9:40", "first load on", "ya acabamos la primera" log a
// load; "quita la primera" takes it back.
func (b *binder) wentOn() bool {
	for i := range b.tokens {
		if b.tokens[i].class != cOrd {
			continue
		}
		if next, t := b.at(i+1), b.at(i+2); next.class == cRole && next.key == "load" && (t.text == "went on" || t.text == "on" && b.timeOrEnd(i+3)) {
			b.req.Acts = append(b.req.Acts, Act{Name: "log", Text: t.text, At: b.span(i, i+3)})
			return true
		}
		if load := b.at(i - 1); load.class == cRole && load.key == "load" && !load.plural() && b.has(cClock) { // load 1 out at 6:20
			to := i + 1
			if t := b.at(to); t.text == "out" || t.text == "on" || t.text == "down" {
				to++
			}
			if b.timeOrEnd(to) {
				b.req.Acts = append(b.req.Acts, Act{Name: "log", Text: load.text, At: b.span(i-1, to)})
				return true
			}
		}
		verb := b.at(i - 2).text
		if the := b.at(i - 1).text; the != "la" && the != "el" || !b.timeOrEnd(i+1) {
			continue
		}
		act := ""
		switch {
		case didVerb[verb]:
			act = "log"
		case takeVerb[verb]:
			act = "undo"
		default:
			continue
		}
		b.tokens[i-2].used = true
		b.req.Acts = append(b.req.Acts, Act{Name: act, Text: verb, Not: b.negated(i - 2), At: b.span(i-2, i+1)})
		return true
	}
	return false
}

var (
	didVerb  = map[string]bool{"acabamos": true, "acabe": true, "terminamos": true, "termine": true, "quedo": true, "salio": true, "vaciamos": true, "vacie": true}
	takeVerb = map[string]bool{"quita": true, "anula": true, "elimina": true, "cancela": true}
)

// timeOrEnd says whether nothing but the time of day stands from token i on.
func (b *binder) timeOrEnd(i int) bool {
	for ; i < len(b.tokens); i++ {
		switch t := &b.tokens[i]; t.class {
		case cAt, cClock, cTime, cComma, cSkip, cOrd:
		default:
			return false
		}
	}
	return true
}

// finishedCount: "just finished 2" counts loads.
func (b *binder) finishedCount() bool {
	for k := range b.qs {
		q := &b.qs[k]
		t := b.at(q.i - 1)
		if len(b.qs) != 1 || q.j != len(b.tokens) || q.unit != nil || q.min != q.max || q.min < 1 || q.min > 12 || q.min != math.Trunc(q.min) || t.class != cAct || t.key != "done" || b.at(q.i-2).text != "just" {
			continue
		}
		b.set(q, engine.LoadCount, "", "just finished 2")
		t.used = true
		b.req.Acts = append(b.req.Acts, Act{Name: "log", Text: t.text, At: b.span(q.i-1, q.j)})
		return true
	}
	return false
}

var reachWords = map[string]bool{"van": true, "ya van": true, "that's": true, "thats": true, "that is": true, "makes": true, "that makes": true, "con esta van": true, "con esa van": true}

// didLoads: "did 1 load there", "ya eché dos cargas": loads that a verb says are down go
// into the log, unless a strip or a patch is measured with them.
func (b *binder) didLoads() bool {
	if b.sized(unit.DimArea) && (b.sized(unit.DimVolume) || slices.ContainsFunc(b.qs, func(q qty) bool { return q.bare() && q.min >= 1000 })) {
		return false
	}
	for i := range b.tokens {
		if !didWords[b.tokens[i].text] {
			continue
		}
		k := b.nextWord(i+1, 1)
		j := k
		for b.at(j).numeric() {
			j++
		}
		if l := b.at(j); j > k && l.class == cRole && (l.key == "load" || l.key == "tank" && l.plural()) {
			b.tokens[i].class, b.tokens[i].used = cAct, true
			b.req.Acts = append(b.req.Acts, Act{Name: "log", Text: b.tokens[i].text, Not: b.negated(i), At: b.span(i, j+1)})
			return true
		}
	}
	return false
}

var didWords = map[string]bool{"did": true, "spread": true, "hauled": true, "ran": true, "dumped": true, "put down": true, "put on": true, "put out": true,
	"eche": true, "echamos": true, "tire": true, "tiramos": true, "regue": true, "regamos": true, "saque": true, "sacamos": true, "hice": true, "hicimos": true, "aplique": true, "aplicamos": true, "descargue": true, "vacie": true}

// numberDone: "just finished number 4", "number four is out": the label's number is the
// load's.
func (b *binder) numberDone(i int) (int, bool) {
	for _, k := range [2]int{i + 2, i - 1} {
		if t := b.at(k); t.class == cOrd && (b.at(k-1).class == cLabel || b.at(k-1).text == "#") {
			n, err := strconv.Atoi(t.key)
			t.used = true
			return n, err == nil
		}
	}
	if la, n := b.at(i+1).text, b.at(i+2); (la == "la" || la == "el viaje") && n.class == cNum && b.nextWord(i+3, 1) >= len(b.tokens) {
		v, err := strconv.Atoi(n.key)
		if q := b.amountAt(i + 2); q != nil && err == nil && v <= 60 {
			q.done, q.rule, n.class, n.used = true, "the number of a load", cOrd, true // ya quedó la 3
			return v, true
		}
	}
	return 0, false
}

// onlyLoad is the token of a message that is nothing but "load": with gloves on, one
// word logs one. -1 when it says more.
func (b *binder) onlyLoad() int {
	at := -1
	for i := range b.tokens {
		switch t := &b.tokens[i]; {
		case t.class == cSkip || t.class == cComma:
		case t.class == cRole && t.key == "load" && !t.plural() && at < 0 && (t.text == "load" || t.text == "carga"),
			onlyAnother[t.text] && at < 0:
			at = i
		default:
			return -1
		}
	}
	return at
}

// onlyAnother are words that tell of one more load where they are the whole message.
var onlyAnother = words("otra", "otro", "another", "otra mas", "otro mas", "una mas", "uno mas")

// eachItsOwn: "dos cargas, una de 3500 y otra de 3200", "one full load and another 1200
// gal" are loads of different size in one message: they are asked for one by one.
func (b *binder) eachItsOwn() {
	if !b.has(cRole, "load") || b.has(cQ, "howmany", "howfast") {
		return
	}
	for k := range b.qs {
		q := &b.qs[k]
		from := q.i - 1
		for from >= 0 && (b.tokens[from].class == cOf || b.tokens[from].class == cSkip) {
			from--
		}
		if q.done || q.min < 500 || q.unit != nil && q.dim() != unit.DimVolume || !otherLoad[b.at(from).text] {
			continue
		}
		b.problem(&engine.Problem{Code: engine.NumberForm, Words: []string{b.piece(max(from-3, 0), q.j).Text}})
		for n := range b.qs {
			if o := &b.qs[n]; !o.done && (o.bare() || o.dim() == unit.DimVolume) && o.i >= q.i-8 {
				o.done, o.rule = true, "loads of different size"
				b.req.Unread = append(b.req.Unread, b.piece(o.i, o.j))
			}
		}
		return
	}
}

var otherLoad = map[string]bool{"otra": true, "otro": true, "another": true, "the other": true, "other": true, "y otra": true, "and another": true}

// ofALoad: "third one went on, but only about 2800 of it", "load done, only
// got 2400 out" are its gallons.
func (b *binder) ofALoad() {
	if !b.has(cRole, "load") || b.has(cQ) {
		return
	}
	for k := range b.qs {
		q := &b.qs[k]
		of := b.at(q.j).class == cOf && (b.at(q.j+1).text == "it" || b.at(q.j+1).text == "ella")
		if !q.done && q.bare() && q.min >= 300 && (of || b.at(q.j).text == "out" && b.has(cAct, "done")) {
			q.unit, q.implied = unit.Find(pick(b.metric, "L", "gal")), true
			b.set(q, engine.LoadVolume, "", "of it")
		}
	}
}
