// Package bottest has fakes for tests: a store that keeps everything in memory and
// adds it up the slow way, and a handler that says back what it heard.
package bottest

import (
	"context"
	"fmt"
	"sort"
	"sync"
	"time"

	"tankside/bot"
)

// Store is a bot.Store without a database. It keeps no sums: every Book is added up
// from all rows, so it also serves as the measure that a real store is held to.
// The zero value is ready to use.
type Store struct {
	mu    sync.Mutex
	chats map[int64]*chat
	Now   func() time.Time // the time of cancellations; nil: time.Now
}

type chat struct {
	memory  bot.Memory
	replies map[int64]*bot.Reply
	rows    []bot.Row
}

var _ bot.Store = (*Store)(nil)

func (s *Store) chat(id int64) *chat {
	if s.chats == nil {
		s.chats = map[int64]*chat{}
	}
	if s.chats[id] == nil {
		s.chats[id] = &chat{replies: map[int64]*bot.Reply{}}
	}
	return s.chats[id]
}

// Load returns the memory, the book and the reply already given to message id.
func (s *Store) Load(_ context.Context, chat, id int64, at time.Time) (bot.Memory, bot.Book, *bot.Reply, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.chat(chat)
	return c.memory, c.book(at), c.replies[id], nil
}

// Apply saves everything, unless the message was applied before or an effect fails.
func (s *Store) Apply(_ context.Context, chat, id int64, m bot.Memory, effects []bot.Effect, r *bot.Reply) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.chat(chat)
	if c.replies[id] != nil {
		return nil
	}
	if r == nil {
		r = &bot.Reply{}
	}
	rows := append([]bot.Row(nil), c.rows...)
	for _, e := range effects {
		var err error
		if rows, err = s.apply(rows, e); err != nil {
			return fmt.Errorf("chat %d: message %d: %w", chat, id, err)
		}
	}
	c.memory, c.rows, c.replies[id] = m, rows, r
	return nil
}

func (s *Store) apply(rows []bot.Row, e bot.Effect) ([]bot.Row, error) {
	if e.Cancel != nil {
		i := find(rows, e.Cancel)
		if i < 0 {
			return nil, fmt.Errorf("cancel load %d.%d: it is not in this chat's log", e.Cancel.ID, e.Cancel.Part)
		}
		if rows[i].Cancelled.IsZero() {
			rows[i].Cancelled, rows[i].Why = s.now().In(rows[i].Said.Location()), e.Why
		}
	}
	if e.Add != nil && find(rows, e.Add) < 0 {
		rows = append(rows, bot.Row{Load: *e.Add})
	}
	return rows, nil
}

func (s *Store) now() time.Time {
	if s.Now != nil {
		return s.Now()
	}
	return time.Now()
}

func find(rows []bot.Row, l *bot.Load) int {
	for i := range rows {
		if rows[i].ID == l.ID && rows[i].Part == l.Part {
			return i
		}
	}
	return -1
}

// Loads calls f with each row of the chat's log, oldest first.
func (s *Store) Loads(_ context.Context, chat int64, f func(bot.Row) error) error {
	s.mu.Lock()
	rows := append([]bot.Row(nil), s.chat(chat).rows...)
	s.mu.Unlock()
	for _, row := range rows {
		if err := f(row); err != nil {
			return err
		}
	}
	return nil
}

// Close does nothing.
func (s *Store) Close() error { return nil }

func (c *chat) book(at time.Time) bot.Book {
	day := func(t time.Time) string { return t.Format(time.DateOnly) }
	b := bot.Book{At: c.memory.Field,
		Field:   sum(c.rows, func(l *bot.Load) bool { return l.Field == c.memory.Field }),
		Today:   sum(c.rows, func(l *bot.Load) bool { return day(l.When) == day(at) }),
		Season:  sum(c.rows, func(l *bot.Load) bool { return l.When.Year() == at.Year() }),
		ByField: map[int64]bot.Totals{},
	}
	for _, f := range c.memory.Fields {
		if f.Closed.IsZero() {
			b.ByField[f.ID] = sum(c.rows, func(l *bot.Load) bool { return l.Field == f.ID })
		}
	}
	for i := len(c.rows) - 1; i >= 0 && len(b.Recent) < 12; i-- {
		if c.rows[i].Cancelled.IsZero() {
			b.Recent = append(b.Recent, c.rows[i].Load)
		}
	}
	return b
}

// sum adds up the loads that stand and that keep wants. Seeds are in the order of
// their names.
func sum(rows []bot.Row, keep func(*bot.Load) bool) bot.Totals {
	var t bot.Totals
	weights := map[string]float64{}
	for i := range rows {
		l := &rows[i].Load
		if !rows[i].Cancelled.IsZero() || !keep(l) {
			continue
		}
		if t.Count == 0 || l.When.Before(t.First) {
			t.First = l.When
		}
		if t.Count == 0 || l.When.After(t.Last) {
			t.Last = l.When
		}
		t.Count++
		t.Loads += l.Fraction
		t.Volume += l.Volume
		t.Area += l.Area
		for _, s := range l.Seeds {
			weights[s.Crop] += s.Weight
		}
	}
	for crop, w := range weights {
		t.Seeds = append(t.Seeds, bot.Seed{Crop: crop, Weight: w})
	}
	sort.Slice(t.Seeds, func(i, j int) bool { return t.Seeds[i].Crop < t.Seeds[j].Crop })
	return t
}
