package engine

import (
	"math"
	"reflect"
	"testing"
)

func TestTallyPlus(t *testing.T) {
	a := Tally{Loads: 2, Area: 0.8, Volume: 6000, Seeds: []SeedTally{{"oats", 64}}}
	b := Tally{Loads: 0.5, Area: 0.2, Volume: 1500, Seeds: []SeedTally{{"turnip", 1}, {"oats", 16}}}
	want := Tally{Loads: 2.5, Area: 1, Volume: 7500, Seeds: []SeedTally{{"oats", 80}, {"turnip", 1}}}
	if got := a.Plus(b); !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v", got)
	}
	if a.Seeds[0].Weight != 64 || len(a.Seeds) != 1 {
		t.Error("adding changed what was added to")
	}
}

func TestLoadDone(t *testing.T) {
	d := LoadDone(facts(t, "tank_volume=3000_gal load_fraction=0.5 application_rate=7500_gal/acre seed_rate(oats)=2_bu/acre seed_rate(turnip)=4_lb/acre seed_share(turnip)=50_%"))
	want := DoneLoad{Volume: 1500, Area: 0.2, Rate: 7500, Seeds: []SeedDone{{"oats", 64, 12.8}, {"turnip", 2, 0.4}}}
	if d.Volume != want.Volume || !near(d.Area, want.Area) || len(d.Seeds) != 2 || !near(d.Seeds[0].Weight, 12.8) || !near(d.Seeds[1].Weight, 0.4) {
		t.Errorf("got %+v, want %+v", d, want)
	}
	if d := LoadDone(facts(t, "application_rate=7500_gal/acre")); d.Volume != 0 || d.Area != 0 {
		t.Errorf("guessed %+v", d)
	}
}

func TestRunsIn(t *testing.T) {
	runs, _ := RunsIn(facts(t, "gate_opening=3_ tank_volume=1500_gal duration=4_min"))
	if !reflect.DeepEqual(runs, []Run{{Opening: 3, Flow: 375}}) {
		t.Errorf("a timed run: %v", runs)
	}
	runs, _ = RunsIn(facts(t, "gate_opening=3_ flow=450_gal/min gate_opening=5_ flow=750_gal/min"))
	if len(runs) != 2 || runs[1].Flow != 750 {
		t.Errorf("two runs: %v", runs)
	}
	runs, _ = RunsIn(facts(t, "gate_opening=3_ load_volume=850_gal duration=125_s gate_opening=5_ duration=72_s width=12_ft"))
	if len(runs) != 2 || math.Abs(runs[0].Flow-408) > 1e-9 || math.Abs(runs[1].Flow-850/1.2) > 1e-9 {
		t.Errorf("the volume of the first run, 850 gal in 2:05 and in 1:12: %v", runs)
	}
	if _, s := RunsIn(facts(t, "gate_opening=3_ flow=0_gal/min")); s != Flow {
		t.Errorf("no flow: %s", s)
	}
	if runs, _ := RunsIn(facts(t, "gate_opening=3_")); runs != nil {
		t.Errorf("half a run: %v", runs)
	}
	if _, _, found := Contradiction([]Run{{Opening: 3, Flow: 700}, {Opening: 5, Flow: 500}}); !found {
		t.Error("a wider gate that gives less was taken")
	}
	if _, _, found := Contradiction([]Run{{Opening: 3, Flow: 700}, {Opening: 5, Flow: 500, Outlet: "wide bar"}}); found {
		t.Error("runs of two set-ups were held against each other")
	}
}
