package engine

import "tankside/engine/unit"

// CostPerArea returns what a material costs on the ground.
//
//	seed_cost = seed_rate × seed_price
//
// r is what goes on, zero or more; p its price, zero or more.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func CostPerArea(r unit.MassPerArea, p unit.MoneyPerMass) (unit.MoneyPerArea, error) {
	if err := notNegative(in{SeedRate, float64(r)}, in{SeedPrice, float64(p)}); err != nil {
		return 0, err
	}
	return finite(SeedCost, unit.MoneyPerArea(float64(r)*float64(p)))
}

// HourlyPerArea returns what work paid by the hour costs on the ground.
//
//	custom_cost ÷ area_per_hour
//
// p is the price of an hour, zero or more; a the ground done in it, above 0.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func HourlyPerArea(p unit.MoneyPerTime, a unit.AreaPerTime) (unit.MoneyPerArea, error) {
	if err := notNegative(in{CustomCost, float64(p)}); err != nil {
		return 0, err
	}
	if err := positive(in{AreaPerHour, float64(a)}); err != nil {
		return 0, err
	}
	return finite(CustomCost, unit.MoneyPerArea(float64(p)/float64(a)))
}

// LoadPerArea returns what work paid by the load costs on the ground.
//
//	custom_cost ÷ area_per_load
//
// p is the price of a load, zero or more; a the ground it covers, above 0.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func LoadPerArea(p unit.Money, a unit.Area) (unit.MoneyPerArea, error) {
	if err := notNegative(in{CustomCost, float64(p)}); err != nil {
		return 0, err
	}
	if err := positive(in{AreaPerLoad, float64(a)}); err != nil {
		return 0, err
	}
	return finite(CustomCost, unit.MoneyPerArea(float64(p)/float64(a)))
}

// HaulPerArea returns what work paid by the volume costs on the ground.
//
//	custom_cost × application_rate ÷ 1000
//
// p is the price of 1,000 gallons, zero or more; r the slurry that goes on, above 0.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func HaulPerArea(p unit.MoneyPerVol, r unit.VolumePerArea) (unit.MoneyPerArea, error) {
	if err := notNegative(in{CustomCost, float64(p)}); err != nil {
		return 0, err
	}
	if err := positive(in{ApplicationRate, float64(r)}); err != nil {
		return 0, err
	}
	return finite(CustomCost, unit.MoneyPerArea(float64(p)*float64(r)/1000))
}

// ValuePerVolume returns what a nutrient in slurry is worth.
//
//	analysis × price
//
// a is the nutrient in the slurry, p its price as fertilizer, both zero or more.
//
// Fails with NotPositive or Absurd. Source: UWEX-VALUE. Worked example:
// testdata/worked/value.txt.
func ValuePerVolume(a unit.MassPerVolume, p unit.MoneyPerMass) (unit.MoneyPerVol, error) {
	if err := notNegative(in{AnalysisTotalN, float64(a)}, in{NPrice, float64(p)}); err != nil {
		return 0, err
	}
	return finite(NutrientValuePerVolume, unit.MoneyPerVol(float64(a)*float64(p)))
}

// PriceOfNutrient returns the price of a nutrient from that of a fertilizer.
//
//	price ÷ share
//
// p is the fertilizer's price, share the part of it that is the nutrient, above 0
// and at most 1. A fertilizer with two nutrients needs the other one taken out
// first, and sources differ in how.
//
// Fails with NotPositive or Absurd. Source: UNL-VALUE. Worked example:
// testdata/worked/value.txt.
func PriceOfNutrient(p unit.MoneyPerMass, share unit.Fraction) (unit.MoneyPerMass, error) {
	if err := positive(in{NPrice, float64(p)}, in{NPrice, float64(share)}); err != nil {
		return 0, err
	}
	if share > 1 {
		return 0, &Problem{Code: Absurd, Slot: NPrice, Value: float64(share), Limit: 1}
	}
	return finite(NPrice, unit.MoneyPerMass(float64(p)/float64(share)))
}
