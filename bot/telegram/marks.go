package telegram

import (
	"context"
	"encoding/json"
	"math/rand/v2"
	"time"

	"tankside/bot"
)

// mark is what the outbox is to know of a parcel.
type mark struct {
	id, message int64
	why         string // given up
	tries       int    // put off
	due         time.Time
	move        int64 // the chat goes on under this number
	chat        int64
	silent      bool // the chat wants no more
}

type saved struct {
	marks   []mark
	parcels []*parcel
	full    bool
	err     error
}

// save stores the marks and takes more from the outbox, in one transaction beside us.
func (s *sender) save(ctx context.Context) {
	room := mostQueue - s.queued
	fetch := s.more && room > 0
	if s.saving || len(s.marks) == 0 && !fetch {
		return
	}
	marks, term := s.marks, s.term
	s.marks, s.storing, s.saving, s.more = nil, len(marks), true, s.more && !fetch
	go func() {
		sv := saved{marks: marks}
		sv.err = s.Desk.Do(context.WithoutCancel(ctx), func(tx bot.Tx) error {
			if err := storeMarks(tx, marks); err != nil || !fetch {
				return err
			}
			list, err := tx.Unsent(term, room)
			sv.parcels, sv.full = nil, len(list) == room
			for _, o := range list {
				p := &parcel{Outgoing: o}
				if err := json.Unmarshal(o.Body, &p.call); err != nil {
					return err
				}
				sv.parcels = append(sv.parcels, p)
			}
			return err
		})
		s.saved <- sv
	}()
}

func storeMarks(tx bot.Tx, marks []mark) error {
	for _, m := range marks {
		if err := storeMark(tx, m); err != nil {
			return err
		}
	}
	return nil
}

func storeMark(tx bot.Tx, m mark) error {
	switch {
	case m.move != 0:
		return tx.Move(m.chat, m.move)
	case m.silent:
		g, err := tx.Guest(m.chat)
		if err != nil {
			return err
		}
		g.Silent = true
		return tx.PutGuest(g)
	case m.why != "":
		return tx.GiveUp(m.id, m.why)
	case m.tries > 0:
		return tx.Retry(m.id, m.tries, m.due)
	}
	return tx.Sent(m.id, m.message)
}

func (s *sender) wasSaved(sv saved) {
	s.saving, s.storing = false, 0
	if sv.err != nil {
		s.Metrics.problem("outbox")
		s.Log.Error("outbox", "error", sv.err)
		s.marks, s.more = append(sv.marks, s.marks...), true
		s.term = newTerm() // it may have been given things that have not come here
		return
	}
	s.more = s.more || sv.full
	for _, m := range sv.marks {
		delete(s.fresh, m.id)
		if m.tries == 0 {
			delete(s.mine, m.id)
		}
	}
	for _, p := range sv.parcels {
		if !s.mine[p.ID] {
			s.mine[p.ID] = true
			s.queue(p)
		}
	}
}

// newTerm is a number that no other sender has had.
func newTerm() int64 { return rand.Int64() }
