package engine

import (
	"math"

	"tankside/engine/unit"
)

var (
	byDepthRate = &Formula{"depth × 27154.29", "NCSU-CONV"}
	byOver      = &Formula{"load_volume ÷ area", "UMASS-CAL"}
	byOverStrip = &Formula{"load_volume × 43560 ÷ (width × distance)", "UMASS-CAL"}
	byUnload    = &Formula{"load_volume ÷ flow", "EXACT"}
	byBypass    = &Formula{"pump_flow − flow", "EXACT"}
	byTurnover  = &Formula{"tank_volume ÷ bypass_flow", "EXACT"}
	byShut      = &Formula{"tank_volume ÷ pump_flow", "EXACT"}
	byMixing    = &Formula{"3 × tank_volume ÷ pump_flow", "EXACT"}
	byPumpSpeed = &Formula{"pump_flow × 495 ÷ (application_rate × width)", "MESA-CAL"}
	byPumpRate  = &Formula{"pump_flow × 495 ÷ (speed × width)", "MESA-CAL"}
	byPumpWidth = &Formula{"pump_flow × 495 ÷ (application_rate × speed)", "MESA-CAL"}
	byPTO       = &Formula{"pump_flow × pto_speed ÷ rated_pto_speed", "PRACTICE"}
	byOff       = &Formula{"measured application_rate ÷ wanted application_rate − 1", "EXACT"}
	byFix       = &Formula{"speed × measured application_rate ÷ wanted application_rate", "PRACTICE"}
)

// pumpShareHigh is the share of the pump that may go out of the back before the
// rest is worth a word. Common practice, no source.
const pumpShareHigh = 0.8

// solve gives the slot asked for: worked out where the facts allow, else as said.
func (w *work) solve(s Slot) (float64, bool) {
	v, by, ok := w.derive(s)
	if ok {
		w.put(s, "", v, by)
		return v, true
	}
	w.hidden = NoSlot
	return w.said(s, "")
}

// answerFlow answers what must leave the back, and what that leaves for stirring.
func answerFlow(w *work, _ int) {
	if q, ok := w.solve(Flow); ok {
		w.afterFlow(unit.Flow(q))
	}
}

// answerSpeed answers how fast to drive, or how fast a timed course was.
func answerSpeed(w *work, way int) {
	if _, ok := w.solve(Speed); !ok {
		return
	}
	w.hidden = NoSlot
	if way == 0 && w.has(Flow) {
		q, _ := w.get(Flow)
		w.afterFlow(unit.Flow(q))
	}
}

// answerRate answers what goes on the ground, from flow and travel or from a
// volume and the ground it went on.
func answerRate(w *work, way int) {
	if way == 0 {
		r, ok := w.solve(ApplicationRate)
		if ok && w.has(Flow) {
			q, _ := w.get(Flow)
			w.afterFlow(unit.Flow(q))
		}
		if ok && w.compares() {
			w.hidden = NoSlot
			w.againstTarget(unit.VolumePerArea(r))
		}
		return
	}
	if d, ok := w.said(Depth, ""); ok && way == 5 {
		if r, err := RateOfDepth(unit.Length(d)); !w.fail(err) {
			w.put(ApplicationRate, "", float64(r), byDepthRate)
		}
		return
	}
	from := LoadVolume
	if way == 6 {
		from = TotalVolume
	}
	v, _ := w.get(from)
	if n, ok := w.said(LoadCount, ""); ok && way != 2 {
		v *= n
	}
	a, by, ok := w.measuredGround(way)
	if !ok {
		return
	}
	r, err := RateOver(unit.Volume(v), a)
	if w.fail(err) {
		return
	}
	w.put(ApplicationRate, "", float64(r), by)
	w.hidden = NoSlot
	w.againstTarget(r)
}

// measuredGround is the area that a measured volume went on.
func (w *work) measuredGround(way int) (unit.Area, *Formula, bool) {
	switch way {
	case 1, 4, 6:
		a, ok := w.get(Area)
		return unit.Area(a), byOver, ok
	case 3:
		a, ok := w.get(AreaPerLoad)
		return unit.Area(a), byLoadGround, ok
	}
	width, _ := w.get(Width)
	d, _ := w.get(Distance)
	a, err := StripArea(unit.Length(width), unit.Length(d))
	return a, byOverStrip, !w.fail(err)
}

// againstTarget holds a measured rate against the wanted one, and says the one
// thing to change: the speed, with the gate as it is.
func (w *work) againstTarget(measured unit.VolumePerArea) {
	want, ok := w.said(ApplicationRate, "")
	if !ok {
		return
	}
	off := float64(measured)/want - 1
	if math.Abs(off) < snap {
		off = 0
	}
	w.put(PercentOff, "", off, byOff)
	if off > tenth || off < -tenth {
		w.note(Note{ID: "off_target", Level: Caution, Slot: ApplicationRate, Value: float64(measured), Limit: want, Source: "PRACTICE"})
	}
	v, ok := w.said(Speed, "")
	if !ok {
		return
	}
	fix, err := SpeedToFix(unit.Speed(v), measured, unit.VolumePerArea(want))
	if !w.fail(err) {
		w.put(Speed, "", float64(fix), byFix)
	}
}

// tenth: ten per cent of the goal, with records to show it, is good work.
const tenth = 0.1

// afterFlow puts what follows from a flow: how long the load lasts, what goes
// back to the tank, how well that stirs.
func (w *work) afterFlow(q unit.Flow) {
	load, loadKnown := w.loadKnown()
	var unload unit.Time
	if loadKnown {
		var err error
		if unload, err = TimeToUnload(load, q); w.fail(err) {
			return
		}
	}
	if pump, ok := w.pump(); ok && !w.stir(pump, q, unload) {
		return
	}
	if !loadKnown {
		return
	}
	if !w.is(UnloadTime) {
		w.put(UnloadTime, "", float64(unload), byUnload)
	}
	if w.has(ApplicationRate) {
		r, _ := w.get(ApplicationRate)
		if a, err := AreaOfLoad(load, unit.VolumePerArea(r)); err == nil {
			w.put(AreaPerLoad, "", float64(a), byLoadArea)
		}
	}
}

func (w *work) loadKnown() (unit.Volume, bool) {
	if !w.has(LoadVolume) {
		return 0, false
	}
	v, ok := w.get(LoadVolume)
	return unit.Volume(v), ok
}

// contents is what is in the tank at the start of the load, heel and all.
func (w *work) contents() (unit.Volume, bool) {
	if v, ok := w.said(LoadVolume, ""); ok {
		return unit.Volume(v), true
	}
	v, ok := w.said(TankVolume, "")
	if !ok {
		return w.loadKnown()
	}
	if f, ok := w.said(LoadFraction, ""); ok && f <= 1 {
		v *= f
	}
	return unit.Volume(v), true
}

// ratedSpeeds are the two shaft speeds of the trade; a pump whose rated speed was
// not said is taken to be rated at the one above what it runs at.
var ratedSpeeds = [...]float64{540, 1000}

// pump is what the pump delivers at the shaft speed it runs at.
func (w *work) pump() (unit.Flow, bool) {
	q, ok := w.said(PumpFlow, "")
	if !ok {
		return 0, false
	}
	pto, slow := w.said(PTOSpeed, "")
	if !slow {
		return unit.Flow(q), true
	}
	rated, ok := w.said(RatedPTOSpeed, "")
	if !ok {
		rated = ratedSpeeds[0]
		if pto > rated*(1+tenth) {
			rated = ratedSpeeds[1]
		}
		w.assume(RatedPTOSpeed, rated, bare)
	}
	got, err := PumpAt(unit.Flow(q), pto, rated)
	if w.fail(err) {
		return 0, false
	}
	w.put(PumpFlow, "", float64(got), byPTO)
	w.note(Note{ID: "pump_at_rated_speed", Level: Advice, Slot: PumpFlow, Value: float64(got), Limit: q, Source: "PRACTICE"})
	return got, true
}

// stir puts the bypass and what it does, or what to change when the pump cannot
// give the flow. It reports whether the pump can.
func (w *work) stir(pump, q unit.Flow, unload unit.Time) bool {
	b, err := BypassOf(pump, q)
	if p, ok := err.(*Problem); ok && p.Code == PumpTooSmall {
		w.fail(err)
		w.wayOut(pump)
		return false
	}
	if w.fail(err) {
		return false
	}
	w.put(BypassFlow, "", float64(b), byBypass)
	if float64(q) > pumpShareHigh*float64(pump) {
		w.note(Note{ID: "pump_share_high", Level: Caution, Slot: Flow, Value: float64(q), Limit: float64(pump), Source: "PRACTICE"})
	}
	v, ok := w.contents()
	if !ok {
		return true
	}
	w.turnover(v, b, unload)
	return true
}

// turnover puts the time one turnover takes, and warns when the load is out
// before the tank has been turned over once.
func (w *work) turnover(v unit.Volume, b unit.Flow, unload unit.Time) {
	if b <= 0 {
		w.note(Note{ID: "poor_mixing", Level: Caution, Slot: BypassFlow, Source: "EXACT"})
		return
	}
	t, err := TurnoverOf(v, b)
	if w.fail(err) {
		return
	}
	w.put(TurnoverTime, "", float64(t), byTurnover)
	if unload > 0 && t <= unload {
		w.note(Note{ID: "mixing_ok", Level: Advice, Slot: TurnoverTime, Value: float64(t), Limit: float64(unload), Source: "EXACT"})
	}
	if unload > 0 && t > unload {
		w.note(Note{ID: "poor_mixing", Level: Caution, Slot: TurnoverTime, Value: float64(t), Limit: float64(unload), Source: "EXACT"})
	}
}

// wayOut puts the three things that can give when the pump is too small: slower,
// lower, narrower, each to where the pump just does it.
func (w *work) wayOut(pump unit.Flow) {
	hidden := w.hidden
	w.hidden = NoSlot
	defer func() { w.hidden = hidden }()
	r, rOK := w.said(ApplicationRate, "")
	v, vOK := w.said(Speed, "")
	b, bOK := w.said(Width, "")
	if rOK && bOK {
		if s, err := SpeedFor(pump, unit.VolumePerArea(r), unit.Length(b)); err == nil {
			w.bound(Speed, float64(s), byPumpSpeed)
		}
	}
	if vOK && bOK {
		if s, err := RateFor(pump, unit.Speed(v), unit.Length(b)); err == nil {
			w.bound(ApplicationRate, float64(s), byPumpRate)
		}
	}
	if rOK && vOK {
		if s, err := WidthFor(pump, unit.VolumePerArea(r), unit.Speed(v)); err == nil {
			w.bound(Width, float64(s), byPumpWidth)
		}
	}
}

// answerAgitation answers how well the tank is kept moving.
func answerAgitation(w *work, _ int) {
	back, told := w.said(BypassFlow, "")
	if told && !w.has(Flow) {
		if v, ok := w.contents(); ok {
			w.turnover(v, unit.Flow(back), 0)
			w.shortens(v, unit.Flow(back))
		}
		return
	}
	flow, _ := w.get(Flow)
	w.afterFlow(unit.Flow(flow))
	pump, ok := w.pump()
	if !ok || w.out.Problem == PumpTooSmall {
		return
	}
	v, ok := w.contents()
	if !ok {
		return
	}
	t, err := TimeToMix(v, pump)
	if !w.fail(err) {
		w.put(MixingTime, "", float64(t), byMixing)
	}
	w.shortens(v, pump-unit.Flow(flow))
}

// answerShut answers how the tank is stirred before the gate is opened: by all that the
// pump gives. A time of stirring that was said is held against the three tank volumes.
func answerShut(w *work) {
	pump, ok := w.pump()
	if !ok && w.out.Problem == "" {
		w.miss(PumpFlow, "")
	}
	v, full := w.contents()
	if !full {
		w.miss(TankVolume, "")
	}
	if !ok || !full {
		return
	}
	once, err := TurnoverOf(v, pump)
	if w.fail(err) {
		return
	}
	w.put(TurnoverTime, "", float64(once), byShut)
	mixed, err := TimeToMix(v, pump)
	if w.fail(err) {
		return
	}
	w.put(MixingTime, "", float64(mixed), byMixing)
	said, ok := w.said(Duration, "mix")
	switch {
	case !ok:
	case said < float64(mixed)*(1-tolerance):
		w.note(Note{ID: "stir_short", Level: Caution, Slot: MixingTime, Value: said, Limit: float64(mixed), Source: "EXACT"})
	default:
		w.note(Note{ID: "stir_enough", Level: Advice, Slot: MixingTime, Value: said, Limit: float64(mixed), Source: "EXACT"})
	}
}

// shortens notes the turnover at half a tank: it shortens as the tank empties.
func (w *work) shortens(v unit.Volume, b unit.Flow) {
	if b <= 0 {
		return
	}
	if t, err := TurnoverOf(v/2, b); err == nil {
		w.note(Note{ID: "turnover_shortens", Level: Advice, Slot: TurnoverTime, Value: float64(t), Source: "EXACT"})
	}
}
