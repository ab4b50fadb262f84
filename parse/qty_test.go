package parse

import "testing"

// A range shares what was said once: the thousand, the unit, what it is per.
func TestRanges(t *testing.T) {
	checkReadings(t, []reading{
		{"en", "6-8k per acre", "application_rate=6000..8000 gal/acre"},
		{"en", "6–8 thousand per acre", "application_rate=6000..8000 gal/acre"},
		{"en", "6 to 8 thousand gallons an acre", "application_rate=6000..8000 gal/acre"},
		{"en", "6k-8k gal/ac", "application_rate=6000..8000 gal/acre"},
		{"en", "between 6 and 8 thousand an acre", "application_rate=6000..8000 gal/acre"},
		{"en", "6000 to 8000 gpa", "application_rate=6000..8000 gal/acre"},
		{"en", "6000 gal/ac to 8000 gal/ac", "application_rate=6000..8000 gal/acre"},
		{"en", "six to eight thousand gallons per acre", "application_rate=6000..8000 gal/acre"},
		{"en", "8000-6000 gpa", "application_rate=6000..8000 gal/acre"},
		{"en", "10 to 12 lb ryegrass", "seed_rate(annual ryegrass)=10..12 lb/acre"},
		{"en", "10 lb to 12 lb ryegrass", "seed_rate(annual ryegrass)=10..12 lb/acre"},
		{"en", "3 to 4 mph", "speed=3..4 mph"},
		{"en", "2 1/2 to 3 mph", "speed=2.5..3 mph"},
		{"en", "500 to 8 thousand gpa", "application_rate=500..8000 gal/acre"},
		{"es", "de 6 a 8 mil galones por acre", "application_rate=6000..8000 gal/acre"},
		{"es", "entre 6 y 8 mil galones por acre", "application_rate=6000..8000 gal/acre"},
		{"es", "de seis a ocho mil por acre", "application_rate=6000..8000 gal/acre"},
		{"es", "fosfato 1.5 por mil galones a 35 m3/ha", "analysis_phosphate=1.5 lb/1000gal; application_rate=35 m3/ha"},
		{"es", "40 a 60 m3/ha", "application_rate=40..60 m3/ha"},
	})
}

// Two amounts that are one: feet and inches, pounds and ounces, hours and minutes,
// a unit and its half.
func TestOneAmountInTwoUnits(t *testing.T) {
	checkReadings(t, []reading{
		{"en", "13 ft 9 in wide", "width=13.75 ft"},
		{"en", `12' 6" tool`, "width=12.5 ft"},
		{"en", "5 lb 2 oz of oats per load", "seed_per_load(oats)=5.125 lb"},
		{"en", "12 lb 8 oz of ryegrass an acre", "seed_rate(annual ryegrass)=12.5 lb/acre"},
		{"en", "5 lb of oats a load", "seed_per_load(oats)=5 lb"},
		{"es", "5 libras de avena por carga", "seed_per_load(oats)=5 lb"},
		{"en", "field takes 1 hour 30 minutes to fill", "duration(fill)=1.5 h"},
		{"en", "fill 6 min 30 seconds", "duration(fill)=6.5 min"},
		{"en", "200 ft in 1 minute 10 seconds", "distance=200 ft; duration=1.16667 min"},
		{"es", "doce libras y media de ballico", "seed_rate(annual ryegrass)=12.5 lb/acre"},
		{"es", "4 acres y medio", "area=4.5 acre"},
		{"en", "an acre and a half", "area=1.5 acre"},
		{"en", "two and a half loads done", "load_count=2.5"},
		{"es", "dos cargas y media listas", "load_count=2.5"},
	})
}

// Lists give each member its own quantity.
func TestLists(t *testing.T) {
	checkReadings(t, []reading{
		{"en", "rye/vetch 40/20 lb", "seed_rate(hairy vetch)=20 lb/acre; seed_rate(rye)=40 lb/acre"},
		{"en", "oats and vetch 40 and 20 lb", "seed_rate(hairy vetch)=20 lb/acre; seed_rate(oats)=40 lb/acre"},
		{"en", "31-15-19 lb per 1000 gal", "analysis_phosphate=15 lb/1000gal; analysis_potash=19 lb/1000gal; analysis_total_n=31 lb/1000gal"},
		{"en", "jars 42 45 39", "sample_count=39; sample_count=42; sample_count=45"},
		{"en", "jars 42, 45, 39 and 50", "sample_count=39; sample_count=42; sample_count=45; sample_count=50"},
		{"en", "jars 42/45/39", "sample_count=39; sample_count=42; sample_count=45"},
		{"es", "frascos 42 45 39", "sample_count=39; sample_count=42; sample_count=45"},
		{"en", "rye/vetch 40/20/10 lb", "crop rye; crop hairy vetch; unread 40/20/10 lb; problem which_of_two"},
	})
}

// What was said about an amount is kept with it; what is vague is never a number.
func TestAboutAndVague(t *testing.T) {
	for text, want := range map[string]bool{"about 7000 per acre": true, "7000 or so per acre": true, "3000ish gallon tank": true, "7000 gallons or so an acre": true, "roughly 40 acres": true, "como 7000 por acre": true, "7000 per acre": false, "40 acres mas o menos": true} {
		req := Parse(text, in(""))
		if len(req.Facts) != 1 || req.Facts[0].About != want {
			t.Errorf("%q: %+v, want about=%v", text, req.Facts, want)
		}
	}
	for _, text := range []string{"some gallons per acre", "a few acres", "a couple hundred gallons", "several loads done", "unos galones por acre", "unas cuantas libras de avena", "a bunch of pounds of oats"} {
		req := Parse(text, in(""))
		if len(req.Facts) > 0 || req.Problem == nil || req.Problem.Code != "vague" {
			t.Errorf("%q: %s, want it asked about", text, said(req))
		}
	}
}

// Units that mean several things are settled by their company or asked about.
func TestClashingUnits(t *testing.T) {
	checkReadings(t, []reading{
		{"en", "6 m tool, 40 m3/ha", "application_rate=40 m3/ha; width=6 m"},
		{"en", "12 t", "unread 12 t; problem ambiguous_unit"},
		{"en", "20 tons per acre", "unread 20 tons per acre; problem ambiguous_unit"},
		{"en", "3000 g tank", "tank_volume=3000 gal"},
		{"es", "12 manzanas", "unread 12 manzanas; problem ambiguous_unit"},
	})
	ctx := Context{Lang: "en", UnitOf: map[string]string{"ton": "ton"}}
	if got := said(Parse("we have 3 ton of oats", ctx)); got != "total_seed(oats)=3 ton; crop oats" {
		t.Errorf("a ton that the chat has settled: %s", got)
	}
}

// "3.000" is thousands or a decimal as its unit has it; where both could be it is asked.
func TestMarksByUnit(t *testing.T) {
	checkReadings(t, []reading{
		{"es", "tanque de 3.000 galones", "tank_volume=3000 gal"},
		{"es", "7.000 galones por acre", "application_rate=7000 gal/acre"},
		{"es", "ancho 3.500 m", "width=3.5 m"},
		{"en", "3.125 mph", "speed=3.125 mph"},
		{"es", "lote de 3.000 acres", "unread 3.000 acres; problem number_form"},
	})
}
