package parse

import (
	"strconv"
	"strings"
	"time"

	"tankside/engine/unit"
)

// The acts that take the rest of the clause as a name or a note.
var takesText = map[string]bool{"note": true, "field_new": true, "field_name": true, "field_switch": true, "field_close": true}

// shortWords are acts only when they are all that the message says, or open it.
var shortWords = map[string]bool{"yes": true, "no": true, "thanks": true, "greet": true, "help": true, "same": true, "never_mind": true, "how": true}

// courtesies around something else carry nothing: "ok so …", "hey …", "… thanks".
var courtesies = map[string]bool{"yes": true, "greet": true, "thanks": true}

func (b *binder) courtesy() {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cAct && courtesies[t.key] && !b.alone(i) {
			t.class = cFiller
		}
	}
}

// texts finds the acts that a name or a note follows, before any amount is bound:
// numbers inside a name ("north 40") are no amounts.
func (b *binder) texts() {
	for i := range b.tokens {
		t := &b.tokens[i]
		if t.class != cAct || !takesText[t.key] || t.used || !b.opensClause(i) {
			continue
		}
		if t.key == "note" {
			b.note(i)
			return
		}
		b.fieldAct(i)
	}
}

// opensClause says whether only fillers, short words or a comma stand before token i.
func (b *binder) opensClause(i int) bool {
	for i--; i >= 0; i-- {
		switch t := &b.tokens[i]; t.class {
		case cSkip, cFiller, cMy:
		case cComma, cQuestion:
			return true
		case cAct:
			if !shortWords[t.key] {
				return t.key == "log" || t.key == "done"
			}
		case cTime, cFix, cRole, cNum:
			if t.class == cRole && t.key != "field" {
				return false
			}
		default:
			return false
		}
	}
	return true
}

func (b *binder) note(i int) {
	from := b.origin(b.tokens[i].to)
	text := strings.TrimSpace(strings.TrimLeft(b.raw[from:], " :,-"))
	b.req.Acts = append(b.req.Acts, Act{Name: "note", Text: text, At: b.span(i, len(b.tokens))})
	b.swallow(i, len(b.tokens))
}

// swallow takes tokens i..j out of the reading: they are a name or a note.
func (b *binder) swallow(i, j int) {
	for k := i; k < j; k++ {
		b.tokens[k].class, b.tokens[k].used = cSkip, true
	}
	for k := range b.qs {
		if q := &b.qs[k]; q.i >= i && q.i < j {
			q.done, q.rule = true, "part of a name or note"
		}
	}
}

// fieldAct reads "new field north forty 40 acres", "switch to bottom ground",
// "call it river piece", "close the field".
func (b *binder) fieldAct(i int) {
	t := &b.tokens[i]
	from := i + 1
	for from < len(b.tokens) && b.nameFiller(from) && !b.lettered(from) {
		from++
	}
	end := b.nameEnd(from)
	name := ""
	if from < end {
		if from+1 == end && b.tokens[from].class == cName {
			name = b.tokens[from].key
		} else {
			at := b.span(from, end)
			for at[0] > 0 && b.raw[at[0]-1] != ' ' {
				at[0]-- // a sign before the first word is part of the name
			}
			name = strings.Trim(b.raw[at[0]:at[1]], " .,;:?!\"'")
		}
	}
	if name == "" && (t.key == "field_switch" || t.key == "field_name") {
		return
	}
	if t.key == "field_switch" && !b.knownField(from) && !b.saysField(i, from) {
		return // "back to 8000", "go to the next load" name no field
	}
	if t.key == "field_new" && !b.saysField(i, from) && !b.areaAfter(end) {
		return
	}
	if t.key == "field_close" && t.text == "close" && !b.knownField(from) && !b.saysField(i, from) {
		return
	}
	b.req.Acts = append(b.req.Acts, Act{Name: t.key, Text: name, At: b.span(i, max(end, i+1))})
	b.swallow(i, max(end, i+1))
}

// lettered says whether a letter is the whole name of a field: "back to field a".
func (b *binder) lettered(i int) bool {
	if len(b.tokens[i].text) != 1 || b.lang == "es" && b.tokens[i].text != "b" && b.tokens[i].text != "c" || // "lote d 60 acres"
		b.at(i-1).key != "field" && !strings.Contains(b.at(i-1).text, "field") {
		return false
	}
	next := b.at(i + 1)
	return i+1 == len(b.tokens) || next.class == cQuestion || next.class == cComma || next.opens()
}

// fieldNamed reads "field a 10 acres" and "fields" where no verb says what to do.
func (b *binder) fieldNamed() {
	if len(b.req.Acts) > 0 || len(b.tokens) == 0 || b.tokens[0].class != cRole || b.tokens[0].key != "field" || b.has(cQ) || b.has(cQuestion) {
		return
	}
	if len(b.tokens) == 1 && b.tokens[0].plural() {
		b.req.Acts = append(b.req.Acts, Act{Name: "field_list", At: b.span(0, 1)})
		return
	}
	for i := 1; i < len(b.tokens) && i <= 3; i++ {
		if b.tokens[i].opens() {
			if i > 1 && b.areaAfter(i) {
				b.req.Acts = append(b.req.Acts, Act{Name: "field_switch", Text: b.piece(1, i).Text, At: b.span(0, i)})
				b.swallow(0, i)
			}
			return
		}
		if c := b.tokens[i].class; c != cWord && c != cName && !b.lettered(i) {
			return
		}
	}
}

// nameFiller are the words between an act and the name.
func (b *binder) nameFiller(i int) bool {
	switch t := &b.tokens[i]; t.class {
	case cSkip, cOf:
		return true
	case cFiller, cMy:
		switch t.text {
		case "called", "named", "the", "to", "is", "a", "it", "this", "llamado", "el", "la", "al", "que", "se", "llama", "llamada", "lote", "now", "on", "in", "de", "en", ":", "as":
			return true
		}
	case cRole:
		return t.key == "field"
	case cComma:
		return t.text == ":"
	}
	return false
}

// nameEnd is where a name ends: at an amount of ground, a comma, a question, a
// fact's role word, or the end.
func (b *binder) nameEnd(from int) int {
	for i := from; i < len(b.tokens); i++ {
		switch t := &b.tokens[i]; t.class {
		case cComma:
			if (t.text != "." || !t.glued) && t.text != "(" && t.text != ")" && t.text != "&" && t.text != "+" {
				return i
			}
		case cQuestion:
			return i
		}
		for k := range b.qs {
			q := &b.qs[k]
			if q.i != i {
				continue
			}
			if d := q.dim(); d == unit.DimArea {
				return b.splitName(i, from, q)
			} else if d != unit.None {
				return i
			}
		}
		if t := &b.tokens[i]; t.class == cRole && i > from && (t.key == "tank" || t.key == "rate" || t.key == "width") {
			return i
		}
	}
	return len(b.tokens)
}

// splitName: in "north forty 40 acres" the grammar may have read "forty 40" as two
// numbers; the amount of ground starts at its own number. A name that is only a
// number ("12 40 acres") keeps the first.
func (b *binder) splitName(i, from int, _ *qty) int {
	return i
}

func (b *binder) knownField(i int) bool { return b.at(i).class == cName }

// saysField says whether the word "field" stands in the act or right behind it.
func (b *binder) saysField(i, from int) bool {
	if strings.Contains(b.tokens[i].text, "field") || strings.Contains(b.tokens[i].text, "lote") || strings.Contains(b.tokens[i].text, "campo") || strings.Contains(b.tokens[i].text, "parcela") {
		return true
	}
	for k := i; k < from; k++ {
		if t := &b.tokens[k]; t.class == cRole && t.key == "field" {
			return true
		}
	}
	return false
}

func (b *binder) areaAfter(i int) bool {
	for k := range b.qs {
		if b.qs[k].i >= i && b.qs[k].dim() == unit.DimArea {
			return true
		}
	}
	return false
}

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
		case t.class == cComma && (t.text == "and" || t.text == "y") && b.opens(i) && len(b.qs) > 0 && b.gap(i+1, b.qs[0].i) == 0 && len(b.qs) == 1:
			b.req.WhatIf = true
		case t.class == cEach:
			b.req.Each = true
		case t.class == cManure:
			b.req.Manure = t.key
		case t.class == cMethod:
			b.req.Method = t.key
		case t.class == cSoil:
			b.req.Soil = t.key
		case t.class == cRole && t.key == "inc" && b.req.Method == "":
			b.req.Method = "incorporated"
		}
	}
	b.fieldNamed()
	b.doneLoad()
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
		if q := &b.qs[k]; q.j == i && !q.done {
			return false
		}
	}
	return b.req.Question || b.has(cQ) || len(b.tokens[i].text) > 5 || b.has(cQuestion)
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
	if b.req.Question || b.acted("log") || b.acted("correct") {
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
		for k := i; k >= 0 && b.tokens[k].class != cQuestion; k-- {
			if l := &b.tokens[k]; (l.class == cRole || l.class == cSkip) && (l.key == "load" || l.key == "tank") {
				t.used, l.used = true, true
				b.req.Acts = append(b.req.Acts, Act{Name: "log", Text: t.text, Not: b.negated(i), At: b.span(k, i+1)})
				return
			}
		}
	}
}

// onlyLoad is the token of a message that is nothing but "load": with gloves on, one
// word logs one. -1 when it says more.
func (b *binder) onlyLoad() int {
	at := -1
	for i := range b.tokens {
		switch t := &b.tokens[i]; {
		case t.class == cSkip || t.class == cComma:
		case t.class == cRole && t.key == "load" && !t.plural() && at < 0 && (t.text == "load" || t.text == "carga"):
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

// when reads the time of a load: "at 2:15", "ten minutes ago", "yesterday".
func (b *binder) when() {
	w, last := When{Clock: -1}, 0
	for i := range b.tokens {
		t := &b.tokens[i]
		switch {
		case t.class == cClock:
			if w.Clock >= 0 { // "start 6:40, done by 2:15": the later word counts, the first is named
				b.req.Unread = append(b.req.Unread, b.piece(last, last+1))
			}
			last = i
			w.Clock, _ = strconv.Atoi(t.key)
			w.Exact, t.used = t.span == -1 || w.Clock >= 780, true
		case t.class == cTime && t.key == "yesterday":
			w.Days, t.used = 1, true
		case t.class == cTime && t.key == "ago":
			b.ago(i, &w)
		}
	}
	if w.Clock >= 0 || w.Ago > 0 || w.Days > 0 {
		said := w // only a time that was said leaves the stack
		b.req.When = &said
	}
}

// ago: the time amount before "ago", or behind "hace".
func (b *binder) ago(i int, w *When) {
	for k := range b.qs {
		q := &b.qs[k]
		if (q.j == i || q.i == i+1) && q.dim() == unit.DimTime {
			w.Ago = time.Duration(q.unit.ToBase(q.min) * float64(time.Minute))
			q.done, q.slot, q.rule = true, 0, "ten minutes ago"
			b.tokens[i].used = true
		}
	}
}
