package bot

import "time"

// The kinds of reminders.
const (
	RemindSaid = "said" // what somebody asked to be told
	RemindWet  = "wet"  // wet the next pail
	RemindPail = "pail" // the pail has had its time
	RemindStop = "stop" // no load for long
	RemindGate = "gate" // is the gate shut?
	RemindDay  = "day"  // the day's summary
	RemindLate = "late" // what came in while the bot was away
)

// Reminder is one thing to be said later. Its row and the message it becomes are
// written in one transaction, so it is said once.
type Reminder struct {
	ID     int64
	Chat   int64
	Thread int
	Person int64
	Kind   string
	Text   string
	Due    time.Time
	Zone   string // IANA, for wording and for the next day
}

// Clock keeps reminders.
type Clock interface {
	Remind(r Reminder) (id int64, err error)
	Due(now time.Time, limit int) ([]Reminder, error)
	EndReminder(id int64) error
	Reminders(chat int64) ([]Reminder, error) // that wait, soonest first
	CancelReminders(chat int64, kinds ...string) (int, error)
}
