package engine

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Upper points of χ² as textbooks print them (from memory, not read): degrees of
// freedom, upper share, point.
var chi2Table = [][3]float64{
	{1, 0.05, 3.841}, {2, 0.05, 5.991}, {3, 0.05, 7.815}, {4, 0.05, 9.488}, {5, 0.05, 11.070}, {6, 0.05, 12.592},
	{8, 0.05, 15.507}, {10, 0.05, 18.307}, {1, 0.01, 6.635}, {2, 0.01, 9.210}, {3, 0.01, 11.345}, {4, 0.01, 13.277},
	{5, 0.01, 15.086}, {10, 0.01, 23.209}, {2, 0.10, 4.605}, {5, 0.10, 9.236}, {2, 0.95, 0.103}, {5, 0.95, 1.145},
}

// Counts whose dispersion is a printed point have the printed chance.
func TestChanceAgainstPrintedTable(t *testing.T) {
	for _, row := range chi2Table {
		n, share, point := int(row[0])+1, row[1], row[2]
		if got := (distuv.ChiSquared{K: row[0]}).Survival(point); math.Abs(got-share) > 0.0006 {
			t.Errorf("χ²(%g) above %g: %.4f, printed %g", row[0], point, got, share)
		}
		if n < fewestSamples {
			continue
		}
		// Two jars off by d each way in a mean of m have the dispersion 2·d²/m.
		const m = 1000.0
		counts := make([]float64, n)
		for i := range counts {
			counts[i] = m
		}
		d := math.Sqrt(point * m / 2)
		counts[0], counts[1] = m-d, m+d
		s, err := SpreadOf(counts)
		if err != nil || !near(s.Dispersion, point) || math.Abs(s.P-share) > 0.0006 {
			t.Errorf("dispersion %g, p %.4f (%v); printed %g, %g", s.Dispersion, s.P, err, point, share)
		}
	}
}

func TestSpreadAgainstGonum(t *testing.T) {
	for _, counts := range [][]float64{{42, 38, 45, 40}, {9.6, 10.4, 10.1, 9.5, 10.9, 9.2, 10.3, 10.0}, {12, 15, 9, 14, 10}, {0, 3, 7}} {
		s, err := SpreadOf(counts)
		if err != nil {
			t.Fatal(err)
		}
		mean, sd := stat.MeanStdDev(counts, nil)
		if !near(s.Mean, mean) || !near(s.SD, sd) || !near(float64(s.CV), sd/mean) || !near(float64(s.ChanceCV), 1/math.Sqrt(mean)) {
			t.Errorf("%v: %+v", counts, s)
		}
		expected := make([]float64, len(counts))
		for i := range expected {
			expected[i] = mean
		}
		if !near(s.Dispersion, stat.ChiSquare(counts, expected)) {
			t.Errorf("%v: dispersion %g, gonum %g", counts, s.Dispersion, stat.ChiSquare(counts, expected))
		}
	}
}

// Counts drawn from the tank model give back its k.
func TestTankKComesBack(t *testing.T) {
	for _, k := range []float64{0.4, 0.7, 1, 1.6} {
		var counts []float64
		const n = 12
		for i := range n {
			left := 1 - (float64(i)+0.5)/n
			counts = append(counts, 500*k*math.Pow(left, k-1))
		}
		s, err := SpreadOf(counts)
		if err != nil || math.Abs(s.K-k) > 1e-6 {
			t.Errorf("k %g came back as %g (%v)", k, s.K, err)
		}
	}
}
