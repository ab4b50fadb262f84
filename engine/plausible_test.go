package engine

import "testing"

// The contract's bands, as it states them.
func TestContractBands(t *testing.T) {
	for _, k := range []struct {
		slot   Slot
		of     string
		lo, hi float64
	}{
		{TankVolume, "", 200, 20000}, {ApplicationRate, "", 200, 60000}, {PumpFlow, "", 20, 10000}, {Flow, "", 20, 10000},
		{Speed, "", 0.3, 12}, {Width, "", 3, 80}, {Area, "", 0.05, 5000},
	} {
		lo, hi, ok := Usual(k.slot, k.of)
		if !ok || !near(lo, k.lo) || !near(hi, k.hi) {
			t.Errorf("%s: %g to %g, want %g to %g", k.slot, lo, hi, k.lo, k.hi)
		}
	}
	for _, c := range Crops() {
		if _, hi, ok := Usual(SeedRate, c.Name); !ok || hi != 2*c.HighestRate() {
			t.Errorf("%s: up to %g, want twice %g", c.Name, hi, c.HighestRate())
		}
	}
}

func TestPlausible(t *testing.T) {
	for text, want := range map[string]Fit{
		"tank_volume=3000_gal":                   Fine,
		"tank_volume=200_gal":                    Fine,
		"tank_volume=20000_gal":                  Fine,
		"tank_volume=199_gal":                    Unusual,
		"tank_volume=25000_gal":                  Unusual,
		"tank_volume=19_gal":                     TooFar,
		"tank_volume=201000_gal":                 TooFar,
		"tank_volume=0_gal":                      NotPos,
		"tank_volume=-5_gal":                     NotPos,
		"tank_volume=3000..300000_gal":           TooFar,
		"tank_volume=75000_L":                    Fine,
		"seed_rate(annual_ryegrass)=12_lb/acre":  Fine,
		"seed_rate(annual_ryegrass)=60_lb/acre":  Fine,
		"seed_rate(annual_ryegrass)=61_lb/acre":  Unusual,
		"seed_rate(annual_ryegrass)=900_lb/acre": TooFar,
		"seed_rate(oats)=3_bu/acre":              Fine,
		"seed_rate(oats)=20_bu/acre":             Unusual,
		"purity=100_%":                           Fine,
		"purity=101_%":                           TooFar,
		"germination=20_%":                       Unusual,
		"heel_volume=0_gal":                      Fine,
		"analysis_ammonium_n=0_lb/1000gal":       Fine,
		"analysis_total_n=0_lb/1000gal":          NotPos,
		"analysis_total_n=0.4_%":                 Fine,
		"soil_temperature=-4_°F":                 Unusual,
		"soil_temperature=10_°C":                 Fine,
		"soil_temperature=500_°F":                TooFar,
		"duration(incorporation)=0_h":            Fine,
		"duration(incorporation)=3_day":          Fine,
		"duration(fill)=600_min":                 Unusual,
		"duration=0_s":                           NotPos,
		"sample_count=0_":                        Fine,
	} {
		fs := facts(t, text)
		if got := Plausible(&fs[0]); got != want {
			t.Errorf("%s: fit %d, want %d", text, got, want)
		}
	}
	if got := Plausible(&Fact{Slot: DaysToEmerge, Min: 3, Max: 3}); got != Fine {
		t.Errorf("a slot without a band: fit %d", got)
	}
}

// Every slot that people say a number for has a band.
func TestSaidSlotsHaveBands(t *testing.T) {
	for s := LoadFraction; s < numSlots; s++ {
		switch s {
		case CropSaid, TotalSeedCost, SeedLeft, SampleDispersion, SampleP, SampleK, PercentOff, MarkerLoads, DaysToEmerge, SoilRoom, SeedPerVolume, ExpectedCount, TotalCustomCost, TotalCost, TotalFieldCost, BagsPerLoad, BagsUsed, BagsLeft, WorkDays:
			continue // results, or without a number
		}
		if _, _, ok := Usual(s, ""); !ok {
			t.Errorf("no band for %s", s)
		}
	}
}
