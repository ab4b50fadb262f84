package engine

import "tankside/engine/unit"

// SeedFor returns the seed to weigh out for an area.
//
//	seed_per_load = area_per_load × seed_rate
//
// a is the ground, one load's or a field's; r the seed on it as weighed. Both
// above zero.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func SeedFor(a unit.Area, r unit.MassPerArea) (unit.Mass, error) {
	if err := positive(in{Area, float64(a)}, in{SeedRate, float64(r)}); err != nil {
		return 0, err
	}
	return finite(SeedPerLoad, unit.Mass(float64(a)*float64(r)))
}

// AreaForSeed returns the ground that a weight of seed does.
//
//	area = total_seed ÷ seed_rate
//
// Both above zero. Inverse of SeedFor.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func AreaForSeed(m unit.Mass, r unit.MassPerArea) (unit.Area, error) {
	if err := positive(in{TotalSeed, float64(m)}, in{SeedRate, float64(r)}); err != nil {
		return 0, err
	}
	return finite(Area, unit.Area(float64(m)/float64(r)))
}

// LiveShare returns the pure live seed of a lot.
//
//	pure_live_seed = purity × (germination + hard_seed)
//
// purity and germ are off the tag, above 0 and at most 1; hard is hard or dormant
// seed not counted in germ, zero or more.
//
// Fails with NotPositive or Absurd. Source: TXDOT-PLS, SWCD-PLS. Worked example:
// testdata/worked/seedlot.txt.
func LiveShare(purity, germ, hard unit.Fraction) (unit.Fraction, error) {
	if err := positive(in{Purity, float64(purity)}, in{Germination, float64(germ)}); err != nil {
		return 0, err
	}
	if err := notNegative(in{HardSeed, float64(hard)}); err != nil {
		return 0, err
	}
	switch {
	case purity > 1:
		return 0, &Problem{Code: Absurd, Slot: Purity, Value: float64(purity), Limit: 1}
	case germ+hard > 1+snap:
		return 0, &Problem{Code: Absurd, Slot: Germination, Value: float64(germ + hard), Limit: 1}
	}
	return purity * (germ + hard), nil
}

// BulkRate returns the seed to weigh out for a rate given as pure live seed.
//
//	bulk_seed_rate = seed_rate ÷ pure_live_seed
//
// r is the pure live seed wanted, live the share from LiveShare. Both above zero.
//
// Fails with NotPositive or Absurd. Source: TXDOT-PLS. Worked example:
// testdata/worked/seedlot.txt.
func BulkRate(r unit.MassPerArea, live unit.Fraction) (unit.MassPerArea, error) {
	if err := positive(in{SeedRate, float64(r)}, in{PureLiveSeed, float64(live)}); err != nil {
		return 0, err
	}
	return finite(BulkSeedRate, unit.MassPerArea(float64(r)/float64(live)))
}

// LiveRate returns the pure live seed in a rate as weighed.
//
//	seed_rate × pure_live_seed
//
// Arguments as in BulkRate, its inverse.
//
// Fails with NotPositive or Absurd. Source: SWCD-PLS, corrected (its own example
// is a slip of the pen). Worked example: testdata/worked/traps.txt.
func LiveRate(r unit.MassPerArea, live unit.Fraction) (unit.MassPerArea, error) {
	if err := positive(in{SeedRate, float64(r)}, in{PureLiveSeed, float64(live)}); err != nil {
		return 0, err
	}
	return finite(SeedRate, unit.MassPerArea(float64(r)*float64(live)))
}

// Uncoated returns the share of a coated lot that is seed.
//
//	1 − coating
//
// c is the weight that is coat, zero or more and below 1. A tag that counts the
// coat as inert matter has it in the purity already.
//
// Fails with NotPositive or Absurd. Source: from memory. Worked example:
// testdata/worked/computed.txt.
func Uncoated(c unit.Fraction) (unit.Fraction, error) {
	if err := notNegative(in{Coating, float64(c)}); err != nil {
		return 0, err
	}
	if c >= 1 {
		return 0, &Problem{Code: Absurd, Slot: Coating, Value: float64(c), Limit: 1}
	}
	return 1 - c, nil
}

// SeedsOnGround returns the seed density that a rate gives.
//
//	seeds_per_area = seed_rate × seeds_per_weight ÷ 43,560
//
// r is the seed on the ground, n the seeds in a pound. Both above zero.
//
// Fails with NotPositive or Absurd. Source: WVU5302, whose table it reproduces.
// Worked example: testdata/worked/seedcount.txt.
func SeedsOnGround(r unit.MassPerArea, n unit.CountPerMass) (unit.CountPerArea, error) {
	if err := positive(in{SeedRate, float64(r)}, in{SeedsPerWeight, float64(n)}); err != nil {
		return 0, err
	}
	return finite(SeedsPerArea, unit.CountPerArea(float64(r)*float64(n)/unit.SquareFeetPerAcre))
}

// SeedsInSlurry returns the seed density in the tank.
//
//	seeds_per_volume = seed_per_load × seeds_per_weight ÷ load_volume
//
// m is the seed in the load, n the seeds in a pound, v the load. All above zero.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func SeedsInSlurry(m unit.Mass, n unit.CountPerMass, v unit.Volume) (unit.CountPerVol, error) {
	if err := positive(in{SeedPerLoad, float64(m)}, in{SeedsPerWeight, float64(n)}, in{LoadVolume, float64(v)}); err != nil {
		return 0, err
	}
	return finite(SeedsPerVolume, unit.CountPerVol(float64(m)*float64(n)/float64(v)))
}

// SeedInSlurry returns the weight of seed in the slurry.
//
//	seed_per_volume = seed_rate ÷ application_rate × 1,000
//
// r is the seed on the ground, a the slurry on it. Both above zero. It does not
// hang on the tank: seed goes in by the gallon.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func SeedInSlurry(r unit.MassPerArea, a unit.VolumePerArea) (unit.MassPerVolume, error) {
	if err := positive(in{SeedRate, float64(r)}, in{ApplicationRate, float64(a)}); err != nil {
		return 0, err
	}
	return finite(SeedPerVolume, unit.MassPerVolume(float64(r)/float64(a)*1000))
}

// BushelWeight returns what a number of bushels weighs.
//
//	bushels × test weight
//
// bu is the bushels, bushel what one weighs. Both above zero.
//
// Fails with NotPositive or Absurd. Source: USDA-BU for the grains' weights.
// Worked example: testdata/worked/computed.txt.
func BushelWeight(bu float64, bushel unit.Mass) (unit.Mass, error) {
	if err := positive(in{TotalSeed, bu}, in{TotalSeed, float64(bushel)}); err != nil {
		return 0, err
	}
	return finite(TotalSeed, unit.Mass(bu*float64(bushel)))
}

// ShareOfRate returns a crop's rate in a mix.
//
//	full rate × seed_share
//
// full is the crop's rate when sown alone, share its part, above zero. Shares that
// add up to more than 1 are allowed.
//
// Fails with NotPositive or Absurd. Source: from memory. Worked example:
// testdata/worked/computed.txt.
func ShareOfRate(full unit.MassPerArea, share unit.Fraction) (unit.MassPerArea, error) {
	if err := positive(in{SeedRate, float64(full)}, in{SeedShare, float64(share)}); err != nil {
		return 0, err
	}
	return finite(SeedRate, unit.MassPerArea(float64(full)*float64(share)))
}

// BagsOf returns how many bags a weight of seed is, not rounded.
//
//	total_seed ÷ bag_weight
//
// m is the seed, zero or more; bag what one bag weighs, above 0.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func BagsOf(m, bag unit.Mass) (float64, error) {
	if err := notNegative(in{TotalSeed, float64(m)}); err != nil {
		return 0, err
	}
	if err := positive(in{BagWeight, float64(bag)}); err != nil {
		return 0, err
	}
	return finite(BagCount, float64(m)/float64(bag))
}
