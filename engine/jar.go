package engine

import (
	"math"

	"tankside/engine/unit"
)

// SeedsInJar returns the seeds that an even mix puts in a jar filled at the outlet.
//
//	expected_count = seeds_per_volume × jar_volume
//
// s is the seeds in the slurry, from SeedsInSlurry; jar what the jar holds as it is
// filled. Both above zero.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func SeedsInJar(s unit.CountPerVol, jar unit.Volume) (float64, error) {
	if err := positive(in{SeedsPerVolume, float64(s)}, in{JarVolume, float64(jar)}); err != nil {
		return 0, err
	}
	return finite(ExpectedCount, float64(s)*float64(jar))
}

// ChanceBounds returns the counts that chance alone explains where so many seeds are
// expected, one jar or the sum of several.
//
//	expected − 2·√expected … expected + 2·√expected
//
// A count of seeds is a Poisson one at best, whose standard deviation is the root of
// its mean: twice that takes in 19 counts of 20. expected is above zero; the lower
// bound is zero at least.
//
// Fails with NotPositive or Absurd. Source: Poisson counts, from memory. Worked
// example: testdata/worked/computed.txt.
func ChanceBounds(expected float64) (lo, hi float64, err error) {
	if err := positive(in{ExpectedCount, expected}); err != nil {
		return 0, 0, err
	}
	off := 2 * math.Sqrt(expected)
	return max(expected-off, 0), expected + off, nil
}

// CountAgainst returns how far counts are from what was expected, as a share: −0.25
// is a quarter too few.
//
//	sum of the counts ÷ (expected_count × jars) − 1
//
// sum is all the seeds counted, zero or more, in so many jars; expected is one jar's.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func CountAgainst(sum, jars, expected float64) (unit.Fraction, error) {
	if err := notNegative(in{SampleCount, sum}); err != nil {
		return 0, err
	}
	if err := positive(in{SampleCount, jars}, in{ExpectedCount, expected}); err != nil {
		return 0, err
	}
	return finite(PercentOff, unit.Fraction(sum/(jars*expected)-1))
}
