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
	Part    float64 // of a full load; 0: not said
	Who     string  // whose they are, where somebody else than the teller is named
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
	var talk [][2]int
	var ahead teller
	for i < len(b.tokens) {
		end := b.clauseEnd(i)
		if b.restOfTelling(i) {
			break
		}
		t, ok := b.tellClause(i, end, len(told) == 0)
		if t.shape == nil && t.Field != "" && ok {
			ahead = t // "North: 14 loads by noon"
		} else if ahead.Field != "" && t.Field == "" {
			t.Field, t.known, t.nameAt = ahead.Field, ahead.known, ahead.nameAt
		}
		switch {
		case len(told) > 0 && b.shortOne(&told[len(told)-1], i, end):
			short := told[len(told)-1]
			short.Count, short.Reached = short.Count-1, short.Reached && short.Count > 1
			one := teller{Told: Told{Count: 1, Clock: -1, Field: short.Field, Volume: short.short, Unit: short.shortUnit, Part: short.shortPart}, shape: []byte("q"), from: i, to: end, known: short.known, nameAt: short.nameAt}
			told[len(told)-1] = short
			told = append(told, one)
			b.useUp(i, end)
		case !ok && (len(told) == 0 && b.smallTalk(i, end) || b.reason(i)):
			if b.reason(i) {
				end = len(b.tokens)
			}
			talk = append(talk, [2]int{i, end})
		case !ok && b.onlyFillers(i, end):
		case !ok && len(told) == 1 && told[0].strong() && b.harmless(i):
			end = len(b.tokens)
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
	if len(told) == 0 || len(told) == 1 && told[0].means == "" || heading > 0 && heading != len(told) {
		return false
	}
	b.tell(told)
	for _, t := range talk { // "we started at 7" is not when a load was spread
		b.swallow(t[0], t[1])
	}
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

	short     float64 // what one of them was only, in shortUnit, or as a part
	shortUnit *unit.Unit
	shortPart float64
}

// strong says whether a clause tells of counted loads by a verb and the word itself.
func (t *teller) strong() bool {
	return len(t.shape) > 2 && (t.shape[0] == 'v' || t.shape[0] == 'r' || t.shape[0] == 'g') && slices.Contains(t.shape, 'n') && slices.Contains(t.shape, 'l')
}

// shortOne reads "one of them was only about 10 cube", "la última fue media carga" behind
// loads that were told of.
func (b *binder) shortOne(t *teller, from, to int) bool {
	if t.Count < 2 || t.Volume > 0 {
		return false
	}
	one, was := false, false
	var q *qty
	for i := from; i < to; i++ {
		tok := &b.tokens[i]
		was = was || oneOf(tok.text, wasOnly)
		if a := b.amountAt(i); a != nil && (b.gallons(a) || a.part && a.max < 1) {
			q = a
			i = a.j - 1
			continue
		}
		switch {
		case tok.class == cOrd, tok.text == "last", tok.text == "one", tok.text == "ultima", tok.text == "una", strings.HasPrefix(tok.text, "last one"), strings.HasPrefix(tok.text, "the last"), strings.HasPrefix(tok.text, "la ultima"), tok.class == cAct && tok.key == "correct":
			one = true
		case tok.class == cSkip, tok.class == cFiller, tok.class == cComma, tok.class == cOf, tok.class == cAbout, tok.class == cQ && tok.key == "is", tok.class == cRole && tok.key == "load", tok.class == cPer, tok.class == cArt, tok.class == cUn, tellLetter[tok.text] != 0:
		case b.reason(i):
			i = to
		default:
			return false
		}
	}
	if !one || !was || q == nil {
		return false
	}
	if q.part {
		t.shortPart = q.min
	} else {
		t.short, t.shortUnit = q.min, q.unit
	}
	q.done, q.rule = true, "one of the loads told of"
	return true
}

var wasOnly = words("was", "only", "fue", "era", "nomas", "solo", "them", "ellas")

// useUp marks what was read of a clause.
func (b *binder) useUp(from, to int) {
	for i := from; i < to; i++ {
		b.tokens[i].used = true
	}
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool { return a.Name == "correct" })
}

// smallTalk says whether a clause before the loads holds nothing of the job: "quittin
// time.", "arrancamos a las 7".
func (b *binder) smallTalk(from, to int) bool {
	if to >= len(b.tokens) {
		return false
	}
	started := false
	for i := from; i < to; i++ {
		t := &b.tokens[i]
		started = started || startWords[t.text]
		switch {
		case t.class == cClock, t.class == cAt, t.class == cTime:
			if !started {
				return false
			}
		case t.class == cWord, t.class == cFiller, t.class == cSkip, t.class == cComma, t.class == cMy, t.class == cOf, startWords[t.text]:
		default:
			return false
		}
	}
	return true
}

// onlyFillers says whether nothing but words that carry nothing stand in a clause.
func (b *binder) onlyFillers(from, to int) bool {
	for i := from; i < to; i++ {
		if c := b.tokens[i].class; c != cFiller && c != cSkip && c != cComma && c != cMy {
			return false
		}
	}
	return true
}

var startWords = words("started", "start", "starting", "began", "arrancamos", "arranque", "empezamos", "empece", "comenzamos")

// reason says whether words of why begin at token i: "cause the pit hose came off".
func (b *binder) reason(i int) bool {
	t := b.at(i).text
	return (t == "cause" || t == "because" || t == "cuz" || t == "cos" || t == "porque" || t == "pq") && !slices.ContainsFunc(b.qs, func(q qty) bool { return q.i > i && !q.done })
}

// harmless says whether what stands from token i on has no part in how big a load is.
func (b *binder) harmless(i int) bool {
	if slices.ContainsFunc(b.tokens[i:], func(t token) bool {
		return t.class == cNot || t.class == cFix || t.class == cAct && t.key != "left" && t.key != "totals"
	}) {
		return false
	}
	return !slices.ContainsFunc(b.qs, func(q qty) bool {
		return q.i >= i && (q.bare() || q.dim() == unit.DimVolume || q.dim() == unit.DimVolumePerArea || q.dim() == unit.DimMassPerArea || q.dim() == unit.DimFlow)
	})
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
	{regexp.MustCompile(`^[vg]?[ao]*[lw]p+$`), "one", false},                                   // load's on, put a load on, one on
	{regexp.MustCompile(`^v(o|a|ao)[lw]?p*$`), "one", false},                                   // dumped another, ya eché otro, vacié uno
	{regexp.MustCompile(`^gp?(o|a|ao|w)?[lw]?p+$`), "one", false},                              // got another one on
	{regexp.MustCompile(`^so[lw]?p*$`), "one", false},                                          // ahí va otra
	{regexp.MustCompile(`^[wa]?o[lw]?p+$`), "one", false},                                      // another one gone, one more on home
	{regexp.MustCompile(`^vo?nl?[ap]*$`), "count", false},                                      // ya tiré dos, eché otras 3
	{regexp.MustCompile(`^gp?o?n[lw]?[ap]*p[ap]*$|^gp?nl$`), "count", false},                   // got 2 loads on, put 5 on home
	{regexp.MustCompile(`^no[lw]?p+$`), "count", false},                                        // 2 more down
	{regexp.MustCompile(`^n[lw]p+$`), "count", false},                                          // 3 loads on home
	{regexp.MustCompile(`^nl$`), "count", true},                                                // 14 loads by noon
	{regexp.MustCompile(`^r?np+$|^rn[lw]?[ap]*$`), "reached", false},                           // 3 down, ya van 4 cargas en el norte
	{regexp.MustCompile(`^(ln|n)n+p+$`), "reached", false},                                     // loads 1 and 2 done
	{regexp.MustCompile(`^[vgs]?a?d[lw]?s?p+$`), "ordinal", false},                             // first one's on the ground
	{regexp.MustCompile(`^[vs]a?d[lw]?p*$`), "ordinal", false},                                 // ya va la primera
	{regexp.MustCompile(`^a?d[lw]?p*$`), "ordinal", true},                                      // la segunda a las 9
	{regexp.MustCompile(`^[vg]a?l[dn]p*$|^[vg]?a?ldp+$`), "ordinal", false},                    // put load 3 on
	{regexp.MustCompile(`^[vg]?a?(d[lw]?|ld)?[vs]?q[lw]?p*$|^[vg]?nl?aq$|^n[lw]$`), "", false}, // first load 4000, logged a 4000, 5 full ones
}

// nextShape is what a clause behind the first may be: it leans on the first.
var nextShape = regexp.MustCompile(`^[vgs]?p?([ao]*[qf]?[lw]?|n[olw]?|a?d[lw]?|a?ld)[vs]?[qf]?[ap]*$`)

// tellClause reads one clause; ok is false where it says something else.
func (b *binder) tellClause(from, to int, first bool) (t teller, ok bool) {
	t = teller{Told: Told{Clock: -1}, from: from, to: to}
	from = b.whose(&t, from, to)
	from = b.placeFirst(&t, from, to)
	for i := from; i < to; i++ {
		if w := b.tokens[i].text; i == to-1 && (w == "plus" || w == "an") {
			break // it parts two clauses
		}
		if end := b.place(&t, i, to); end > i {
			t.shape, i = append(t.shape, 'p'), end-1
			continue
		}
		if q := b.amountAt(i); q != nil && b.gallons(q) {
			t.shape, t.Volume, t.Unit, i = append(t.shape, 'q'), q.min, q.unit, q.j-1
			t.numbers = append(t.numbers, b.indexOf(q))
			continue
		}
		if q := b.amountAt(i); q != nil && q.part && q.max < 1 && q.min == q.max {
			t.shape, t.Part, i = append(t.shape, 'f'), q.min, q.j-1
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
			switch {
			case c == 'g' && len(t.shape) > 0 && b.tokens[i].text == "finished":
				c = 'p'
			case c == 'p' && len(t.shape) == 0 && (b.tokens[i].text == "done" || b.tokens[i].text == "did"):
				c = 'g' // done 7 loads on home
			}
			t.shape = append(t.shape, c)
			b.tellNumber(&t, c, i)
		}
	}
	if shape := string(t.shape); shape == "" || shape == "r" || (shape == "v" || shape == "va") && b.acted("log") { // "2 loads done, log them"
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

// hour reads "at 8" as a time of day.
func (b *binder) hour(t *teller, i, to int) bool {
	q := b.amountAt(i + 1)
	lead := b.tokens[i].text
	if b.tokens[i].class != cAt && lead != "at" && lead != "of" && lead != "as of" && lead != "by" || i+1 >= to || q == nil || !q.bare() || q.j != i+2 || q.min != math.Trunc(q.min) {
		return false
	}
	hour, minute := int(q.min), 0
	if q.min >= 100 { // as of 1230
		hour, minute = int(q.min)/100, int(q.min)%100
	}
	if lead == "of" && (q.min < 100 || b.at(i-1).text != "as") || hour < 1 || hour > 23 || minute > 59 || q.min < 100 && hour > 12 {
		return false
	}
	t.Clock = hour*60 + minute
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
	dayPart   = words("mornin", "morning", "afternoon", "mornin'", "evening")
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
		if k > i+1 && t.class == cAct && t.key == "correct" {
			return k
		}
		if k > i+1 && (t.class == cOrd || t.text == "last") && b.oneBehind(k) && !b.smallNumber(k-1) {
			return k // "did 4 there first one was only 5200"
		}
		if (t.class == cComma || t.text == "plus" || t.text == "an" && k > i && splitWords[b.at(k+1).text]) && !(k > i && b.smallNumber(k-1) && b.smallNumber(k+1)) {
			return k + 1
		}
		if k > i && b.restOfTelling(k) {
			return k
		}
	}
	return len(b.tokens)
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
	case t.text == "this" && (dayPart[b.at(i+1).text] || b.at(i+1).class == cTime):
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
	'v': "dumped emptied unloaded spread hauled eche echamos heche hechamos tire tiramos vacie vaciamos regue regamos descargue descargamos saque sacamos acabe acabamos termine terminamos",
	'g': "put put_out put_down put_on got have had finished ran did laid threw hice hicimos puse pusimos hauled_out",
	'r': "van ya_van that's thats that_is makes that_makes llevamos llevo ya_llevo ya_llevamos con_esta_van",
	'a': "a an the my this that those la el esta esa este ese un una uno",
	'o': "another otro otra otras otros more mas otro_mas otra_mas",
	'w': "one one's ones",
	'p': "there alli aya ai ahy on down out in off gone done went_on is_out empty spread_out abajo afuera",
	's': "va fue salio there_goes quedo was",
	'-': "just ya i we ok okay yep alright so now then guys hey here it's i've we've is that's_it ahi pues ahora listo apenas recien all finally boss jefe patron only about morning over still total it acabo acabamos same also as by for me before before_that of them full llena llenas completas of them before those mornin this_mornin afternoon tarde",
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
	b.req.AllDay = b.saysAny(allDayWords) && !slices.ContainsFunc(told, func(t teller) bool { return slices.Contains(t.shape, 'o') })
	more := slices.ContainsFunc(b.qs, func(q qty) bool { return q.i >= to })
	for i := from; i < to; i++ {
		b.tokens[i].used = true
		b.claimed[i] = b.claimed[i] || more // "2 loads done, 4 to go": the four are not these
	}
	for _, t := range told {
		for _, k := range t.numbers {
			b.qs[k].done, b.qs[k].rule = true, "loads told of"
		}
	}
	if len(told) == 1 && told[0].Who == "" {
		b.tellOne(&told[0])
		return
	}
	b.req.Ordinal, b.req.Field = 0, ""
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool { return a.Name == "totals" || a.Name == "field_switch" })
	for _, t := range told {
		if t.Count == 0 {
			continue // the one of them was told of apart
		}
		t.At = b.span(t.from, t.to)
		b.req.Told = append(b.req.Told, t.Told)
	}
}

var allDayWords = []string{"today", "hoy"}

// tellOne is a telling of one kind of loads: the whole message is about them.
func (b *binder) tellOne(t *teller) {
	switch {
	case t.Field != "" && t.known:
		b.req.Field = t.Field
	case t.Field != "":
		b.req.FieldSaid, b.req.FieldAt = t.Field, t.nameAt
	}
	if t.Clock >= 0 && !b.has(cClock) { // "8 loads done as of 1030"
		b.req.When = &When{Clock: t.Clock, At: b.span(t.from, t.to)}
	}
	b.req.Ordinal, b.req.Reached = t.Ordinal, t.Reached
	switch {
	case t.Reached:
		b.req.Ordinal = t.Count
	case len(t.numbers) > 0 && t.Ordinal == 0:
		b.set(&b.qs[t.numbers[0]], engine.LoadCount, "", "loads told of")
	}
}
