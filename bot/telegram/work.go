package telegram

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"runtime/debug"
	"time"

	"tankside/bot"
	"tankside/engine"
	"tankside/phrases"
)

// mostWorked are dealt with in one transaction. More would hold up the outbox, which
// waits for the same writer. Where the database is far away fewer fit in the time that
// a transaction may take: the batch shrinks when one fails and grows again after.
const mostWorked = 48

// workLoop deals with what is in the inbox, in the order of its numbers, which is
// each chat's own order.
func (b *Bot) workLoop(ctx context.Context) {
	b.batch = mostWorked
	for {
		n, err := b.workOnce(ctx)
		if err == nil {
			b.batch = min(b.batch+1, mostWorked)
		}
		switch {
		case ctx.Err() != nil:
			return
		case err != nil:
			b.batch = max(b.batch/2, 1)
			b.Metrics.problem("work")
			b.Log.Error("cannot work", "error", err)
			if !sleep(ctx, time.Second) {
				return
			}
		case n == 0:
			b.pulse.worked(b.now())
			if !b.awaitWork(ctx) {
				return
			}
		}
	}
}

func (b *Bot) awaitWork(ctx context.Context) bool {
	timer := time.NewTimer(time.Second) // another program may have filled the inbox
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-b.work:
	case <-timer.C:
	}
	return true
}

// job is one transaction of work.
type job struct {
	*Bot
	tx  bot.Tx
	now time.Time

	number int64 // of the update in hand
	tally  []tally
}

// tally is what the metrics learn of a message once it is committed.
type tally struct {
	kind   string
	status string
	since  time.Time
}

// workOnce deals with a batch and says how many updates it was.
func (b *Bot) workOnce(ctx context.Context) (n int, err error) {
	var j *job
	err = b.Desk.Do(ctx, func(tx bot.Tx) error {
		j = &job{Bot: b, tx: tx, now: b.now()}
		waiting, err := b.waiting(tx)
		if err != nil {
			return err
		}
		for _, in := range waiting {
			if !b.ready(in) {
				continue // a voice note before it is being heard
			}
			if err := j.one(in); err != nil {
				return err
			}
		}
		n = len(waiting)
		return nil
	})
	var t *trouble
	if errors.As(err, &t) && !errors.Is(err, bot.ErrNotNow) {
		return 1, b.workAlone(ctx, t.in)
	}
	if err == nil && n > 0 {
		b.committed(j)
	}
	return n, err
}

// waiting are the updates that can be dealt with now: not those of a chat whose
// voice note is still being heard.
func (b *Bot) waiting(tx bot.Tx) (list []bot.Incoming, err error) {
	for after := int64(0); len(list) == 0; {
		some, err := tx.Waiting(after, b.batch)
		if err != nil || len(some) == 0 {
			return nil, err
		}
		for _, in := range some {
			if after = in.Number; b.ready(in) {
				list = append(list, in)
			}
		}
	}
	return list, nil
}

// trouble is an update that could not be dealt with.
type trouble struct {
	in  bot.Incoming
	err error
}

func (t *trouble) Error() string { return fmt.Sprintf("update %d: %v", t.in.Number, t.err) }
func (t *trouble) Unwrap() error { return t.err }

// one deals with an update and marks it done.
func (j *job) one(in bot.Incoming) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = &trouble{in, fmt.Errorf("panic: %v\n%s", p, debug.Stack())}
		}
	}()
	var u update
	if err := json.Unmarshal(in.Raw, &u); err != nil {
		j.Metrics.problem("decode")
		j.Log.Error("an update does not decode and was set aside", "update", in.Number, "error", err)
		return j.tx.Finish(in.Number, "decode: "+err.Error())
	}
	j.number = in.Number
	switch err := j.update(&u); {
	case errors.Is(err, errListening):
		return nil // it stays until it has been heard
	case err != nil:
		return &trouble{in, err}
	}
	return j.tx.Finish(in.Number, "")
}

// workAlone tries the update that broke its batch once more by itself. When it
// fails again it is set aside, and its chat is told that nothing was logged; the
// rest of the batch is dealt with by the next round.
func (b *Bot) workAlone(ctx context.Context, in bot.Incoming) error {
	var j *job
	err := b.Desk.Do(ctx, func(tx bot.Tx) error {
		j = &job{Bot: b, tx: tx, now: b.now()}
		return j.one(in)
	})
	if err == nil {
		b.committed(j)
		return nil
	}
	if errors.Is(err, bot.ErrNotNow) {
		return err // nothing is wrong with the update
	}
	b.Metrics.problem("update")
	b.Log.Error("an update could not be dealt with", "error", err)
	return b.Desk.Do(ctx, func(tx bot.Tx) error {
		j := &job{Bot: b, tx: tx, now: b.now()}
		if err := j.apologise(in); err != nil {
			return err
		}
		return tx.Finish(in.Number, err.Error())
	})
}

func (j *job) apologise(in bot.Incoming) error {
	var u update
	if json.Unmarshal(in.Raw, &u) != nil || u.Message == nil || u.Message.From == nil {
		return nil
	}
	p, err := j.place(u.Message, u.Message.From)
	if err != nil || !p.allowed {
		return err
	}
	o := &engine.Outcome{Status: engine.Refused, Problem: engine.Broken}
	return j.say(p, phrases.HTML(p.lang, o))
}

// committed is called when a job's transaction stands.
func (b *Bot) committed(j *job) {
	b.pulse.worked(j.now)
	done := b.now()
	for _, t := range j.tally {
		b.Metrics.dealt(t, done)
	}
	b.wakeSender()
}

func (j *job) update(u *update) error {
	if u.Message == nil && u.Edited == nil {
		j.tally = append(j.tally, tally{kind: u.kind()})
	}
	switch {
	case u.Message != nil:
		return j.message(u.Message)
	case u.Edited != nil:
		return j.edited(u.Edited)
	case u.Callback != nil:
		return j.press(u.Callback)
	case u.Inline != nil:
		return j.inline(u.Inline)
	case u.Member != nil:
		return j.member(u.Member)
	}
	return nil
}

func (u *update) kind() string {
	switch {
	case u.Message != nil:
		return "message"
	case u.Edited != nil:
		return "edit"
	case u.Callback != nil:
		return "press"
	case u.Inline != nil:
		return "inline"
	case u.Member != nil:
		return "member"
	}
	return "other"
}
