package parse

import (
	"math"
	"regexp"
	"slices"
	"strconv"

	"tankside/engine/unit"
)

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
	{regexp.MustCompile(`^gp?(o|ao|w|[ao]*[lw]|o[lw])p+$`), "one", false},                      // got another one on
	{regexp.MustCompile(`^so[lw]?p*$`), "one", false},                                          // ahí va otra
	{regexp.MustCompile(`^[wa]?o[lw]?p+$`), "one", false},                                      // another one gone, one more on home
	{regexp.MustCompile(`^ao[lw]?$`), "one", true},                                             // una más a las 8:20
	{regexp.MustCompile(`^vo?nl?[ap]*$`), "count", false},                                      // ya tiré dos, eché otras 3
	{regexp.MustCompile(`^gp?o?no?[lw]?[ap]*p[ap]*$|^gp?nl$`), "count", false},                 // got 2 loads on, put 5 on home
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
	case "count": // "put 7 on so far"
		t.Reached = slices.ContainsFunc(b.tokens[t.from:t.to], func(w token) bool { return w.class == cAct && w.key == "totals" })
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
