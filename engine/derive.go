package engine

import "tankside/engine/unit"

// rule fills a slot that was not said from others that were. The first rule whose
// slots can be had is used. Rules take part everywhere, so each must hold
// whatever was asked; what holds only for one question is in that question's
// answer.
type rule struct {
	gives Slot
	from  []Slot
	by    *Formula
	show  bool // worth showing as a result of its own
	calc  func(v [3]float64) (float64, error)
}

var (
	byFlow       = &Formula{"application_rate × speed × width ÷ 495", "MESA-CAL"}
	byRate       = &Formula{"flow × 495 ÷ (speed × width)", "MESA-CAL"}
	bySpeed      = &Formula{"flow × 495 ÷ (application_rate × width)", "MESA-CAL"}
	byWidth      = &Formula{"flow × 495 ÷ (application_rate × speed)", "MESA-CAL"}
	byCourse     = &Formula{"distance ÷ duration", "UKY-AEN73"}
	byEmptying   = &Formula{"load_volume ÷ unload_time", "EXACT"}
	byTiming     = &Formula{"load_volume ÷ duration", "EXACT"}
	byTubes      = &Formula{"tube_volume ÷ duration × tubes", "EXACT"}
	byShare      = &Formula{"pump_flow × (1 − bypass_share)", "EXACT"}
	byRest       = &Formula{"pump_flow − bypass_flow", "EXACT"}
	byPart       = &Formula{"tank_volume × load_fraction", "ISU-CAL99"}
	byPartHeel   = &Formula{"tank_volume × load_fraction − heel_volume", "PRACTICE"}
	byHeel       = &Formula{"tank_volume − heel_volume", "PRACTICE"}
	byTank       = &Formula{"tank_volume", "EXACT"}
	byLoadGround = &Formula{"load_volume ÷ area_per_load", "EXACT"}
	byGroundRate = &Formula{"area_per_load × application_rate", "EXACT"}
	byOrganic    = &Formula{"analysis_total_n − analysis_ammonium_n", "EXACT"}
	byAmmonium   = &Formula{"analysis_total_n − analysis_organic_n", "EXACT"}
	byTotalN     = &Formula{"analysis_ammonium_n + analysis_organic_n", "EXACT"}
	byElementP   = &Formula{"analysis_phosphorus × 2.2913", "ATOMS"}
	byElementK   = &Formula{"analysis_potassium × 1.2046", "ATOMS"}
	byTargetP    = &Formula{"target_phosphorus × 2.2913", "ATOMS"}
	byLimitP     = &Formula{"limit_phosphorus × 2.2913", "ATOMS"}
	byNet        = &Formula{"gross_weight − tare_weight", "ISU-TANK03"}
)

// Measured says whether a result is a flow worked out from what left in a measured time.
func Measured(v *Value) bool {
	return v.Slot == Flow && (v.By == byTiming || v.By == byEmptying || v.By == byTubes)
}

// rules in order of preference within a slot.
var rules = []rule{
	{LoadVolume, []Slot{TankVolume, LoadFraction, HeelVolume}, byPartHeel, true, partHeel},
	{LoadVolume, []Slot{TankVolume, LoadFraction}, byPart, true, partOf},
	{LoadVolume, []Slot{TankVolume, HeelVolume}, byHeel, true, fresh},
	{LoadVolume, []Slot{TankVolume}, byTank, false, same},
	{LoadVolume, []Slot{AreaPerLoad, ApplicationRate}, byGroundRate, true, times},
	{Flow, []Slot{ApplicationRate, Speed, Width}, byFlow, true, flowFor},
	{Flow, []Slot{TubeVolume, Duration, Tubes}, byTubes, true, tubesFlow},
	{Flow, []Slot{LoadVolume, UnloadTime}, byEmptying, true, measuredFlow},
	{Flow, []Slot{LoadVolume, Duration}, byTiming, true, measuredFlow},
	{Flow, []Slot{PumpFlow, BypassFlow}, byRest, true, less},
	{Flow, []Slot{PumpFlow, BypassShare}, byShare, true, withoutShare},
	{ApplicationRate, []Slot{Flow, Speed, Width}, byRate, true, rateFor},
	{ApplicationRate, []Slot{LoadVolume, AreaPerLoad}, byLoadGround, true, rateOver},
	{Speed, []Slot{Distance, Duration}, byCourse, true, courseSpeed},
	{Speed, []Slot{Flow, ApplicationRate, Width}, bySpeed, true, speedFor},
	{Width, []Slot{Flow, ApplicationRate, Speed}, byWidth, true, widthFor},
	{AnalysisOrganicN, []Slot{AnalysisTotalN, AnalysisAmmoniumN}, byOrganic, false, less},
	{AnalysisAmmoniumN, []Slot{AnalysisTotalN, AnalysisOrganicN}, byAmmonium, false, less},
	{AnalysisTotalN, []Slot{AnalysisAmmoniumN, AnalysisOrganicN}, byTotalN, false, plus},
	{AnalysisPhosphate, []Slot{AnalysisPhosphorus}, byElementP, false, asPhosphate},
	{AnalysisPotash, []Slot{AnalysisPotassium}, byElementK, false, asPotash},
	{TargetPhosphate, []Slot{TargetPhosphorus}, byTargetP, false, asPhosphate},
	{LimitPhosphate, []Slot{LimitPhosphorus}, byLimitP, false, asPhosphate},
	{NetWeight, []Slot{GrossWeight, TareWeight}, byNet, true, net},
}

// The rules of each slot, so that deriving does not look through the rest.
var rulesOf = func() (out [numSlots][]*rule) {
	for i := range rules {
		out[rules[i].gives] = append(out[rules[i].gives], &rules[i])
	}
	return out
}()

// ruleFor is the first rule for s whose slots can all be had, or nil.
func (w *work) ruleFor(s Slot) *rule {
	if w.busy[s] || len(rulesOf[s]) == 0 {
		return nil
	}
	w.busy[s] = true
	defer func() { w.busy[s] = false }()
next:
	for _, r := range rulesOf[s] {
		// A timed course is a speed, not the time that a load took.
		if r.by == byTiming && (w.find(Distance, "") >= 0 || w.hours()) {
			continue
		}
		for _, from := range r.from {
			if !w.has(from) {
				continue next
			}
		}
		return r
	}
	return nil
}

// hours says whether the plain time is a working day's: no load takes two hours to empty.
func (w *work) hours() bool {
	i := w.find(Duration, "")
	return i >= 0 && w.at(i) >= 120 && w.about(TopicCycle)
}

// derive works s out by the first rule that can be had.
func (w *work) derive(s Slot) (float64, *Formula, bool) {
	r := w.ruleFor(s)
	if r == nil {
		return 0, nil, false
	}
	w.busy[s] = true
	defer func() { w.busy[s] = false }()
	var v [3]float64
	for i, from := range r.from {
		got, ok := w.get(from)
		if !ok {
			return 0, nil, false
		}
		v[i] = got
	}
	got, err := r.calc(v)
	if p, ok := err.(*Problem); ok && p.Code == ConflictCode && w.out.Problem == "" {
		w.clash(r.from[0], r.from[1]) // the question names what does not fit
		return 0, nil, false
	}
	if w.fail(err) {
		return 0, nil, false
	}
	if r.show && s != w.hidden {
		w.put(s, "", got, r.by)
	}
	return got, r.by, true
}

// asPhosphate and asPotash take an element as the oxide of the trade, whatever it is per.
func asPhosphate(v [3]float64) (float64, error) {
	x, err := PhosphateFrom(unit.MassPerVolume(v[0]))
	return float64(x), err
}

func asPotash(v [3]float64) (float64, error) {
	x, err := PotashFrom(unit.MassPerVolume(v[0]))
	return float64(x), err
}

func same(v [3]float64) (float64, error)  { return v[0], nil }
func times(v [3]float64) (float64, error) { return finite(LoadVolume, v[0]*v[1]) }
func plus(v [3]float64) (float64, error)  { return v[0] + v[1], nil }

// less is a total without one of its parts; a part above its total is a slip.
func less(v [3]float64) (float64, error) {
	if v[1] > v[0]*(1+tolerance) {
		return 0, &Problem{Code: ConflictCode, Value: v[1], Limit: v[0]}
	}
	return max(v[0]-v[1], 0), nil
}

// tubesFlow is the flow of all tubes, each like the one that was caught.
func tubesFlow(v [3]float64) (float64, error) {
	one, err := measuredFlow([3]float64{v[0], v[1]})
	return one * v[2], err
}

// withoutShare is a flow without the part of it that returns.
func withoutShare(v [3]float64) (float64, error) { return v[0] * (1 - v[1]), nil }

func partOf(v [3]float64) (float64, error) {
	x, err := PartOfTank(unit.Volume(v[0]), unit.Fraction(v[1]))
	return float64(x), err
}

func partHeel(v [3]float64) (float64, error) {
	x, err := PartOfTank(unit.Volume(v[0]), unit.Fraction(v[1]))
	if err != nil {
		return 0, err
	}
	x, err = FreshVolume(x, unit.Volume(v[2]))
	return float64(x), err
}

func fresh(v [3]float64) (float64, error) {
	x, err := FreshVolume(unit.Volume(v[0]), unit.Volume(v[1]))
	return float64(x), err
}

func flowFor(v [3]float64) (float64, error) {
	x, err := FlowFor(unit.VolumePerArea(v[0]), unit.Speed(v[1]), unit.Length(v[2]))
	return float64(x), err
}

func measuredFlow(v [3]float64) (float64, error) {
	x, err := MeasuredFlow(unit.Volume(v[0]), unit.Time(v[1]))
	return float64(x), err
}

func rateFor(v [3]float64) (float64, error) {
	x, err := RateFor(unit.Flow(v[0]), unit.Speed(v[1]), unit.Length(v[2]))
	return float64(x), err
}

func rateOver(v [3]float64) (float64, error) {
	x, err := RateOver(unit.Volume(v[0]), unit.Area(v[1]))
	return float64(x), err
}

func courseSpeed(v [3]float64) (float64, error) {
	x, err := CourseSpeed(unit.Length(v[0]), unit.Time(v[1]))
	return float64(x), err
}

func speedFor(v [3]float64) (float64, error) {
	x, err := SpeedFor(unit.Flow(v[0]), unit.VolumePerArea(v[1]), unit.Length(v[2]))
	return float64(x), err
}

func widthFor(v [3]float64) (float64, error) {
	x, err := WidthFor(unit.Flow(v[0]), unit.VolumePerArea(v[1]), unit.Speed(v[2]))
	return float64(x), err
}

func net(v [3]float64) (float64, error) {
	x, err := NetOf(unit.Mass(v[0]), unit.Mass(v[1]))
	return float64(x), err
}
