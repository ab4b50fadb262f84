package engine

import (
	"math"

	"tankside/engine/unit"
)

var (
	byCycle     = &Formula{"fill + drive + spread + return", "PRACTICE"}
	byPerHour   = &Formula{"60 ÷ cycle_time", "EXACT"}
	byCrew      = &Formula{"tankers × 60 ÷ cycle_time, at most 60 ÷ spread time", "PRACTICE"}
	byMany      = &Formula{"tankers × 60 ÷ cycle_time", "PRACTICE"}
	byAreaHour  = &Formula{"area_per_load × loads_per_hour", "EXACT"}
	byTotalTime = &Formula{"area ÷ area_per_hour", "EXACT"}
	byLoadsTime = &Formula{"loads ÷ loads_per_hour", "EXACT"}
	byLoadsIn   = &Formula{"duration ÷ cycle_time", "EXACT"}
	byCrewIn    = &Formula{"duration × loads_per_hour", "EXACT"}
	byWorkDays  = &Formula{"total_time ÷ working day", "EXACT"}
	byPace      = &Formula{"loads ÷ duration", "EXACT"}
	byTankers   = &Formula{"cycle_time ÷ spread time, rounded up", "PRACTICE"}
)

// cycleParts are the parts of a round; the last one is left out unless said.
var cycleParts = [...]string{"fill", "drive", "spread", "return", "mix"}

// answerCycle answers how long a round takes and what it comes to.
func answerCycle(w *work, _ int) {
	var parts [len(cycleParts)]unit.Time
	complete := true
	for i, part := range cycleParts {
		t, ok := w.cyclePart(part)
		if !ok && part != "mix" {
			w.miss(Duration, part)
			complete = false
		}
		parts[i] = t
	}
	cycle, err := CycleOf(parts[:]...)
	if pace, ok := w.said(LoadsPerHour, ""); ok && pace > 0 {
		w.out.Missing, w.out.MissingOf = nil, nil
		if w.facts[w.find(LoadsPerHour, "")].Origin == Derived {
			w.put(LoadsPerHour, "", pace, byPace)
		}
		w.dayWork(unit.Frequency(pace))
		w.workDays()
		return
	}
	if said, ok := w.said(CycleTime, ""); ok {
		cycle, err, complete = unit.Time(said), nil, true
		w.out.Missing, w.out.MissingOf = nil, nil
	}
	if !complete || w.fail(err) {
		return
	}
	w.put(CycleTime, "", float64(cycle), byCycle)
	perHour, ok := w.crew(cycle, parts[2])
	if !ok {
		return
	}
	w.loadsWithin(cycle, perHour)
	w.dayWork(perHour)
	w.workDays()
}

// loadsWithin puts the loads that a time allows, and the ground of the full ones where
// that was asked for. Each tanker makes whole rounds.
func (w *work) loadsWithin(cycle unit.Time, perHour unit.Frequency) {
	span, ok := w.said(Duration, "")
	if !ok || !w.focused(Loads) || cycle <= 0 {
		return
	}
	loads, full, by := span/float64(cycle), math.Floor(span/float64(cycle)+snap), byLoadsIn
	if n, ok := w.said(Tankers, ""); ok && n > 1 {
		loads, by = span*float64(perHour)/60, byCrewIn
		full = min(n*full, math.Floor(loads+snap))
	}
	w.put(Loads, "", loads, by)
	w.put(FullLoads, "", full, by)
	if !w.focused(Area) {
		return
	}
	a, ok := w.groundOfLoad()
	if !ok {
		w.readWay(&mixWay) // what a load's ground needs is asked for
		return
	}
	w.put(Area, "", full*float64(a), byCountArea)
}

// workDays puts how many working days the time comes to, where a day's hours are known. Where
// days were asked for they are asked, never assumed; and so is what is to be hauled.
func (w *work) workDays() {
	if w.focused(WorkDays) || w.focused(TotalTime) {
		w.missGround()
	}
	if w.find(Duration, "day") < 0 {
		if w.focused(WorkDays) {
			w.miss(Duration, "day")
		}
		return
	}
	for i := range w.out.Results {
		if r := &w.out.Results[i]; r.Slot == TotalTime {
			if day, _ := w.said(Duration, "day"); day > 0 {
				w.put(WorkDays, "", r.Min/day, byWorkDays)
			}
			return
		}
	}
}

// missGround asks for what is to be hauled, where the time for it was asked for and is not
// known: the field where a load's ground is known, else the loads.
func (w *work) missGround() {
	for i := range w.out.Results {
		if w.out.Results[i].Slot == TotalTime {
			return
		}
	}
	if _, ok := w.groundOfLoad(); ok {
		w.miss(Area, "")
		return
	}
	w.miss(LoadCount, "")
}

// cyclePart is a part of the round; spreading may follow from the flow.
func (w *work) cyclePart(part string) (unit.Time, bool) {
	if v, ok := w.said(Duration, part); ok {
		return unit.Time(v), true
	}
	if part != "spread" {
		return 0, false
	}
	if v, ok := w.said(UnloadTime, ""); ok {
		return unit.Time(v), true
	}
	load, ok := w.loadKnown()
	if !ok || !w.has(Flow) {
		return 0, false
	}
	q, _ := w.get(Flow)
	t, err := TimeToUnload(load, unit.Flow(q))
	if w.fail(err) {
		return 0, false
	}
	w.put(UnloadTime, "", float64(t), byUnload)
	return t, true
}

// crew puts the loads an hour: of one tanker, or of as many as were said, which
// the tool itself holds back. Where the tool would wait it says how many would keep
// it busy.
func (w *work) crew(cycle, spread unit.Time) (unit.Frequency, bool) {
	if n, ok := w.said(Tankers, ""); ok && spread > 0 {
		f, err := CrewLoads(n, cycle, spread)
		if w.fail(err) {
			return 0, false
		}
		w.put(LoadsPerHour, "", float64(f), byCrew)
		if need, err := TankersFor(cycle, spread); err == nil && need > n {
			w.put(Tankers, "", need, byTankers)
		}
		return f, true
	}
	f, err := LoadsEachHour(cycle)
	if w.fail(err) {
		return 0, false
	}
	if n, ok := w.said(Tankers, ""); ok && n > 0 { // how long a load takes to spread is not known
		f *= unit.Frequency(n)
		w.put(LoadsPerHour, "", float64(f), byMany)
		w.note(Note{ID: "tool_keeps_up", Level: Caution, Slot: Tankers, Value: n, Source: "PRACTICE"})
		return f, true
	}
	w.put(LoadsPerHour, "", float64(f), byPerHour)
	if spread > 0 {
		if n, err := TankersFor(cycle, spread); err == nil {
			w.put(Tankers, "", n, byTankers)
		}
	}
	return f, true
}

// dayWork puts the ground an hour and the time for the field.
func (w *work) dayWork(perHour unit.Frequency) {
	n, ok := w.said(LoadCount, "")
	if !ok {
		n, ok = w.said(LoadsLeft, "")
	}
	if ok {
		w.put(TotalTime, "", n/float64(perHour)*60, byLoadsTime)
	}
	a, ok := w.groundOfLoad()
	if !ok {
		return
	}
	done, err := AreaEachHour(a, unit.Time(60/float64(perHour)))
	if w.fail(err) {
		return
	}
	w.put(AreaPerHour, "", float64(done), byAreaHour)
	if field, ok := w.said(Area, ""); ok {
		w.put(TotalTime, "", field/float64(done)*60, byTotalTime)
	}
}

// groundOfLoad is the area of one load, said or worked out.
func (w *work) groundOfLoad() (unit.Area, bool) {
	if a, ok := w.said(AreaPerLoad, ""); ok {
		return unit.Area(a), true
	}
	load, ok := w.loadKnown()
	if !ok || !w.has(ApplicationRate) {
		return 0, false
	}
	r, _ := w.get(ApplicationRate)
	a, err := AreaOfLoad(load, unit.VolumePerArea(r))
	if w.fail(err) {
		return 0, false
	}
	w.put(AreaPerLoad, "", float64(a), byLoadArea)
	return a, true
}
