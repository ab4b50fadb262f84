package bot

import (
	"fmt"
	"slices"
	"sync"
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

// Known is what a chat knew when a message came.
type Known struct {
	Memory Memory
	Book   Book
	Seen   *Reply // the message was dealt with before
}

// Know reads what a chat knows, as of the message's time in the chat's own zone; zone
// is that of a chat that has not said its own.
func Know(tx Tx, chat, id int64, at time.Time, zone *time.Location) (Known, time.Time, error) {
	var k Known
	var err error
	at = at.In(zone)
	if k.Memory, k.Book, k.Seen, err = tx.Load(chat, id, at); err != nil {
		return k, at, fmt.Errorf("load chat: %w", err)
	}
	if own := ZoneOf(k.Memory, zone); own.String() != zone.String() {
		return Know(tx, chat, id, at, own) // days are the chat's own
	}
	return k, at, nil
}

var zones sync.Map // name → *time.Location: reading one takes longer than a message

// ZoneOf is a chat's time zone, or fallback when it has not said one.
func ZoneOf(m Memory, fallback *time.Location) *time.Location {
	if m.Zone == "" {
		return fallback
	}
	if z, ok := zones.Load(m.Zone); ok {
		return z.(*time.Location)
	}
	z, err := time.LoadLocation(m.Zone)
	if err != nil {
		return fallback
	}
	zones.Store(m.Zone, z)
	return z
}

// Deal deals with one message in a transaction that the caller has opened, so that
// the caller can write what follows from it in the same one. A message that was
// dealt with before gets its stored reply and changes nothing.
func Deal(tx Tx, msg Message, k Known, terms Terms) (*Dealt, error) {
	if k.Seen != nil {
		k.Seen.Repeat = true
		return &Dealt{Reply: k.Seen, Before: k.Memory, Memory: k.Memory, Book: k.Book}, nil
	}
	return terms.deal(tx, msg, k.Memory, k.Book, nil)
}

// deal decides, words and saves. settle, if any, makes of what the decision does to the
// log what is done to it.
func (terms Terms) deal(tx Tx, msg Message, m Memory, book Book, settle func([]Effect) []Effect) (*Dealt, error) {
	before := m
	if m.Lang == "" {
		m.Lang = terms.Lang
	}
	d := terms.Decide(msg, m, book)
	effects := d.Effects
	if settle != nil {
		effects = settle(effects)
	}
	r, err := d.reply(msg, book, func(r Recall) ([]Load, error) { return tx.Past(msg.Chat, r) })
	if err != nil {
		return nil, err
	}
	r.Buttons = ButtonsFor(d.Lang, d.Outcome)
	if err := tx.Apply(msg.Chat, msg.ID, d.Memory, effects, r); err != nil {
		return nil, fmt.Errorf("save message: %w", err)
	}
	return &Dealt{Reply: r, Before: before, Memory: d.Memory, Book: book, Effects: effects}, nil
}

// Decide is the decision under these terms: people's own values in a group, a
// question before anything is cleared, and nobody takes back another's load.
func (terms Terms) Decide(msg Message, m Memory, book Book) Decision {
	asked := terms.asked(m.Pending, msg.Person)
	if asked != nil && asked.Problem == engine.ConfirmClear && has(read(msg, m), "yes") {
		return cleared(msg, m)
	}
	if asked != nil && asked.Problem == engine.ConfirmHeard {
		msg, m = settled(msg, m)
		asked = terms.asked(m.Pending, msg.Person)
	}
	own := ownFacts{on: terms.Group, person: msg.Person.ID}
	mine := own.lay(m)
	mine.Pending = asked
	d := Decide(msg, mine, book)
	if what, words := clears(msg, m, &d); what != "" {
		return askBeforeClearing(msg, m, what, words)
	}
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

func read(msg Message, m Memory) *parse.Request {
	return parse.Parse(msg.Text, parse.Context{Lang: m.Lang, Units: m.Units, Fields: openNames(m.Fields), UnitOf: m.UnitOf, Jars: m.jarsLast()})
}

// clears says what a decision would clear for good: everything remembered, or a field.
func clears(msg Message, m Memory, d *Decision) (what, words string) {
	if d.Outcome.Act == engine.ActForgotAll {
		return "forget_all", ""
	}
	if p := d.Memory.Pending; d.Outcome.Act == engine.ActForgot || p != nil && p.Act == "forget" {
		if req := read(msg, m); has(req, "forget") && req.Field != "" {
			return "forget_field", req.Field
		}
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
