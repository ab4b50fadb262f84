package bot

import (
	"fmt"
	"time"

	"tankside/engine"
	"tankside/parse"
)

// frost keeps the first frost, or the place, that a chat says; either answers the
// question for it.
func (t *turn) frost() {
	p, r := t.m.Pending, t.req
	if len(r.Asks)+len(r.Facts) == 0 && (p != nil && p.Timing || len(r.Crops) > 0 && t.m.Last != nil && t.m.Last.Timing) {
		r.Timing = true // "red" to "which clover?", "and radish?"
	}
	awaited := p != nil && p.Problem == engine.FrostNeeded
	switch {
	case r.FrostIn > 0:
		t.m.Frost = t.msg.At.AddDate(0, 0, r.FrostIn).Format("01-02")
	case r.Date != nil && (r.Frost || awaited):
		t.m.Frost, t.dated = fmt.Sprintf("%02d-%02d", r.Date.Month, r.Date.Day), true
	case r.Date != nil && r.Timing: // "too late for rye on november fifth"
		t.context.Sow = time.Date(t.msg.At.Year(), time.Month(r.Date.Month), r.Date.Day, 0, 0, 0, 0, t.msg.At.Location())
		t.dated = true
	}
	if r.Place != "" {
		t.m.Place = r.Place
	}
	if !awaited || !t.dated && r.Place == "" || len(r.Asks) > 0 || len(r.Acts) > 0 {
		return
	}
	t.m.Pending, r.Timing, r.Off = nil, true, false
	r.Asks = []parse.Ask{{Topic: engine.TopicCrop, Timing: true}}
	if len(r.Crops) == 0 {
		for _, name := range p.Crops {
			r.Crops = append(r.Crops, parse.Crop{Name: name})
		}
	}
	t.said = append(t.said, p.Facts...)
}

// frostSaid: "our first frost is October 10" is remembered.
func (t *turn) frostSaid() bool {
	if !t.req.Frost || t.req.Timing || len(t.said) > 0 {
		return false
	}
	t.out.Words = []string{t.m.Frost}
	return t.doneSetup(engine.ActFrostSet)
}

// inSeason hands the engine what the time to seed hangs on.
func (t *turn) inSeason() {
	t.context.Timing, t.context.Today, t.context.Place = t.req.Timing, t.msg.At, t.m.Place
	if t.m.Frost == "" {
		return
	}
	var month, day int
	if n, _ := fmt.Sscanf(t.m.Frost, "%d-%d", &month, &day); n == 2 {
		t.context.Frost = time.Date(t.msg.At.Year(), time.Month(month), day, 0, 0, 0, 0, t.msg.At.Location())
	}
}
