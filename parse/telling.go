package parse

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// Told is one telling of loads in a message that tells of several: "5 on home and 2 on
// ridge", "first load 4000 at 8, second 3600 at 8:40".
type Told struct {
	Count   int     // loads
	Ordinal int     // which load it is by the teller's count; 0: not said
	Reached bool    // Count is how many there are by now
	Field   string  // as said; "" is the field in hand
	Volume  float64 // in Unit; 0: not said
	Unit    *unit.Unit
	Clock   int // minutes past midnight, -1 when not said
	Days    int // days before the message's
	At      [2]int
}

// telling reads a message that tells of loads and does nothing else: "load's on", "put
// another one down at 9:40", "first one's on the ground", "ya eché otro", "3 down", "loads
// 1 and 2 done", "put 5 on home and 2 on ridge". What its words can be is written as one
// letter each, and the shapes of such messages are patterns over those letters; any other
// word makes it something else. The size of the ground, and a question of what is left,
// may stand behind it.
func (b *binder) telling() bool {
	if len(b.tokens) > 32 || len(b.req.Acts) > 2 || !slices.ContainsFunc(b.tokens, tellsOfLoads) {
		return false
	}
	i, heading := b.hail(), 0
	var told []teller
	for i < len(b.tokens) {
		end := b.clauseEnd(i)
		if b.restOfTelling(i) {
			break
		}
		t, ok := b.tellClause(i, end, len(told) == 0)
		switch {
		case !ok && len(told) == 0 && string(t.shape) == "nl" && heading == 0:
			heading = t.Count // "two loads, one of 3500 and one of 3200"
			b.qs[t.numbers[0]].rule = "loads told of"
			t.numbers = nil
		case !ok:
			return false
		case len(t.shape) > 0:
			if len(told) > 0 {
				t.Reached = told[0].Reached
			}
			told = append(told, t)
		}
		i = end
	}
	if len(told) == 1 && told[0].Field == "" && b.acted("log") {
		return false // the act's own words say it
	}
	if len(told) == 0 || len(told) == 1 && told[0].Volume > 0 && told[0].means == "" || heading > 0 && heading != len(told) {
		return false
	}
	b.tell(told)
	return true
}

// tellsOfLoads says whether a word can be of a load that is down: most messages have none.
func tellsOfLoads(t token) bool {
	switch letter := tellLetter[t.text]; letter {
	case 'v', 'g', 'r', 'o', 'w', 's', 'p':
		return true
	}
	return t.class == cOrd || t.class == cRole && t.key == "load" || t.class == cAct && (t.key == "log" || t.key == "done")
}

// teller is a clause that tells of loads.
type teller struct {
	Told
	means   string
	shape   []byte
	known   bool // its field is one of the chat's
	from    int
	to      int
	nameAt  [2]int
	numbers []int // the amounts in it, by their place in qs
}

// The letters: v a verb of emptying, g one that is so only with a load behind it, r words
// for what it comes to by now, a an article, n a count, o "another", l a load, w "one" for
// a load, d an ordinal, p where it went ("on", "down", "done", a field), s "va", "there
// goes", q gallons.
var tellShapes = [...]struct {
	shape *regexp.Regexp
	means string
	timed bool
}{
	{regexp.MustCompile(`^[vg]?[ao]*[lw]p+$`), "one", false},                           // load's on, put a load on, one on
	{regexp.MustCompile(`^v(o|a|ao)[lw]?p*$`), "one", false},                           // dumped another, ya eché otro, vacié uno
	{regexp.MustCompile(`^g(o|a|ao|w)?[lw]?p+$`), "one", false},                        // got another one on
	{regexp.MustCompile(`^so[lw]?p*$`), "one", false},                                  // ahí va otra
	{regexp.MustCompile(`^[wa]?o[lw]?p+$`), "one", false},                              // another one gone, one more on home
	{regexp.MustCompile(`^vnl?p*$`), "count", false},                                   // ya tiré dos
	{regexp.MustCompile(`^gnl?p+$`), "count", false},                                   // got 2 loads on, put 5 on home
	{regexp.MustCompile(`^no[lw]?p+$`), "count", false},                                // 2 more down
	{regexp.MustCompile(`^nlp+$`), "count", false},                                     // 3 loads on home
	{regexp.MustCompile(`^r?np+$|^rnl?p*$`), "reached", false},                         // 3 down, ya van 4 cargas en el norte
	{regexp.MustCompile(`^(ln|n)n+p+$`), "reached", false},                             // loads 1 and 2 done
	{regexp.MustCompile(`^[vgs]?a?d[lw]?s?p+$`), "ordinal", false},                     // first one's on the ground
	{regexp.MustCompile(`^[vs]a?d[lw]?p*$`), "ordinal", false},                         // ya va la primera
	{regexp.MustCompile(`^a?d[lw]?p*$`), "ordinal", true},                              // la segunda a las 9
	{regexp.MustCompile(`^[vg]a?l[dn]p*$|^[vg]?a?ldp+$`), "ordinal", false},            // put load 3 on
	{regexp.MustCompile(`^[vg]?a?(d[lw]?|ld)?[vs]?q[lw]?p*$|^[vg]?nl?aq$`), "", false}, // first load 4000, logged a 4000
}

// nextShape is what a clause behind the first may be: it leans on the first.
var nextShape = regexp.MustCompile(`^[vgs]?([ao]*[lw]?|n[ol]?|a?d[lw]?|a?ld)[vs]?q?p*$`)

// tellClause reads one clause; ok is false where it says something else.
func (b *binder) tellClause(from, to int, first bool) (t teller, ok bool) {
	t = teller{Told: Told{Clock: -1}, from: from, to: to}
	for i := from; i < to; i++ {
		if end := b.place(&t, i, to); end > i {
			t.shape, i = append(t.shape, 'p'), end-1
			continue
		}
		if q := b.amountAt(i); q != nil && b.gallons(q) {
			t.shape, t.Volume, t.Unit, i = append(t.shape, 'q'), q.min, q.unit, q.j-1
			t.numbers = append(t.numbers, b.indexOf(q))
			continue
		}
		if b.hour(&t, i, to) {
			i++
			continue
		}
		switch c := b.tellKind(i); c {
		case 0:
			return t, false
		case '-':
			if b.tokens[i].class == cClock {
				t.Clock, _ = strconv.Atoi(b.tokens[i].key)
			}
		default:
			if c == 'g' && len(t.shape) > 0 && b.tokens[i].text == "finished" {
				c = 'p'
			}
			t.shape = append(t.shape, c)
			b.tellNumber(&t, c, i)
		}
	}
	if shape := string(t.shape); shape == "" || shape == "r" || shape == "v" && b.acted("log") { // "2 loads done, log them"
		t.shape = nil
		return t, true
	}
	if !first {
		t.Count = max(t.Count, 1)
		return t, nextShape.Match(t.shape)
	}
	for _, p := range tellShapes {
		if p.shape.Match(t.shape) && (!p.timed || t.Clock >= 0) {
			t.means = p.means
			return b.counted(t), true
		}
	}
	return t, false
}

// hour reads "at 8" as a time of day.
func (b *binder) hour(t *teller, i, to int) bool {
	q := b.amountAt(i + 1)
	if b.tokens[i].class != cAt && b.tokens[i].text != "at" || i+1 >= to || q == nil || !q.bare() || q.min > 12 || q.min < 1 || q.j != i+2 || q.min != math.Trunc(q.min) {
		return false
	}
	t.Clock = int(q.min) * 60
	t.numbers = append(t.numbers, b.indexOf(q))
	return true
}

// tellNumber keeps the count or the ordinal that a letter stands for.
func (b *binder) tellNumber(t *teller, c byte, i int) {
	switch c {
	case 'n':
		t.Count, _ = strconv.Atoi(b.tokens[i].key)
		if q := b.amountAt(i); q != nil {
			t.numbers = append(t.numbers, b.indexOf(q))
		}
	case 'd':
		if t.Ordinal, _ = strconv.Atoi(b.tokens[i].key); b.tokens[i].text == "second" {
			t.Ordinal = 2
		}
	case 'a', 'w':
		if q := b.amountAt(i); q != nil {
			t.numbers = append(t.numbers, b.indexOf(q))
		}
	case 'p':
		if b.tokens[i].text == "yesterday" || b.tokens[i].text == "ayer" {
			t.Days = 1
		}
	}
}

// counted settles how many loads a clause tells of.
func (b *binder) counted(t teller) teller {
	switch t.means {
	case "ordinal":
		if t.Ordinal == 0 {
			t.Ordinal = t.Count
		}
		t.Count = 1
	case "reached":
		t.Reached = true
	}
	t.Count = max(t.Count, 1)
	return t
}

func (b *binder) indexOf(q *qty) int {
	return slices.IndexFunc(b.qs, func(o qty) bool { return o.i == q.i })
}

// gallons says whether an amount is the size of a load.
func (b *binder) gallons(q *qty) bool {
	return q.min == q.max && (q.dim() == unit.DimVolume || q.bare() && q.min >= 300)
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
	for w := b.at(from); from < to && (beforePlace[w.text] || w.class == cOf || w.class == cRole && w.key == "field" && from+1 < to && b.placeName(from+1)); w = b.at(from) {
		from++
	}
	end := from
	for end < to && b.placeName(end) {
		end++
	}
	if end == from {
		return i
	}
	switch first := b.at(from); {
	case first.class == cName:
		t.Field, t.known = first.key, true
	case end == from+1 && first.class == cRole && first.key == "field": // on the ground
	case sameGround[first.text]:
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
	return t.class == cName || b.inStatedName(i) || t.class == cRole && t.key == "field" || sameGround[t.text]
}

var (
	tellPlace   = map[string]bool{"on": true, "in": true, "at": true, "en": true, "over on": true, "onto": true, "for": true}
	beforePlace = map[string]bool{"the": true, "el": true, "la": true, "los": true, "del": true, "that": true, "this": true}
	sameGround  = map[string]bool{"misma": true, "mismo": true}
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

// clauseEnd is where the clause at token i ends: at a comma or "and", where a question or
// the size of the ground begins.
func (b *binder) clauseEnd(i int) int {
	for k := i; k < len(b.tokens); k++ {
		t := &b.tokens[k]
		if t.class == cComma && !(k > i && b.smallNumber(k-1) && b.smallNumber(k+1)) {
			return k + 1
		}
		if k > i && b.restOfTelling(k) {
			return k
		}
	}
	return len(b.tokens)
}

func (b *binder) smallNumber(i int) bool {
	t := b.at(i)
	return (t.class == cNum || t.class == cOrd) && len(t.key) <= 2 && (t.class == cOrd || !t.opensAmount(b, i))
}

// restOfTelling says whether what stands from token i on is the size of the ground or a
// question about the log.
func (b *binder) restOfTelling(i int) bool {
	switch t := &b.tokens[i]; {
	case t.class == cAct && t.key == "totals" && i > 0 && b.smallNumber(i-1): // "3 so far"
		return false
	case t.class == cQ && t.key != "is" && t.key != "how", t.class == cAct && (t.key == "left" || t.key == "totals"):
		return true
	case stateVerb[t.text]:
		return b.areaNext(i)
	}
	q := b.amountAt(i)
	return q != nil && q.dim() == unit.DimArea
}

// tellKind is the letter of a token; '-' for one that says nothing, 0 for one that says
// something else.
func (b *binder) tellKind(i int) byte {
	t := &b.tokens[i]
	switch {
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
	case t.class == cRole && t.key == "load":
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
	'v': "dumped emptied unloaded spread hauled eche echamos tire tiramos vacie vaciamos regue regamos descargue descargamos saque sacamos acabe acabamos termine terminamos",
	'g': "put got have had finished ran did laid threw hice hicimos puse pusimos",
	'r': "van ya_van that's thats that_is makes that_makes llevamos",
	'a': "a an the my this la el esta esa este ese un una uno",
	'o': "another otro otra more mas otro_mas otra_mas",
	'w': "one one's ones",
	'p': "on down out in off gone done went_on is_out empty spread_out abajo afuera",
	's': "va fue salio there_goes quedo was",
	'-': "just ya i we ok okay yep alright so now then guys hey here it's i've we've is that's_it ahi pues ahora listo apenas recien all finally boss jefe patron only about morning over still total it acabo acabamos same also plus",
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

// tell makes the act of logging of what was told.
func (b *binder) tell(told []teller) {
	from, to := told[0].from, told[len(told)-1].to
	at := b.span(from, to)
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool { return a.Name == "log" })
	b.req.Acts = append(b.req.Acts, Act{Name: "log", Text: b.raw[at[0]:at[1]], At: at})
	b.req.WhatIf, b.req.Telling = false, true
	for i := from; i < to; i++ {
		b.tokens[i].used = true
	}
	for _, t := range told {
		for _, k := range t.numbers {
			b.qs[k].done, b.qs[k].rule = true, "loads told of"
		}
	}
	if len(told) == 1 {
		b.tellOne(&told[0])
		return
	}
	b.req.Ordinal, b.req.Field = 0, ""
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool { return a.Name == "totals" || a.Name == "field_switch" })
	for _, t := range told {
		t.At = b.span(t.from, t.to)
		b.req.Told = append(b.req.Told, t.Told)
	}
}

// tellOne is a telling of one kind of loads: the whole message is about them.
func (b *binder) tellOne(t *teller) {
	switch {
	case t.Field != "" && t.known:
		b.req.Field = t.Field
	case t.Field != "":
		b.req.FieldSaid, b.req.FieldAt = t.Field, t.nameAt
	}
	b.req.Ordinal, b.req.Reached = t.Ordinal, t.Reached
	switch {
	case t.Reached:
		b.req.Ordinal = t.Count
	case len(t.numbers) > 0 && t.Ordinal == 0:
		b.set(&b.qs[t.numbers[0]], engine.LoadCount, "", "loads told of")
	}
}
