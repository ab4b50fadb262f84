package phrases

import (
	"strings"
	"time"

	"tankside/engine"
)

// timings write when the crops that were asked about are best seeded.
func (p *page) timings() {
	for i := range p.o.Timings {
		t := &p.o.Timings[i]
		if !t.From.IsZero() {
			p.beforeFrost(t)
		}
		for _, w := range t.Windows {
			p.window(t, w)
		}
		if t.From.IsZero() && len(t.Windows) == 0 && p.o.Problem == "" {
			p.say(p.text("timing", "none"), &params{crop: t.Of})
			p.end()
		}
		if c := engine.CropNamed(t.Of); c != nil {
			p.winter(c.Winter)
			p.end()
		}
	}
}

// beforeFrost counts back from the frost, then says how that stands to today.
func (p *page) beforeFrost(t *engine.Timing) {
	p.say(p.text("timing", "before_frost"), &params{crop: t.Of, word: p.day(t.From), other: p.day(t.To), at: p.day(t.Frost), n: t.Weeks.Lo, m: t.Weeks.Hi})
	p.end()
	p.say(p.standing(t.From, t.To, t))
	p.end()
}

// standing says how the day that was asked about, else today, stands to a span of days,
// both ends in it.
func (p *page) standing(from, to time.Time, t *engine.Timing) (*text, *params) {
	today, on := t.Today, ""
	if !t.Sow.IsZero() {
		today, on = t.Sow, "_on"
	}
	days := func(a, b time.Time) float64 {
		day := func(t time.Time) time.Time { return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC) }
		return day(b).Sub(day(a)).Hours() / 24
	}
	switch {
	case days(today, from) > 0:
		return p.text("timing", "early"+on), &params{word: p.day(today), n: days(today, from)}
	case days(today, to) >= 0:
		return p.text("timing", "open"+on), &params{word: p.day(today), n: days(today, to)}
	}
	return p.text("timing", "late"+on), &params{word: p.day(today), n: days(to, today)}
}

// window quotes a published seeding time for a place.
func (p *page) window(t *engine.Timing, w engine.Window) {
	from, to := w.Days(t.Today)
	p.say(p.text("timing", "window"), &params{crop: t.Of, word: p.day(from), other: p.day(to), field: p.place(w.Place)})
	if p.form != spoken {
		p.cite(w.Source)
	}
	p.end()
	if t.From.IsZero() && p.o.Problem == "" { // it is the place's own
		p.say(p.standing(from, to, t))
		p.end()
	}
}

// place names the place of a window in the reader's language.
func (p *page) place(name string) string {
	parts := strings.Split(name, "; ")
	for i, part := range parts {
		parts[i] = Word(p.lang.code, "place."+part)
	}
	return strings.Join(parts, ", ")
}

// day writes a day of the year the way people here write one.
func (p *page) day(t time.Time) string {
	month := t.Month().String()
	return strings.Replace(t.Format(Word(p.lang.code, "date.day_form")), month, Word(p.lang.code, "date."+strings.ToLower(month)), 1)
}
