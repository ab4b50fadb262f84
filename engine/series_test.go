package engine

import (
	"math"
	"testing"
	"time"

	"tankside/engine/unit"
)

var six = time.Date(2026, 9, 14, 6, 0, 0, 0, time.UTC)

func TestDaySeries(t *testing.T) {
	d := DaySeries{Target: 2, Loads: []LoadMark{{six.Add(2 * time.Hour), 1}, {six, 1}, {six, 0.5}, {six.Add(4 * time.Hour), 2.5}}}
	sums := d.Summed()
	for i, want := range []float64{1, 1.5, 2.5, 5} {
		if sums[i].Loads != want {
			t.Errorf("sum %d is %g, want %g", i, sums[i].Loads, want)
		}
	}
	if d.Loads[0].Loads != 1 || !d.Loads[0].At.After(six) {
		t.Error("the series itself was changed")
	}
	if pace, err := d.Pace(); err != nil || math.Abs(float64(pace)-3.5/4) > 1e-12 {
		t.Errorf("3.5 loads in 4 hours after the first 1.5: %v, %v", pace, err)
	}
	if w := d.Wanted(six.Add(3 * time.Hour)); w != 7 {
		t.Errorf("1 and 2 an hour for 3 hours: %g", w)
	}
	if _, err := (&DaySeries{Loads: d.Loads[1:3]}).Pace(); err == nil {
		t.Error("one moment has a pace")
	}
	if p, err := (&DaySeries{Loads: []LoadMark{{six, 1}, {six.Add(time.Second), 1}}}).Pace(); err == nil {
		t.Errorf("logged in one go: %g an hour", p)
	}
	if _, err := (&DaySeries{}).Pace(); err == nil {
		t.Error("no load has a pace")
	}
}

func TestCurveLine(t *testing.T) {
	runs := []Run{{Opening: 2, Flow: 300}, {Opening: 4, Flow: 620}, {Opening: 6, Flow: 800}}
	c, err := NewCurve(runs)
	if err != nil {
		t.Fatal(err)
	}
	line := c.Line(40)
	if len(line) != 41 || line[0].Opening != 2 || line[40].Opening != 6 {
		t.Fatalf("from %v to %v in %d points", line[0], line[len(line)-1], len(line))
	}
	for i, r := range line {
		flow, err := c.FlowAt(r.Opening)
		if err != nil || math.Abs(flow-r.Flow) > 1e-9 || i > 0 && r.Flow <= line[i-1].Flow {
			t.Errorf("point %d, %v: FlowAt gives %g, %v", i, r, flow, err)
		}
	}
}

// The central 95 % of Poisson counts, added up here term by term.
func TestChanceBand(t *testing.T) {
	for _, mean := range []float64{0.5, 4, 10, 42.5, 100} {
		lo, hi, err := ChanceBand(mean)
		if err != nil {
			t.Fatal(err)
		}
		below, upTo, term := 0.0, 0.0, math.Exp(-mean)
		for k := 0.0; k <= hi; k++ {
			if k < lo {
				below += term
			}
			upTo += term
			term *= mean / (k + 1)
		}
		if below > 0.025 || 1-upTo > 0.025 || upTo-below < 0.95 {
			t.Errorf("mean %g: from %g to %g leaves %.4f below and %.4f above", mean, lo, hi, below, 1-upTo)
		}
	}
	if lo, hi, _ := ChanceBand(100); lo != 81 || hi != 120 {
		t.Errorf("mean 100: %g to %g, want 81 to 120", lo, hi)
	}
	if _, _, err := ChanceBand(0); err == nil {
		t.Error("a mean of zero has a band")
	}
	if _, _, err := ChanceBand(math.Inf(1)); err == nil {
		t.Error("an endless mean has a band")
	}
}

func TestTankThrough(t *testing.T) {
	s := TankSeries{Tank: 3000, Pump: 1000, Flow: 509}
	points, err := s.Through(0, 99)
	if err != nil {
		t.Fatal(err)
	}
	// 1.55 turnovers when 20 % is left, 2.22 at 10 %.
	for i, turned := range map[int]float64{0: 0, 80: 1.55, 90: 2.22} {
		want := 1 - math.Exp(-turned)
		if got := float64(points[i].Mixed); math.Abs(got-want) > 0.003 || math.Abs(float64(points[i].Out)-float64(i)*30) > 1e-9 {
			t.Errorf("%g gallons out: %.3f mixed, want %.3f", points[i].Out, got, want)
		}
	}
	stirred, err := s.Through(9, 10)
	if err != nil || math.Abs(float64(stirred[0].Mixed)-0.9502) > 1e-4 {
		t.Errorf("three tank volumes first: %v, %v", stirred[0], err)
	}
	for i := 1; i < len(stirred); i++ {
		if stirred[i].Mixed < stirred[i-1].Mixed {
			t.Error("a tank gets less mixed")
		}
	}
	still, err := (&TankSeries{Tank: 3000, Pump: 500, Flow: 500}).Through(0, 10)
	if err != nil || still[10].Mixed != 0 {
		t.Errorf("all of the pump goes out: %v, %v", still, err)
	}
	for _, bad := range []TankSeries{{Tank: 0, Pump: 1, Flow: 1}, {Tank: 3000, Pump: 100, Flow: 200}, {Tank: 3000, Pump: unit.Flow(math.NaN()), Flow: 1}} {
		if _, err := bad.Through(0, 10); err == nil {
			t.Errorf("%v is drawn", bad)
		}
	}
}
