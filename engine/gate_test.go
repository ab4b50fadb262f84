package engine

import (
	"math"
	"testing"
)

func TestSameMarks(t *testing.T) {
	runs := []Run{{Opening: 4, Flow: 480}, {Opening: 6, Unit: "in", Flow: 700}, {Opening: 12.7, Unit: "cm", Flow: 600}, {Opening: 8, Unit: "cm", Flow: 300, Outlet: "two"}}
	want := []Run{{Opening: 4, Unit: "in", Flow: 480}, {Opening: 6, Unit: "in", Flow: 700}, {Opening: 5, Unit: "in", Flow: 600}, {Opening: 8, Unit: "cm", Flow: 300, Outlet: "two"}}
	for i, got := range SameMarks(runs) {
		if math.Abs(got.Opening-want[i].Opening) > 1e-9 || got.Unit != want[i].Unit {
			t.Errorf("run %d: %+v, want %+v", i, got, want[i])
		}
	}
	if runs[2].Unit != "cm" {
		t.Error("the runs that were given are changed")
	}
	if _, _, found := Contradiction(runs); found {
		t.Error("12.7 cm is less than 6 in")
	}
	if a, b, found := Contradiction([]Run{runs[1], {Opening: 12.7, Unit: "cm", Flow: 800}}); !found || a.Unit != "cm" || b.Unit != "in" {
		t.Errorf("%+v and %+v do not contradict: the narrower gives more", a, b)
	}
}

func TestFlowOfMark(t *testing.T) {
	runs := []Run{{Opening: 3, Flow: 700}, {Opening: 5, Flow: 1200}}
	for _, c := range []struct {
		runs []Run
		at   float64
		flow float64
		ok   bool
	}{
		{runs, 3, 700, true},
		{runs, 4, 950, true}, // half way: (700 + 1200) ÷ 2
		{runs, 6, 0, false},
		{runs[:1], 3, 700, true},
		{runs[:1], 4, 0, false},
	} {
		got, ok := FlowOfMark(c.runs, &Fact{Slot: GateOpening, Min: c.at, Max: c.at, Unit: bare})
		if ok != c.ok || ok && math.Abs(got-c.flow) > 1e-9 {
			t.Errorf("mark %g of %d runs: %g %v, want %g %v", c.at, len(c.runs), got, ok, c.flow, c.ok)
		}
	}
}

// What goes back is the pump less what leaves: 1,350 − 408 = 942; nothing can leave that the
// pump does not give.
func TestReturns(t *testing.T) {
	runs := []Run{{Opening: 3, Flow: 408}, {Opening: 7, Flow: 1062.5}}
	back, err := Returns(runs, 1350)
	if err != nil || len(back) != 2 || back[0].Flow != 942 || back[1].Flow != 287.5 || back[1].Opening != 7 || runs[0].Flow != 408 {
		t.Errorf("returns of %v: %v, %v", runs, back, err)
	}
	if _, err := Returns(runs, 1000); err == nil {
		t.Error("a mark that gives more than the pump is no return")
	}
}
