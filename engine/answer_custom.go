package engine

import "tankside/engine/unit"

var (
	byCustom      = &Formula{"cost of the work ÷ ground", "EXACT"}
	byCustomField = &Formula{"area × custom_cost", "EXACT"}
	byTotalCost   = &Formula{"seed_cost + custom_cost", "EXACT"}
	byFieldAll    = &Formula{"area × total_cost", "EXACT"}
)

// customCost puts what the work costs: the sum of all that was said, by the area and for
// the field. What an hour, a load or a volume covers is asked for where it is not known.
func (w *work) customCost() {
	perArea, complete := 0.0, true
	for i := range w.facts {
		if w.facts[i].Slot != CustomCost {
			continue
		}
		missing := len(w.out.Missing)
		cost, ok := w.workPerArea(i)
		if !ok && w.facts[i].Origin != Said && !w.focused(CustomCost, TotalCost) {
			w.out.Missing, w.out.MissingOf = w.out.Missing[:missing], w.out.MissingOf[:missing] // only remembered: the seed was asked about
		}
		w.used[i] = w.used[i] || ok || w.facts[i].Origin == Said || len(w.out.Missing) > missing
		complete = complete && ok
		perArea += float64(cost)
	}
	if !complete {
		return
	}
	w.put(CustomCost, "", perArea, byCustom)
	if a, ok := w.said(Area, ""); ok {
		w.put(TotalCustomCost, "", perArea*a, byCustomField)
	}
}

// workPerArea is one price of the work by the area, whatever it was said by.
func (w *work) workPerArea(i int) (cost unit.MoneyPerArea, ok bool) {
	var err error
	switch p, u := w.at(i), w.facts[i].Unit; {
	case u == nil || u.Dim == unit.DimMoneyPerArea:
		return unit.MoneyPerArea(p), true
	case u.Dim == unit.DimMoneyPerTime:
		a, known := w.areaEachHour()
		if !known {
			w.miss(AreaPerHour, "")
			return 0, false
		}
		cost, err = HourlyPerArea(unit.MoneyPerTime(p), a)
	case u.Dim == unit.DimMoneyPerVolume:
		r, known := w.get(ApplicationRate)
		if !known {
			w.miss(ApplicationRate, "")
			return 0, false
		}
		cost, err = HaulPerArea(unit.MoneyPerVol(p), unit.VolumePerArea(r))
	default:
		a, known := w.groundOfLoad()
		if !known {
			w.readWay(&mixWay)
			return 0, false
		}
		cost, err = LoadPerArea(unit.Money(p), a)
	}
	return cost, !w.fail(err)
}

// areaEachHour is the ground done in an hour: said, or from the pace and what a load
// covers.
func (w *work) areaEachHour() (unit.AreaPerTime, bool) {
	if v, ok := w.said(AreaPerHour, ""); ok {
		return unit.AreaPerTime(v), true
	}
	cycle, ok := w.said(CycleTime, "")
	if pace, paced := w.said(LoadsPerHour, ""); !ok && paced && pace > 0 {
		cycle, ok = 60/pace, true
	}
	if !ok {
		return 0, false
	}
	a, ok := w.groundOfLoad()
	if !ok {
		return 0, false
	}
	done, err := AreaEachHour(a, unit.Time(cycle))
	if w.fail(err) {
		return 0, false
	}
	w.put(AreaPerHour, "", float64(done), byAreaHour)
	return done, true
}

// totalCost puts seed and work together, by the area and for the field, where both are
// known; where all of it is asked for, one of them may be all there is.
func (w *work) totalCost(priced bool) {
	seed, hasSeed := w.result(SeedCost)
	if !hasSeed {
		seed, hasSeed = w.said(SeedCost, "")
	}
	custom, hasCustom := w.result(CustomCost)
	asked := w.focused(TotalCost)
	if asked && !priced && w.facts.First(SeedRate) != nil {
		w.readCrops(someSeed)
		w.miss(SeedPrice, w.onlyCrop())
	}
	if asked && w.facts.First(CustomCost) == nil && !priced {
		w.miss(CustomCost, "")
	}
	if len(w.out.Missing) > 0 || !hasSeed && !hasCustom || !asked && !(hasSeed && hasCustom) {
		return
	}
	w.put(TotalCost, "", seed+custom, byTotalCost)
	if a, ok := w.said(Area, ""); ok {
		w.put(TotalFieldCost, "", (seed+custom)*a, byFieldAll)
	}
}

// result is a result that is there already.
func (w *work) result(s Slot) (float64, bool) {
	for i := range w.out.Results {
		if r := &w.out.Results[i]; r.Slot == s && !r.Limit {
			return r.Min, true
		}
	}
	return 0, false
}
