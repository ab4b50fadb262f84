package record

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"tankside/bot"
	"tankside/engine"
	"tankside/engine/unit"
)

var zone = time.FixedZone("", -5*3600)

func at(day, hour, minute int) time.Time { return time.Date(2026, 9, day, hour, minute, 0, 0, zone) }

const evil = `=HYPERLINK("http://x","y")`

// aLog is two days on three fields: whole and part loads, two crops, a correction, an
// undone load, notes, one name that a spreadsheet would run, one field not closed.
func aLog() ([]bot.Row, *bot.Memory) {
	m := &bot.Memory{Fields: []bot.Field{{ID: 1, Name: "north forty", Area: 6, Closed: at(15, 18, 0)}, {ID: 2, Name: evil, Area: 20}, {ID: 3}}}
	for _, f := range []struct {
		slot engine.Slot
		v    float64
	}{{engine.AnalysisTotalN, 25}, {engine.AnalysisAmmoniumN, 15}, {engine.AnalysisOrganicN, 10}, {engine.AnalysisPhosphate, 9}, {engine.AnalysisPotash, 20}} {
		m.Facts = append(m.Facts, bot.Remembered{Fact: engine.Fact{Slot: f.slot, Min: f.v, Max: f.v, Unit: unit.Must("lb/1000gal")}, When: at(1, 8, 0)})
	}
	for slot, v := range map[engine.Slot]float64{engine.Purity: 98, engine.Germination: 90} {
		m.Facts = append(m.Facts, bot.Remembered{Fact: engine.Fact{Slot: slot, Of: "annual ryegrass", Min: v, Max: v, Unit: unit.Must("%")}, When: at(2, 8, 0)})
	}
	var rows []bot.Row
	load := func(field int64, seq int, when time.Time, share float64, note string) *bot.Row {
		l := bot.Load{ID: int64(len(rows) + 10), Field: field, Seq: seq, Fraction: share, Volume: 3000 * share, Area: 3.0 / 7 * share, Rate: 7000,
			Seeds: []bot.Seed{{Crop: "annual ryegrass", Rate: 12, Weight: 36.0 / 7 * share}}, When: when, Said: when, Who: bot.Person{ID: 1, Name: "Ann"}, Note: note}
		for _, f := range m.Fields {
			if f.ID == field {
				l.FieldName = f.Name
			}
		}
		rows = append(rows, bot.Row{Load: l})
		return &rows[len(rows)-1]
	}
	for i := range 6 {
		load(1, i+1, at(14, 7, 10*i), 1, "")
	}
	load(1, 7, at(14, 8, 30), 0.5, "").Seeds = nil
	load(1, 8, at(14, 8, 45), 1, "")
	rows[7].Cancelled, rows[7].Why = at(14, 8, 50), "undo"
	rows[2].Cancelled, rows[2].Why = at(14, 9, 0), "corrected"
	fixed := load(1, 3, at(14, 7, 20), 0.8, "")
	fixed.Replaces, fixed.Who = rows[2].ID, bot.Person{ID: 2, Name: "+Bob"}
	noted := rows[5].Load // a note on the sixth load, then a second one
	rows[5].Cancelled, rows[5].Why = at(14, 9, 5), "note"
	noted.ID, noted.Replaces, noted.Note = 30, rows[5].ID, "Soil was moist; weather: 61 F, wind NW 8"
	rows = append(rows, bot.Row{Load: noted, Cancelled: at(14, 9, 6), Why: "note"})
	noted.ID, noted.Replaces, noted.Note = 31, 30, "ran out of seed; lot annual ryegrass AR-17-204"
	rows = append(rows, bot.Row{Load: noted})
	load(2, 1, at(15, 13, 0), 1, "method: injected; manure source: pit 2; weather before dry; tiempo después: lluvia ligera").
		Seeds = []bot.Seed{{Crop: "oats", Rate: 40, Weight: 120.0 / 7}, {Crop: "annual ryegrass", Rate: 12, Weight: 36.0 / 7}}
	load(3, 1, at(15, 14, 0), 1, "").Who = bot.Person{}
	return rows, m
}

func built(q Query) *Record {
	rows, m := aLog()
	q.Made = at(15, 20, 0)
	return Build(rows, m, q)
}

func TestSheets(t *testing.T) {
	r := built(Query{})
	if len(r.Sheets) != 3 || r.From != "2026-09-14" || r.To != "2026-09-15" || !slices.Equal(r.Crops, []string{"annual ryegrass", "oats"}) {
		t.Fatalf("%d sheets, %s to %s, %v", len(r.Sheets), r.From, r.To, r.Crops)
	}
	north := r.Sheets[0]
	if north.Field.Name != "north forty" || len(north.Lines) != 9 || len(north.People) != 2 || !north.From.Equal(at(14, 7, 0)) || !north.To.Equal(at(14, 8, 30)) {
		t.Errorf("%q, %d lines, %v, %v to %v", north.Field.Name, len(north.Lines), north.People, north.From, north.To)
	}
	// six loads less the one corrected to 0.8, a half, and what was undone does not count
	if math.Abs(north.Sum.Loads-6.3) > 1e-9 || north.Sum.Volume != 18900 || north.Sum.Area != 2.7 {
		t.Errorf("%+v", north.Sum)
	}
	if seeds := north.Sum.Seeds["annual ryegrass"]; math.Abs(seeds-5.8*36/7) > 0.01 {
		t.Errorf("%g lb", seeds)
	}
	if north.Achieved != 18900.0/6 || r.Sheets[1].Achieved != 0 {
		t.Errorf("achieved %g and %g", north.Achieved, r.Sheets[1].Achieved)
	}
	var states []string
	for _, l := range north.Lines {
		states = append(states, r.stateOf(&l))
	}
	for _, want := range []string{"taken back 2026-09-14 09:00: corrected", "taken back 2026-09-14 08:50: undone", "stands"} {
		if !slices.Contains(states, want) {
			t.Errorf("no %q in %q", want, states)
		}
	}
}

func TestDetails(t *testing.T) {
	r := built(Query{})
	got := map[string]string{}
	for _, d := range r.details(&r.Sheets[0]) {
		got[d.name] = d.value
	}
	for name, want := range map[string]string{"full load": "3,000 gallons", "seed tag (annual ryegrass)": "purity 98 %, germination 90 %, given 2026-09-02",
		"seed lot (annual ryegrass)": "AR-17-204", "field size": "6.00 acres", "planned rate": "7,000 gallons an acre", "operator": "Ann, +Bob"} {
		if got[name] != want {
			t.Errorf("%s: %q, want %q", name, got[name], want)
		}
	}
}

func TestToldByNotes(t *testing.T) {
	r := built(Query{})
	for i, items := range []map[Item]string{
		{Soil: "moist", Weather: "61 F, wind NW 8"},
		{Method: "injected", Source: "pit 2", WeatherBefore: "dry", WeatherAfter: "lluvia ligera"},
	} {
		for item, want := range items {
			if got := r.Sheets[i].Told.Items[item]; got != want {
				t.Errorf("%s: %q, want %q", item, got, want)
			}
		}
		if len(r.Sheets[i].Told.Items) != len(items) {
			t.Errorf("told %v", r.Sheets[i].Told.Items)
		}
	}
	if got := r.Sheets[0].lotOf("annual ryegrass"); got != "AR-17-204" {
		t.Errorf("lot %q", got)
	}
	if n := r.Sheets[0].Lines[6].Notes; !slices.Equal(n, []string{"Soil was moist; weather: 61 F, wind NW 8", "ran out of seed; lot annual ryegrass AR-17-204"}) {
		t.Errorf("notes %q", n)
	}
}

// What a note told stays told when its load is taken back, and the last word holds.
func TestToldByLoadsTakenBack(t *testing.T) {
	rows, m := aLog()
	rows[7].Note = "method: injected" // undone
	rows[0].Note, rows[0].Said = "soil wet", at(14, 20, 0)
	s := Build(rows, m, Query{}).Sheets[0]
	if s.Told.Items[Method] != "injected" || s.Told.Items[Soil] != "wet" {
		t.Errorf("told %v", s.Told.Items)
	}
}

func TestLabelled(t *testing.T) {
	for note, want := range map[string]Told{
		"soil moist": {Items: map[Item]string{Soil: "moist"}}, "Suelo: estaba húmedo": {Items: map[Item]string{Soil: "húmedo"}},
		"soils are fun": {}, "ground speed 4 mph": {}, "tiempo de carga 5 min": {}, "manure smells": {}, "slurry: pit 2": {Items: map[Item]string{Source: "pit 2"}}, "soil": {}, "soil:": {}, "the soil is wet": {}, "método: inyectado": {Items: map[Item]string{Method: "inyectado"}},
		"weather the day before: rain 0.2 in": {Items: map[Item]string{WeatherBefore: "rain 0.2 in"}},
		"lot 17":                              {Lots: map[string]string{"": "17"}}, "lote avena 9-B": {Lots: map[string]string{"oats": "9-B"}},
		"lot: X1 oats; lot: Y2 crimson clover": {Lots: map[string]string{"oats": "X1", "crimson clover": "Y2"}},
	} {
		var got Told
		got.read(note)
		if !equal(got, want) {
			t.Errorf("%q: %v, want %v", note, got, want)
		}
	}
}

func equal(a, b Told) bool {
	if len(a.Items) != len(b.Items) || len(a.Lots) != len(b.Lots) {
		return false
	}
	for k, v := range a.Items {
		if b.Items[k] != v {
			return false
		}
	}
	for k, v := range a.Lots {
		if b.Lots[k] != v {
			return false
		}
	}
	return true
}

func TestGaps(t *testing.T) {
	r := built(Query{})
	want := map[string][]Item{
		"north forty": {WeatherBefore, WeatherAfter, Method, Source},
		evil:          {Weather, Soil, Lot, Lot},
		"":            {WeatherBefore, Weather, WeatherAfter, Soil, Method, Source, Lot, Operator, FieldName, FieldArea},
	}
	for field, items := range want {
		var got []Item
		for _, g := range r.Gaps {
			if g.Field == field {
				got = append(got, g.Item)
			}
		}
		if !slices.Equal(got, items) {
			t.Errorf("%s lacks %v, want %v", field, got, items)
		}
	}
	rows, m := aLog()
	m.Facts = nil
	if bare := Build(rows, m, Query{}); !slices.ContainsFunc(bare.Gaps, func(g Gap) bool { return g.Item == Analysis }) {
		t.Error("no analysis, and it is not missed")
	}
}

// 7,000 gallons an acre of 25 lb total N in 1,000 gallons, by hand: 175 lb an acre.
func TestNutrients(t *testing.T) {
	r := built(Query{})
	n := r.Sheets[0].Nutrients
	for slot, want := range map[engine.Slot]float64{engine.TotalN: 175, engine.AmmoniumN: 105, engine.OrganicN: 70, engine.Phosphate: 63, engine.Potash: 140} {
		got, ok := r.Sheets[0].amountOf(slot)
		if !ok || math.Abs(got[0]-want) > 1e-9 || got[0] != got[1] {
			t.Errorf("%s: %v", slot, got)
		}
	}
	if n.Scheme != "" {
		t.Error("available nitrogen without a method")
	}
	injected := r.Sheets[1].Nutrients
	if injected.Scheme != engine.DefaultScheme {
		t.Errorf("scheme %q", injected.Scheme)
	}
	if _, ok := r.Sheets[1].amountOf(engine.AvailableN); !ok {
		t.Error("no available nitrogen for injected slurry")
	}
	if total := n.List[0].Altogether[0]; math.Abs(total-25*18.9) > 1e-6 {
		t.Errorf("%g lb of nitrogen in 18,900 gallons", total)
	}
}

func TestQuery(t *testing.T) {
	for q, sheets := range map[Query]int{{From: "2026-09-15"}: 2, {To: "2026-09-14"}: 1, {Field: "NORTH Forty"}: 1, {Field: "elsewhere"}: 0, {From: "2027-01-01"}: 0} {
		if r := built(q); len(r.Sheets) != sheets {
			t.Errorf("%+v: %d sheets, want %d", q, len(r.Sheets), sheets)
		}
	}
}

// Whatever the loads are, columns add up to the last digit, and no figure is off by
// more than that digit.
func TestColumnsAddUp(t *testing.T) {
	for _, system := range []unit.System{unit.US, unit.Metric, unit.Imperial} {
		m := &bot.Memory{Units: engine.Units{System: system}, Fields: []bot.Field{{ID: 1, Name: "a"}, {ID: 2, Name: "b"}}}
		var rows []bot.Row
		volume := 0.0
		for i := range 700 {
			l := bot.Load{ID: int64(i), Field: int64(1 + i%2), Seq: i, Fraction: 1, Volume: 3000 - float64(i)/3, Area: 3.0/7 + float64(i)/9000, Rate: 7000,
				Seeds: []bot.Seed{{Crop: "oats", Weight: 17.1/7 + float64(i)/77}}, When: at(1+i/50, 6+i%12, i%60)}
			rows = append(rows, bot.Row{Load: l})
			volume += l.Volume
		}
		r := Build(rows, m, Query{})
		col := columnsOf(r.Units)
		var sum Sum
		for i := range r.Sheets {
			for _, l := range r.Sheets[i].Lines {
				sum.plus(l.Shown)
				within(t, "gallons", l.Shown.Volume, col.volume.FromBase(l.Volume), decimalsOf(col.volume))
				within(t, "acres", l.Shown.Area, col.area.FromBase(l.Area), decimalsOf(col.area))
				within(t, "pounds", l.Shown.Seeds["oats"], col.seed.FromBase(l.Seeds[0].Weight), decimalsOf(col.seed))
			}
		}
		if sum.Volume != r.Sum.Volume || sum.Area != r.Sum.Area || sum.Seeds["oats"] != r.Sum.Seeds["oats"] || sum.Loads != 700 {
			t.Errorf("lines come to %v, the record to %v", sum, r.Sum)
		}
		if want := round(col.volume.FromBase(volume), decimalsOf(col.volume)); math.Abs(r.Sum.Volume-want) > 1e-6 {
			t.Errorf("%g in all, the log has %g", r.Sum.Volume, want)
		}
	}
}

func within(t *testing.T, what string, shown, exact float64, decimals int) {
	t.Helper()
	if math.Abs(shown-exact) > 1.01*math.Pow10(-decimals) {
		t.Errorf("%s: shown as %g, is %g", what, shown, exact)
	}
}

func TestEveryLanguageHasAllWords(t *testing.T) {
	for item, text := range english.items {
		if text == "" || spanish.items[item] == "" {
			t.Errorf("%s has no words", item)
		}
	}
	for why := range english.why {
		if spanish.why[why] == "" {
			t.Errorf("%q has no words", why)
		}
	}
	for _, r := range []*Record{built(Query{}), built(Query{Lang: "es"})} {
		for _, row := range r.table() {
			for _, cell := range row {
				if strings.Contains(cell, "%!") || strings.Contains(cell, "slot.") {
					t.Errorf("%q", cell)
				}
			}
		}
	}
}
