package engine

import "tankside/engine/unit"

// What the elements weigh as the oxides of the trade. Atomic weights (IUPAC, from
// memory): P 30.974, K 39.098, O 15.999. Printed as 2.29 and 1.205.
const (
	phosphatePerP = (2*30.974 + 5*15.999) / (2 * 30.974)
	potashPerK    = (2*39.098 + 15.999) / (2 * 39.098)
)

// NutrientOn returns what a rate brings of a nutrient.
//
//	total_n = analysis_total_n × application_rate ÷ 1,000
//
// a is what the lab found, zero or more; r the slurry on the ground, above zero.
//
// Fails with NotPositive or Absurd. Source: UMN-AVAIL. Worked example:
// testdata/worked/nutrient.txt.
func NutrientOn(a unit.MassPerVolume, r unit.VolumePerArea) (unit.MassPerArea, error) {
	if err := notNegative(in{AnalysisTotalN, float64(a)}); err != nil {
		return 0, err
	}
	if err := positive(in{ApplicationRate, float64(r)}); err != nil {
		return 0, err
	}
	return finite(TotalN, unit.MassPerArea(float64(a)*float64(r)/1000))
}

// NutrientIn returns what a load holds of a nutrient.
//
//	total_n_per_load = analysis_total_n × load_volume ÷ 1,000
//
// a is what the lab found, zero or more; v the load, above zero.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example:
// testdata/worked/computed.txt.
func NutrientIn(a unit.MassPerVolume, v unit.Volume) (unit.Mass, error) {
	if err := notNegative(in{AnalysisTotalN, float64(a)}); err != nil {
		return 0, err
	}
	if err := positive(in{LoadVolume, float64(v)}); err != nil {
		return 0, err
	}
	return finite(TotalNPerLoad, unit.Mass(float64(a)*float64(v)/1000))
}

// PhosphateFrom returns phosphorus as P2O5.
//
//	P × 2.2913
//
// Zero or more. Fails with NotPositive or Absurd. Source: from memory (atomic
// weights). Worked example: testdata/worked/computed.txt.
func PhosphateFrom(p unit.MassPerVolume) (unit.MassPerVolume, error) {
	if err := notNegative(in{AnalysisPhosphate, float64(p)}); err != nil {
		return 0, err
	}
	return finite(AnalysisPhosphate, p*phosphatePerP)
}

// PotashFrom returns potassium as K2O.
//
//	K × 1.2046
//
// Zero or more. Fails with NotPositive or Absurd. Source: from memory (atomic
// weights). Worked example: testdata/worked/computed.txt.
func PotashFrom(k unit.MassPerVolume) (unit.MassPerVolume, error) {
	if err := notNegative(in{AnalysisPotash, float64(k)}); err != nil {
		return 0, err
	}
	return finite(AnalysisPotash, k*potashPerK)
}

// Shares is the nitrogen that counts in the first year, by one published scheme.
// A whole-method scheme takes a share of all the nitrogen, times what is kept of
// it on the ground; a two-step one takes the ammonium and the organic part apart.
// The two must not be mixed.
type Shares struct {
	Scheme   string
	Whole    bool
	Total    unit.Fraction
	Kept     unit.Fraction
	Ammonium unit.Fraction
	Organic  unit.Fraction
	Cite
}

// AvailableIn returns the first-year nitrogen of a slurry.
//
//	whole method: analysis_total_n × share × kept
//	two-step: analysis_ammonium_n × kept + analysis_organic_n × mineralised
//
// total, ammonium, organic are the lab's, zero or more. A two-step scheme needs
// ammonium and organic, a whole-method one the total.
//
// Fails with NotPositive or Absurd. Source: the scheme's. Worked example:
// testdata/worked/availability.txt.
func AvailableIn(total, ammonium, organic unit.MassPerVolume, s Shares) (unit.MassPerVolume, error) {
	if err := notNegative(in{AnalysisTotalN, float64(total)}, in{AnalysisAmmoniumN, float64(ammonium)}, in{AnalysisOrganicN, float64(organic)}); err != nil {
		return 0, err
	}
	if s.Whole {
		return finite(AvailableN, unit.MassPerVolume(float64(total)*float64(s.Total)*float64(s.Kept)))
	}
	return finite(AvailableN, unit.MassPerVolume(float64(ammonium)*float64(s.Ammonium)+float64(organic)*float64(s.Organic)))
}
