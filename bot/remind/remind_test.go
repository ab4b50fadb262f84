package remind

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"slices"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"tankside/bot"
)

// desk keeps reminders in memory, and fails its next transactions when told to.
type desk struct {
	bot.Tx
	mu    sync.Mutex
	rows  []bot.Reminder
	ended map[int64]bool
	fail  int
}

func (d *desk) Do(_ context.Context, f func(bot.Tx) error) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.fail > 0 {
		d.fail--
		return fmt.Errorf("the disk is full")
	}
	return f(d)
}

func (d *desk) Due(now time.Time, limit int) (due []bot.Reminder, err error) {
	for _, r := range d.rows {
		if !d.ended[r.ID] && !r.Due.After(now) && len(due) < limit {
			due = append(due, r)
		}
	}
	return due, nil
}

func (d *desk) EndReminder(id int64) error { d.ended[id] = true; return nil }

func (d *desk) add(chat int64, kind string, due time.Time) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.rows = append(d.rows, bot.Reminder{ID: int64(len(d.rows) + 1), Chat: chat, Kind: kind, Due: due})
}

// teller writes down what it says.
type teller struct {
	mu   sync.Mutex
	said []string
}

func (t *teller) all() []string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return slices.Clone(t.said)
}

func (t *teller) Tell(_ bot.Tx, r bot.Reminder, now time.Time) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.said = append(t.said, fmt.Sprintf("%d %s +%s", r.Chat, r.Kind, now.Sub(r.Due).Round(time.Second)))
	return nil
}

func (t *teller) Missed(_ bot.Tx, chat int64, missed []bot.Reminder, _ time.Time) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.said = append(t.said, fmt.Sprintf("%d missed %d", chat, len(missed)))
	return nil
}

func loop() (*Loop, *desk, *teller) {
	d, t := &desk{ended: map[int64]bool{}}, &teller{}
	return &Loop{Desk: d, Teller: t, Log: slog.New(slog.NewTextHandler(io.Discard, nil))}, d, t
}

func TestSaidOnceAndInTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l, d, told := loop()
		start := time.Now()
		for i := range 250 {
			d.add(1, bot.RemindSaid, start.Add(20*time.Minute+time.Duration(i)*time.Millisecond))
		}
		d.add(2, bot.RemindDay, start.Add(8*time.Hour))
		ctx, stop := context.WithCancel(t.Context())
		go l.Run(ctx)
		time.Sleep(20*time.Minute - time.Second)
		synctest.Wait()
		if len(told.all()) != 0 {
			t.Fatalf("too early: %q", told.all())
		}
		time.Sleep(3 * time.Second)
		synctest.Wait()
		if len(told.all()) != 250 || told.all()[0] != "1 said +0s" {
			t.Fatalf("%d said, first %q", len(told.all()), told.all()[:1])
		}
		time.Sleep(24 * time.Hour)
		synctest.Wait()
		if len(told.all()) != 251 || told.all()[250] != "2 day +0s" {
			t.Errorf("then: %q", told.all()[250:])
		}
		stop()
	})
}

// After an outage what no longer helps is one line; what still helps is said.
func TestMissed(t *testing.T) {
	l, d, told := loop()
	now := time.Date(2026, 9, 14, 20, 0, 0, 0, time.UTC)
	d.add(1, bot.RemindSaid, now.Add(-4*time.Hour))
	d.add(1, bot.RemindWet, now.Add(-3*time.Hour))
	d.add(2, bot.RemindSaid, now.Add(-10*time.Minute))
	d.add(2, bot.RemindDay, now.Add(-time.Hour))
	d.add(3, bot.RemindLate, now.Add(-30*time.Hour))
	d.add(3, bot.RemindSaid, now.Add(time.Minute))
	for range 2 {
		if err := l.Tick(t.Context(), now); err != nil {
			t.Fatal(err)
		}
	}
	want := []string{"2 said +10m0s", "2 day +1h0m0s", "3 late +30h0m0s", "1 missed 2"}
	if !slices.Equal(told.said, want) {
		t.Errorf("got %q, want %q", told.said, want)
	}
}

// A database that fails is asked again at the next tick.
func TestTroublePasses(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l, d, told := loop()
		d.fail = 3
		d.add(1, bot.RemindSaid, time.Now())
		ctx, stop := context.WithCancel(t.Context())
		go l.Run(ctx)
		time.Sleep(5 * time.Second)
		synctest.Wait()
		if len(told.said) != 1 || told.said[0] != "1 said +3s" {
			t.Errorf("%q", told.said)
		}
		stop()
	})
}
