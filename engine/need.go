package engine

import "tankside/engine/unit"

// RateForNeed returns the rate that brings a wanted amount of a nutrient.
//
//	application_rate = target_n ÷ available lb per 1,000 gal × 1,000
//
// target is what the crop is to get, a what the slurry brings that counts. Both
// above zero. Inverse of NutrientOn.
//
// Fails with NotPositive or Absurd. Source: WAC173, UMN-AVAIL. Worked example:
// testdata/worked/need.txt.
func RateForNeed(target unit.MassPerArea, a unit.MassPerVolume) (unit.VolumePerArea, error) {
	if err := positive(in{TargetN, float64(target)}, in{AnalysisTotalN, float64(a)}); err != nil {
		return 0, err
	}
	return finite(ApplicationRate, unit.VolumePerArea(float64(target)/float64(a)*1000))
}
