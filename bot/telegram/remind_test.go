package telegram_test

import (
	"strings"
	"testing"
	"time"

	"tankside/bot"
)

// due are the reminders of a chat by kind.
func (w *world) due(chat int64) map[string]bot.Reminder {
	w.t.Helper()
	out := map[string]bot.Reminder{}
	w.do(func(tx bot.Tx) error {
		list, err := tx.Reminders(chat)
		for _, r := range list {
			out[r.Kind] = r
		}
		return err
	})
	return out
}

// bring makes all of a chat's reminders due: by so much before now.
func (w *world) bring(chat int64, before time.Duration) {
	w.t.Helper()
	w.do(func(tx bot.Tx) error {
		list, err := tx.Reminders(chat)
		for _, r := range list {
			if err := tx.EndReminder(r.ID); err != nil {
				return err
			}
			r.Due = time.Now().Add(-before)
			if _, err := tx.Remind(r); err != nil {
				return err
			}
		}
		return err
	})
}

// A reminder goes with the text that asked for it, and so does a load.
func TestEditedReminder(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	var wish map[string]any
	answer := w.hear(7, "remind you", func() { wish = ann.Say(7, "remind me in 20 minutes to stir") })
	at := time.Now()
	edit := func(text string, want string, loads int, due time.Duration) {
		t.Helper()
		at = at.Add(time.Second)
		ann.Edit(wish, text, at)
		w.settle()
		last := w.written(7)[len(w.written(7))-1]
		if last.ID != answer.ID || !strings.Contains(last.Text, want) || len(w.loads(7)) != loads {
			t.Errorf("%q: %d loads, %q", text, len(w.loads(7)), last.Text)
		}
		if r, set := w.due(7)[bot.RemindSaid]; set != (due > 0) || set && (time.Until(r.Due) < due-time.Minute || time.Until(r.Due) > due) {
			t.Errorf("%q: due %v", text, r.Due)
		}
	}
	edit("remind me in 40 minutes to stir", "remind you", 0, 40*time.Minute)
	edit("log load", "Load 1 logged", 1, 0)
	edit("remind me in 30 minutes to eat", "Load 1 taken back", 0, 30*time.Minute)
	edit("totals", "0 loads", 0, 0)
}

func TestReminderIsSaidOnce(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "check the <pail>", func() { ann.Say(7, "remind me in 20 minutes to check the <pail> & stir") })
	w.hear(7, "When, and of what", func() { ann.Say(7, "remind me") })
	if d := time.Until(w.due(7)[bot.RemindSaid].Due); d < 19*time.Minute || d > 20*time.Minute {
		t.Errorf("due in %v", d)
	}
	w.hear(7, "check the <pail>", func() { ann.Say(7, "/reminders") })
	w.halt()
	w.start()
	w.hear(7, "Reminder: check the <pail> & stir", func() { w.bring(7, 0) })
	w.halt()
	w.start()
	n := len(w.server.Messages(7))
	time.Sleep(1500 * time.Millisecond)
	if len(w.server.Messages(7)) != n {
		t.Error("a reminder was said again")
	}
}

func TestMissedRemindersAreOneLine(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	for _, what := range []string{"eat", "call Bob"} {
		w.hear(7, "remind you", func() { ann.Say(7, "remind me in 20 minutes to "+what) })
	}
	w.settle()
	w.bring(7, 3*time.Hour)
	n := len(w.server.Messages(7))
	w.await("the line", func() bool { return len(w.server.Messages(7)) > n })
	w.settle()
	got := w.server.Messages(7)[n:]
	if len(got) != 1 || !strings.Contains(got[0].Text, "eat") || !strings.Contains(got[0].Text, "call Bob") {
		t.Errorf("said: %+v", got)
	}
}

func TestPailReminders(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "0.43", func() { ann.Say(7, "3000 gallon tank, 7000 per acre, ryegrass 12 lb") })
	w.hear(7, "Load 1", func() { ann.Say(7, "log load") })
	w.settle()
	if len(w.due(7)) != 0 {
		t.Error("reminders that nobody asked for")
	}
	w.hear(7, "next pail", func() { ann.Say(7, "/soak on") })
	w.hear(7, "Load 2", func() { ann.Say(7, "log load") })
	w.settle()
	due := w.due(7)
	if due[bot.RemindWet].Due.IsZero() || !due[bot.RemindPail].Due.After(due[bot.RemindWet].Due) {
		t.Errorf("after a load of floating seed: %+v", due)
	}
	w.hear(7, "taken back", func() { ann.Say(7, "undo") })
	w.settle()
	if due := w.due(7); len(due) != 0 {
		t.Errorf("after the load was taken back: %+v", due)
	}
	w.hear(7, "logged", func() { ann.Say(7, "log load") })
	w.settle()
	w.hear(7, "Wet the next pail now", func() { w.bring(7, time.Second) })
	w.settle()
	w.hear(7, "No more pail", func() { ann.Say(7, "/soak off") })
}

func TestDaySummary(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "time zone", func() { ann.Say(7, "/zone") })
	w.hear(7, "no time zone of that name", func() { ann.Say(7, "/zone Mars/Olympus") })
	w.hear(7, "America/Regina", func() { ann.Say(7, "/zone America/Regina") })
	w.hear(7, "summary comes at 7:00 pm", func() { ann.Say(7, "/day 7 pm") })
	due := w.due(7)[bot.RemindDay].Due.In(mustZone("America/Regina"))
	if due.Format("15:04") != "19:00" || time.Until(due) > 24*time.Hour {
		t.Errorf("due at %v", due)
	}
	w.hear(7, "summary comes at 7:00 pm", func() { ann.Say(7, "/day 19:00") }) // again: still one
	w.hear(7, "Load 1", func() { ann.Say(7, "log load") })
	w.hear(7, "1 load", func() { w.bring(7, 0) })
	w.settle()
	if next := w.due(7)[bot.RemindDay].Due; next.Sub(due).Abs() > 24*time.Hour || next.Before(time.Now()) {
		t.Errorf("the next summary: %v", next)
	}
	w.hear(7, "No more summaries", func() { ann.Say(7, "/day off") })
	if len(w.due(7)) != 0 {
		t.Error("a summary still waits")
	}
}
