package parse

import (
	"slices"
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

// loadAmiss says whether a load is talked about that should not have been: "the kid dumped
// one on the wrong field, take the last one off". Nothing is logged by it.
func (b *binder) loadAmiss() bool {
	if b.req.Question || !b.saysAny(amiss) || !b.acted("undo") && !slices.ContainsFunc(b.tokens, tellsOfLoads) {
		return false
	}
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool {
		return a.Name == "log" || slices.ContainsFunc(amiss, func(w string) bool { return strings.HasSuffix(a.Text, w) }) // "por error" asks for nothing yet
	})
	if len(b.req.Acts) == 0 {
		b.addInfo("load_amiss")
	}
	return true
}

var amiss = []string{"by mistake", "by accident", "wrong field", "wrong place", "wrong farm", "wasn't supposed to", "wasnt supposed to", "por error", "por accidente", "potrero equivocado", "campo equivocado", "lote equivocado", "no era ahi", "donde no era"}

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
