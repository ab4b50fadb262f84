package engine

import (
	"math"
	"testing"

	"tankside/engine/unit"

	"pgregory.net/rapid"
)

// near compares with what float64 can hold after a handful of operations.
func near(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b))
}

func draw(t *rapid.T, name string, lo, hi float64) float64 {
	return rapid.Float64Range(lo, hi).Draw(t, name)
}

func must[T any](t *rapid.T, v T, err error) T {
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Every gallon and every pound of a field is in a load.
func TestNothingIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fs := Facts{
			said(Area, "", draw(t, "area", 0.1, 4000)),
			said(TankVolume, "", draw(t, "tank", 250, 15000)),
			said(HeelVolume, "", draw(t, "heel", 0, 200)),
			said(ApplicationRate, "", draw(t, "rate", 1000, 30000)),
			said(SeedRate, "oats", draw(t, "seed", 20, 150)),
		}
		r := Answer([]Topic{TopicField}, fs, nil)
		full, load, total := r.result(FullLoads, ""), r.result(LoadVolume, ""), r.result(TotalVolume, "")
		if full == nil || load == nil || total == nil {
			t.Fatalf("no loads in %v (%s)", r.Results, r.Problem)
		}
		perLoad, seed := r.result(SeedPerLoad, "oats").Min, r.result(TotalSeed, "oats").Min
		gallons, pounds := full.Min*load.Min, full.Min*perLoad
		if last := r.result(LastLoadVolume, ""); last != nil {
			if last.Min <= 0 || last.Min >= load.Min*(1+1e-9) {
				t.Fatalf("a last load of %g in loads of %g", last.Min, load.Min)
			}
			gallons += last.Min
			pounds += r.result(LastLoadSeed, "oats").Min
		}
		if math.Abs(gallons-total.Min) > 1e-8*total.Min || math.Abs(pounds-seed) > 1e-8*seed {
			t.Fatalf("%g of %g gallons, %g of %g pounds in the loads", gallons, total.Min, pounds, seed)
		}
	})
}

func said(s Slot, of string, v float64) Fact {
	return Fact{Slot: s, Of: of, Min: v, Max: v, Unit: Units{}.UnitFor(s)}
}

// A whole number of loads stays whole however it is divided.
func TestWholeLoadsStayWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := float64(rapid.IntRange(1, 100000).Draw(t, "n"))
		load := draw(t, "load", 10, 20000)
		got, err := LoadsFor(unit.Volume(n*load), unit.Volume(load))
		full, part, err2 := WholeLoads(must(t, got, err))
		if err2 != nil || full != n || part != 0 && float64(part) > snap*n {
			t.Fatalf("%g loads came out as %g and %g", n, full, part)
		}
	})
}

// Flow, rate, speed and width undo each other; a load lasts as long as its run.
func TestOneEquationFourWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := unit.VolumePerArea(draw(t, "rate", 200, 60000))
		v := unit.Speed(draw(t, "speed", 0.3, 12))
		w := unit.Length(draw(t, "width", 3, 80))
		load := unit.Volume(draw(t, "load", 100, 20000))
		flow, err := FlowFor(r, v, w)
		flow = must(t, flow, err)
		rate, _ := RateFor(flow, v, w)
		speed, _ := SpeedFor(flow, r, w)
		width, _ := WidthFor(flow, r, v)
		if !near(float64(rate), float64(r)) || !near(float64(speed), float64(v)) || !near(float64(width), float64(w)) {
			t.Fatalf("%g %g %g came back as %g %g %g", r, v, w, rate, speed, width)
		}
		unload, _ := TimeToUnload(load, flow)
		area, _ := AreaOfLoad(load, r)
		run, _ := RunOf(area, w)
		if minutes := float64(run) / (float64(v) * unit.FeetPerMileHour); !near(minutes, float64(unload)) {
			t.Fatalf("unloads in %g min, runs for %g min", unload, minutes)
		}
	})
}

// Other inverses.
func TestInverses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := draw(t, "x", 0.01, 1e5), draw(t, "y", 0.01, 1e5)
		a, _ := AreaForSeed(unit.Mass(x), unit.MassPerArea(y))
		m, _ := SeedFor(a, unit.MassPerArea(y))
		v, _ := VolumeOf(unit.Mass(x), unit.MassPerVolume(y))
		back, _ := WeightOf(v, unit.MassPerVolume(y))
		d, _ := DepthOf(unit.VolumePerArea(x))
		r, _ := RateOfDepth(d)
		need, _ := RateForNeed(unit.MassPerArea(x), unit.MassPerVolume(y))
		on, _ := NutrientOn(unit.MassPerVolume(y), need)
		for i, got := range []float64{float64(m), float64(back), float64(r), float64(on)} {
			if !near(got, x) {
				t.Fatalf("inverse %d: %g came back as %g", i, x, got)
			}
		}
		live := unit.Fraction(draw(t, "live", 0.1, 1))
		bulk, _ := BulkRate(unit.MassPerArea(x), live)
		if got, _ := LiveRate(bulk, live); !near(float64(got), x) {
			t.Fatalf("%g live came back as %g", x, got)
		}
	})
}

// Twice the tank, twice the seed; twice the rate, half of it. Nutrients go with
// the rate.
func TestScaling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank, rate := draw(t, "tank", 500, 9000), draw(t, "rate", 2000, 20000)
		seed := func(tank, rate float64) float64 {
			r := Answer([]Topic{TopicLoad}, Facts{said(TankVolume, "", tank), said(ApplicationRate, "", rate), said(SeedRate, "oats", 80)}, nil)
			return r.result(SeedPerLoad, "oats").Min
		}
		one := seed(tank, rate)
		if !near(seed(2*tank, rate), 2*one) || !near(seed(tank, 2*rate), one/2) {
			t.Fatal("seed does not scale with the load")
		}
		k := draw(t, "k", 0.5, 3)
		n1, _ := NutrientOn(30, unit.VolumePerArea(rate))
		n2, _ := NutrientOn(30, unit.VolumePerArea(k*rate))
		if !near(float64(n2), k*float64(n1)) {
			t.Fatal("nutrients do not scale with the rate")
		}
	})
}

// The gate's curve rises, stays between its neighbours, and is undone by its
// inverse.
func TestCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(t, "n")
		var runs []Run
		opening, flow := draw(t, "opening", 0, 3), draw(t, "flow", 20, 300)
		for range n {
			runs = append(runs, Run{Opening: opening, Flow: flow})
			opening += draw(t, "step", 0.2, 3)
			flow += draw(t, "more", 5, 400)
		}
		shuffled := rapid.Permutation(runs).Draw(t, "order")
		c, err := NewCurve(shuffled)
		if err != nil {
			t.Fatal(err)
		}
		i := rapid.IntRange(1, n-1).Draw(t, "between")
		a, b := runs[i-1], runs[i]
		x := a.Opening + (b.Opening-a.Opening)*draw(t, "part", 0, 1)
		y := a.Opening + (b.Opening-a.Opening)*draw(t, "other", 0, 1)
		fx, err1 := c.FlowAt(x)
		fy, err2 := c.FlowAt(y)
		if err1 != nil || err2 != nil || fx < a.Flow || fx > b.Flow {
			t.Fatalf("flow %g at %g, between %v and %v (%v, %v)", fx, x, a, b, err1, err2)
		}
		if x < y && fx > fy+1e-9 {
			t.Fatalf("falls from %g to %g", fx, fy)
		}
		back, err := c.OpeningFor(fx)
		if err != nil {
			t.Fatal(err)
		}
		if again, _ := c.FlowAt(back); math.Abs(again-fx) > 1e-6*fx {
			t.Fatalf("flow %g at %g, %g at %g", fx, x, again, back)
		}
		if _, err := c.FlowAt(runs[n-1].Opening + 0.01); err == nil {
			t.Fatal("went beyond the recorded runs")
		}
	})
}

// What leaves the tank and what stays is all the seed there was.
func TestTankModelConserves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := draw(t, "k", 0.2, 3)
		left := unit.Fraction(draw(t, "left", 0.02, 0.98))
		stays, err := SeedStillInTank(k, left)
		if err != nil {
			t.Fatal(err)
		}
		const steps = 4000
		out, dv := 0.0, (1-float64(left))/steps
		for i := range steps {
			c, _ := SeedLeaving(k, unit.Fraction(1-(float64(i)+0.5)*dv))
			out += c * dv
		}
		if math.Abs(out+float64(stays)-1) > 1e-4 {
			t.Fatalf("%g left the tank and %g stays", out, stays)
		}
	})
}

// The order in which facts were said does not matter.
func TestOrderDoesNotMatter(t *testing.T) {
	fs := facts(t, "tank_volume=3000_gal application_rate=6000..8000_gal/acre width=12_ft speed=2_mph pump_flow=1600_gal/min area=40_acre seed_rate(oats)=80_lb/acre")
	topics := []Topic{TopicField, TopicFlow, TopicLoad}
	want := Answer(topics, fs, nil)
	rapid.Check(t, func(t *rapid.T) {
		got := Answer(topics, rapid.Permutation(fs).Draw(t, "order"), nil)
		for _, v := range want.Results {
			g := got.result(v.Slot, v.Of)
			if g == nil || !near(g.Min, v.Min) || !near(g.Max, v.Max) {
				t.Fatalf("%s: %v against %v", v.Slot, g, v)
			}
		}
	})
}

// Any value inside a range gives a result inside the range's results.
func TestRangesHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo, hi := draw(t, "lo", 3000, 7000), draw(t, "hi", 7001, 12000)
		mid := lo + (hi-lo)*draw(t, "part", 0, 1)
		speed := draw(t, "speed", 1, 3)
		ask := func(min, max float64) Reckoning {
			fs := Facts{said(TankVolume, "", 3000), said(Width, "", 12), said(Speed, "", speed), said(PumpFlow, "", 3000), {Slot: ApplicationRate, Min: min, Max: max, Unit: gpa}}
			fs[2].Max = speed + 0.5
			return Answer([]Topic{TopicFlow, TopicLoad}, fs, nil)
		}
		wide, narrow := ask(lo, hi), ask(mid, mid)
		for _, v := range narrow.Results {
			w := wide.result(v.Slot, v.Of)
			if w == nil || v.Min < w.Min*(1-1e-9) || v.Max > w.Max*(1+1e-9) {
				t.Fatalf("%s: %v is not within %v", v.Slot, v, w)
			}
		}
	})
}

// Whatever comes in, nothing comes out that is not a number, and nothing panics.
func TestNoNonsenseOut(t *testing.T) {
	odd := []float64{0, -1, 1, math.NaN(), math.Inf(1), math.Inf(-1), 5e-324, 1e-300, 1e308, math.MaxFloat64, 3000, 0.5}
	var topics []Topic
	for i := range kinds {
		topics = append(topics, kinds[i].topic)
	}
	crops := []string{"", "oats", "annual ryegrass", "phacelia", "no such crop"}
	origins := []Origin{Said, Remembered, Assumed}
	rapid.Check(t, func(t *rapid.T) {
		var fs Facts
		for range rapid.IntRange(0, 12).Draw(t, "facts") {
			s := rapid.SampledFrom(Slots()).Draw(t, "slot")
			fs = append(fs, Fact{Slot: s, Of: rapid.SampledFrom(crops).Draw(t, "of"), Unit: rapid.SampledFrom(unit.All()).Draw(t, "unit"),
				Min: rapid.SampledFrom(odd).Draw(t, "min"), Max: rapid.SampledFrom(odd).Draw(t, "max"), Origin: rapid.SampledFrom(origins).Draw(t, "origin")})
		}
		c := &Context{Runs: runs, Manure: "dairy", Method: rapid.SampledFrom(Methods()).Draw(t, "method"),
			Scheme: rapid.SampledFrom(append(Schemes(), "own:x:1", "none")).Draw(t, "scheme"), Convert: rapid.SampledFrom(unit.All()).Draw(t, "to")}
		topic := rapid.SampledFrom(topics).Draw(t, "topic")
		r := Answer([]Topic{topic}, fs, c)
		for _, v := range r.Results {
			if !isFinite(v.Min) || !isFinite(v.Max) {
				t.Fatalf("%s: %s is %g to %g from %v", topic, v.Slot, v.Min, v.Max, fs)
			}
		}
		Follows(fs)
		LoadDone(fs)
		RunsIn(fs)
	})
}
