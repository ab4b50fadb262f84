package engine

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"
)

// Curve is a gate calibration: flow by gate opening between recorded runs, never
// beyond them.
type Curve struct {
	runs []Run // by opening, strictly increasing
	fit  interp.FritschButland
}

// NewCurve fits a monotone curve through recorded runs.
//
// Runs at the same opening are averaged. Between them the curve is a monotone
// piecewise cubic, so it never swings above or below its neighbours; with two
// openings it is a line. runs may be in any order; openings and flows finite,
// flows above zero.
//
// Fails with NoRuns, NoCurve (one opening), RunsContradict (a wider
// opening that gives no more; Value and Limit are the two openings), NotPositive
// or Absurd. Source: F. N. Fritsch and J. Butland, SIAM J. Sci. Stat.
// Comput. 5 (1984), from memory. Worked example: testdata/worked/computed.txt.
func NewCurve(runs []Run) (*Curve, error) {
	if len(runs) == 0 {
		return nil, &Problem{Code: NoRuns, Slot: GateOpening}
	}
	for _, r := range runs {
		if err := positive(in{Flow, r.Flow}); err != nil {
			return nil, err
		}
		if !isFinite(r.Opening) {
			return nil, &Problem{Code: Absurd, Slot: GateOpening}
		}
	}
	c := &Curve{runs: averaged(runs)}
	if err := c.contradiction(); err != nil {
		return nil, err
	}
	if len(c.runs) == 1 {
		return c, nil
	}
	xs, ys := make([]float64, len(c.runs)), make([]float64, len(c.runs))
	for i, r := range c.runs {
		xs[i], ys[i] = r.Opening, r.Flow
	}
	if err := c.fit.Fit(xs, ys); err != nil {
		return nil, &Problem{Code: NoCurve, Slot: GateOpening}
	}
	return c, nil
}

// averaged sorts runs by opening and averages those at the same one.
func averaged(runs []Run) []Run {
	sorted := slices.Clone(runs)
	slices.SortStableFunc(sorted, func(a, b Run) int {
		switch {
		case a.Opening < b.Opening:
			return -1
		case a.Opening > b.Opening:
			return 1
		}
		return 0
	})
	out := sorted[:0]
	n := 0.0
	for _, r := range sorted {
		if len(out) > 0 && out[len(out)-1].Opening == r.Opening {
			last := &out[len(out)-1]
			n++
			last.Flow += (r.Flow - last.Flow) / n
			continue
		}
		out, n = append(out, r), 1
	}
	return out
}

// contradiction finds two neighbours of which the wider gives no more.
func (c *Curve) contradiction() error {
	for i := 1; i < len(c.runs); i++ {
		if a, b := c.runs[i-1], c.runs[i]; b.Flow <= a.Flow {
			return &Problem{Code: RunsContradict, Slot: GateOpening, Value: a.Opening, Limit: b.Opening}
		}
	}
	return nil
}

// FlowAt returns the flow at an opening between the recorded ones.
//
// Fails with Extrapolation outside them (Limit is the nearest recorded opening),
// or NoCurve when there is one run and this is not it. Worked example:
// testdata/worked/computed.txt.
func (c *Curve) FlowAt(opening float64) (float64, error) {
	if err := c.inside(GateOpening, opening, c.runs[0].Opening, c.runs[len(c.runs)-1].Opening); err != nil {
		return 0, err
	}
	if len(c.runs) == 1 {
		return c.runs[0].Flow, nil
	}
	return finite(Flow, c.between(opening))
}

// between keeps the cubic's rounding inside its two neighbours.
func (c *Curve) between(opening float64) float64 {
	i := 1
	for i < len(c.runs)-1 && c.runs[i].Opening < opening {
		i++
	}
	return min(max(c.fit.Predict(opening), c.runs[i-1].Flow), c.runs[i].Flow)
}

// OpeningFor returns the opening that gives a flow between the recorded ones.
//
// It is the root of the curve between two recorded openings, found by halving,
// which cannot leave them. Fails as FlowAt. Worked example: testdata/worked/computed.txt.
func (c *Curve) OpeningFor(flow float64) (float64, error) {
	lo, hi := c.runs[0], c.runs[len(c.runs)-1]
	if err := c.inside(Flow, flow, lo.Flow, hi.Flow); err != nil {
		return 0, err
	}
	for _, r := range c.runs {
		if r.Flow == flow {
			return r.Opening, nil
		}
	}
	a, b := lo.Opening, hi.Opening
	for range 200 {
		m := a + (b-a)/2
		if m == a || m == b {
			break
		}
		if c.fit.Predict(m) < flow {
			a = m
		} else {
			b = m
		}
	}
	return a + (b-a)/2, nil
}

// inside refuses a value outside what was recorded.
func (c *Curve) inside(s Slot, v, lo, hi float64) error {
	switch {
	case math.IsNaN(v):
		return &Problem{Code: Absurd, Slot: s}
	case v >= lo && v <= hi:
		return nil
	case len(c.runs) == 1:
		return &Problem{Code: NoCurve, Slot: s, Value: v, Limit: lo}
	case v < lo:
		return &Problem{Code: Extrapolation, Slot: s, Value: v, Limit: lo}
	}
	return &Problem{Code: Extrapolation, Slot: s, Value: v, Limit: hi}
}
