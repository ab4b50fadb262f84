package bot

import (
	"time"

	"tankside/engine"
	"tankside/parse"
)

// started keeps when the day's work started, "we started at 7", for the pace of the loads
// and the time that work is done.
func (t *turn) started() {
	s := t.req.Start
	if s == nil {
		return
	}
	if s.Now || !s.Past {
		return
	}
	if at := t.clockOf(s); !at.After(t.msg.At.Add(5 * time.Minute)) {
		t.m.Started = at
	}
}

// startTold acknowledges a start that is all a message says.
func (t *turn) startTold() bool {
	s := t.req.Start
	if s == nil || s.Now || len(t.said)+len(t.req.Asks)+len(t.req.Acts)+len(t.req.Loose) > 0 || t.req.Question {
		return false
	}
	t.m.Started = t.clockOf(s)
	t.out.Started = t.m.Started.Format("15:04")
	return t.doneSetup(engine.ActStartSet)
}

// clockOf is the moment of a start on the day of the message. Work starts in the morning
// from five on and at noon, in the afternoon below that, unless it was said; the time it is
// by now is the one nearer to the message's own.
func (t *turn) clockOf(s *parse.Start) time.Time {
	at := startOfDay(t.msg.At).Add(time.Duration(s.Clock%1440) * time.Minute)
	if s.Exact || s.Clock >= 780 {
		return at
	}
	later := at.Add(12 * time.Hour)
	switch {
	case s.Clock >= 720: // noon
		return at
	case s.Now:
		if t.msg.At.Sub(at).Abs() > later.Sub(t.msg.At).Abs() {
			return later
		}
	case s.Clock < 5*60:
		return later
	}
	return at
}

// countsFrom is when the work that is asked about goes on from: the start or the time that
// was said, and now where loads have gone on since.
func (t *turn) countsFrom() time.Time {
	s := t.req.Start
	if s == nil || s.Past && t.fieldTotals().Count > 0 {
		return t.msg.At
	}
	return t.clockOf(s)
}

// sinceStart is how many loads an hour went on since work started today.
func (t *turn) sinceStart(loads []Load) (n float64, span time.Duration) {
	start := t.m.Started
	if start.IsZero() || !startOfDay(start).Equal(startOfDay(t.msg.At)) {
		return 0, 0
	}
	var last time.Time
	for _, l := range loads {
		if l.When.Before(start) {
			return 0, 0 // work went on before
		}
		if n += l.Fraction; l.When.After(last) {
			last = l.When
		}
	}
	return n, last.Sub(start)
}
