package parse

import (
	"strings"

	"tankside/engine/unit"
)

// whose reads the name of who hauled before the verb: "Lenny did 7", "Travis had 11".
func (b *binder) whose(t *teller, from, to int) int {
	i := from
	for i < to && (b.tokens[i].class == cComma || b.tokens[i].class == cSkip) {
		i++
	}
	if i+1 >= to || b.tokens[i].class != cWord && b.tokens[i].class != cName || tellLetter[b.tokens[i].text] != 0 {
		return from
	}
	verb := tellLetter[b.tokens[i+1].text]
	if b.at(i+1).class == cAct && b.at(i+1).key == "done" && b.at(i+1).text != "done" {
		verb = 'v'
	}
	if verb != 'g' && verb != 'v' || !b.smallNumber(i+2) {
		return from
	}
	t.Who = b.piece(i, i+1).Text
	b.tokens[i].used = true
	return i + 1
}

// placeFirst reads the field that a clause begins with: "North: 14 loads by noon", "creek 8
// loads done".
func (b *binder) placeFirst(t *teller, from, to int) int {
	i := from
	for i < to && (b.tokens[i].class == cComma || b.tokens[i].class == cSkip || b.tokens[i].text == "the") {
		i++
	}
	end := i
	for end < to && b.placeName(end) && b.tokens[end].class != cOrd && b.tokens[end].class != cNum && tellLetter[b.tokens[end].text] == 0 && end < i+3 {
		end++
	}
	known := b.at(i).class == cName
	counted := b.at(end+1).class == cRole && b.at(end+1).key == "load" && end == i+1 // creek 8 loads done
	if end == i || !known && !counted && !(b.at(end).text == ":") || !b.smallNumber(end) && !b.smallNumber(end+1) {
		return from
	}
	name := b.piece(i, end)
	if t.Field, t.nameAt = name.Text, name.At; known {
		t.Field, t.known = b.tokens[i].key, true
	}
	return end
}

// place reads the words for the ground that begin at token i: "on the north side", "en el
// del río". It returns where they end, i when there are none.
func (b *binder) place(t *teller, i, to int) int { return b.placeAt(t, i, to, false) }

// placeAt takes "to" for such a word as well where that is where a load is put.
func (b *binder) placeAt(t *teller, i, to int, toward bool) int {
	if switches := b.tokens[i].class == cAct && b.tokens[i].key == "field_switch" && namesField(b.tokens[i].text); !tellPlace[b.tokens[i].text] && !switches && !toward {
		return i
	}
	from := i + 1
	for w := b.at(from); from < to && (beforePlace[w.text] || w.class == cOf || w.class == cRole && w.key == "field" && from+1 < to && b.placeName(from+1) && b.at(from+1).class != cOrd); w = b.at(from) {
		from++
	}
	end := from
	for end < to && b.placeName(end) {
		end++
	}
	if end == from {
		return i
	}
	for k := from; k < end; k++ {
		if q := b.amountAt(k); q != nil {
			t.numbers = append(t.numbers, b.indexOf(q)) // part of the name
		}
	}
	switch first := b.at(from); {
	case first.class == cName:
		t.Field, t.known = first.key, true
	case end == from+1 && first.class == cRole && first.key == "field": // on the ground
	case sameGround[first.text]:
	case first.class == cOrd && b.tokens[i].class == cAct: // en el lote 3
		words := strings.Fields(b.tokens[i].text)
		t.Field, t.nameAt = words[len(words)-1]+" "+first.text, b.span(from, end)
	default:
		last := end
		if b.at(end-1).class == cRole && end-1 > from { // "the river field" is "river"
			last--
		}
		name := b.piece(from, last)
		t.Field, t.nameAt = name.Text, name.At
	}
	return end
}

func (b *binder) placeName(i int) bool {
	t := b.at(i)
	if q := b.amountAt(i); q != nil && (q.dim() != unit.None || q.j > q.i+1) {
		return false
	}
	if t.class == cNum && !t.word && direction[b.at(i-1).text] && b.at(i+1).class != cUnit { // the west 40
		return true
	}
	return t.class == cName || groundFiller[t.text] && t.class != cNum || b.inStatedName(i) || t.class == cRole && t.key == "field" || sameGround[t.text]
}

var (
	tellPlace   = map[string]bool{"on": true, "in": true, "at": true, "en": true, "over on": true, "onto": true, "for": true}
	beforePlace = map[string]bool{"the": true, "el": true, "la": true, "los": true, "del": true, "that": true, "this": true}
	sameGround  = map[string]bool{"misma": true, "mismo": true}
)

var (
	withWords = words("with", "con", "w", "of", "de")
	partOfDay = words("mornin", "morning", "afternoon", "mornin'", "evening")
)

var afterJust = map[string]bool{"tirar": true, "vaciar": true, "echar": true, "regar": true, "descargar": true, "aplicar": true}

// hail is where a message begins behind the name of who speaks: "Kyle here one more on".
func (b *binder) hail() int {
	for i := 0; i < len(b.tokens) && i < 3; i++ {
		if t := &b.tokens[i]; i > 0 && hailWords[t.text] {
			return i + 1
		} else if t.class != cWord && t.class != cFiller && t.class != cName {
			break
		}
	}
	return 0
}

var hailWords = map[string]bool{"here": true, "aqui": true, "aca": true}
