package parse

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"tankside/engine"
	"tankside/engine/unit"
)

// acts reads what is to be done.
func (b *binder) acts() {
	for i := range b.tokens {
		t := &b.tokens[i]
		switch {
		case t.used && t.class != cNot:
		case t.class == cAct:
			b.act(i)
		case t.class == cName:
			b.req.Field, t.used = t.key, true
		case t.class == cScope:
			b.req.Scope, t.used = t.key, true
		case t.class == cSpan:
			b.req.Span, t.used = t.key, true
		case t.class == cKind:
			b.req.Kind = t.key
		case t.class == cInfo:
			b.info(i)
		case t.class == cOrd:
			b.ordinal(i)
		case t.class == cWhatIf:
			b.whatIf(i)
		case t.class == cComma && (t.text == "and" || t.text == "y") && b.opens(i) && len(b.qs) > 0 && b.gap(i+1, b.qs[0].i) == 0 && len(b.qs) == 1 && !anotherWord[b.at(i+1).text]:
			b.req.WhatIf = true
		case t.class == cOther, otherWord[t.text] && b.has(cQ):
			b.req.WhatIf = true // "Beto's running 4000 at 6000, how many acres does he get" sets nothing here
		case t.class == cEach:
			b.req.Each = true
		case t.class == cManure:
			b.req.Manure = t.key
		case t.class == cMethod:
			b.req.Method = t.key
		case t.class == cScheme:
			b.req.Scheme, t.used = t.key, true
		case t.class == cPlace:
			b.req.Place, t.used = t.key, true
		case t.class == cSoil:
			b.req.Soil = t.key
		case t.class == cMoist:
			b.req.Moisture = t.key
			t.be(cFiller, t.text)
		case t.class == cRole && t.key == "inc" && b.req.Method == "":
			b.req.Method = "incorporated"
		}
	}
	if b.req.Scope == "" && b.has(cTime, "today") && (b.acted("totals") || b.acted("left")) {
		b.req.Scope = "today" // "cuántos acres llevo hoy"
	}
	for i := range b.tokens {
		if next := b.at(i + 1); onlyWords[b.tokens[i].text] && (next.class == cCrop || next.class == cCropQ || next.class == cRyeQ) {
			b.req.Only = true
		}
	}
	b.fieldNamed()
	b.doneLoad()
	b.loggedField()
	b.when()
	b.idleOrdinal()
}

// idleOrdinal lists the number of a load or field where nothing is done with it:
// "field 40 rate 7000 tank 3000".
func (b *binder) idleOrdinal() {
	if b.req.Ordinal == 0 || len(b.req.Acts) > 0 {
		return
	}
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cOrd && t.used && !t.word {
			b.req.Unread = append(b.req.Unread, b.piece(i, i+1))
			b.req.Ordinal = 0
		}
	}
}

func (b *binder) act(i int) {
	t := &b.tokens[i]
	if takesText[t.key] || t.key == "done" {
		return
	}
	if shortWords[t.key] && !b.alone(i) {
		return
	}
	if t.key == "left" && !b.asksLeft(i) {
		return
	}
	if t.key == "language" || t.key == "units" {
		if !b.command(i) {
			return
		}
	}
	if first := b.at(0); t.key == "log" && first.class == cQ && first.key == "what" && len(b.qs) == 0 && !b.has(cRole, "load") {
		t.key = "loads_list" // "what's logged" logs nothing
	}
	t.used = true
	if t.key == "totals" {
		b.scopeIn(t.text)
	}
	b.req.Acts = append(b.req.Acts, Act{Name: t.key, Text: t.text, Not: b.negated(i), At: b.span(i, i+1)})
}

// scopeIn reads the scope that a phrase for the totals names itself.
func (b *binder) scopeIn(text string) {
	for _, w := range strings.Fields(text) {
		switch w {
		case "today", "hoy", "dia", "day", "day's", "days":
			b.req.Scope = "today"
		case "season", "temporada", "year", "ano":
			b.req.Scope = "season"
		}
	}
}

// alone says whether nothing else in the message means anything, or token i opens
// the message and ends its clause ("no, 8000").
func (b *binder) alone(i int) bool {
	if b.tokens[i].key == "help" {
		return len(b.qs) == 0 && b.strangers() < 2
	}
	rest := 0
	for k := range b.tokens {
		switch t := &b.tokens[k]; t.class {
		case cSkip, cFiller, cMy, cComma, cAt, cOf, cQuestion:
		case cAct:
			if k != i && !shortWords[t.key] {
				rest++
			}
		default:
			rest++
		}
	}
	if rest == 0 {
		return true
	}
	return b.opens(i) && b.at(i+1).class == cComma && (b.tokens[i].key == "yes" || b.tokens[i].key == "no" || b.tokens[i].key == "never_mind")
}

// strangers counts the unknown words: a sentence full of them asks for no help.
func (b *binder) strangers() int {
	n := 0
	for i := range b.tokens {
		if b.tokens[i].class == cWord {
			n++
		}
	}
	return n
}

func (b *binder) opens(i int) bool {
	for k := 0; k < i; k++ {
		if c := b.tokens[k].class; c != cSkip && c != cFiller {
			return false
		}
	}
	return true
}

// asksLeft: "left" asks about the log unless an amount owns it ("1,800 gallons left").
func (b *binder) asksLeft(i int) bool {
	if b.claimed[i] || b.has(cNoun, "agitation", "bypass_flow") || b.has(cQ, "howfast", "howdeep", "howfar", "howwide", "how") && b.tokens[i].text == "to go" {
		return false
	}
	for k := range b.qs {
		if q := &b.qs[k]; q.j == i && !q.done && !asksItself(b.tokens[i].text) {
			return false
		}
	}
	return b.req.Question || b.has(cQ) || len(b.tokens[i].text) > 5 || b.has(cQuestion)
}

// asksItself says whether the words for what is left are a question of their own.
func asksItself(text string) bool {
	return strings.HasPrefix(text, "cuant") || strings.HasPrefix(text, "que ") || strings.HasPrefix(text, "how ") || strings.HasPrefix(text, "what")
}

// command says whether a language or unit name is an order and not part of a
// question: alone, or behind a verb like "speak" or "use".
func (b *binder) command(i int) bool {
	if strings.Contains(b.tokens[i].text, " ") {
		return true
	}
	for k := range b.tokens {
		switch t := &b.tokens[k]; t.class {
		case cSkip, cFiller, cMy, cComma, cAt, cConv, cUnitIn, cFix:
		case cAct:
			if k != i && t.key != "yes" && t.key != "same" {
				return false
			}
		default:
			if k != i {
				return false
			}
		}
	}
	return true
}

func (b *binder) negated(i int) bool {
	for k := i - 1; k >= 0 && k >= i-3; k-- {
		if b.tokens[k].class == cNot {
			return true
		}
		if b.tokens[k].class == cComma {
			return false
		}
	}
	return false
}

// doneLoad: "load 4 done at 2:15", "half load done", "2 loads down": a load and a
// word for finished in one clause, and no question, is a load to log.
func (b *binder) doneLoad() {
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
		if t.class != cAct || t.key != "done" {
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

// onlyWords before a crop leave the rest of a mix out.
var onlyWords = map[string]bool{"only": true, "just": true, "solo": true, "nomas": true, "nada mas": true, "puro": true, "pura": true, "straight": true}

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
			(t.text == "otra" || t.text == "another" || t.text == "otra mas") && at < 0:
			at = i
		default:
			return -1
		}
	}
	return at
}

func (b *binder) acted(name string) bool {
	for _, a := range b.req.Acts {
		if a.Name == name {
			return true
		}
	}
	return false
}

func (b *binder) info(i int) {
	b.tokens[i].used = true
	for _, k := range b.req.Info {
		if k == b.tokens[i].key {
			return
		}
	}
	b.req.Info = append(b.req.Info, b.tokens[i].key)
}

func (b *binder) ordinal(i int) {
	n, err := strconv.Atoi(b.tokens[i].key)
	if err != nil || n == 0 || b.req.Ordinal != 0 && b.req.Ordinal != n { // "the 2nd load in the 3rd field"
		b.req.Unread = append(b.req.Unread, b.piece(i, i+1))
		return
	}
	b.req.Ordinal, b.tokens[i].used = n, true
}

// whatIf: a lead like "and at", "what about" makes the message a what-if when it
// opens the message.
func (b *binder) whatIf(i int) {
	if b.opens(i) || b.tokens[i].text != "and" && b.tokens[i].text != "or" && b.tokens[i].text != "at" && b.tokens[i].text != "with" && b.tokens[i].text != "y" {
		b.req.WhatIf = true
	}
	b.tokens[i].used = true
}

// otherWord speaks of somebody else.
var otherWord = map[string]bool{"he": true, "him": true, "she": true, "her": true}

// anotherWord behind "and" adds to what was done, and tries nothing out.
var anotherWord = map[string]bool{"another": true, "one more": true, "otra": true, "otro": true}
