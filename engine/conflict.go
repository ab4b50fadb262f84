package engine

import (
	"math"
	"slices"

	"tankside/engine/unit"
)

// tolerance is how far over-determined facts may be apart: a number said rounded
// ("0.43 acres a load") is no contradiction.
const tolerance = 0.02

// identity is something that must hold when all of it was said.
type identity struct {
	gives Slot
	from  []Slot
	calc  func(v [3]float64) (float64, error)
	blame Slot // named beside gives when they disagree
}

var identities = []identity{
	{Flow, []Slot{ApplicationRate, Speed, Width}, flowFor, ApplicationRate},
	{LoadVolume, []Slot{TankVolume, LoadFraction}, partOf, LoadFraction},
	{AreaPerLoad, []Slot{LoadVolume, ApplicationRate}, areaOfLoad, ApplicationRate},
	{AreaPerLoad, []Slot{TankVolume, ApplicationRate}, areaOfLoad, ApplicationRate},
	{Flow, []Slot{LoadVolume, UnloadTime}, measuredFlow, UnloadTime},
	{Flow, []Slot{TankVolume, UnloadTime}, measuredFlow, UnloadTime},
	{BypassFlow, []Slot{PumpFlow, Flow}, less, Flow},
	{Speed, []Slot{Distance, Duration}, courseSpeed, Distance},
	{AnalysisTotalN, []Slot{AnalysisAmmoniumN, AnalysisOrganicN}, plus, AnalysisAmmoniumN},
	{NetWeight, []Slot{GrossWeight, TareWeight}, net, GrossWeight},
}

func areaOfLoad(v [3]float64) (float64, error) {
	if v[1] == 0 {
		return 0, &Problem{Code: NotPositive, Slot: ApplicationRate}
	}
	return v[0] / v[1], nil
}

// check looks over the facts before anything is answered: bounds, then
// contradictions. It reports whether an answer would rest on sand.
func (w *work) check() bool {
	for i := range w.facts {
		if f := &w.facts[i]; f.Origin == Said && w.outOfBounds(f) {
			return true
		}
	}
	return !w.about(TopicGate) && w.twiceSaid() || w.disagree() || w.overFull()
}

// about says whether a topic is among those asked. A gate question may say several
// runs, each with its own opening and flow.
func (w *work) about(t Topic) bool {
	for _, o := range w.out.Topics {
		if o == t {
			return true
		}
	}
	return false
}

// outOfBounds notes an unusual value and refuses an impossible one.
func (w *work) outOfBounds(f *Fact) bool {
	lo, hi := value(f)
	low, high, _ := Usual(f.Slot, f.Of)
	at, limit := hi, high
	if fit(f, lo) >= fit(f, hi) && lo < low {
		at, limit = lo, low
	}
	switch fits := Plausible(f); {
	case fits == Unusual && w.c.Refill && f.Slot == HeelVolume: // what is left of a load may be much
	case fits == TooFar:
		return w.fail(&Problem{Code: Absurd, Slot: f.Slot, Of: f.Of, Value: at, Limit: limit})
	case fits == NotPos:
		return w.fail(&Problem{Code: NotPositive, Slot: f.Slot, Of: f.Of, Value: at})
	case fits == Unusual:
		w.note(Note{ID: "unusual_value", Level: Caution, Slot: f.Slot, Of: f.Of, Value: at, Limit: limit, Unit: shown(f)})
	}
	return false
}

// shown is the unit to name a fact's value in: nil where its own is no unit of
// the slot's (bushels of seed, per cent of a lab sheet).
func shown(f *Fact) *unit.Unit {
	if f.Unit == nil || f.Unit.Dim != f.Slot.Dim() || inBushels(f) {
		return nil
	}
	return f.Unit
}

// twiceSaid finds one quantity said with two values.
func (w *work) twiceSaid() bool {
	for i := range w.facts {
		f := &w.facts[i]
		if f.Origin != Said || f.Slot == SampleCount || f.Slot == CropSaid || f.Slot == CustomCost {
			continue
		}
		for j := i + 1; j < len(w.facts); j++ {
			g := &w.facts[j]
			if g.Slot == f.Slot && g.Of == f.Of && g.Origin == Said && w.apart(w.at(i), w.at(j)) {
				return w.clash(f.Slot, g.Slot)
			}
		}
	}
	return false
}

// disagree finds facts that were all said and cannot all be true. Ranges are left
// out: some value in them may agree.
func (w *work) disagree() bool {
next:
	for k := range identities {
		id := &identities[k]
		got, ok := w.stated(id.gives)
		if !ok {
			continue
		}
		var v [3]float64
		for i, s := range id.from {
			if v[i], ok = w.stated(s); !ok {
				continue next
			}
		}
		if id.gives == Flow && id.from[0] == ApplicationRate && w.compares() {
			continue // "does 1900 litres a minute give me 45": whether they fit is the question
		}
		if id.from[0] == TankVolume && id.gives != LoadVolume && w.partSaid() {
			continue
		}
		want, err := id.calc(v)
		if err == nil && w.apart(got, want) {
			return w.clash(id.gives, id.blame)
		}
	}
	return false
}

// stated is a fact that the message itself gave as one value.
func (w *work) stated(s Slot) (float64, bool) {
	i := w.find(s, "")
	if i < 0 || w.facts[i].Origin != Said || w.facts[i].Range() {
		return 0, false
	}
	return w.at(i), true
}

// compares says whether a rate is to be held against the one that was said.
func (w *work) compares() bool {
	return w.about(TopicRate) && slices.Contains(w.c.Focus, PercentOff)
}

// partSaid says whether the load is something else than the full tank.
func (w *work) partSaid() bool {
	return w.find(LoadVolume, "") >= 0 || w.find(LoadFraction, "") >= 0 || w.find(HeelVolume, "") >= 0
}

// overFull refuses a load that the tank cannot hold.
func (w *work) overFull() bool {
	i, j := w.find(LoadVolume, ""), w.find(TankVolume, "")
	if i < 0 || j < 0 {
		return false
	}
	_, tank := value(&w.facts[j])
	_, load := value(&w.facts[i])
	if load <= tank*(1+tolerance) {
		return false
	}
	w.used[i], w.used[j] = true, true
	return w.fail(&Problem{Code: OverFull, Slot: LoadVolume, Value: load, Limit: tank})
}

func (w *work) apart(a, b float64) bool {
	return math.Abs(a-b) > tolerance*math.Max(math.Abs(a), math.Abs(b))
}

// clash records a contradiction. It always reports true.
func (w *work) clash(a, b Slot) bool {
	w.out.Conflict = []Slot{a, b}
	return w.fail(&Problem{Code: ConflictCode, Slot: a})
}
