package engine

import "tankside/engine/unit"

// Convert returns v of one unit as another.
//
//	both through the base unit, by exact factors
//
// A rate and a depth of liquid stand for each other; all else must measure the
// same thing. v is finite.
//
// Fails with CannotConvert (Words: both symbols), NotPositive (a rate or a depth
// that is not above zero) or Absurd. Source: EXACT. Worked example:
// testdata/worked/units.txt.
func Convert(v float64, from, to *unit.Unit) (float64, error) {
	if from == nil || to == nil {
		return 0, &Problem{Code: WhatUnit, Slot: Converted}
	}
	b := from.ToBase(v)
	var err error
	switch {
	case from.Dim == to.Dim:
	case from.Dim == unit.DimVolumePerArea && to.Dim == unit.DimLength:
		var d unit.Length
		d, err = DepthOf(unit.VolumePerArea(b))
		b = float64(d)
	case from.Dim == unit.DimLength && to.Dim == unit.DimVolumePerArea:
		var r unit.VolumePerArea
		r, err = RateOfDepth(unit.Length(b))
		b = float64(r)
	default:
		err = &Problem{Code: CannotConvert, Slot: Converted, Words: []string{from.Symbol, to.Symbol}}
	}
	if err != nil {
		return 0, err
	}
	return finite(Converted, to.FromBase(b))
}
