package engine

import (
	"slices"

	"tankside/engine/unit"
)

// nutrientLimit is a nutrient that a rule or plan caps: nitrogen by all that is in the
// slurry, as farm caps count it, phosphorus by the phosphate.
type nutrientLimit struct {
	limit, lab, ground Slot
	by                 *Formula
}

var nutrientLimits = [...]nutrientLimit{
	{LimitN, AnalysisTotalN, TotalN, &Formula{"limit_n ÷ analysis_total_n × 1000", "WAC173"}},
	{LimitPhosphate, AnalysisPhosphate, Phosphate, &Formula{"limit_phosphate ÷ analysis_phosphate × 1000", "WAC173"}},
}

// judged says whether a yes or no about this quantity is asked for by name.
func (w *work) judged(slots ...Slot) bool {
	return slices.ContainsFunc(w.c.Focus, func(s Slot) bool { return slices.Contains(slots, s) })
}

// allowed is the highest rate that the chat's nutrient limits allow.
func (w *work) allowed() (rate unit.VolumePerArea, by *Formula, ok bool) {
	for i := range nutrientLimits {
		l := &nutrientLimits[i]
		most, capped := w.get(l.limit)
		a, tested := w.lab(l.lab)
		if !capped || !tested || a <= 0 {
			continue
		}
		r, err := RateForNeed(unit.MassPerArea(most), a)
		if w.fail(err) {
			return 0, nil, false
		}
		if !ok || r < rate {
			rate, by, ok = r, l.by, true
		}
	}
	return rate, by, ok
}

// underLimits holds what a rate brings against the nutrient limits. What is over one is
// always said; what is within it where that was asked, or the limit has just been said.
func (w *work) underLimits(r unit.VolumePerArea) {
	told := false
	for i := range nutrientLimits {
		l := &nutrientLimits[i]
		if !w.has(l.limit) {
			continue
		}
		a, ok := w.lab(l.lab)
		if !ok {
			if w.judged(l.limit) {
				w.miss(l.lab, "")
			}
			continue
		}
		most, _ := w.get(l.limit)
		on, err := NutrientOn(a, r)
		if r <= 0 || w.fail(err) {
			continue
		}
		n := Note{ID: "nutrient_within_limit", Level: Advice, Slot: l.ground, Value: float64(on), Limit: most, Rest: most - float64(on), Unit: w.unitSaid(l.limit)}
		if over := float64(on) > most*(1+snap); over {
			n.ID, n.Level, n.Rest = "nutrient_over_limit", Caution, -n.Rest
		} else if !w.judged(LimitN, LimitPhosphate) && !w.justSaid(l.limit) {
			continue
		}
		w.note(n)
		told = true
	}
	if rate, by, ok := w.allowed(); told && ok {
		w.bound(ApplicationRate, float64(rate), by)
	}
}

// atLimit answers the highest rate that the limits allow, and what that brings.
func (w *work) atLimit() {
	for i := range nutrientLimits {
		l := &nutrientLimits[i]
		if _, ok := w.lab(l.lab); !ok && w.has(l.limit) {
			w.miss(l.lab, "")
		}
	}
	if rate, by, ok := w.allowed(); ok {
		w.bound(ApplicationRate, float64(rate), by)
		w.nutrients(rate)
	}
}

// forTargets says whether a rate brings what the crop is to get, where that is asked.
func (w *work) forTargets(r unit.VolumePerArea) {
	if !w.judged(TargetN, TargetPhosphate) || r <= 0 {
		return
	}
	need, wantsN := w.said(TargetN, "")
	p, wantsP := w.get(TargetPhosphate)
	if !wantsN && !wantsP {
		w.miss(w.c.Focus[0], "")
		return
	}
	if wantsN {
		w.enoughN(r, need)
	}
	if a, ok := w.lab(AnalysisPhosphate); wantsP && ok {
		w.enough(Phosphate, TargetPhosphate, a, r, p)
	}
}

// enoughN holds nitrogen against what is wanted. All of it may be too little, but that it is
// enough takes what counts in the first year: how it is placed is asked for where that is
// all that lacks.
func (w *work) enoughN(r unit.VolumePerArea, need float64) {
	_, _, told := w.howOn()
	all, ok := w.lab(AnalysisTotalN)
	on, err := NutrientOn(all, r)
	if w.fail(err) {
		return
	}
	if ok && !told && !w.is(AnalysisAvailableN) && w.has(AnalysisAmmoniumN) && float64(on) >= need {
		w.miss(Duration, "incorporation")
		return
	}
	counts, _, _, ok := w.nitrogenBasis()
	_, _, _, known := w.available()
	switch {
	case !ok:
		w.miss(AnalysisTotalN, "")
	case known || w.is(AnalysisAvailableN):
		w.enough(AvailableN, TargetN, counts, r, need)
	case float64(on) < need:
		w.enough(TotalN, TargetN, counts, r, need)
	default:
		w.note(Note{ID: "nutrient_maybe", Level: Advice, Slot: TotalN, Value: float64(on), Limit: need, Rest: float64(on) - need, Unit: w.unitSaid(TargetN)})
	}
}

// enough notes what a rate brings of a nutrient beside what is wanted of it.
func (w *work) enough(ground, target Slot, a unit.MassPerVolume, r unit.VolumePerArea, wanted float64) {
	on, err := NutrientOn(a, r)
	if w.fail(err) {
		return
	}
	n := Note{ID: "nutrient_enough", Level: Advice, Slot: ground, Value: float64(on), Limit: wanted, Rest: float64(on) - wanted, Unit: w.unitSaid(target)}
	if float64(on) < wanted*(1-snap) {
		n.ID, n.Rest = "nutrient_short", -n.Rest
	}
	w.note(n)
}

// unitSaid is the unit that a quantity was said in; nil: the chat's.
func (w *work) unitSaid(s Slot) *unit.Unit {
	if f := w.facts.Find(s, ""); f != nil {
		return shown(f)
	}
	return nil
}

// justSaid says whether a quantity stands in this message.
func (w *work) justSaid(s Slot) bool {
	f := w.facts.Find(s, "")
	if s == LimitPhosphate && f == nil {
		f = w.facts.Find(LimitPhosphorus, "")
	}
	return f != nil && f.Origin == Said
}
