package engine

import "tankside/engine/unit"

// inchesPerFoot turns the base unit of length into the acre-inch's.
const inchesPerFoot = 12

// DepthOf returns the depth of liquid that a rate amounts to.
//
//	depth = application_rate ÷ 27,154.29 gallons an acre-inch
//
// r is the slurry on the ground, above zero.
//
// Fails with NotPositive or Absurd. Source: NCSU-CONV (27,154). Worked example:
// testdata/worked/depth.txt.
func DepthOf(r unit.VolumePerArea) (unit.Length, error) {
	if err := positive(in{ApplicationRate, float64(r)}); err != nil {
		return 0, err
	}
	return finite(Depth, unit.Length(float64(r)/unit.GallonsPerAcreInch/inchesPerFoot))
}

// RateOfDepth returns the rate that a depth of liquid amounts to.
//
//	application_rate = depth × 27,154.29
//
// d is the depth, above zero. Inverse of DepthOf.
//
// Fails with NotPositive or Absurd. Source: NCSU-CONV. Worked example:
// testdata/worked/depth.txt.
func RateOfDepth(d unit.Length) (unit.VolumePerArea, error) {
	if err := positive(in{Depth, float64(d)}); err != nil {
		return 0, err
	}
	return finite(ApplicationRate, unit.VolumePerArea(float64(d)*inchesPerFoot*unit.GallonsPerAcreInch))
}
