package bot

import (
	"slices"
	"strings"
	"time"

	"tankside/engine"
)

// Recall is a question about loads of the past: which fields, and from when up to,
// and without, when.
type Recall struct {
	Fields   []int64 // none: every field
	Name     string  // what the field is called; empty: every field
	From, To time.Time
}

// RecallOf names the fields that go by a name, closed ones too: a field that is sown
// again can have several numbers. A name that none has may be the start of one. ok
// is false when no field, or more than one name, fits.
func RecallOf(m *Memory, name string, from, to time.Time) (r Recall, ok bool) {
	r = Recall{From: from, To: to}
	if name == "" {
		return r, true
	}
	var starts []string
	for _, f := range m.Fields {
		if isName(f.Name, name) {
			r.Fields, r.Name = append(r.Fields, f.ID), f.Name
		}
		if low := strings.ToLower(f.Name); low != "" && strings.HasPrefix(low, strings.ToLower(name)) && !slices.Contains(starts, low) {
			starts = append(starts, low)
		}
	}
	if len(r.Fields) == 0 && len(starts) == 1 {
		return RecallOf(m, starts[0], from, to)
	}
	return r, len(r.Fields) > 0
}

// Past is what a recall came to.
type Past struct {
	Recall
	Totals
	Rate   [2]float64 // gallons an acre, least and most that was planned
	Reach  float64    // gallons an acre over the ground of the loads; 0: not known
	Seeded []Seed     // Rate over the ground that got the crop, and Weight
	Days   int
}

// PastOf sums loads that stand. What lies outside the recall does not count.
func PastOf(loads []Load, r Recall) Past {
	p := Past{Recall: r}
	days := map[string]bool{}
	ground := map[string]float64{}
	for i := range loads {
		l := &loads[i]
		if l.When.Before(r.From) || !r.To.IsZero() && !l.When.Before(r.To) || len(r.Fields) > 0 && !slices.Contains(r.Fields, l.Field) {
			continue
		}
		p.Totals = p.Plus(*l)
		if p.First.IsZero() || l.When.Before(p.First) {
			p.First = l.When
		}
		if l.When.After(p.Last) {
			p.Last = l.When
		}
		days[l.When.Format(time.DateOnly)] = true
		if l.Rate > 0 {
			if p.Rate[0] == 0 {
				p.Rate[0] = l.Rate
			}
			p.Rate = [2]float64{min(p.Rate[0], l.Rate), max(p.Rate[1], l.Rate)}
		}
		for _, s := range l.Seeds {
			ground[s.Crop] += l.Area
		}
	}
	p.Days = len(days)
	if p.Area > 0 {
		p.Reach = p.Volume / p.Area
	}
	for _, s := range p.Seeds {
		if ground[s.Crop] > 0 {
			s.Rate = s.Weight / ground[s.Crop]
		}
		p.Seeded = append(p.Seeded, s)
	}
	return p
}

// Tell puts what was recalled into an outcome: the sums, the rate, and the days from
// and to, which the wording shows.
func (p *Past) Tell(o *engine.Outcome) {
	put := func(s engine.Slot, of string, v float64) {
		if v > 0 || s == engine.LoadCount {
			o.Results = append(o.Results, engine.Value{Slot: s, Of: of, Min: v, Max: v})
		}
	}
	o.Log = &engine.Summary{Scope: "past", Field: p.Name}
	put(engine.LoadCount, "", p.Loads)
	put(engine.VolumeUsed, "", p.Volume)
	put(engine.AreaDone, "", p.Area)
	put(engine.ApplicationRate, "", p.Reach)
	for _, s := range p.Seeded {
		put(engine.SeedUsed, s.Crop, s.Weight)
		put(engine.SeedRate, s.Crop, s.Rate)
	}
	o.Words = nil
	first, last := p.First, p.Last
	if first.IsZero() && !p.To.IsZero() {
		first, last = p.From, p.To.AddDate(0, 0, -1)
	}
	for _, day := range []time.Time{first, last} {
		if !day.IsZero() {
			o.Words = append(o.Words, day.Format(time.DateOnly))
		}
	}
}

// recall asks for loads of the past. The log is not read here: Remember does that
// with the decision.
func (t *turn) recallPast() bool {
	t.topic(engine.TopicLog)
	from, to, ok := engine.PastSpan(t.req.Span, t.msg.At)
	if w := t.req.When; !ok && w != nil {
		y, m, d := t.msg.At.AddDate(0, 0, -w.Days).Date()
		from, ok = time.Date(y, m, d, 0, 0, 0, 0, t.msg.At.Location()), true
		to = from.AddDate(0, 0, 1)
	}
	if !ok {
		return false
	}
	r, known := RecallOf(&t.m, t.req.Field, from, to)
	if !known {
		return t.noField(t.req.Field)
	}
	t.past = &r
	t.out.Status, t.out.Act = engine.Answered, engine.ActTotals
	return true
}

// Remember reads the loads that a decision is about and tells them in its outcome.
func (d *Decision) Remember(read func(Recall) ([]Load, error)) error {
	if d.Recall == nil {
		return nil
	}
	loads, err := read(*d.Recall)
	if err != nil {
		return err
	}
	p := PastOf(loads, *d.Recall)
	p.Tell(d.Outcome)
	return nil
}
