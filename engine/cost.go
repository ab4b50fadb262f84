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
