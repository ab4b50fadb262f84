package parse

import (
	"fmt"
	"strings"

	"tankside/engine"
)

// Trace is how a message was read: every token with its class, every amount with
// the rule that placed it.
type Trace struct {
	Lines []string
}

func (t *Trace) add(format string, args ...any) {
	t.Lines = append(t.Lines, fmt.Sprintf(format, args...))
}

// Explain shows how a message is read, for people who mend the lexicon.
func Explain(text string, ctx Context) string {
	t := &Trace{}
	req := parse(text, ctx, t)
	t.request(req)
	return strings.Join(t.Lines, "\n") + "\n"
}

var className = func() map[class]string {
	m := map[class]string{cSkip: "taken in", cClock: "clock", cName: "field name", cWord: "unknown"}
	for name, c := range classNamed {
		if m[c] == "" || name < m[c] && c != cWord {
			m[c] = name
		}
	}
	return m
}()

func (t *Trace) fill(b *binder) {
	t.add("language  %s", b.lang)
	t.add("tokens")
	for i := range b.tokens {
		k := &b.tokens[i]
		note := ""
		if k.fix != "" {
			note = "  read as " + k.fix
		}
		t.add("  %-18q %-10s %s%s", k.text, className[k.class], k.key, note)
	}
	t.add("amounts")
	for k := range b.qs {
		t.amount(b, &b.qs[k])
	}
}

func (t *Trace) amount(b *binder, q *qty) {
	text := ""
	if q.i < q.j {
		text = b.piece(q.i, q.j).Text
	}
	value := fmt.Sprintf("%g", q.min)
	if q.min != q.max {
		value = fmt.Sprintf("%g to %g", q.min, q.max)
	}
	u := ""
	if q.unit != nil {
		u = q.unit.Symbol
	} else if q.per != "" {
		u = "(no unit) per " + q.per
	}
	switch {
	case q.slot != engine.NoSlot:
		t.add("  %-18q %s %s → %s %s  as in: %s", text, value, u, q.slot, q.of, q.rule)
	case q.done:
		t.add("  %-18q %s %s: %s", text, value, u, q.rule)
	default:
		t.add("  %-18q %s %s: not placed", text, value, u)
	}
	for _, why := range q.passed {
		t.add("      not by: %s", why)
	}
}

// passedOver says of each role word and crop in the amount's clause why it could not,
// or might not, place it.
func (b *binder) passedOver(q *qty) []string {
	var out []string
	for i := range b.tokens {
		t := &b.tokens[i]
		if t.class != cRole && t.class != cCrop || !b.sameClause(i, q) {
			continue
		}
		switch {
		case b.claimed[i]:
			out = append(out, t.text+" is spoken for")
		case t.class == cRole && q.per == "" && !exempt[t.key] && !roleTakes(t.key, q.dim()):
			out = append(out, t.text+" takes no such unit")
		case b.othersBetween(i, q):
			out = append(out, t.text+" is nearer to another amount")
		}
	}
	return out
}

// sameClause says whether no full stop or question mark parts token i from the amount.
func (b *binder) sameClause(i int, q *qty) bool {
	from, to := min(i, q.i), max(i, q.j)
	for k := from; k < to && k < len(b.tokens); k++ {
		if t := &b.tokens[k]; t.class == cQuestion || t.class == cComma && (t.text == "." || t.text == ";") {
			return false
		}
	}
	return true
}

// othersBetween says whether another amount stands between token i and the amount.
func (b *binder) othersBetween(i int, q *qty) bool {
	for k := range b.qs {
		if o := &b.qs[k]; o != q && (o.i > i && o.j <= q.i || o.i >= q.j && o.j <= i) {
			return true
		}
	}
	return false
}

func (t *Trace) request(r *Request) {
	for _, a := range r.Asks {
		t.add("asks      %s %s", a.Topic, a.Slot)
	}
	for _, a := range r.Acts {
		t.add("does      %s %q not=%v", a.Name, a.Text, a.Not)
	}
	for _, l := range r.Loose {
		t.add("loose     %q", l.Text)
	}
	for _, c := range r.Crops {
		t.add("crop      %s", c.Name)
	}
	for _, s := range r.Unread {
		t.add("unread    %q", s.Text)
	}
	for _, s := range r.Withdrawn {
		t.add("withdrawn %q", s.Text)
	}
	if r.WhatIf {
		t.add("what-if   not remembered")
	}
	if r.Correct {
		t.add("corrects  what was said before")
	}
	if r.Problem != nil {
		t.add("problem   %s", r.Problem.Error())
	}
}
