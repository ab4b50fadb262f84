package engine

import "tankside/engine/unit"

// AreaOfLoad returns the ground that one load covers.
//
//	area_per_load = load_volume ÷ application_rate
//
// v is what this load puts out (not the brim of the tank), r the slurry wanted on
// the ground. Both above zero.
//
// Fails with NotPositive or Absurd, naming the slot.
// Source: EXACT, and WAC173 for the same relation as a travel length. Worked
// example: testdata/worked/travel.txt.
func AreaOfLoad(v unit.Volume, r unit.VolumePerArea) (unit.Area, error) {
	if err := positive(in{LoadVolume, float64(v)}, in{ApplicationRate, float64(r)}); err != nil {
		return 0, err
	}
	return finite(AreaPerLoad, unit.Area(float64(v)/float64(r)))
}

// VolumeForArea returns the slurry that an area takes.
//
//	total_volume = area × application_rate
//
// a is the field or strip, r the slurry on it. Both above zero. Its inverse in
// a is AreaOfLoad.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example:
// testdata/worked/depth.txt (half an inch on a gun circle).
func VolumeForArea(a unit.Area, r unit.VolumePerArea) (unit.Volume, error) {
	if err := positive(in{Area, float64(a)}, in{ApplicationRate, float64(r)}); err != nil {
		return 0, err
	}
	return finite(TotalVolume, unit.Volume(float64(a)*float64(r)))
}

// PartOfTank returns what a part-filled tank holds.
//
//	load_volume = tank_volume × load_fraction
//
// v is the tank as filled, f the part of it, above 0 and at most 1.
//
// Fails with NotPositive, Absurd, or OverFull when f is above 1.
// Source: ISU-CAL99 (a 3,000 gallon tank at 90 % holds 2,700). Worked example:
// testdata/worked/tank.txt.
func PartOfTank(v unit.Volume, f unit.Fraction) (unit.Volume, error) {
	if err := positive(in{TankVolume, float64(v)}, in{LoadFraction, float64(f)}); err != nil {
		return 0, err
	}
	if f > 1+snap {
		return 0, &Problem{Code: OverFull, Slot: LoadFraction, Value: float64(f), Limit: 1}
	}
	return finite(LoadVolume, unit.Volume(float64(v)*float64(f)))
}

// FreshVolume returns what a fill adds to a tank that was not drained.
//
//	load_volume = tank_volume − heel_volume
//
// v is the tank as filled, heel what stayed in it: zero or more, less than v.
// Only the fresh part needs fresh seed, or the heel is seeded twice.
//
// Fails with NotPositive or Absurd. Source: common practice, no source. Worked
// example: testdata/worked/computed.txt.
func FreshVolume(v, heel unit.Volume) (unit.Volume, error) {
	if err := positive(in{TankVolume, float64(v)}); err != nil {
		return 0, err
	}
	if err := notNegative(in{HeelVolume, float64(heel)}); err != nil {
		return 0, err
	}
	if heel >= v {
		return 0, &Problem{Code: OverFull, Slot: HeelVolume, Value: float64(heel), Limit: float64(v)}
	}
	return v - heel, nil
}

// RunOf returns how far a load lasts at a working width.
//
//	run_length = area_per_load × 43,560 ÷ width
//
// a is the ground one load covers, w the working width: pass spacing, not bar
// width. Both above zero.
//
// Fails with NotPositive or Absurd. Source: WAC173. Worked example:
// testdata/worked/travel.txt.
func RunOf(a unit.Area, w unit.Length) (unit.Length, error) {
	if err := positive(in{AreaPerLoad, float64(a)}, in{Width, float64(w)}); err != nil {
		return 0, err
	}
	return finite(RunLength, unit.Length(float64(a)*unit.SquareFeetPerAcre/float64(w)))
}

// StripArea returns the ground that one pass covers.
//
//	area = width × distance ÷ 43,560
//
// Both above zero. Its inverse in the distance is RunOf.
//
// Fails with NotPositive or Absurd. Source: UMASS-CAL. Worked example:
// testdata/worked/area.txt.
func StripArea(w, d unit.Length) (unit.Area, error) {
	if err := positive(in{Width, float64(w)}, in{Distance, float64(d)}); err != nil {
		return 0, err
	}
	return finite(Area, unit.Area(float64(w)*float64(d)/unit.SquareFeetPerAcre))
}

// RateOver returns the rate that a volume on an area amounts to.
//
//	application_rate = load_volume ÷ area
//
// Both above zero.
//
// Fails with NotPositive or Absurd. Source: UMASS-CAL. Worked example:
// testdata/worked/computed.txt.
func RateOver(v unit.Volume, a unit.Area) (unit.VolumePerArea, error) {
	if err := positive(in{LoadVolume, float64(v)}, in{Area, float64(a)}); err != nil {
		return 0, err
	}
	return finite(ApplicationRate, unit.VolumePerArea(float64(v)/float64(a)))
}
