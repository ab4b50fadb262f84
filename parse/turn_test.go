package parse

import (
	"fmt"
	"sort"
	"strings"
	"testing"

	"tankside/engine"
)

// said is what a message comes to in one line, for tables: facts, what was taken
// back, what nothing placed, what was not read, crops, the problem and marks.
func said(req *Request) string {
	var out []string
	for i := range req.Facts {
		f := &req.Facts[i]
		value := fmt.Sprintf("%.6g", f.Min)
		if f.Range() {
			value += fmt.Sprintf("..%.6g", f.Max)
		}
		of := ""
		if f.Of != "" {
			of = "(" + f.Of + ")"
		}
		out = append(out, strings.TrimSpace(f.Slot.String()+of+"="+value+" "+f.Unit.Symbol))
	}
	sort.Strings(out)
	for _, c := range req.Crops {
		out = append(out, "crop "+c.Name)
	}
	for _, s := range req.Withdrawn {
		out = append(out, "withdrawn "+s.Text)
	}
	for _, l := range req.Loose {
		out = append(out, "loose "+l.Text)
	}
	for _, s := range req.Unread {
		out = append(out, "unread "+s.Text)
	}
	if req.Problem != nil {
		out = append(out, "problem "+req.Problem.Code)
	}
	if req.Correct {
		out = append(out, "corrects")
	}
	if req.WhatIf {
		out = append(out, "what-if")
	}
	return strings.Join(out, "; ")
}

type reading struct{ lang, text, want string }

func checkReadings(t *testing.T, table []reading) {
	t.Helper()
	for _, c := range table {
		if got := said(Parse(c.text, in(c.lang))); got != c.want {
			t.Errorf("%q\n\tgot  %s\n\twant %s", c.text, got, c.want)
		}
	}
}

// A correction inside a message replaces what it corrects; one that opens the
// message is about what the chat knows.
func TestCorrections(t *testing.T) {
	checkReadings(t, []reading{
		{"en", "7000, no wait, 8000 per acre", "application_rate=8000 gal/acre; withdrawn 7000"},
		{"en", "7000 per acre, make that 8000", "application_rate=8000 gal/acre; withdrawn 7000 per acre"},
		{"en", "3000 gallon tank, sorry, 4000", "tank_volume=4000 gal; withdrawn 3000 gallon"},
		{"en", "seven thousand actually eight thousand per acre", "application_rate=8000 gal/acre; withdrawn seven thousand"},
		{"en", "3000 gal tank 7000 per acre I mean 8000 per acre", "application_rate=8000 gal/acre; tank_volume=3000 gal; withdrawn 7000 per acre"},
		{"en", "ryegrass 12 lb, scratch that, 14 lb", "seed_rate(annual ryegrass)=14 lb/acre; withdrawn 12 lb"},
		{"en", "40 no 38 acres", "area=38 acre; withdrawn 40"},
		{"en", "ryegrass, no wait, oats 40 lb", "seed_rate(oats)=40 lb/acre; withdrawn ryegrass"},
		{"en", "make it 8000", "loose 8000; corrects"},
		{"en", "no, 3500", "loose 3500; corrects"},
		{"en", "actually 12 ft", "width=12 ft; corrects"},
		{"es", "7000, no espera, 8000 por acre", "application_rate=8000 gal/acre; withdrawn 7000"},
		{"es", "tanque de 3000 galones, perdon, 4000", "tank_volume=4000 gal; withdrawn 3000 galones"},
		{"es", "avena, digo, centeno 60 libras", "seed_rate(cereal rye)=60 lb/acre; withdrawn avena"},
		{"es", "no perdon el aereador es de 12 pies no de 15", "width=12 ft; withdrawn 15; corrects"},
		{"es", "perdon, 12 pies no 15", "width=12 ft; withdrawn 15; corrects"},
		{"es", "perdon 12, no, 15 pies", "width=15 ft; withdrawn 12; corrects"},
		{"es", "la bomba da 6000 no 5000 litros por minuto", "pump_flow=6000 L/min; withdrawn 5000 litros por minuto"},
		{"es", "centeno no, ballico 12 libras", "seed_rate(annual ryegrass)=12 lb/acre; withdrawn centeno"},
	})
}

// Words that turn the meaning round are understood or asked about, never skipped.
func TestNegations(t *testing.T) {
	checkReadings(t, []reading{
		{"en", "8000 per acre instead of 7000", "application_rate=8000 gal/acre; withdrawn 7000"},
		{"en", "8000 not 7000 per acre", "application_rate=8000 gal/acre; withdrawn 7000 per acre"},
		{"en", "not ryegrass, oats 40 lb", "seed_rate(oats)=40 lb/acre; withdrawn ryegrass"},
		{"en", "not 7000", "loose 7000; problem negated"},
		{"en", "less 200 gallons", "loose 200 gallons; problem negated"},
		{"en", "minus forty acres", "area=-40 acre"},
		{"en", "without seed, 3000 gal tank, 7000 per acre", "application_rate=7000 gal/acre; tank_volume=3000 gal"},
		{"es", "8000 por acre en vez de 7000", "application_rate=8000 gal/acre; withdrawn 7000"},
		{"es", "sin semilla, tanque de 3000 galones, 7000 por acre", "application_rate=7000 gal/acre; tank_volume=3000 gal"},
		{"es", "no ballico sino avena 40 libras", "seed_rate(oats)=40 lb/acre; withdrawn ballico"},
	})
	for text, want := range map[string]string{"don't log that": "log", "do not undo": "undo", "no anotes esa carga": "log"} {
		req := Parse(text, in(""))
		if len(req.Acts) != 1 || req.Acts[0].Name != want || !req.Acts[0].Not {
			t.Errorf("%q: acts %+v, want not %s", text, req.Acts, want)
		}
	}
}

// Two values and no choice: both are offered, none is taken.
func TestAlternatives(t *testing.T) {
	for text, want := range map[string]string{
		"7000 or 8000 an acre":            "unread 7000 or 8000 an acre; problem which_of_two",
		"6000/8000 per acre":              "unread 6000/8000 per acre; problem which_of_two",
		"7000 o 8000 por acre":            "unread 7000 o 8000 por acre; problem which_of_two",
		"ten or twelve pounds of oats":    "crop oats; unread ten or twelve pounds; problem which_of_two",
		"tank 3000 or 4000 gallons":       "unread 3000 or 4000 gallons; problem which_of_two",
		"3000 gallon tank, 12 or 15 foot": "tank_volume=3000 gal; unread 12 or 15 foot; problem which_of_two",
	} {
		req := Parse(text, in(""))
		if got := said(req); got != want || len(req.Choices) != 2 {
			t.Errorf("%q\n\tgot  %s with %d choices\n\twant %s with 2", text, got, len(req.Choices), want)
		}
	}
	if req := Parse("ryegrass or oats at 40 lb", in("en")); !req.Either || req.Problem == nil || req.Problem.Code != engine.WhichCrop {
		t.Errorf("two crops and none chosen: %s", said(req))
	}
}

// Role words tied to their numbers, where another word stands as near.
func TestNeighbours(t *testing.T) {
	checkReadings(t, []reading{
		{"en", "gate lets out 600 tank 3000", "flow=600 gal/min; tank_volume=3000 gal"},
		{"en", "tank 3000 pump 1600 gate 600", "flow=600 gal/min; pump_flow=1600 gal/min; tank_volume=3000 gal"},
		{"en", "out of a 4800 tank at 7000", "application_rate=7000 gal/acre; tank_volume=4800 gal"},
		{"en", "purity 98 germ 85 ryegrass 12 lb", "germination(annual ryegrass)=85 %; purity(annual ryegrass)=98 %; seed_rate(annual ryegrass)=12 lb/acre"},
		{"en", "log 500 loads", "load_count=500"},
		{"en", "put ten pounds of rye grass and five pounds of crimson in it", "seed_rate(annual ryegrass)=10 lb/acre; seed_rate(crimson clover)=5 lb/acre"},
		{"en", "pump puts out 1600, 3000 gallon tank", "pump_flow=1600 gal/min; tank_volume=3000 gal"},
		{"en", "how much phosphate at 6500 with 12 lb p2o5 per 1000", "analysis_phosphate=12 lb/1000gal; application_rate=6500 gal/acre"},
		{"en", "18 lb oats left in the tank", "total_seed(oats)=18 lb; crop oats"},
		{"en", "20 lb of ryegrass left", "total_seed(annual ryegrass)=20 lb; crop annual ryegrass"},
		{"en", "ammonium 6.2 total 28.4 lb per 1000 at 6500", "analysis_ammonium_n=6.2 lb/1000gal; analysis_total_n=28.4 lb/1000gal; application_rate=6500 gal/acre"},
		{"en", "18 acres left at 6500 with a 3200 tank", "application_rate=6500 gal/acre; area=18 acre; tank_volume=3200 gal"},
		{"en", "area 40 rate 7000 tank 3000", "application_rate=7000 gal/acre; area=40 acre; tank_volume=3000 gal"},
		{"en", "field 40 rate 7000 tank 3000", "application_rate=7000 gal/acre; tank_volume=3000 gal; unread 40"},
		{"en", "3 quarters of a tank", "load_fraction=0.75"},
		{"es", "la bomba da 6000 litros por minuto y salen 2200 cisterna 12000", "flow=2200 L/min; pump_flow=6000 L/min; tank_volume=12000 L"},
	})
}

func TestFollowUps(t *testing.T) {
	checkReadings(t, []reading{
		{"en", "and at 8000?", "application_rate=8000 gal/acre; what-if"},
		{"en", "what about oats at 40?", "seed_rate(oats)=40 lb/acre; what-if"},
		{"en", "what if I went 4 mph", "speed=4 mph; what-if"},
		{"en", "same with the 4000 tank", "tank_volume=4000 gal; what-if"},
		{"en", "half a tank?", "load_fraction=0.5"},
		{"es", "y a 8000?", "application_rate=8000 gal/acre; what-if"},
		{"es", "que tal avena a 40 libras", "seed_rate(oats)=40 lb/acre; what-if"},
	})
}
