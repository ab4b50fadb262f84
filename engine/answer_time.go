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
		w.dayWork(unit.Frequency(pace))
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
	if span, ok := w.said(Duration, ""); ok && w.focused(Loads) && cycle > 0 {
		w.put(Loads, "", span/float64(cycle), byLoadsIn)
		w.put(FullLoads, "", math.Floor(span/float64(cycle)+snap), byLoadsIn)
	}
	perHour, ok := w.crew(cycle, parts[2])
	if ok {
		w.dayWork(perHour)
	}
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
