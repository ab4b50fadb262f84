package parse

import (
	"strconv"
	"strings"
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
		case t.class == cOther, otherWord[t.text] && b.has(cQ) && !wishWord[b.at(i+1).text]:
			b.req.WhatIf, b.req.Foreign = true, true // "Beto's running 4000 at 6000, how many acres does he get" sets nothing here
		case t.class == cEach:
			b.req.Each = true
		case t.class == cManure:
			b.req.Manure = t.key
		case t.class == cMethod:
			b.req.Method = t.key
		case t.class == cScheme && stateNorth[t.text] && b.has(cNoun, "window", "frost"): // a state, where a time to seed is asked for
			b.req.Place, t.used = "Midwest north of I-70", true
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
	if len(b.req.Acts) == 0 && len(b.qs) == 0 && !b.req.Question && b.saysAny(dayEnd) {
		b.req.Acts, b.req.Scope = append(b.req.Acts, Act{Name: "totals"}), "today" // "done for the day"
	}
	if b.req.Scope == "" && b.has(cTime, "today") && (b.acted("totals") || b.acted("left")) {
		b.req.Scope = "today" // "cuántos acres llevo hoy"
	}
	for i := range b.tokens {
		if next := b.at(i + 1); onlyWords[b.tokens[i].text] && (next.class == cCrop || next.class == cCropQ || next.class == cRyeQ) {
			b.req.Only = true
		}
	}
	b.emergency()
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
	if (strings.HasPrefix(t.text, "cuanto") || strings.HasPrefix(t.text, "how much")) && t.key == "totals" && b.perGround(i+1) {
		t.be(cQ, "howmuch") // "cuánto va por hectárea": no total is by the hectare
		return
	}
	t.used = true
	if t.key == "totals" {
		b.scopeIn(t.text)
	}
	b.req.Acts = append(b.req.Acts, Act{Name: t.key, Text: t.text, Not: b.negated(i), At: b.span(i, i+1)})
}

// perGround says whether "per acre" or the like stands at token i.
func (b *binder) perGround(i int) bool {
	c := b.at(i).class
	if c != cPer && c != cSlash && c != cXPer && b.at(i).key != "per" {
		return false
	}
	u := b.at(i + 1)
	return u.class == cUnit && (u.key == "acre" || u.key == "ha")
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

// bareUnit says whether a unit stands in the message with no number of its own.
func (b *binder) bareUnit(key string) bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cUnit && t.key == key && !b.inAmount(i, nil) {
			return true
		}
	}
	return false
}

// coverWord means to cover ground as well as to plug.
var coverWord = words("tapa", "tapan")

// stateNorth are states that lie wholly north of I-70 and have a nitrogen table of their name.
var stateNorth = words("iowa", "wisconsin", "michigan", "minnesota")

// onlyWords before a crop leave the rest of a mix out.
var onlyWords = map[string]bool{"only": true, "just": true, "solo": true, "nomas": true, "nada mas": true, "puro": true, "pura": true, "straight": true}

func (b *binder) acted(name string) bool {
	for _, a := range b.req.Acts {
		if a.Name == name {
			return true
		}
	}
	return false
}

func (b *binder) info(i int) {
	if t := &b.tokens[i]; t.key == "safety_emergency" && strings.HasSuffix(t.text, " down") && b.at(i+1).text == "to" && b.at(i+2).opens() {
		return // "he's down to 3"
	}
	if b.tokens[i].key == "seed_slugs" && !strings.Contains(b.text, "seed") && !strings.Contains(b.text, "semilla") && !b.has(cCrop) && !b.has(cCropQ) && !b.has(cRyeQ) {
		return // a hose that spurts is something else
	}
	b.tokens[i].used = true
	if coverWord[b.tokens[i].text] && (b.bareUnit("acre") || b.bareUnit("ha")) {
		return // "¿cuántos acres tapa esa carga?": nothing is plugged
	}
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
	if b.tokens[i].text == "instead" && b.orders() {
		b.req.Correct, b.tokens[i].used = true, true
		return
	}
	if b.opens(i) || b.tokens[i].text != "and" && b.tokens[i].text != "or" && b.tokens[i].text != "at" && b.tokens[i].text != "with" && b.tokens[i].text != "y" {
		b.req.WhatIf = true
	}
	b.tokens[i].used = true
}

// otherWord speaks of somebody else.
var otherWord = map[string]bool{"he": true, "him": true, "she": true, "her": true}

// wishWord behind "he" gives an order: "he wants 25 lb of triticale, how much do I dump in".
var wishWord = map[string]bool{"wants": true, "want": true, "wanted": true, "needs": true, "ordered": true, "asked": true, "asked for": true}

// orders says whether the message tells what is to be done, so that "instead" tries nothing
// out: "do 35 cube instead then", "run 8000 instead".
func (b *binder) orders() bool {
	for i := range b.tokens {
		t := &b.tokens[i]
		if orderWord[t.text] {
			return !b.req.Marked && !b.has(cQuestion)
		}
		if t.class != cSkip && t.class != cFiller && t.class != cComma && t.class != cAct {
			return false
		}
	}
	return false
}

var orderWord = words("do", "run", "use", "go", "go with", "set", "put", "put on", "let's", "lets", "haz", "hagamos", "pon", "ponle", "usa", "usemos", "echale", "mete")

// anotherWord behind "and" adds to what was done, and tries nothing out.
var anotherWord = map[string]bool{"another": true, "one more": true, "otra": true, "otro": true}

// dayEnd are words for the end of a day's work: what it came to is what one wants to see.
var dayEnd = []string{"done for the day", "done for day", "done for today", "done for tonight", "through for the day", "calling it a day", "call it a day", "shutting down for the day", "shutting down for the night", "shuttin down for the night", "shuttin down for the day",
	"quitting for the day", "quittin for the day", "that's it for today", "thats it for today", "that's all for today", "ya acabamos por hoy", "acabamos por hoy", "terminamos por hoy", "es todo por hoy", "ya estuvo por hoy", "hasta aqui por hoy", "manana le seguimos", "manana seguimos"}
