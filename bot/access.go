package bot

import "time"

// Role is what somebody, or a group, may do.
type Role string

// The roles. A person writes in private by an own role; in a group the group's
// counts. Owners may do everything anywhere.
const (
	Stranger Role = ""
	Member   Role = "member"
	Owner    Role = "owner"
)

// Guest is a person or a group that the bot has met. A private chat has its
// person's number.
type Guest struct {
	ID     int64
	Role   Role
	Name   string
	Told   time.Time // when it was told that it may not
	Tries  int       // wrong codes since Told
	Silent bool      // blocked the bot, or put it out: nothing is sent
	Asked  bool      // was asked for its time zone
	Soak   bool      // wants pail reminders
	Nudge  bool      // wants to be asked about long stops and the gate
	Day    string    // when the day's summary is due, "19:00"; empty: never
}

// Door says who may come in. Codes work once.
type Door interface {
	Guest(id int64) (Guest, error)
	PutGuest(g Guest) error
	Guests() ([]Guest, error)
	PutCode(code string, gives Role, by int64, until time.Time) error
	UseCode(code string, by int64, at time.Time) (gives Role, ok bool, err error)
	DropCodes(gives Role) error
}
