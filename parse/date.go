package parse

import (
	"strconv"

	"tankside/engine"
	"tankside/engine/unit"
)

// Date is a day of the year that was said: "October 10th". About: "mid October".
type Date struct {
	Month, Day int
	About      bool
	At         [2]int
}

// dates makes one token of each day of the year, its key month and day as MM-DD:
// October 10 · oct. 10th · the 10th of October · 10 de octubre · mid October. A month
// alone carries nothing.
func (r *reader) dates() {
	for i := range r.tokens {
		if r.tokens[i].class != cMonth {
			continue
		}
		month, _ := strconv.Atoi(r.tokens[i].key)
		from, to, day := r.dayBeside(i)
		if day == 0 {
			r.tokens[i].be(cFiller, r.tokens[i].text)
			continue
		}
		r.setDate(from, to, month, day)
	}
}

// dayBeside finds the day that goes with the month at token i and the tokens that both
// take up; 0 when there is none.
func (r *reader) dayBeside(i int) (from, to, day int) {
	next := i + 1
	if t := r.at(next); t.class == cComma && t.text == "." || t.text == "the" {
		next++ // oct. 10, October the 10th
	}
	if d := r.dayOf(next); d > 0 && !r.at(next+1).measures() {
		return i, next, d
	}
	prev := i - 1
	for prev > 0 && (r.at(prev).class == cOf || r.at(prev).class == cFiller) {
		prev--
	}
	if prev >= 0 && r.at(prev).class == cMid {
		return prev, i, 15
	}
	if d := r.dayOf(prev); prev >= 0 && d > 0 {
		return prev, i, d
	}
	return i, i, 0
}

// dayOf reads token i as a day of a month.
func (r *reader) dayOf(i int) int {
	if i < 0 {
		return 0
	}
	t := r.at(i)
	if n := ordinalWord[t.text]; n != "" && t.class == cFrac { // november fifth
		day, _ := strconv.Atoi(n)
		return day
	}
	n, err := strconv.Atoi(t.key)
	if t.class != cNum && t.class != cOrd || err != nil || n < 1 || n > 31 {
		return 0
	}
	return n
}

// measures says whether a token makes an amount of the number before it.
func (t *token) measures() bool {
	switch t.class {
	case cUnit, cClash, cScale, cPer, cSlash, cPoint, cRange:
		return true
	}
	return false
}

func (r *reader) setDate(from, to, month, day int) {
	about := r.tokens[from].class == cMid
	r.tokens[from].be(cDate, strconv.Itoa(month*100+day))
	r.tokens[from].to, r.tokens[from].text = r.tokens[to].to, r.text[r.tokens[from].from:r.tokens[to].to]
	if about {
		r.tokens[from].span = -1
	}
	for k := from + 1; k <= to; k++ {
		r.tokens[k].class = cSkip
	}
}

// dated takes up the day that was said. One that nothing is done with is listed.
func (b *binder) dated() {
	for i := range b.tokens {
		t := &b.tokens[i]
		if t.class != cDate {
			continue
		}
		if b.req.Date != nil && b.frostNearer(i) { // "seed October 5? hard frost usually Oct 20"
			b.req.Unread = append(b.req.Unread, engine.Span{Text: b.raw[b.req.Date.At[0]:b.req.Date.At[1]], At: b.req.Date.At})
		} else if b.req.Date != nil {
			b.req.Unread = append(b.req.Unread, b.piece(i, i+1))
			continue
		}
		n, _ := strconv.Atoi(t.key)
		b.req.Date = &Date{Month: n / 100, Day: n % 100, About: t.span == -1, At: b.span(i, i+1)}
		t.used = true
	}
	b.req.Frost = b.req.Date != nil && b.has(cNoun, "frost")
}

// frostIn reads a frost that is some weeks or days off: "frost is coming in about 3 weeks".
func (b *binder) frostIn() {
	if !b.has(cNoun, "frost") {
		return
	}
	for k := range b.qs {
		q, days := &b.qs[k], 0.0
		switch b.at(q.j).text {
		case "week", "weeks", "semana", "semanas":
			days = 7
		case "day", "days", "dia", "dias":
			days = 1
		default:
			continue
		}
		if before := b.at(q.i - 1); q.done || q.unit != nil && q.unit.Dim != unit.DimTime || before.text == "ago" {
			continue
		}
		q.done, q.rule = true, "frost in 3 weeks"
		b.tokens[q.j].used = true
		b.req.FrostIn = int(q.max*days + 0.5)
		return
	}
}

// frostNearer says whether the date at token i is the first that stands behind the word
// for frost.
func (b *binder) frostNearer(i int) bool {
	for i--; i >= 0 && b.tokens[i].class != cDate; i-- {
		if t := &b.tokens[i]; t.class == cNoun && t.key == "frost" {
			return true
		}
	}
	return false
}

// seedingTime says whether the seeding time of a crop is asked for.
func (b *binder) seedingTime() {
	for i := range b.req.Asks {
		if b.req.Asks[i].Timing {
			b.req.Timing = true
			return
		}
	}
	if b.req.Frost && (b.has(cCrop) || b.has(cRyeQ) || b.has(cCropQ) || b.req.Question) && len(b.req.Asks) == 0 {
		b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicCrop, Timing: true})
		b.req.Timing = true
	}
}
