package parse

import (
	"strconv"
	"time"

	"tankside/engine/unit"
)

// when reads the time of a load: "at 2:15", "ten minutes ago", "yesterday".
func (b *binder) when() {
	w, last := When{Clock: -1}, 0
	for i := range b.tokens {
		t := &b.tokens[i]
		switch {
		case t.class == cClock:
			if b.startClock(i) {
				t.used = true
				continue
			}
			if b.negatedTime(i) {
				t.used = true
				continue // "10:50, not 10:40"
			}
			if w.Clock >= 0 { // "start 6:40, done by 2:15": the later word counts, the first is named
				b.req.Unread = append(b.req.Unread, b.piece(last, last+1))
			}
			last, w.At = i, b.span(i, i+1)
			w.Clock, _ = strconv.Atoi(t.key)
			w.Exact, t.used = t.span == -1 || w.Clock >= 780, true
		case t.class == cTime && t.key == "yesterday":
			w.Days, t.used = 1, true
		case t.class == cTime && t.key == "ago":
			b.ago(i, &w)
		}
	}
	if w.Clock >= 0 && len(b.req.Acts) == 0 && len(b.qs) == 0 && (b.fixed() || b.has(cNot)) && !b.has(cQ) {
		b.req.Acts = append(b.req.Acts, Act{Name: "correct"}) // "make that 10:50"
	}
	if w.Clock >= 0 || w.Ago > 0 || w.Days > 0 {
		said := w // only a time that was said leaves the stack
		b.req.When = &said
	}
}

// negatedTime says whether "not" stands right before a time of day.
func (b *binder) negatedTime(i int) bool { return b.before(i).class == cNot }

// fixed says whether a word of correction was said; it has been taken in already.
func (b *binder) fixed() bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cFix || t.class == cSkip && t.key == "fix" {
			return true
		}
	}
	return false
}

// ago: the time amount before "ago", or behind "hace".
func (b *binder) ago(i int, w *When) {
	for k := range b.qs {
		q := &b.qs[k]
		if (q.j == i || q.i == i+1) && q.dim() == unit.DimTime {
			w.Ago = time.Duration(q.unit.ToBase(q.min) * float64(time.Minute))
			q.done, q.slot, q.rule = true, 0, "ten minutes ago"
			b.tokens[i].used = true
		}
	}
}
