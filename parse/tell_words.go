package parse

import (
	"math"
	"strings"

	"tankside/engine/unit"
)

// clauseEnd is where the clause at token i ends: at a comma or "and", where a question or
// the size of the ground begins.
func (b *binder) clauseEnd(i int) int {
	for k := i; k < len(b.tokens); k++ {
		t := &b.tokens[k]
		if k > i+1 && t.class == cAct && t.key == "correct" {
			return k
		}
		if k > i+1 && (t.class == cOrd || t.text == "last") && b.oneBehind(k) && !b.smallNumber(k-1) {
			return k // "did 4 there first one was only 5200"
		}
		if (t.class == cComma || t.text == "plus" || t.text == "an" && k > i && splitWords[b.at(k+1).text]) && !(k > i && b.smallNumber(k-1) && b.smallNumber(k+1)) {
			return k + 1
		}
		if k > i && (t.text == "but" || t.text == "pero") && b.onlyBehind(k) || k > i && b.restOfTelling(k) {
			return k
		}
	}
	return len(b.tokens)
}

// onlyBehind says whether one of the loads is told of apart behind token i: "but the last
// one was half".
func (b *binder) onlyBehind(i int) bool {
	for k := i + 1; k < len(b.tokens) && k < i+4; k++ {
		if t := &b.tokens[k]; t.class == cOrd || t.text == "last" || t.text == "one" || t.text == "una" || strings.HasPrefix(t.text, "the last") || strings.HasPrefix(t.text, "la ultima") || t.text == "ultima" {
			return true
		}
	}
	return false
}

// oneBehind says whether "one was", "load was" stand behind token i.
func (b *binder) oneBehind(i int) bool {
	one := b.at(i + 1)
	return (one.text == "one" || one.class == cRole && one.key == "load") && (b.at(i+2).text == "was" || b.at(i+2).class == cQ)
}

var splitWords = words("that", "a", "one", "another", "part", "the", "half")

func (b *binder) smallNumber(i int) bool {
	t := b.at(i)
	return (t.class == cNum || t.class == cOrd) && len(t.key) <= 2 && (t.class == cOrd || !t.opensAmount(b, i))
}

// restOfTelling says whether what stands from token i on is the size of the ground or a
// question about the log.
func (b *binder) restOfTelling(i int) bool {
	switch t := &b.tokens[i]; {
	case i > 0 && b.amountAt(i) != nil && b.amountAt(i).i == i && b.at(b.amountAt(i).j).class == cAct && b.at(b.amountAt(i).j).key == "left":
		return true // "2 loads done, 4 to go"
	case t.class == cAct && t.key == "totals" && b.soFar(i): // "3 so far", "put 7 on so far"
		return false
	case t.class == cQ && t.key != "is" && t.key != "how", t.class == cAct && (t.key == "left" || t.key == "totals"):
		return true
	case stateVerb[t.text]:
		return b.areaNext(i)
	}
	q := b.amountAt(i)
	return q != nil && q.dim() == unit.DimArea
}

// soFar says whether "so far" at token i says of loads just counted that they are all there
// are by now, and asks nothing.
func (b *binder) soFar(i int) bool {
	if i == 0 || b.req.Question || b.has(cQ, "howmany") || strings.HasPrefix(b.tokens[i].text, "done") && !b.smallNumber(i-1) {
		return false
	}
	return b.smallNumber(i-1) || b.smallNumber(i-2) && b.tokens[i-1].class != cAct && (tellLetter[b.tokens[i-1].text] == 'p' || b.loadSaid(i-1))
}

// loadSaid says whether token i is a load: by its own word, or as a tank behind a count,
// "ya van 8 pipas".
func (b *binder) loadSaid(i int) bool {
	t := b.at(i)
	return t.class == cRole && (t.key == "load" || t.key == "tank" && t.plural() && b.smallNumber(i-1))
}

// tellKind is the letter of a token; '-' for one that says nothing, 0 for one that says
// something else.
func (b *binder) tellKind(i int) byte {
	t := &b.tokens[i]
	switch {
	case t.text == "this" && (partOfDay[b.at(i+1).text] || b.at(i+1).class == cTime):
		return '-'
	case tellLetter[t.text] != 0:
		return tellLetter[t.text]
	case t.text == "yesterday" || t.text == "ayer":
		return 'p'
	case t.class == cSkip, t.class == cClock, t.class == cAt, t.class == cTime, t.class == cMy, t.class == cOf:
		return '-'
	case afterJust[t.text]:
		if w := b.at(i - 2).text; w == "acabo" || w == "acabamos" {
			return 'v'
		}
		return 0
	case t.text == "second" && t.class == cUnit:
		return 'd'
	case t.class == cScope && !strings.Contains(t.text, "field"):
		return '-'
	case t.class == cAct && t.key == "totals":
		return 'p'
	case t.class == cRole && t.key == "field" && b.at(i-1).text == "same":
		return '-'
	case t.class == cCrop && withWords[b.at(i-1).text], withWords[t.text] && b.at(i+1).class == cCrop:
		return '-' // 3 loads with oats
	case b.loadSaid(i):
		return 'l'
	case t.class == cOrd:
		return 'd'
	case t.class == cNum && !t.opensAmount(b, i):
		return 'n'
	case t.class == cAct && t.key == "done":
		return 'p'
	case t.class == cAct && t.key == "log" && !strings.Contains(t.text, " "):
		return 'v'
	case t.class == cArt, t.class == cUn, t.class == cPerLoad:
		return 'a'
	case t.class == cComma, t.class == cQuestion && t.text == "¿":
		return '-'
	}
	return 0
}

// opensAmount says whether more than a small count stands at token i.
func (t *token) opensAmount(b *binder, i int) bool {
	q := b.amountAt(i)
	return q == nil || !q.bare() || q.j != q.i+1 || q.min != q.max || q.min < 1 || q.min > 20 || q.min != math.Trunc(q.min)
}

var tellLetter = tellLetters(map[byte]string{
	'v': "dumped emptied unloaded spread hauled eche echamos heche hechamos tire tiramos vacie vaciamos regue regamos descargue descargamos saque sacamos acabe acabamos termine terminamos",
	'g': "hit put put_out put_down put_on got had finished ran did laid threw hice hicimos puse pusimos hauled_out",
	'r': "van ya_van that's thats that_is makes that_makes llevamos llevo ya_llevo ya_llevamos con_esta_van",
	'a': "a an the my this that those la el esta esa este ese un una uno",
	'o': "another nother nuther anuther anothr otro otra otras otros more mas otro_mas otra_mas",
	'w': "one one's ones",
	'p': "there alli aya ai ahy on down out in off gone done went_on is_out empty spread_out abajo afuera",
	's': "va fue salio there_goes quedo was",
	'-': "already lunch dinner supper chores almuerzo comer lonche just ya i we ok okay yep alright so now then guys hey here it's i've we've is that's_it ahi pues ahora listo apenas recien all finally boss jefe patron only about morning over still total it acabo acabamos same also as by for me before before_that of them full llena llenas completas of them before those mornin this_mornin afternoon tarde",
})

func tellLetters(words map[byte]string) map[string]byte {
	out := make(map[string]byte)
	for letter, list := range words {
		for _, w := range strings.Fields(list) {
			out[strings.ReplaceAll(w, "_", " ")] = letter
		}
	}
	return out
}
