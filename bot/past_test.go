package bot

import (
	"math"
	"slices"
	"testing"
	"time"

	"tankside/engine"
)

func TestRecallOf(t *testing.T) {
	m := &Memory{Fields: []Field{{ID: 1, Name: "North Forty", Closed: time.Unix(1, 0)}, {ID: 2, Name: "creek"}, {ID: 3, Name: "creek bottom"}, {ID: 4, Name: "north forty"}, {ID: 5}}}
	for name, want := range map[string][]int64{"north forty": {1, 4}, "North": {1, 4}, "creek": {2}, "cre": nil, "home": nil, "CREEK B": {3}} {
		r, ok := RecallOf(m, name, time.Time{}, time.Time{})
		if !slices.Equal(r.Fields, want) || ok != (want != nil) {
			t.Errorf("%q: %v, %v; want %v", name, r.Fields, ok, want)
		}
	}
	if r, ok := RecallOf(m, "", time.Time{}, time.Time{}); !ok || r.Fields != nil {
		t.Errorf("every field: %v, %v", r, ok)
	}
}

func TestPastOf(t *testing.T) {
	day := func(y, m, d int) time.Time { return time.Date(y, time.Month(m), d, 9, 0, 0, 0, time.UTC) }
	load := func(field int64, when time.Time, rate float64, crop string) Load {
		return Load{Field: field, When: when, Fraction: 1, Volume: 3000, Area: 3000 / rate, Rate: rate, Seeds: []Seed{{Crop: crop, Rate: 12, Weight: 12 * 3000 / rate}}}
	}
	loads := []Load{load(1, day(2025, 9, 1), 7000, "oats"), load(1, day(2025, 9, 1), 6000, "oats"), load(4, day(2025, 9, 3), 7000, "annual ryegrass"),
		load(2, day(2025, 9, 2), 7000, "oats"), load(1, day(2025, 5, 1), 9000, "oats"), load(1, day(2026, 1, 1), 9000, "oats")}
	from, to, _ := engine.LastSeason("fall", day(2026, 9, 14))
	p := PastOf(loads, Recall{Fields: []int64{1, 4}, Name: "north forty", From: from, To: to})
	if p.Loads != 3 || p.Count != 3 || p.Volume != 9000 || p.Days != 2 || p.Rate != [2]float64{6000, 7000} || !p.First.Equal(day(2025, 9, 1)) || !p.Last.Equal(day(2025, 9, 3)) {
		t.Errorf("%+v", p)
	}
	if want := 9000 / (6000.0/7000 + 0.5); math.Abs(p.Reach-want) > 1e-9 {
		t.Errorf("%g gallons an acre, want %g", p.Reach, want)
	}
	for _, s := range p.Seeded {
		if math.Abs(s.Rate-12) > 1e-9 {
			t.Errorf("%+v", s)
		}
	}
	var o engine.Outcome
	p.Tell(&o)
	if o.Log.Field != "north forty" || !slices.Equal(o.Words, []string{"2025-09-01", "2025-09-03"}) || len(o.Results) != 8 {
		t.Errorf("%+v", o)
	}
	none := PastOf(nil, Recall{Fields: []int64{1}})
	none.Tell(&o)
	if none.Loads != 0 || len(o.Words) != 0 {
		t.Errorf("of nothing: %+v", none)
	}
}
