package engine

import "tankside/engine/unit"

// The stated defaults for soaking, each shown to the operator as assumed.
const (
	DefaultPail     unit.Volume   = 5   // gallons, the pail of the trade
	DefaultPailFill unit.Fraction = 0.4 // dry seed in the pail; it swells, and water must stand over it
)

// SeedVolume returns the room that dry seed takes.
//
//	weight ÷ test weight × 9.309 gallons a bushel
//
// m is the seed, bushel what a bushel of it weighs. Both above zero.
//
// Fails with NotPositive or Absurd. Source: NCSU-CONV for the bushel, USDA-BU and
// the seed trade for the weights. Worked example: testdata/worked/tank.txt.
func SeedVolume(m, bushel unit.Mass) (unit.Volume, error) {
	if err := positive(in{SeedPerLoad, float64(m)}, in{SeedPerLoad, float64(bushel)}); err != nil {
		return 0, err
	}
	return finite(SoakWater, unit.Volume(float64(m)/float64(bushel)*unit.GallonsPerBushel))
}

// PailsFor returns the whole number of pails that hold the seed.
//
//	seed volume ÷ (pail_volume × fill), rounded up
//
// seed is its dry volume, pail one pail, fill how much of it dry seed may take,
// at most 1. All above zero.
//
// Fails with NotPositive or Absurd. Source: common practice, no source. Worked
// example: testdata/worked/computed.txt.
func PailsFor(seed, pail unit.Volume, fill unit.Fraction) (float64, error) {
	if err := positive(in{SoakWater, float64(seed)}, in{PailVolume, float64(pail)}, in{PailVolume, float64(fill)}); err != nil {
		return 0, err
	}
	n, err := finite(Pails, float64(seed)/(float64(pail)*float64(fill)))
	return wholeUp(n), err
}

// WaterFor returns the water that fills the pails up around the seed.
//
//	pails × pail_volume − seed volume
//
// n is the pails, pail one pail, seed the dry seed in them. All above zero. The
// air between the seeds takes up water too, so a little more goes in as it soaks.
//
// Fails with NotPositive or Absurd. Source: common practice, no source. Worked
// example: testdata/worked/computed.txt.
func WaterFor(n float64, pail, seed unit.Volume) (unit.Volume, error) {
	if err := positive(in{Pails, n}, in{PailVolume, float64(pail)}, in{SoakWater, float64(seed)}); err != nil {
		return 0, err
	}
	w := unit.Volume(n*float64(pail)) - seed
	if err := positive(in{SoakWater, float64(w)}); err != nil {
		return 0, err
	}
	return w, nil
}
