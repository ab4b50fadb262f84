package engine

import (
	"math"

	"tankside/engine/unit"
)

// LoadsFor returns the loads that a field takes, not rounded.
//
//	loads = total_volume ÷ load_volume
//
// total is the field's slurry, v one load. Both above zero.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func LoadsFor(total, v unit.Volume) (float64, error) {
	if err := positive(in{TotalVolume, float64(total)}, in{LoadVolume, float64(v)}); err != nil {
		return 0, err
	}
	return finite(Loads, float64(total)/float64(v))
}

// LoadsOver returns the loads that a field takes where each covers as much ground, not
// rounded.
//
//	loads = area ÷ area_per_load
//
// field and one are both above zero.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func LoadsOver(field, one unit.Area) (float64, error) {
	if err := positive(in{Area, float64(field)}, in{AreaPerLoad, float64(one)}); err != nil {
		return 0, err
	}
	return finite(Loads, float64(field)/float64(one))
}

// WholeLoads splits a number of loads into whole ones and the part that is left.
//
//	full_loads = loads rounded down; part = loads − full_loads
//
// n is above zero. A number that is whole but for rounding is whole: ten loads
// stay ten.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func WholeLoads(n float64) (full float64, part unit.Fraction, err error) {
	if err := positive(in{Loads, n}); err != nil {
		return 0, 0, err
	}
	if full = wholeDown(n); n-full <= snap*math.Max(1, n) {
		return full, 0, nil // 30.000000000000004 loads are thirty
	}
	return full, unit.Fraction(n - full), nil
}
