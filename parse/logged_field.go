package parse

import (
	"slices"
	"strconv"
	"strings"
)

// loggedField: "log a load on the river field", "media carga en el campo 12 norte": the
// words for the field that a load goes to, where this chat has no field of that name.
func (b *binder) loggedField() {
	if b.req.Field != "" || !b.acted("log") && !b.partSaid() {
		return
	}
	for i := range b.tokens {
		t := &b.tokens[i]
		if t.class != cRole || t.key != "field" || t.plural() || b.claimed[i] {
			continue
		}
		from, to := i+1, i+1
		for to < len(b.tokens) && b.partOfName(to, to == from) {
			to++
		}
		if to == from {
			for from, to = i, i; from > 0 && b.tokens[from-1].class != cOrd && b.partOfName(from-1, false); from-- {
			}
		}
		if from == to || from == 0 {
			continue
		}
		name := b.piece(from, to)
		b.req.FieldSaid, b.req.FieldAt = strings.Trim(name.Text, " .,;:!\"'"), name.At
		for k := from; k < to; k++ {
			if t := &b.tokens[k]; t.class == cOrd && t.key == strconv.Itoa(b.req.Ordinal) {
				b.req.Ordinal = 0 // field 12, not load 12
			}
			if q := b.amountAt(k); q != nil {
				q.done, q.rule = true, "part of a field's name"
			}
			if t := &b.tokens[k]; t.class == cInfo {
				b.req.Info = slices.DeleteFunc(b.req.Info, func(key string) bool { return key == t.key })
			}
			b.tokens[k].used = true
		}
		return
	}
}

// partSaid says whether a part of a load was said: "half load on field 7".
func (b *binder) partSaid() bool {
	for k := range b.qs {
		if q := &b.qs[k]; q.part && b.at(q.j).class == cRole && b.at(q.j).key == "load" {
			return true
		}
	}
	return false
}

// partOfName says whether a token can stand in a field's name; a number only first.
func (b *binder) partOfName(i int, first bool) bool {
	switch t := &b.tokens[i]; t.class {
	case cOrd:
		return true
	case cNum:
		n := b.after(i)
		return first && n.class != cUnit && n.class != cScale && n.class != cPer && n.class != cClash && !n.numeric()
	case cWord:
		return len(t.text) > 1
	case cFiller:
		return direction[t.text]
	case cInfo, cSoil, cKind, cPlace:
		return true // the river field
	}
	return false
}

var direction = map[string]bool{"north": true, "south": true, "east": true, "west": true, "upper": true, "lower": true, "middle": true, "back": true, "front": true, "home": true, "big": true, "little": true, "old": true, "new": true, "river": true, "creek": true,
	"norte": true, "sur": true, "este": true, "oeste": true, "arriba": true, "abajo": true, "chico": true, "grande": true, "viejo": true, "nuevo": true}
