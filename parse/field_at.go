package parse

import (
	"slices"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// fieldsStated reads the names that ground is told of by, where no verb takes it in hand:
// "on the Nelson place 40 acres", "north field is 22 acres", "la loma son nueve acres",
// "field 1 is 30 acres, field 2 is 18". Each becomes an act of its own.
func (b *binder) fieldsStated() {
	if slices.ContainsFunc(b.req.Acts, func(a Act) bool { return takesText[a.Name] }) {
		return
	}
	found := b.statements()
	asks := (b.has(cQ, "what", "howmuch", "howmany", "how", "howlong", "howfast", "howfar") || b.has(cQuestion)) && len(found) < 2
	if len(found) > 1 {
		b.bothAt()
	}
	for _, s := range found {
		told := !asks || (s.told || len(b.ctx.Fields) == 0) && !b.has(cQuestion)
		if !told && (b.has(cName) || b.numbersIn(s.from, s.to)) {
			return
		}
		if told { // "how many loads for the home place, 76 acres" takes nothing in hand
			b.req.Acts = append(b.req.Acts, Act{Name: "field_at", Text: s.name, At: b.span(s.from, s.to)})
		}
		b.req.WhatIf = b.req.WhatIf || !told // of ground that is not the chat's
		b.swallow(s.lead, s.q.i)
		if s.q.bare() {
			s.q.unit, s.q.implied = unit.Must(pick(b.metric, "ha", "acre")), true
		}
		b.set(s.q, engine.Area, "", "the river field is 20 acres")
	}
}

// bothAt: "both 7000 gal" behind fields is the rate of each.
func (b *binder) bothAt() {
	for k := range b.qs {
		q := &b.qs[k]
		prev := b.at(q.i - 1).text
		if prev == "at" {
			prev = b.at(q.i - 2).text
		}
		if q.done || !bothWords[prev] || q.min < 1000 || !(q.bare() || q.unit != nil && (q.unit.Symbol == "gal" || q.unit.Symbol == "L")) {
			continue
		}
		symbol := pick(b.metric, "L/ha", "gal/acre")
		q.unit, q.implied = unit.Must(symbol), true
		b.set(q, engine.ApplicationRate, "", "both fields 7000 gal")
		return
	}
}

var bothWords = words("both", "each", "all", "ambos", "ambas", "los dos", "todos", "cada uno")

// statement is a field's name and size.
type statement struct {
	name           string
	from, to, lead int
	told           bool // "is", "has" stands before the size
	q              *qty
}

func (b *binder) statements() (out []statement) {
	for k := range b.qs {
		q := &b.qs[k]
		listed := len(out) > 0
		if q.done || q.dim() != unit.DimArea && !(q.bare() && listed) {
			continue
		}
		from, to, lead := b.nameBefore(q.i, listed)
		if from == to || lead < 0 || q.bare() && !b.sameList(from, to, lead) {
			continue
		}
		if name := b.stateName(from, to); name != "" {
			out = append(out, statement{name, from, to, lead, b.copulaIn(to, q.i), q})
		}
	}
	return out
}

// copulaIn says whether a word that tells what something is stands in the tokens.
func (b *binder) copulaIn(from, to int) bool {
	for i := from; i < to; i++ {
		if t := &b.tokens[i]; t.class == cQ && t.key == "is" || stateVerb[t.text] && t.text != "about" {
			return true
		}
	}
	return false
}

// sameList says whether a name can stand before a bare number in a list of fields: "field
// 1 is 30 acres, field 2 is 18", "Home 30 ac, Ridge 18 and Schoolhouse 44".
func (b *binder) sameList(from, to, lead int) bool {
	if lead > 0 && b.listed(from, to) {
		return true
	}
	return to-from == 2 && b.at(from).class == cRole && b.at(from).key == "field" && b.at(from+1).class == cOrd
}

// numbersIn says whether a number stands in the tokens.
func (b *binder) numbersIn(from, to int) bool {
	for i := from; i < to; i++ {
		if c := b.tokens[i].class; c == cOrd || c == cNum && !b.tokens[i].word {
			return true
		}
	}
	return false
}

// areaEnds says whether the size of a field ends before token i.
func (b *binder) areaEnds(i int) bool {
	return slices.ContainsFunc(b.qs, func(q qty) bool { return q.j == i && q.dim() == unit.DimArea })
}

// nameBefore finds the name that stands before the amount at token i, and where the words
// that lead to it begin; lead is -1 where nothing says that it is a name. In a list it may stand right behind the size before.
func (b *binder) nameBefore(i int, listed bool) (from, to, lead int) {
	to, copula := i, false
	for to > 0 {
		t := b.at(to - 1)
		if is := t.class == cQ && t.key == "is" || stateVerb[t.text]; !is && t.class != cAbout && t.class != cSkip && t.class != cTime && !(t.class == cComma && (t.text == "," || t.text == ":" || t.text == "=")) {
			break
		} else if is {
			copula = true
		}
		to--
	}
	from = to
	for from > 0 && to-from < 4 && b.inStatedName(from-1) {
		from--
	}
	lead = from
	in := false
	for lead > 0 {
		t := b.at(lead - 1)
		place := placeLead[t.text]
		if t.class == cRole && t.key == "field" && t.plural() {
			in, lead = true, lead-1 // "fields are Home 30 ac, Ridge 18 ac"
			continue
		}
		if t.class == cQ && t.key == "is" { // the job is north 62 ac and south 41 ac
			in = true
			break
		}
		if t.class == cRole && t.key == "field" && lead < from && articleWord[b.at(lead).text] && stateName[t.text] {
			in, lead = true, lead-1 // "campo la loma 10 hectáreas"
			continue
		}
		if !place && !beforeName[t.text] && t.class != cTime && t.class != cSkip && !(t.class == cAct && shortWords[t.key]) {
			break
		}
		in = in || place
		lead--
	}
	if lead > 0 && b.at(lead-1).class != cComma && b.at(lead-1).class != cQ && !(listed && b.areaEnds(lead)) {
		return from, to, -1
	}
	if !in && !copula && !b.saysGround(from, to) && !(listed && b.listed(from, to)) {
		return from, to, -1
	}
	return from, to, lead
}

// inStatedName says whether a token can be part of such a name.
func (b *binder) inStatedName(i int) bool {
	t := &b.tokens[i]
	switch t.class {
	case cName, cInfo, cSoil, cKind, cPlace, cOrd:
		return true
	case cWord:
		return len(t.text) > 1 && t.fix == ""
	case cRole:
		return t.key == "field" && t.text != "area" && t.text != "superficie"
	case cOf:
		return i > 0 && b.at(i-1).key == "field"
	case cFiller:
		return direction[t.text] || groundFiller[t.text] || t.text == "home"
	case cNum, cFrac: // the back forty, Miller's eighty, the home quarter
		q := b.amountAt(i)
		return (t.word && (q == nil || q.bare() && q.j == i+1) || t.class == cFrac) && i > 0 && (direction[b.at(i-1).text] || b.at(i-1).text == "home" || t.class == cFrac && b.at(i-1).class == cWord || strings.HasSuffix(b.at(i-1).text, "'s"))
	}
	return false
}

// listed says whether the words can be a name in a list of fields.
func (b *binder) listed(from, to int) bool {
	for i := from; i < to; i++ {
		if t := &b.tokens[i]; t.class == cWord || t.class == cName || t.class == cInfo || direction[t.text] || t.text == "home" {
			return true
		}
	}
	return false
}

// saysGround says whether the words are plainly of ground: "river field", "field 2".
func (b *binder) saysGround(from, to int) bool {
	if to-from < 2 {
		return false
	}
	for i := from; i < to; i++ {
		if t := &b.tokens[i]; t.class == cRole && t.key == "field" || t.class == cFrac || strings.HasSuffix(t.text, "'s") {
			return true
		}
	}
	return false
}

// stateName is the name in the tokens, "" where they hold none: "the field is 40 acres".
func (b *binder) stateName(from, to int) string {
	if last := &b.tokens[to-1]; to-from > 1 && last.class == cRole && last.key == "field" && b.tokens[to-2].class != cOrd && last.text == "field" {
		to-- // "the north field" is "north"
	}
	if first := &b.tokens[from]; to-from > 1 && first.class == cRole && first.key == "field" && groundNoun[first.text] && b.tokens[from+1].class != cOrd {
		from++
	}
	for from < to && b.tokens[from].class == cOf {
		from++ // "el del río" is "río"
	}
	for i := from; i < to; i++ {
		switch t := &b.tokens[i]; {
		case t.class == cRole, t.class == cOf, t.text == "new", t.text == "big", t.text == "little", t.text == "old", notName[t.text]:
		default:
			return strings.Trim(b.piece(from, to).Text, " .,;:=!\"'")
		}
	}
	return ""
}

// groundNoun are words for a field that are left out of its name: "el lote del río".
var groundNoun = words("campo", "lote", "parcela", "field", "fil")

var (
	stateVerb    = map[string]bool{"is": true, "has": true, "its": true, "it's": true, "it is": true, "son": true, "tiene": true, "mide": true, "miden": true, "es": true, "que": true, "about": true}
	articleWord  = map[string]bool{"la": true, "el": true, "los": true, "las": true, "the": true}
	stateName    = map[string]bool{"campo": true, "lote": true, "potrero": true, "parcela": true, "field": true}
	placeLead    = map[string]bool{"on": true, "in": true, "at": true, "over on": true, "over at": true, "doing": true, "out on": true, "en": true}
	beforeName   = map[string]bool{"the": true, "ok": true, "okay": true, "so": true, "we're": true, "i'm": true, "we": true, "are": true, "am": true, "out": true, "over": true, "working": true, "el": true, "la": true, "los": true, "las": true, "estamos": true, "now": true, "today": true, "starting": true, "still": true, "my": true, "our": true, "this": true, "for": true, "y": true, "and": true, "de": true, "del": true}
	groundFiller = map[string]bool{"long": true, "short": true, "flat": true, "high": true, "low": true, "round": true, "square": true, "bottom": true, "top": true, "far": true, "back forty": true, "bottom ground": true, "creek piece": true, "home place": true}
	notName      = map[string]bool{"about": true, "cover": true, "covers": true, "covering": true, "total": true, "wide": true, "done": true, "long": true}
)
