package bot

import (
	"fmt"
	"slices"
	"time"

	"tankside/engine"
	"tankside/parse"
	"tankside/phrases"
)

// Terms are what a messenger knows of a message beside its words.
type Terms struct {
	Owner bool   // may take back what others logged
	Group bool   // several people talk here: "my tank" is one person's
	Lang  string // of the person's program, for a chat that has no language yet
}

// Dealt is a message dealt with: the reply, and what led to it.
type Dealt struct {
	*Reply
	Before  Memory // the memory that the message found
	Memory  Memory
	Book    Book
	Effects []Effect
}

// Deal deals with one message in a transaction that the caller has opened, so that
// the caller can write what follows from it in the same one. A message that was
// dealt with before gets its stored reply and changes nothing.
func Deal(tx Tx, msg Message, terms Terms) (*Dealt, error) {
	m, book, seen, err := tx.Load(msg.Chat, msg.ID, msg.At)
	if err != nil {
		return nil, fmt.Errorf("load chat: %w", err)
	}
	if seen != nil {
		seen.Repeat = true
		return &Dealt{Reply: seen, Before: m, Memory: m, Book: book}, nil
	}
	return terms.deal(tx, msg, m, book, nil)
}

// Revise deals with a message whose text was changed after it had been dealt with as
// turn. What the earlier text logged is taken back, then the new text is dealt with
// as if it had been said at once; where nothing was said since, the memory too is
// what it was before. msg.ID is a number of its own, turn.Key the earlier one.
func Revise(tx Tx, msg Message, turn *Turn, terms Terms) (*Dealt, error) {
	m, book, seen, err := tx.Load(msg.Chat, msg.ID, msg.At)
	if err != nil {
		return nil, fmt.Errorf("load chat: %w", err)
	}
	if seen != nil {
		seen.Repeat = true
		return &Dealt{Reply: seen, Before: m, Memory: m, Book: book}, nil
	}
	if turn.Before != nil {
		m = *turn.Before
	}
	logged, err := tx.Logged(msg.Chat, turn.Key)
	if err != nil {
		return nil, fmt.Errorf("read what was logged: %w", err)
	}
	back := make([]Effect, len(logged))
	for i := range logged {
		back[i] = Effect{Cancel: &logged[i], Why: "edited"}
		book = book.without(&logged[i], msg.At)
	}
	return terms.deal(tx, msg, m, book, back)
}

// without is the book as it would be had the load never been logged.
func (b Book) without(l *Load, at time.Time) Book {
	fields := make(map[int64]Totals, len(b.ByField))
	for id, t := range b.ByField {
		if id == l.Field {
			t = t.Minus(*l)
		}
		fields[id] = t
	}
	b.ByField = fields
	if b.At == l.Field {
		b.Field = b.Field.Minus(*l)
	}
	when := l.When.In(at.Location())
	if when.Year() == at.Year() {
		b.Season = b.Season.Minus(*l)
		if when.YearDay() == at.YearDay() {
			b.Today = b.Today.Minus(*l)
		}
	}
	b.Recent = slices.DeleteFunc(slices.Clone(b.Recent), func(o Load) bool { return o.ID == l.ID && o.Part == l.Part })
	return b
}

func (terms Terms) deal(tx Tx, msg Message, m Memory, book Book, first []Effect) (*Dealt, error) {
	before := m
	if m.Lang == "" {
		m.Lang = terms.Lang
	}
	d := terms.Decide(msg, m, book)
	if len(first) > 0 {
		replace(first[0].Cancel, d.Effects)
	}
	r := Say(d)
	r.Buttons = ButtonsFor(d.Lang, d.Outcome)
	effects := slices.Concat(first, d.Effects)
	if err := tx.Apply(msg.Chat, msg.ID, d.Memory, effects, r); err != nil {
		return nil, fmt.Errorf("save message: %w", err)
	}
	return &Dealt{Reply: r, Before: before, Memory: d.Memory, Book: book, Effects: effects}, nil
}

// replace says of the added loads which one they stand in for.
func replace(old *Load, effects []Effect) {
	for i := range effects {
		if l := effects[i].Add; l != nil && l.Replaces == 0 {
			l.Replaces = old.ID
		}
	}
}

// Decide is the decision under these terms: people's own values in a group, a
// question before anything is cleared, and nobody takes back another's load.
func (terms Terms) Decide(msg Message, m Memory, book Book) Decision {
	req := parse.Parse(msg.Text, parse.Context{Lang: m.Lang, Units: m.Units, Fields: openNames(m.Fields), UnitOf: m.UnitOf})
	if p := terms.asked(m.Pending, msg.Person); p != nil && p.Problem == engine.ConfirmClear {
		if has(req, "yes") {
			return cleared(msg, m)
		}
	} else if what, words := clears(req, m); what != "" {
		return askBeforeClearing(msg, m, what, words)
	}
	own := ownFacts{on: terms.Group, person: msg.Person.ID}
	mine := own.lay(m)
	mine.Pending = terms.asked(m.Pending, msg.Person)
	d := Decide(msg, mine, book)
	d.Memory = own.part(m, mine, d.Memory, msg.Text)
	if p := d.Memory.Pending; p == nil && mine.Pending == nil {
		d.Memory.Pending = m.Pending // somebody else's, still open
	} else if p != nil {
		p.Asked = msg.Person.ID
	}
	if terms.Owner {
		return d
	}
	for _, e := range d.Effects {
		if l := e.Cancel; l != nil && l.Who.ID != msg.Person.ID {
			return refuse(d, m, engine.NotYours, l.Who.Name)
		}
	}
	return d
}

// asked is the open question, if it is this person's to answer.
func (terms Terms) asked(p *Pending, who Person) *Pending {
	if p != nil && terms.Group && p.Asked != 0 && p.Asked != who.ID {
		return nil
	}
	return p
}

func has(req *parse.Request, act string) bool {
	return slices.ContainsFunc(req.Acts, func(a parse.Act) bool { return a.Name == act && !a.Not })
}

// clears says what a message would clear for good: everything remembered, or a field.
func clears(req *parse.Request, m Memory) (what, words string) {
	if has(req, "forget_all") {
		return "forget_all", ""
	}
	if has(req, "forget") && req.Field != "" {
		return "forget_field", req.Field
	}
	return "", ""
}

func askBeforeClearing(msg Message, m Memory, what, words string) Decision {
	o := &engine.Outcome{Status: engine.Asks, Topics: []engine.Topic{engine.TopicSetup}, Problem: engine.ConfirmClear, Units: m.Units}
	if words != "" {
		o.Problem, o.Words = engine.ConfirmForget, []string{words}
	}
	m.Pending = &Pending{Problem: engine.ConfirmClear, Act: what, Text: words, Asked: msg.Person.ID}
	return Decision{Outcome: o, Memory: m, Lang: orEnglish(m.Lang)}
}

// cleared does what was asked about. The log keeps its rows.
func cleared(msg Message, m Memory) Decision {
	p := m.Pending
	m.Pending = nil
	if p.Act == "forget_all" {
		return Decide(Message{Chat: msg.Chat, ID: msg.ID, Person: msg.Person, At: msg.At, Text: phrases.Word(orEnglish(m.Lang), "telegram.say_clear")}, m, Book{})
	}
	m.Fields = slices.DeleteFunc(slices.Clone(m.Fields), func(f Field) bool { return isName(f.Name, p.Text) })
	if !slices.ContainsFunc(m.Fields, func(f Field) bool { return f.ID == m.Field }) {
		m.Field = 0
	}
	o := &engine.Outcome{Status: engine.Done, Topics: []engine.Topic{engine.TopicSetup}, Act: engine.ActFieldForgotten, Words: []string{p.Text}, Units: m.Units}
	return Decision{Outcome: o, Memory: m, Lang: orEnglish(m.Lang)}
}

// refuse keeps the memory as it was.
func refuse(d Decision, m Memory, problem, word string) Decision {
	o := &engine.Outcome{Status: engine.Refused, Topics: d.Outcome.Topics, Problem: problem, Words: []string{word}, Units: d.Outcome.Units}
	return Decision{Outcome: o, Memory: m, Lang: d.Lang}
}
