package parse

import (
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

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
			for _, end := range [...]string{" now", " ahora", " ya", " field", " de", " of"} {
				name = strings.TrimSuffix(name, end)
			}
		}
	}
	if name == "" && (t.key == "field_switch" || t.key == "field_name") {
		return
	}
	moved := movedWords[t.text] && (b.at(from).class == cWord || b.at(from).class == cInfo || b.areaAfter(end)) && name != "" || b.areaNext(end) && name != "" && b.namesGround(from, end)
	if t.key == "field_switch" && !b.knownField(from) && !b.saysField(i, end) && !moved {
		return // "back to 8000", "go to the next load" name no field
	}
	if t.key == "field_new" && !b.saysField(i, from) && (!b.areaAfter(end) || name == "") {
		t.be(cFiller, t.text) // "starting at 7"
		return
	}
	if t.key == "field_close" && t.text == "close" && !b.knownField(from) && !b.saysField(i, from) {
		return
	}
	b.req.Acts = append(b.req.Acts, Act{Name: t.key, Text: name, At: b.span(i, max(end, i+1))})
	b.swallow(i, max(end, i+1))
}

// areaNext says whether the ground is told right behind the name.
func (b *binder) areaNext(i int) bool {
	for b.at(i).class == cComma || stateVerb[b.at(i).text] {
		i++
	}
	q := b.amountAt(i)
	return q != nil && q.dim() == unit.DimArea
}

// namesGround says whether what stands in the tokens can be a field's name.
func (b *binder) namesGround(from, to int) bool {
	for i := from; i < to; i++ {
		if !b.inStatedName(i) {
			return false
		}
	}
	return true
}

// wantedRate: "wanted 7000, am I over or under" is of the rate.
func (b *binder) wantedRate() {
	for k := range b.qs {
		q, t := &b.qs[k], b.at(b.qs[k].i-1)
		if len(b.qs) == 1 && !q.done && q.bare() && q.min >= 1500 && t.class == cRole && t.key == "target" && !b.metric {
			q.unit, q.implied = unit.Find("gal/acre"), true
			b.set(q, engine.ApplicationRate, "", "wanted 7000")
		}
	}
}

// numberedField: in "on the north ten, 10 acres, log 4 loads" the ten is a name's.
func (b *binder) numberedField() {
	for k := range b.qs {
		q := &b.qs[k]
		side := b.at(q.i - 1)
		if q.done || !q.bare() || q.min > 999 || !direction[side.text] || side.class != cFiller && side.class != cWord || b.at(q.j).class == cRole || b.at(q.j).class == cUnit {
			continue
		}
		the := b.at(q.i - 2).text
		if the != "the" && the != "la" && the != "el" {
			continue
		}
		name := b.piece(q.i-1, q.j)
		q.done, q.rule = true, "part of a field's name"
		b.req.FieldSaid, b.req.FieldAt = name.Text, name.At
		return
	}
}

// movedWords tell of a move to another field, whatever its name.
var movedWords = map[string]bool{"moved to": true, "moved over to": true, "moving to": true, "moving over to": true, "heading over to": true, "nos pasamos a": true, "estoy en": true, "estamos en": true, "ando en": true, "andamos en": true, "me cambie a": true, "ya me cambie a": true, "nos cambiamos a": true}

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
			if i > 1 && b.tokens[i-1].class != cOf && b.areaAfter(i) {
				b.req.Acts = append(b.req.Acts, Act{Name: "field_switch", Text: b.piece(1, i).Text, At: b.span(0, i)})
				b.swallow(0, i)
			}
			return
		}
		if t := &b.tokens[i]; t.class != cWord && t.class != cName && t.class != cOf && t.class != cInfo && !b.lettered(i) && !(t.class == cFiller && direction[t.text]) {
			return
		}
	}
}

// nameFiller are the words between an act and the name.
func (b *binder) nameFiller(i int) bool {
	switch t := &b.tokens[i]; t.class {
	case cSkip, cOf:
		return true
	case cNum:
		return t.text == "one" && i+1 < len(b.tokens) && !b.tokens[i+1].opens() && i > 0 && b.tokens[i-1].text != "field" // "call this one the river bottom"
	case cFiller, cMy:
		switch t.text {
		case "called", "named", "the", "one", "this one", "to", "is", "a", "it", "this", "llamado", "el", "la", "al", "que", "se", "llama", "llamada", "lote", "now", "on", "in", "de", "en", ":", "as":
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
		case cFiller:
			if i > from && (t.text == "its" || t.text == "it's" || t.text == "son" || t.text == "it is") {
				return i // "field called back eighty, its 76 acres"
			}
		case cQ:
			if i > from {
				return i
			}
		case cAct:
			if i > from && (t.key == "left" || t.key == "totals" || t.key == "log" || t.key == "same") {
				return i // "back to east how much left"
			}
		}
		for k := range b.qs {
			q := &b.qs[k]
			if q.i != i {
				continue
			}
			if q.dim() != unit.None {
				return i
			}
		}
		if t := &b.tokens[i]; t.class == cRole && i > from && (t.key == "tank" || t.key == "rate" || t.key == "width") {
			return i
		}
	}
	return len(b.tokens)
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
