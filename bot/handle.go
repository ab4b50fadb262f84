package bot

import (
	"context"
	"fmt"
	"sync"
	"time"

	"tankside/phrases"
)

// Bot holds conversations over a store.
type Bot struct {
	store Store
	chats sync.Map // chat id → *sync.Mutex: one chat is strictly in order
}

// New makes a bot over a store.
func New(store Store) *Bot { return &Bot{store: store} }

// Handle deals with one message: it loads the chat's memory, decides, and saves
// memory, log and reply in one transaction. A message that was dealt with before
// gets its stored reply and changes nothing.
func (b *Bot) Handle(ctx context.Context, msg Message) (r *Reply, err error) {
	lock, _ := b.chats.LoadOrStore(msg.Chat, new(sync.Mutex))
	mu := lock.(*sync.Mutex)
	mu.Lock()
	defer mu.Unlock()
	desk, ok := b.store.(Desk)
	if !ok {
		return handle(msg, plainly{ctx, b.store})
	}
	err = desk.Do(ctx, func(tx Tx) (err error) { // no other program touches the chat in between
		r, err = handle(msg, tx)
		return err
	})
	return r, err
}

// keeper is what handling a message needs of a store.
type keeper interface {
	Load(chat, id int64, at time.Time) (Memory, Book, *Reply, error)
	Past(chat int64, r Recall) ([]Load, error)
	Apply(chat, id int64, m Memory, effects []Effect, r *Reply) error
}

// plainly is a store that has no transactions to offer.
type plainly struct {
	ctx   context.Context
	store Store
}

func (p plainly) Load(chat, id int64, at time.Time) (Memory, Book, *Reply, error) {
	return p.store.Load(p.ctx, chat, id, at)
}

func (p plainly) Past(chat int64, r Recall) ([]Load, error) { return p.store.Past(p.ctx, chat, r) }

func (p plainly) Apply(chat, id int64, m Memory, effects []Effect, r *Reply) error {
	return p.store.Apply(p.ctx, chat, id, m, effects, r)
}

func handle(msg Message, k keeper) (*Reply, error) {
	m, book, seen, err := k.Load(msg.Chat, msg.ID, msg.At)
	if err != nil {
		return nil, fmt.Errorf("load chat: %w", err)
	}
	if seen != nil {
		seen.Repeat = true
		return seen, nil
	}
	d := Decide(msg, m, book)
	r, err := d.reply(msg, book, func(r Recall) ([]Load, error) { return k.Past(msg.Chat, r) })
	if err != nil {
		return nil, err
	}
	if err := k.Apply(msg.Chat, msg.ID, d.Memory, d.Effects, r); err != nil {
		return nil, fmt.Errorf("save message: %w", err)
	}
	return r, nil
}

// Ask answers one question in a conversation of its own; nothing is kept.
func Ask(msg Message) *Reply {
	d := Decide(msg, Memory{}, Book{})
	_ = d.Remember(func(Recall) ([]Load, error) { return nil, nil }) // it has no past
	return Say(d)
}

// reply words a decision on a message, with the past loads that it is about and the
// picture that belongs to it.
func (d *Decision) reply(msg Message, book Book, past func(Recall) ([]Load, error)) (*Reply, error) {
	err := d.Remember(past)
	if err != nil {
		return nil, fmt.Errorf("read past loads: %w", err)
	}
	if msg.Heard && !msg.Unsure {
		d.Outcome.Heard = msg.Text
	}
	var today []Load
	if drawsDay(d.Outcome) {
		y, m, day := msg.At.Date()
		midnight := time.Date(y, m, day, 0, 0, 0, 0, msg.At.Location())
		if today, err = past(Recall{From: midnight, To: midnight.AddDate(0, 0, 1)}); err != nil {
			return nil, fmt.Errorf("read the day's loads: %w", err)
		}
	}
	r := Say(*d)
	r.Picture = PictureOf(d.Outcome, &d.Memory, &book, today)
	return r, nil
}

// Say words a decision.
func Say(d Decision) *Reply {
	return &Reply{Outcome: d.Outcome, Lang: d.Lang, Text: phrases.Text(d.Lang, d.Outcome)}
}

// Speech is what a person hears; it is made when it is asked for.
func (r *Reply) Speech() string {
	if r.Spoken == "" && r.Outcome != nil && r.Text != "" {
		return phrases.Spoken(r.Lang, r.Outcome)
	}
	return r.Spoken
}
