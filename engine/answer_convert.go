package engine

import "tankside/engine/unit"

var (
	byFactor = &Formula{"exact factors", "EXACT"}
	byBushel = &Formula{"bushels × test weight", "USDA-BU"}
)

// answerConvert turns the first value said into the unit asked for. The result is
// in base units of what that unit measures; Unit is the unit itself.
func answerConvert(w *work, _ int) {
	i := w.toConvert()
	if i < 0 {
		w.fail(&Problem{Code: WhatValue, Slot: Converted})
		return
	}
	w.used[i] = true
	to := w.c.Convert
	if to == nil {
		w.fail(&Problem{Code: WhatUnit, Slot: w.facts[i].Slot})
		return
	}
	f := &w.facts[i]
	v, by, err := w.converted(f, w.at(i), to)
	if w.fail(err) {
		return
	}
	b := to.ToBase(v)
	w.add(Value{Slot: Converted, Of: f.Of, Min: b, Max: b, Unit: to, By: by})
}

// toConvert is the first fact said, or the first there is.
func (w *work) toConvert() int {
	for i := range w.facts {
		if w.facts[i].Origin == Said && w.facts[i].Unit != nil {
			return i
		}
	}
	if len(w.facts) > 0 && w.facts[0].Unit != nil {
		return 0
	}
	return -1
}

// converted turns base units b of fact f into the unit to. Bushels of seed go by
// the crop's test weight, both ways; lab values said by weight by density.
func (w *work) converted(f *Fact, b float64, to *unit.Unit) (float64, *Formula, error) {
	c := CropNamed(f.Of)
	if inBushels(f) || to.Symbol == "bu" || to.Symbol == "bu/acre" {
		if c != nil && c.Bushel > 0 {
			return w.bushels(f, c, b, to)
		}
		if f.Slot.Dim() != unit.DimVolume && !(inBushels(f) && f.Unit == to) {
			return 0, nil, &Problem{Code: CropNeeded, Slot: f.Slot}
		}
	}
	from := f.Unit
	if needsDensity(f) {
		w.density()
		from = analysis
	}
	v, err := Convert(from.FromBase(b), from, to)
	return v, byFactor, err
}

func (w *work) bushels(f *Fact, c *Crop, b float64, to *unit.Unit) (float64, *Formula, error) {
	w.crop(c.Name)
	w.note(Note{ID: "test_weight", Level: Advice, Of: c.Name, Slot: TotalSeed, Value: c.Bushel, Source: c.TestWeight.Source})
	from := pound
	if f.Slot.Dim() == unit.DimMassPerArea {
		from = lbAcre
	}
	if !inBushels(f) {
		return b / c.Bushel, byBushel, sameDim(from, to, to.Symbol == "bu" && from == pound || to.Symbol == "bu/acre" && from == lbAcre)
	}
	v, err := Convert(b, from, to)
	return v, byBushel, err
}

func sameDim(from, to *unit.Unit, ok bool) error {
	if ok {
		return nil
	}
	return &Problem{Code: CannotConvert, Slot: Converted, Words: []string{from.Symbol, to.Symbol}}
}
