package engine

import (
	"slices"

	"tankside/engine/unit"
)

// Run is one recorded gate calibration: at this mark, this much left the back.
type Run struct {
	Opening float64 `json:"opening"`        // the gate's mark
	Unit    string  `json:"unit,omitempty"` // of a mark that is a length: "in", "cm"
	Flow    float64 `json:"flow"`           // gallons a minute
	Outlet  string  `json:"outlet,omitempty"`
}

// runAt is a run at a gate opening as it was said.
func runAt(opening *Fact, flow float64) Run {
	r := Run{Opening: opening.Min, Flow: flow}
	if u := opening.Unit; u != nil && u.Dim == unit.DimLength {
		r.Unit = u.Symbol
	}
	return r
}

// SameMarks brings the marks of one gate into one unit, so that runs can be held
// against each other: that of the first run whose mark is a length. A bare mark is
// taken to be in it. Runs of other outlets stay as they are.
//
// Source: EXACT. Checked in gate_test.go.
func SameMarks(runs []Run) []Run {
	first := slices.IndexFunc(runs, func(r Run) bool { return r.Unit != "" })
	if first < 0 {
		return runs
	}
	to := unit.Find(runs[first].Unit)
	same := slices.Clone(runs)
	for i := range same {
		if r := &same[i]; r.Outlet == runs[first].Outlet {
			if r.Unit != "" && r.Unit != to.Symbol {
				r.Opening = to.FromBase(unit.Find(r.Unit).ToBase(r.Opening))
			}
			r.Unit = to.Symbol
		}
	}
	return same
}

// FlowOfMark is the flow in gallons a minute at an opening: as timed there, else by
// interpolation; ok is false outside the runs.
func FlowOfMark(runs []Run, opening *Fact) (flow float64, ok bool) {
	mark := runAt(opening, 0)
	all := SameMarks(append(slices.Clone(runs), mark))
	mark, runs = all[len(all)-1], all[:len(all)-1]
	for _, r := range runs {
		if r.Opening == mark.Opening {
			return r.Flow, true
		}
	}
	c, err := NewCurve(runs)
	if err != nil {
		return 0, false
	}
	flow, err = c.FlowAt(mark.Opening)
	return flow, err == nil
}

// Limit is a rate cap that a chat has set for itself.
type Limit struct {
	Slot  Slot    `json:"slot"`
	Value float64 `json:"value"` // base units
}

// Returns is what goes back to the tank at each run's mark, in gallons a minute: the pump's
// flow less what was timed out of the back, as BypassOf has it. A mark that was timed at
// more than the pump gives fails with PumpTooSmall.
//
// Source: EXACT. Checked in gate_test.go.
func Returns(runs []Run, pump float64) ([]Run, error) {
	back := slices.Clone(runs)
	for i := range back {
		b, err := BypassOf(unit.Flow(pump), unit.Flow(runs[i].Flow))
		if err != nil {
			return nil, err
		}
		back[i].Flow = float64(b)
	}
	return back, nil
}
