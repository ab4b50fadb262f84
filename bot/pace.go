package bot

import (
	"slices"
	"strings"
	"time"

	"tankside/engine"
	"tankside/engine/unit"
)

// atPace hands the engine how fast the loads of today have been going, and the ground
// that is left, where a time or a number of loads is asked for and no round was said:
// "at that pace what time are we done".
func (t *turn) atPace(facts engine.Facts) engine.Facts {
	if !slices.Contains(t.topics, engine.TopicCycle) {
		return facts
	}
	facts = t.untilThen(t.onWhatIsLeft(facts))
	if partOfHaul(t.said) || t.said.First(engine.CycleTime) != nil || t.said.First(engine.LoadsPerHour) != nil {
		return facts
	}
	pace, ok := t.pace()
	if !ok || facts.First(engine.CycleTime) != nil && !speaksOfPace(t.msg.Text) {
		return facts
	}
	facts = slices.DeleteFunc(slices.Clone(facts), func(f engine.Fact) bool { return f.Slot == engine.CycleTime || ofHaul(f) })
	if t.req.Until > 0 {
		return append(facts, engine.Fact{Slot: engine.CycleTime, Min: 60 / float64(pace), Max: 60 / float64(pace), Unit: unit.Must("min"), Origin: engine.Remembered})
	}
	return append(facts, engine.Fact{Slot: engine.LoadsPerHour, Min: float64(pace), Max: float64(pace), Unit: unit.Must("1/h"), Origin: engine.Derived})
}

// speaksOfPace says whether the words ask for the pace of the day rather than the round.
func speaksOfPace(text string) bool {
	return slices.ContainsFunc([]string{"pace", "ritmo", "este paso", "rate we're going", "rate were going"}, func(w string) bool { return strings.Contains(strings.ToLower(text), w) })
}

// pace is how many loads an hour the latest loads of today went at.
func (t *turn) pace() (unit.Frequency, bool) {
	loads := t.todays(t.book.Recent)
	if n, span := t.sinceStart(loads); n > 0 && span > 0 {
		pace, err := engine.PaceOf(n, 0, unit.Time(span.Minutes()))
		return pace, err == nil
	}
	if len(loads) < 2 {
		return 0, false
	}
	slices.SortFunc(loads, func(a, b Load) int { return a.When.Compare(b.When) })
	d := engine.DaySeries{}
	for _, l := range loads {
		d.Loads = append(d.Loads, engine.LoadMark{At: l.When, Loads: l.Fraction})
	}
	pace, err := d.Pace()
	return pace, err == nil
}

// onWhatIsLeft takes what is left of the field in hand for the whole of it, once loads
// have gone on it.
func (t *turn) onWhatIsLeft(facts engine.Facts) engine.Facts {
	f, tot := t.fieldInHand(), t.fieldTotals()
	if f == nil || f.Area == 0 || tot.Area <= 0 || tot.Area >= f.Area || t.said.First(engine.Area) != nil {
		return facts
	}
	facts = slices.Clone(facts)
	for i := range facts {
		if a := &facts[i]; a.Slot == engine.Area {
			left := a.Unit.FromBase(f.Area - tot.Area)
			a.Min, a.Max, a.Origin = left, left, engine.Derived
			t.leftToo = f.Area - tot.Area
		}
	}
	return facts
}

// untilThen is the time from now to the hour that the day ends.
func (t *turn) untilThen(facts engine.Facts) engine.Facts {
	if t.req.Until == 0 {
		return facts
	}
	now := t.msg.At
	end := time.Date(now.Year(), now.Month(), now.Day(), t.req.Until/60, t.req.Until%60, 0, 0, now.Location())
	if !end.After(now) {
		end = end.Add(12 * time.Hour)
	}
	minutes := end.Sub(now).Truncate(time.Minute).Minutes()
	return append(facts[:len(facts):len(facts)], engine.Fact{Slot: engine.Duration, Min: minutes, Max: minutes, Unit: unit.Must("min"), Origin: engine.Remembered})
}

// finishTime puts the time of day that what was asked about will be done, today.
func (t *turn) finishTime() {
	if t.leftToo > 0 && len(t.out.Results) > 0 {
		t.put(engine.AreaLeft, "", t.leftToo)
	}
	if t.loadsToo > 0 && len(t.out.Results) > 0 {
		t.put(engine.LoadsLeft, "", t.loadsToo)
	}
	if !t.req.Finish {
		return
	}
	for i := range t.out.Results {
		if v := &t.out.Results[i]; v.Slot == engine.TotalTime {
			from := t.countsFrom()
			end := from.Add(time.Duration(v.Max * float64(time.Minute)))
			t.out.Finish, t.out.FinishDays = end.Format("15:04"), int(end.Sub(startOfDay(from)).Hours()/24)
			if t.req.Start != nil {
				t.out.Started = from.Format("15:04")
			}
		}
	}
}

func startOfDay(at time.Time) time.Time {
	return time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, at.Location())
}
