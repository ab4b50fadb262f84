package engine

import "tankside/engine/unit"

// NetOf returns what is in the tank on the scale.
//
//	net_weight = gross_weight − tare_weight
//
// gross above zero, tare zero or more.
//
// Fails with NotPositive (of the net weight when the empty tank weighs as much as
// the full one) or Absurd. Source: ISU-TANK03. Worked example:
// testdata/worked/weight.txt.
func NetOf(gross, tare unit.Mass) (unit.Mass, error) {
	if err := positive(in{GrossWeight, float64(gross)}); err != nil {
		return 0, err
	}
	if err := notNegative(in{TareWeight, float64(tare)}); err != nil {
		return 0, err
	}
	if tare >= gross {
		return 0, &Problem{Code: NotPositive, Slot: NetWeight, Value: float64(gross - tare)}
	}
	return gross - tare, nil
}

// VolumeOf returns the volume of a weight of slurry.
//
//	load_volume = net_weight ÷ density
//
// m is the slurry, d what it weighs. Both above zero.
//
// Fails with NotPositive or Absurd. Source: ISU-TANK03. Worked example:
// testdata/worked/computed.txt.
func VolumeOf(m unit.Mass, d unit.MassPerVolume) (unit.Volume, error) {
	if err := positive(in{NetWeight, float64(m)}, in{Density, float64(d)}); err != nil {
		return 0, err
	}
	return finite(LoadVolume, unit.Volume(float64(m)/float64(d)*1000))
}

// WeightOf returns the weight of a volume of slurry.
//
//	net_weight = load_volume × density
//
// Arguments as in VolumeOf, its inverse.
//
// Fails with NotPositive or Absurd. Source: NCSU-CONV (tons = gallons × 0.0042).
// Worked example: testdata/worked/weight.txt.
func WeightOf(v unit.Volume, d unit.MassPerVolume) (unit.Mass, error) {
	if err := positive(in{LoadVolume, float64(v)}, in{Density, float64(d)}); err != nil {
		return 0, err
	}
	return finite(NetWeight, unit.Mass(float64(v)*float64(d)/1000))
}
