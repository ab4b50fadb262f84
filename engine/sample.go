package engine

import (
	"math"

	"tankside/engine/unit"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// fewestSamples is how many jars it takes to speak of evenness at all.
const fewestSamples = 3

// Spread is what jar counts say about the mix.
type Spread struct {
	Mean       float64
	SD         float64       // sample standard deviation, n − 1
	CV         unit.Fraction // SD ÷ Mean
	ChanceCV   unit.Fraction // what a perfect mix would show: 1 ÷ √Mean
	Dispersion float64       // Σ(x − mean)² ÷ mean
	P          float64       // how likely chance alone makes counts this uneven
	K          float64       // k of the tank model, from the trend; 0: none to be had
}

// SpreadOf returns how even counts are, and whether chance explains it.
//
//	dispersion = Σ(x − mean)² ÷ mean, against χ² with n − 1 degrees of freedom
//
// counts are seeds per jar in the order they were taken, at least three, zero or
// more, not all zero.
//
// Fails with TooFewSamples, NotPositive or Absurd. Source: R. A. Fisher's index of
// dispersion, from memory; χ² by gonum. Worked example: testdata/worked/computed.txt.
func SpreadOf(counts []float64) (Spread, error) {
	if len(counts) < fewestSamples {
		return Spread{}, &Problem{Code: TooFewSamples, Slot: SampleCount, Value: float64(len(counts)), Limit: fewestSamples}
	}
	for _, x := range counts {
		if err := notNegative(in{SampleCount, x}); err != nil {
			return Spread{}, err
		}
	}
	mean, sd := stat.MeanStdDev(counts, nil)
	if err := positive(in{SampleMean, mean}); err != nil {
		return Spread{}, err
	}
	free := float64(len(counts) - 1)
	d := sd * sd * free / mean
	if err := notNegative(in{SampleDispersion, d}); err != nil {
		return Spread{}, err
	}
	return Spread{Mean: mean, SD: sd, CV: unit.Fraction(sd / mean), ChanceCV: unit.Fraction(1 / math.Sqrt(mean)),
		Dispersion: d, P: distuv.ChiSquared{K: free}.Survival(d), K: tankK(counts)}, nil
}

// tankK estimates k of the tank model from counts taken at even steps through the
// load: ln(count) against ln(share left) has the slope k − 1. A jar without seed
// counts half a seed, or its logarithm would decide alone.
func tankK(counts []float64) float64 {
	n := len(counts)
	x, y := make([]float64, n), make([]float64, n)
	for i, c := range counts {
		x[i] = math.Log(1 - (float64(i)+0.5)/float64(n))
		y[i] = math.Log(max(c, 0.5))
	}
	_, slope := stat.LinearRegression(x, y, nil, false)
	if k := 1 + slope; isFinite(k) && k > 0 {
		return k
	}
	return 0
}
