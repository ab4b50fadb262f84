package engine

import "tankside/engine/unit"

// labSlots are the lab's values, in the order of the nutrients they bring.
var labSlots = [...]Slot{AnalysisTotalN, AnalysisAmmoniumN, AnalysisOrganicN, AnalysisPhosphate, AnalysisPotash}

// labSaid are all the values that a sheet can say: those, what counts in the first year,
// and P and K by the element.
var labSaid = append(labSlots[:len(labSlots):len(labSlots)], AnalysisAvailableN, AnalysisPhosphorus, AnalysisPotassium)

// elementOf is the element that a lab value of an oxide follows from, where it was not said.
var elementOf = map[Slot]Slot{AnalysisPhosphate: AnalysisPhosphorus, AnalysisPotash: AnalysisPotassium}

// onGround and inLoad are what each lab value comes to, in the same order.
var (
	onGround = [...]Slot{TotalN, AmmoniumN, OrganicN, Phosphate, Potash}
	inLoad   = [...]Slot{TotalNPerLoad, AmmoniumNPerLoad, OrganicNPerLoad, PhosphatePerLoad, PotashPerLoad}

	byGround = [...]*Formula{brings("analysis_total_n"), brings("analysis_ammonium_n"), brings("analysis_organic_n"),
		brings("analysis_phosphate"), brings("analysis_potash")}
	byLoaded = [...]*Formula{holds("analysis_total_n"), holds("analysis_ammonium_n"), holds("analysis_organic_n"),
		holds("analysis_phosphate"), holds("analysis_potash")}

	byNeedSaid = &Formula{"target_n ÷ analysis_available_n × 1000", "EXACT"}
	byNeedN    = &Formula{"target_n ÷ available nitrogen × 1000", "UMN-AVAIL"}
	byNeedAll  = &Formula{"target_n ÷ analysis_total_n × 1000", "WAC173"}
	byNeedP    = &Formula{"target_phosphate ÷ analysis_phosphate × 1000", "WAC173"}
)

func brings(lab string) *Formula { return &Formula{lab + " × application_rate ÷ 1000", "UMN-AVAIL"} }
func holds(lab string) *Formula  { return &Formula{lab + " × load_volume ÷ 1000", "EXACT"} }

// byAvailable is how first-year nitrogen was come by, per scheme's source.
var byAvailable = func() map[string]*Formula {
	m := make(map[string]*Formula)
	for _, s := range shares {
		expr := "analysis_ammonium_n × kept share + analysis_organic_n × mineralised share, × application_rate ÷ 1000"
		if s.Whole {
			expr = "analysis_total_n × available share × application_rate ÷ 1000"
		}
		m[s.scheme] = &Formula{expr, s.Source}
	}
	return m
}()

var byOwnShares = &Formula{"analysis_ammonium_n × kept share + analysis_organic_n × mineralised share, × application_rate ÷ 1000", "PRACTICE"}

// tested says whether any lab value was given.
func (w *work) tested() bool { return w.anyOf(labSaid) }

func (w *work) anyOf(slots []Slot) bool {
	for _, s := range slots {
		if w.find(s, "") >= 0 {
			return true
		}
	}
	return false
}

// typical is the chat's kind of manure, to stand in where there is no test.
func (w *work) typical() *Manure { return ManureNamed(w.c.Manure) }

// lab is a lab value, or the typical one, assumed and marked, when there is no
// test at all. Typical and tested values are not mixed.
func (w *work) lab(s Slot) (unit.MassPerVolume, bool) {
	if w.tested() {
		if !w.has(s) {
			return 0, false
		}
		v, ok := w.get(s)
		f := w.facts.Find(s, "")
		if e, ok := elementOf[s]; f == nil && ok {
			f = w.facts.Find(e, "")
		}
		if f != nil && needsDensity(f) {
			w.density()
		}
		return unit.MassPerVolume(v), ok
	}
	m := w.typical()
	if m == nil {
		return 0, false
	}
	v, ok := m.of(s)
	if ok {
		w.assume(s, float64(v), analysis)
		w.note(Note{ID: "typical_analysis", Level: Caution, Source: m.Source})
	}
	return v, ok
}

// of is one typical value.
func (m *Manure) of(s Slot) (unit.MassPerVolume, bool) {
	switch s {
	case AnalysisTotalN:
		return m.TotalN, true
	case AnalysisAmmoniumN:
		return m.Ammonium, true
	case AnalysisOrganicN:
		return m.TotalN - m.Ammonium, true
	case AnalysisPhosphate:
		return m.Phosphate, true
	case AnalysisPotash:
		return m.Potash, true
	}
	return 0, false
}

// density is what slurry weighs: said, or the stated default.
func (w *work) density() unit.MassPerVolume {
	if v, ok := w.said(Density, ""); ok {
		return unit.MassPerVolume(v)
	}
	return unit.MassPerVolume(w.assume(Density, float64(DefaultDensity)/1000, poundsPerGallon))
}

var poundsPerGallon = unit.Must("lb/gal")

// answerNutrients answers what a rate brings, and a load holds.
func answerNutrients(w *work, way int) {
	if way == 1 {
		w.nutrients(0)
		return
	}
	r, _ := w.get(ApplicationRate)
	w.nutrients(unit.VolumePerArea(r))
	w.underLimits(unit.VolumePerArea(r))
	w.forTargets(unit.VolumePerArea(r))
}

// nutrients puts each nutrient on the ground, unless r is zero, and in the load, and the
// nitrogen that counts.
func (w *work) nutrients(r unit.VolumePerArea) {
	load, loaded := w.loadKnown()
	for i, s := range labSlots {
		a, ok := w.lab(s)
		if !ok {
			continue
		}
		if v, err := NutrientOn(a, r); r > 0 && !w.fail(err) {
			w.put(onGround[i], "", float64(v), byGround[i])
		}
		if m, err := NutrientIn(a, load); loaded && !w.fail(err) {
			w.put(inLoad[i], "", float64(m), byLoaded[i])
		}
	}
	lo, hi, by, ok := w.available()
	if !ok {
		return
	}
	if r > 0 {
		w.between(AvailableN, lo, hi, float64(r)/1000, by)
	}
	if loaded {
		w.between(AvailableNPerLoad, lo, hi, float64(load)/1000, by)
	}
}

func (w *work) between(s Slot, lo, hi unit.MassPerVolume, times float64, by *Formula) {
	w.add(Value{Slot: s, Min: float64(lo) * times, Max: float64(hi) * times, By: by})
}

// available is the nitrogen that counts in the first year, in the slurry. It is a
// range for slots: nobody has published whether liquid over tine slots is worked
// in, so both rows are shown.
func (w *work) available() (lo, hi unit.MassPerVolume, by *Formula, ok bool) {
	method, hours, ok := w.howOn()
	if !ok {
		return 0, 0, nil, false
	}
	if method != MethodSlots {
		lo, by, ok = w.availableBy(method, hours)
		return lo, lo, by, ok
	}
	lo, _, ok1 := w.availableBy(MethodSurface, 0)
	hi, by, ok2 := w.availableBy(MethodIncorporated, slotHours)
	return lo, hi, by, ok1 && ok2
}

// slotHours: liquid in slots is at best as good as worked in within half a day.
const slotHours = 12

// howOn is the method and the hours until it is worked in. Hours alone say that
// it is worked in.
func (w *work) howOn() (method string, hours float64, ok bool) {
	method = w.c.Method
	minutes, timed := w.said(Duration, "incorporation")
	if !timed {
		minutes, timed = w.said(ApplicationTime, "")
	}
	if h := w.c.WorkedIn; !timed && h > 0 && method != MethodSurface {
		minutes, timed = h*60, true
		w.out.Assumed = append(w.out.Assumed, Fact{Slot: Duration, Of: "incorporation", Min: h, Max: h, Unit: unit.Must("h"), Origin: Assumed})
	}
	if method == "" && timed {
		method = MethodIncorporated
	}
	return method, minutes / 60, method != "" && (method != MethodIncorporated || timed)
}

func (w *work) availableBy(method string, hours float64) (unit.MassPerVolume, *Formula, bool) {
	scheme, class := w.c.Scheme, ""
	if scheme == "" {
		scheme = DefaultScheme
	}
	if m := w.typical(); m != nil {
		class = m.Class
	}
	s, ok := SharesFor(scheme, class, method, hours)
	if !ok {
		id := "no_share"
		if class == "" && goesByKind(scheme) {
			id = "kind_needed"
		}
		w.note(Note{ID: id, Level: Caution, Of: scheme})
		return 0, nil, false
	}
	total, ok1 := w.lab(AnalysisTotalN)
	ammonium, ok2 := w.lab(AnalysisAmmoniumN)
	organic, ok3 := w.lab(AnalysisOrganicN)
	if s.Whole && !ok1 || !s.Whole && !(ok2 && ok3) {
		return 0, nil, false
	}
	v, err := AvailableIn(total, ammonium, organic, s)
	if w.fail(err) {
		return 0, nil, false
	}
	w.note(Note{ID: "availability_scheme", Level: Advice, Of: scheme, Source: s.Source})
	by := byAvailable[scheme]
	if by == nil {
		by = byOwnShares
	}
	return v, by, true
}

// answerNeed answers the rate for a target, and all that this rate brings.
func answerNeed(w *work, way int) {
	p, wantsP := w.get(TargetPhosphate)
	n, wantsN := w.said(TargetN, "")
	if !wantsN && !wantsP {
		w.atLimit()
		return
	}
	if !wantsN {
		if r, ok := w.rateForPhosphate(p); ok {
			w.put(ApplicationRate, "", float64(r), byNeedP)
			w.nutrients(r)
			w.underLimits(r)
		}
		return
	}
	lo, hi, by, ok := w.nitrogenBasis()
	if !ok {
		w.miss(AnalysisTotalN, "")
		return
	}
	slow, err := RateForNeed(unit.MassPerArea(n), hi)
	if w.fail(err) {
		return
	}
	fast, err := RateForNeed(unit.MassPerArea(n), lo)
	if w.fail(err) {
		return
	}
	w.add(Value{Slot: ApplicationRate, Min: float64(slow), Max: float64(fast), By: by})
	w.nutrients(slow)
	if wantsP {
		w.phosphateNeed(slow, p)
	}
	w.underLimits(slow)
}

// nitrogenBasis is the nitrogen that a rate is set by: what counts in the first
// year, or all of it, with a note, when how it goes on is not known.
func (w *work) nitrogenBasis() (lo, hi unit.MassPerVolume, by *Formula, ok bool) {
	if said, ok := w.lab(AnalysisAvailableN); ok {
		return said, said, byNeedSaid, true
	}
	if lo, hi, _, ok := w.available(); ok {
		return lo, hi, byNeedN, true
	}
	all, ok := w.lab(AnalysisTotalN)
	if _, _, told := w.howOn(); ok && told {
		w.note(Note{ID: "needs_ammonium", Level: Caution, Slot: TargetN})
	} else if ok {
		w.note(Note{ID: "all_nitrogen", Level: Caution, Slot: TargetN})
	}
	return all, all, byNeedAll, ok
}

func (w *work) rateForPhosphate(target float64) (unit.VolumePerArea, bool) {
	a, ok := w.lab(AnalysisPhosphate)
	if !ok {
		w.miss(AnalysisPhosphate, "")
		return 0, false
	}
	r, err := RateForNeed(unit.MassPerArea(target), a)
	return r, !w.fail(err)
}

// phosphateNeed holds the phosphate of a nitrogen rate against its own target:
// manure at a crop's nitrogen commonly brings far more.
func (w *work) phosphateNeed(r unit.VolumePerArea, target float64) {
	limit, ok := w.rateForPhosphate(target)
	if !ok || limit >= r {
		return
	}
	w.bound(ApplicationRate, float64(limit), byNeedP)
	a, _ := w.lab(AnalysisPhosphate)
	if v, err := NutrientOn(a, r); err == nil {
		w.note(Note{ID: "phosphate_over_need", Level: Caution, Slot: Phosphate, Value: float64(v), Limit: target})
	}
}
