// Package remind says at its time what is to be said later. The table is the truth:
// a restart loses nothing and a changed clock moves nothing, because each tick asks
// what is due by the clock on the wall.
//
// A reminder and the message it becomes are written in one transaction, so there is
// no lease to run out: a reminder is said once, whatever is killed when, and two
// programs on one database cannot both say it.
//
// Deliberately not here: wording, SQL, and how a message gets to people.
package remind

import (
	"context"
	"fmt"
	"log/slog"
	"time"

	"tankside/bot"
)

// Teller turns reminders into messages, within the transaction that ends them.
type Teller interface {
	Tell(tx bot.Tx, r bot.Reminder, now time.Time) error
	// Missed says in one line what a chat was not told in time.
	Missed(tx bot.Tx, chat int64, missed []bot.Reminder, now time.Time) error
}

// Loop is the scheduler.
type Loop struct {
	Desk   bot.Desk
	Teller Teller
	Log    *slog.Logger
	Told   func() // called after something was said; may be nil
}

// tick is how often the table is asked: what is due is said at most this late.
const tick = time.Second

// graces are how late a reminder still helps; past that it was missed. What is not
// listed is never too late.
var graces = map[string]time.Duration{
	bot.RemindSaid: 15 * time.Minute,
	bot.RemindWet:  5 * time.Minute,
	bot.RemindPail: 10 * time.Minute,
	bot.RemindStop: 10 * time.Minute,
	bot.RemindGate: 5 * time.Minute,
	bot.RemindDay:  3 * time.Hour,
}

// Run says what is due until ctx ends.
func (l *Loop) Run(ctx context.Context) {
	timer := time.NewTicker(tick)
	defer timer.Stop()
	for {
		if err := l.Tick(ctx, time.Now()); err != nil && ctx.Err() == nil {
			l.Log.Error("reminders", "error", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-timer.C:
		}
	}
}

// batch is how many reminders are said in one transaction.
const batch = 100

// Tick says what is due at now.
func (l *Loop) Tick(ctx context.Context, now time.Time) error {
	for {
		n := 0
		err := l.Desk.Do(ctx, func(tx bot.Tx) error {
			due, err := tx.Due(now, batch)
			if n = len(due); err != nil {
				return err
			}
			return l.say(tx, due, now)
		})
		if err != nil {
			return err
		}
		if n > 0 && l.Told != nil {
			l.Told()
		}
		if n < batch {
			return nil
		}
	}
}

func (l *Loop) say(tx bot.Tx, due []bot.Reminder, now time.Time) error {
	missed := map[int64][]bot.Reminder{}
	var chats []int64
	for _, r := range due {
		if err := tx.EndReminder(r.ID); err != nil {
			return err
		}
		grace, limited := graces[r.Kind]
		if limited && now.Sub(r.Due) > grace {
			if missed[r.Chat] == nil {
				chats = append(chats, r.Chat)
			}
			missed[r.Chat] = append(missed[r.Chat], r)
			continue
		}
		if err := l.Teller.Tell(tx, r, now); err != nil {
			return fmt.Errorf("reminder %d: %w", r.ID, err)
		}
	}
	for _, chat := range chats {
		if err := l.Teller.Missed(tx, chat, missed[chat], now); err != nil {
			return fmt.Errorf("missed reminders of chat %d: %w", chat, err)
		}
	}
	return nil
}
