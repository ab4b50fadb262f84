package telegram

import (
	"context"
	"math/rand/v2"
	"time"

	"golang.org/x/time/rate"

	"tankside/bot"
)

const (
	inFlight  = 24   // calls at a time
	unmarked  = 96   // calls made or in the air that a crash now would make again
	mostQueue = 2000 // parcels held in memory; the rest waits in the outbox
	stopGrace = 8 * time.Second
)

// sender takes the outbox to the server. One goroutine owns all of it; calls and
// transactions run beside it and come back as events.
type sender struct {
	*Bot
	all    *rate.Limiter
	lanes  map[int64]*lane
	ready  lanes // may go
	asleep lanes // wait for a time
	held   time.Time
	turns  uint64

	term    int64          // in whose name the outbox gives things out
	mine    map[int64]bool // what it has given and what is not marked as sent yet
	queued  int
	flying  int
	results chan result
	marks   []mark
	swept   time.Time
	storing int // marks that are being stored
	saving  bool
	saved   chan saved
	more    bool            // the outbox may have more
	fresh   map[int64]int64 // parcels sent whose marks are not stored yet: their messages
	floods  []time.Time     // of 429s, to tell a flooded chat from a flooded bot
}

type result struct {
	lane    *lane
	p       *parcel
	message int64
	err     error
}

func newSender(b *Bot) *sender {
	return &sender{Bot: b, all: b.Limits.all(), lanes: map[int64]*lane{}, ready: lanes{before: fairer}, asleep: lanes{before: sooner},
		results: make(chan result, inFlight), saved: make(chan saved, 1), more: true, fresh: map[int64]int64{},
		term: newTerm(), mine: map[int64]bool{}}
}

// run sends until ctx ends; then the calls in the air are waited for and marked.
func (s *sender) run(ctx context.Context) {
	tick := time.NewTimer(0)
	defer tick.Stop()
	for ctx.Err() == nil {
		pause := s.dispatch(ctx, s.now())
		s.save(ctx)
		s.Metrics.queue(s.queued)
		s.sweep()
		tick.Reset(pause)
		select {
		case <-ctx.Done():
		case <-s.out:
			s.more = true
		case r := <-s.results:
			s.landed(r)
		case sv := <-s.saved:
			s.wasSaved(sv)
		case <-tick.C:
			s.more = true
		}
		s.drain()
	}
	s.finish()
}

// drain takes what else has come in, so that one transaction marks many.
func (s *sender) drain() {
	for {
		select {
		case r := <-s.results:
			s.landed(r)
		case sv := <-s.saved:
			s.wasSaved(sv)
		default:
			return
		}
	}
}

// finish waits for the calls in the air and stores what became of them.
func (s *sender) finish() {
	deadline := time.After(stopGrace)
	for s.flying > 0 {
		select {
		case r := <-s.results:
			s.landed(r)
		case sv := <-s.saved:
			s.wasSaved(sv)
		case <-deadline:
			s.flying = 0
		}
	}
	if s.saving {
		s.wasSaved(<-s.saved)
	}
	ctx, cancel := context.WithTimeout(context.Background(), stopGrace)
	defer cancel()
	for {
		err := s.Desk.Do(ctx, func(tx bot.Tx) error { return storeMarks(tx, s.marks) })
		if err == nil {
			return
		}
		if !sleep(ctx, 250*time.Millisecond) {
			s.Log.Error("what was sent could not be marked", "error", err)
			return
		}
	}
}

func (s *sender) queue(p *parcel) {
	s.queued++
	chat := p.Chat
	if p.call.chatless() {
		chat = -p.ID << 20 // a lane of its own
	}
	l := s.lanes[chat]
	if l == nil {
		l = &lane{key: chat, chat: p.Chat, index: -1}
		if !p.call.chatless() {
			l.limit = s.Limits.chat(chat)
		}
		s.lanes[chat] = l
	}
	l.queue = append(l.queue, p)
	if l.index < 0 && !l.sending {
		l.at = p.Due
		s.place(l)
	}
}

// place puts a lane among those that may go or those that wait.
func (s *sender) place(l *lane) {
	switch {
	case len(l.queue) == 0:
		s.forget(l)
	case l.at.After(s.now()):
		s.asleep.put(l)
	default:
		s.ready.put(l)
	}
}

// idleLane is how long a lane with nothing to send keeps its limit's memory.
const idleLane = 5 * time.Minute

// forget drops a lane that has nothing to send, at once or when its limit has
// recovered.
func (s *sender) forget(l *lane) {
	l.used = s.now()
	if l.limit == nil {
		delete(s.lanes, l.key)
	}
}

// sweep drops the lanes of chats that have been quiet.
func (s *sender) sweep() {
	now := s.now()
	if now.Sub(s.swept) < idleLane {
		return
	}
	s.swept = now
	for key, l := range s.lanes {
		if len(l.queue) == 0 && !l.sending && now.Sub(l.used) > idleLane {
			delete(s.lanes, key)
		}
	}
}

// dispatch sends all that may go now and says how long until more may.
func (s *sender) dispatch(ctx context.Context, now time.Time) time.Duration {
	const idle = time.Second
	for s.asleep.Len() > 0 && !s.asleep.list[0].at.After(now) {
		s.ready.put(s.asleep.take())
	}
	if now.Before(s.held) {
		return min(s.held.Sub(now), idle)
	}
	for s.flying < inFlight && s.flying+len(s.marks)+s.storing < unmarked && s.ready.Len() > 0 {
		l := s.ready.list[0]
		if s.standsBack(ctx, l, now) {
			continue
		}
		if l.limit != nil {
			if d := wait(l.limit, now); d > 0 {
				s.ready.take()
				l.at = now.Add(d)
				s.asleep.put(l)
				continue
			}
			if d := wait(s.all, now); d > 0 {
				return min(d, idle)
			}
		}
		s.ready.take()
		s.start(ctx, l, now)
	}
	if s.asleep.Len() > 0 {
		return max(min(s.asleep.list[0].at.Sub(now), idle), time.Millisecond)
	}
	return idle
}

// start makes the call of a lane's first parcel.
func (s *sender) start(ctx context.Context, l *lane, now time.Time) {
	p := l.queue[0]
	s.turns++
	l.turn, l.sending = s.turns, true
	s.flying++
	if !p.Until.IsZero() && now.After(p.Until) {
		s.results <- result{lane: l, p: p, err: errTooLate}
		return
	}
	edits, known := s.fresh[p.Edits]
	go func() {
		ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), callTimeout)
		defer cancel()
		r := result{lane: l, p: p}
		c := p.call
		if p.Edits != 0 {
			if !known {
				edits, known, r.err = s.sentAs(ctx, p.Edits)
			}
			if c.Message = int(edits); !known || edits == 0 {
				c.Method = sendMessage // what it would replace never went out
			}
		}
		if r.err == nil {
			began := s.now()
			r.message, r.err = s.do(ctx, l.chat, &c)
			s.Metrics.called(c.Method, s.now().Sub(began), r.err)
		}
		s.results <- r
	}()
}

func (s *sender) sentAs(ctx context.Context, id int64) (message int64, found bool, err error) {
	err = s.Desk.Do(ctx, func(tx bot.Tx) (err error) {
		message, found, err = tx.SentAs(id)
		return err
	})
	return message, found, err
}

// landed deals with what became of a call.
func (s *sender) landed(r result) {
	l, now := r.lane, s.now()
	l.sending = false
	s.flying--
	verdict := s.judge(r, now)
	if verdict.retry == 0 {
		l.queue = l.queue[1:]
		l.holds = 0
		s.queued--
		if len(l.queue) > 0 {
			l.at = l.queue[0].Due
		}
	} else {
		l.at = now.Add(verdict.retry)
	}
	s.marks = append(s.marks, verdict.marks...)
	s.place(l)
}

// flooded holds one chat, or all of them when several chats hear the same.
func (s *sender) flooded(now time.Time, rest time.Duration) time.Duration {
	const window, many = 3 * time.Second, 3
	rest += time.Duration(rand.Int64N(int64(300 * time.Millisecond)))
	recent := []time.Time{now}
	for _, t := range s.floods {
		if now.Sub(t) < window {
			recent = append(recent, t)
		}
	}
	if s.floods = recent; len(recent) >= many {
		s.held = now.Add(rest)
	}
	return rest
}
