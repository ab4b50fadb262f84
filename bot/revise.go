package bot

import (
	"fmt"
	"slices"
	"time"
)

// Revise deals with a message whose text was changed after it had been dealt with as
// turn. What the earlier text did to the log is taken back: what it logged goes, what it
// put right or noted is as it was. Then the new text is dealt with as if it had been said
// at once; where nothing was said since, the memory too is what it was before. A new text
// that takes back, such as "undo", takes back what the earlier one logged and no more.
// msg.ID is a number of its own, turn.Key the earlier one.
func Revise(tx Tx, msg Message, k Known, turn *Turn, terms Terms) (*Dealt, error) {
	m := k.Memory
	if k.Seen != nil {
		k.Seen.Repeat = true
		return &Dealt{Reply: k.Seen, Before: m, Memory: m, Book: k.Book}, nil
	}
	if turn.Before != nil {
		m = *turn.Before
	}
	logged, err := tx.Logged(msg.Chat, turn.Key)
	if err != nil {
		return nil, fmt.Errorf("read what was logged: %w", err)
	}
	r, before := make(revision, len(logged)), k.Book
	for i, l := range logged {
		was, err := tx.Displaced(msg.Chat, l)
		if err != nil {
			return nil, fmt.Errorf("read what was put right: %w", err)
		}
		r[i] = revised{l, was}
		before = before.before(r[i], msg.At)
	}
	book := k.Book.newest(logged)
	if !terms.takesBack(msg, k.Memory, book, logged) {
		return terms.deal(tx, msg, m, before, r.settle)
	}
	d, err := terms.deal(tx, msg, k.Memory, book, r.restore)
	if err == nil {
		d.Before = m // the next correction starts where this one did
	}
	return d, err
}

// takesBack says whether a text, said with the loads as the newest of the book, takes
// back some of them and nothing else.
func (terms Terms) takesBack(msg Message, m Memory, book Book, loads []Load) bool {
	if len(loads) == 0 {
		return false
	}
	back := false
	for _, e := range terms.Decide(msg, m, book).Effects {
		if e.Cancel == nil {
			continue
		}
		if e.Why != "undo" || !slices.ContainsFunc(loads, e.Cancel.same) {
			return false
		}
		back = true
	}
	return back
}

// same says whether both are the same row of the log.
func (l *Load) same(o Load) bool { return l.ID == o.ID && l.Part == o.Part }

// newest is the book with loads that stand as its newest.
func (b Book) newest(loads []Load) Book {
	rest := slices.DeleteFunc(slices.Clone(b.Recent), func(l Load) bool { return slices.ContainsFunc(loads, l.same) })
	first := slices.Clone(loads)
	slices.Reverse(first)
	b.Recent = append(first, rest...)
	return b
}

// revised is a load of the earlier text, and the one that it put right or noted; nil:
// none.
type revised struct {
	load Load
	was  *Load
}

type revision []revised

// before is the book as it would be without the earlier text. The load that comes back
// goes by the number of the one that stands, so that the new text puts that right.
func (b Book) before(r revised, at time.Time) Book {
	b = b.count(&r.load, at, Totals.Minus)
	b.Recent = slices.Clone(b.Recent)
	i := slices.IndexFunc(b.Recent, r.load.same)
	if r.was == nil {
		if i >= 0 {
			b.Recent = slices.Delete(b.Recent, i, i+1)
		}
		return b
	}
	was := *r.was
	was.ID, was.Part = r.load.ID, r.load.Part
	if i >= 0 {
		b.Recent[i] = was
	}
	return b.count(&was, at, Totals.Plus)
}

// count adds a load to the sums, or takes it out of them.
func (b Book) count(l *Load, at time.Time, add func(Totals, Load) Totals) Book {
	fields := make(map[int64]Totals, len(b.ByField))
	for id, t := range b.ByField {
		if id == l.Field {
			t = add(t, *l)
		}
		fields[id] = t
	}
	b.ByField = fields
	if b.At == l.Field {
		b.Field = add(b.Field, *l)
	}
	when := l.When.In(at.Location())
	if when.Year() == at.Year() {
		b.Season = add(b.Season, *l)
		if when.YearDay() == at.YearDay() {
			b.Today = add(b.Today, *l)
		}
	}
	return b
}

// settle makes of what the new text does, seen from before the earlier one, what is done
// to the log as it stands.
func (r revision) settle(effects []Effect) []Effect {
	var first []Effect
	for i := range r {
		load, was := &r[i].load, r[i].was
		if was == nil {
			first = append(first, Effect{Cancel: load, Why: "edited"})
		} else if !putRight(effects, load, was) {
			first = append(first, Effect{Cancel: load, Why: "edited"}, Effect{Add: was})
		}
	}
	for i := range effects {
		if l := effects[i].Add; l != nil && l.Replaces == 0 && len(r) > 0 {
			l.Replaces = r[0].load.ID
		}
	}
	return slices.Concat(first, effects)
}

// restore brings a load back as its own message's, where the new text takes back that it
// was put right.
func (r revision) restore(effects []Effect) []Effect {
	for i := range effects {
		for _, one := range r {
			if l := effects[i].Add; l != nil && one.was != nil && l.Replaces == one.load.ID {
				effects[i].Add = one.was
			}
		}
	}
	return effects
}

// putRight says whether the new text too puts the load right or notes something with
// it: then the load that was there before is the one that it replaces.
func putRight(effects []Effect, load, was *Load) (found bool) {
	for i := range effects {
		if c := effects[i].Cancel; c != nil && c.same(*load) {
			effects[i] = Effect{Cancel: load, Why: "edited"}
			found = true
		}
	}
	for i := range effects {
		if l := effects[i].Add; found && l != nil && l.Replaces == load.ID {
			l.Replaces = was.ID
		}
	}
	return found
}
