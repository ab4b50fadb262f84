package engine

import (
	"errors"
	"math"
	"testing"
)

// Every function of the worked examples, with each argument in turn zero,
// negative, huge, tiny, infinite or not a number: a Problem, or a finite result.
func TestEdges(t *testing.T) {
	odd := []float64{0, -1, -1e-9, math.NaN(), math.Inf(1), math.Inf(-1), 5e-324, 1e308, math.MaxFloat64}
	for _, e := range readExamples(t) {
		for i := range e.given {
			if e.call == "Convert" && i > 0 {
				continue // names the unit, not a value
			}
			for _, v := range odd {
				f := e
				f.given = append([]quantity(nil), e.given...)
				f.given[i].v = v
				got, err := calls[e.call](&f)
				var p *Problem
				switch {
				case err == nil && !isFinite(got):
					t.Errorf("%s: argument %d = %g gives %g", e.call, i, v, got)
				case err != nil && !errors.As(err, &p):
					t.Errorf("%s: argument %d = %g fails with %v", e.call, i, v, err)
				case err == nil && !isFinite(v):
					t.Errorf("%s: argument %d = %g was taken", e.call, i, v)
				case err != nil && p.Error() == "":
					t.Errorf("%s: a problem without a text", e.call)
				}
			}
		}
	}
}

// Negative amounts are refused by name. Temperatures and plain conversions may be
// negative; a count of jars and a gate mark are checked elsewhere.
func TestNegativeIsRefused(t *testing.T) {
	spared := map[string]bool{"Convert": true, "GateFlow": true, "GateOpening": true}
	for _, e := range readExamples(t) {
		for i := range e.given {
			if spared[e.call] {
				continue
			}
			f := e
			f.given = append([]quantity(nil), e.given...)
			f.given[i].v = -f.given[i].v - 1
			if _, err := calls[e.call](&f); err == nil {
				t.Errorf("%s: argument %d was taken negative", e.call, i)
			}
		}
	}
}

func TestProblemsOfFunctions(t *testing.T) {
	for name, c := range map[string]struct {
		err  error
		code string
	}{
		"pump too small":   {errOf(BypassOf(500, 600)), PumpTooSmall},
		"over the brim":    {errOf(PartOfTank(3000, 1.2)), OverFull},
		"all heel":         {errOf(FreshVolume(3000, 3000)), OverFull},
		"nothing left":     {leftErr(40, 40), NothingLeft},
		"all but done":     {leftErr(40, 40*(1-1e-12)), NothingLeft},
		"over done":        {leftErr(40, 45), NothingLeft},
		"empty tank heavy": {errOf(NetOf(20000, 26000)), NotPositive},
		"purity over 1":    {errOf(LiveShare(1.2, 0.9, 0)), Absurd},
		"germ and hard":    {errOf(LiveShare(0.9, 0.9, 0.2)), Absurd},
		"all coat":         {errOf(Uncoated(1)), Absurd},
		"efficiency":       {errOf(FieldCapacity(5, 10, 1.2)), Absurd},
		"price of more":    {errOf(PriceOfNutrient(1, 1.5)), Absurd},
		"turnovers":        {errOf(TurnoversUntil(100, 100, 2)), OverFull},
		"no pace":          {errOf(PaceOf(1, 1, 60)), NotPositive},
		"two jars":         {errOf(SpreadOf([]float64{1, 2})), TooFewSamples},
		"empty jars":       {errOf(SpreadOf([]float64{0, 0, 0})), NotPositive},
		"no run":           {errOf(NewCurve(nil)), NoRuns},
		"no flow":          {errOf(NewCurve([]Run{{Opening: 1}})), NotPositive},
	} {
		var p *Problem
		if !errors.As(c.err, &p) || p.Code != c.code {
			t.Errorf("%s: %v, want %s", name, c.err, c.code)
		}
	}
}

func errOf[T any](_ T, err error) error { return err }

func leftErr(field, done float64) error {
	_, _, err := Left(areaOf(field), areaOf(done), 7000, 3000)
	return err
}
