package telegram

import (
	"errors"
	"slices"
	"strings"
	"time"

	tg "github.com/go-telegram/bot"
)

var errTooLate = errors.New("too late")

// verdict is what follows from a call: marks to store, and a pause before the same
// parcel is tried again; 0: it is done with.
type verdict struct {
	retry time.Duration
	marks []mark
}

// giveUpAfter is how long a message is tried: as long as the server keeps updates.
const giveUpAfter = 24 * time.Hour

// judge reads the server's answer.
func (s *sender) judge(r result, now time.Time) verdict {
	p := r.p
	var flood *tg.TooManyRequestsError
	var moved *tg.MigrateError
	switch err := r.err; {
	case err == nil:
		s.fresh[p.ID] = r.message
		s.Metrics.sent(p.Rank)
		return verdict{marks: []mark{{id: p.ID, message: r.message}}}
	case errors.Is(err, errTooLate):
		return verdict{marks: []mark{{id: p.ID, why: "too late"}}}
	case errors.Is(err, errUnmade):
		return s.unmade(r)
	case errors.As(err, &flood):
		s.Metrics.problem("send_429")
		return verdict{retry: s.flooded(now, time.Duration(max(flood.RetryAfter, 1))*time.Second)}
	case errors.As(err, &moved) && moved.MigrateToChatID != 0:
		return s.moved(r, int64(moved.MigrateToChatID))
	case errors.Is(err, tg.ErrorForbidden):
		return s.blocked(r)
	case errors.Is(err, tg.ErrorBadRequest):
		return s.badRequest(r)
	case errors.Is(err, tg.ErrorUnauthorized), errors.Is(err, tg.ErrorNotFound):
		s.Metrics.problem("send_token")
		s.Log.Error("the server does not take the token", "error", s.clean(err))
		return verdict{retry: 30 * time.Second}
	}
	return s.again(r, now)
}

// again puts a parcel off: longer each time, up to a minute.
func (s *sender) again(r result, now time.Time) verdict {
	l, p := r.lane, r.p
	p.Tries++
	l.holds++
	rest := min(time.Second<<min(l.holds-1, 6), time.Minute)
	s.Metrics.problem("send_retry")
	s.Log.Warn("send", "outgoing", p.ID, "tries", p.Tries, "error", s.clean(r.err), "again in", rest.String())
	if p.call.chatless() && p.Tries > 3 || l.tooLateToTry(p) || p.Tries > int(giveUpAfter/time.Minute) {
		return verdict{marks: []mark{{id: p.ID, why: s.clean(r.err).Error()}}}
	}
	return verdict{retry: rest, marks: []mark{{id: p.ID, tries: p.Tries, due: now.Add(rest)}}}
}

// moved sends on to where the chat is now, with all that waits behind.
func (s *sender) moved(r result, to int64) verdict {
	l := r.lane
	from := l.chat
	delete(s.lanes, from)
	if other := s.lanes[to]; other != nil && other != l {
		// Something is queued there already: the older ones go first, behind what is in
		// the air.
		at := 0
		if other.sending {
			at = 1
		}
		s.queued++
		other.queue = slices.Insert(other.queue, at, l.queue...)
		l.queue = l.queue[:1]
		if other.index < 0 && !other.sending {
			s.place(other)
		}
		return verdict{marks: []mark{{chat: from, move: to}}}
	}
	l.key, l.chat = to, to
	s.lanes[to] = l
	s.Log.Info("a chat moved", "from", from, "to", to)
	return verdict{retry: time.Millisecond, marks: []mark{{chat: from, move: to}}}
}

// blocked remembers that a chat wants no more, and drops what waits for it.
func (s *sender) blocked(r result) verdict {
	l := r.lane
	s.Metrics.problem("send_403")
	v := verdict{marks: []mark{{id: r.p.ID, why: "forbidden"}}}
	if r.p.call.chatless() {
		return v
	}
	v.marks = append(v.marks, mark{chat: l.chat, silent: true})
	for _, p := range l.queue[1:] {
		v.marks = append(v.marks, mark{id: p.ID, why: "forbidden"})
	}
	s.queued -= len(l.queue) - 1
	l.queue = l.queue[:1]
	return v
}

// cannotEdit says whether a message that was to be edited is gone.
func cannotEdit(text string) bool {
	for _, why := range []string{"to edit not found", "can't be edited", "message_id_invalid"} {
		if strings.Contains(text, why) {
			return true
		}
	}
	return false
}

// badRequest tells what can be helped: an edit that changes nothing is done, one
// whose message is gone is sent anew, HTML that the server does not take goes as
// plain text, and what a topic no longer takes goes to the group. Anything else is
// given up.
func (s *sender) badRequest(r result) verdict {
	p, text := r.p, strings.ToLower(r.err.Error())
	switch {
	case strings.Contains(text, "not modified"):
		return verdict{marks: []mark{{id: p.ID}}}
	case p.call.Method == editMarkup, p.call.chatless():
		return verdict{marks: []mark{{id: p.ID, why: short(s.clean(r.err).Error(), 200)}}}
	case p.Edits != 0 && cannotEdit(text):
		p.Edits, p.call.Method = 0, sendMessage
		return verdict{retry: time.Millisecond}
	case strings.Contains(text, "can't parse entities") && p.call.Plain != "" && p.call.Text != escape(p.call.Plain):
		s.Metrics.problem("send_html")
		p.call.Text = escape(p.call.Plain)
		return verdict{retry: time.Millisecond}
	case strings.Contains(text, "thread not found") && p.call.Thread != 0:
		p.call.Thread = 0
		return verdict{retry: time.Millisecond}
	case strings.Contains(text, "topic_closed") && p.call.Thread != 0:
		p.call.Thread, p.call.ReplyTo = 0, 0 // a quote would take it there again
		return verdict{retry: time.Millisecond}
	}
	s.Metrics.problem("send_400")
	s.Log.Error("the server does not take a message", "outgoing", p.ID, "method", p.call.Method, "error", s.clean(r.err))
	return verdict{marks: []mark{{id: p.ID, why: short(s.clean(r.err).Error(), 200)}}}
}
