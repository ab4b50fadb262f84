package telegram

import (
	"time"

	"golang.org/x/time/rate"
)

// Limits are how fast messages may go out. The server's own limits are guide values;
// what it says in a 429 is the truth and always kept.
type Limits struct {
	Off            bool
	All            rate.Limit // messages a second, all chats together
	Private, Group rate.Limit // messages a second to one chat
}

// DefaultLimits stay a little below the server's guide values: 30 a second in all,
// one a second to a person, 20 a minute to a group.
func DefaultLimits() Limits { return Limits{All: 25, Private: 1, Group: 1. / 3} }

func (l Limits) all() *rate.Limiter {
	if l.Off {
		return rate.NewLimiter(rate.Inf, 1)
	}
	return rate.NewLimiter(l.All, int(max(l.All, 1)))
}

// chat is the limit of one chat. Short bursts are taken: a long answer is several
// messages.
func (l Limits) chat(id int64) *rate.Limiter {
	switch {
	case l.Off:
		return rate.NewLimiter(rate.Inf, 1)
	case id > 0:
		return rate.NewLimiter(l.Private, 3)
	}
	return rate.NewLimiter(l.Group, 5)
}

// wait is how long until l allows one more; nothing is taken then. 0: it was taken.
func wait(l *rate.Limiter, now time.Time) time.Duration {
	r := l.ReserveN(now, 1)
	d := r.DelayFrom(now)
	if d > 0 {
		r.CancelAt(now)
	}
	return d
}
