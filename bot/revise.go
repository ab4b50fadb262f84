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
	r := revision{turn.Key, logged}
	if book := r.newest(k.Book); len(logged) > 0 && r.takenBack(terms.Decide(msg, k.Memory, book).Effects) {
		d, err := terms.deal(tx, msg, k.Memory, book, r.restore)
		if err == nil {
			d.Before = m // the next correction starts where this one did
		}
		return d, err
	}
	book := k.Book
	for i := range logged {
		book = book.before(&logged[i], msg.At)
	}
	return terms.deal(tx, msg, m, book, r.settle)
}

// revision is what stands of what the earlier text logged, and the number that it was
// applied under.
type revision struct {
	key    int64
	logged []Logged
}

// newest is a book with the loads as its newest, all of them by the message's number:
// some may go by that of a later one, which put them right or noted them.
func (r revision) newest(b Book) Book {
	rest := slices.DeleteFunc(slices.Clone(b.Recent), func(l Load) bool {
		return slices.ContainsFunc(r.logged, func(o Logged) bool { return o.same(l) })
	})
	b.Recent = nil
	for i, o := range slices.Backward(r.logged) {
		o.ID, o.Part = r.key, i
		b.Recent = append(b.Recent, o.Load)
	}
	b.Recent = append(b.Recent, rest...)
	return b
}

// takenBack says whether effects take back some of the loads and nothing else.
func (r revision) takenBack(effects []Effect) (back bool) {
	for _, e := range effects {
		if e.Cancel == nil {
			continue
		}
		if e.Why != "undo" || e.Cancel.ID != r.key {
			return false
		}
		back = true
	}
	return back
}

// restore makes of effects that take back loads of the book with them as its newest what
// is done to the log. A load that the message put right is its own message's again.
func (r revision) restore(effects []Effect) []Effect {
	at := 0
	for i := range effects {
		if c := effects[i].Cancel; c != nil {
			at = c.Part
			effects[i].Cancel = &r.logged[at].Load
		}
		if l, was := effects[i].Add, r.logged[at].Was; l != nil && l.Replaces == r.key && was != nil {
			effects[i].Add = was
		}
	}
	return effects
}

// same says whether both are the same row of the log.
func (l *Load) same(o Load) bool { return l.ID == o.ID && l.Part == o.Part }

// before is the book as it would be without the earlier text. The load that comes back
// goes by the number of the one that stands, so that the new text puts that right.
func (b Book) before(o *Logged, at time.Time) Book {
	b = b.count(&o.Load, at, Totals.Minus)
	b.Recent = slices.Clone(b.Recent)
	i := slices.IndexFunc(b.Recent, o.same)
	if o.Was == nil {
		if i >= 0 {
			b.Recent = slices.Delete(b.Recent, i, i+1)
		}
		return b
	}
	was := *o.Was
	was.ID, was.Part = o.ID, o.Part
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
// to the log as it stands. A note that a later message put on a load stays on the one in
// its place.
func (r revision) settle(effects []Effect) []Effect {
	var first []Effect
	note := ""
	for i := range r.logged {
		load, was := &r.logged[i].Load, r.logged[i].Was
		switch {
		case was != nil && putRight(effects, load, was):
		case was != nil:
			first = append(first, Effect{Cancel: load, Why: "edited"}, Effect{Add: was})
		default:
			first = append(first, Effect{Cancel: load, Why: "edited"})
			if load.ID != r.key {
				note = load.Note
			}
		}
	}
	for i := range effects {
		l := effects[i].Add
		if l == nil || l.Replaces != 0 || len(r.logged) == 0 {
			continue
		}
		if l.Replaces = r.logged[0].ID; l.Note == "" {
			l.Note, note = note, ""
		}
	}
	return slices.Concat(first, effects)
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
