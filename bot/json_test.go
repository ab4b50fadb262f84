package bot

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"tankside/engine"
	"tankside/engine/unit"
)

func said(s engine.Slot, of string, lo, hi float64, u string, from, to int) engine.Fact {
	return engine.Fact{Slot: s, Of: of, Min: lo, Max: hi, Unit: unit.Must(u), At: [2]int{from, to}}
}

func jsonOf(t testing.TB, question string, r *Reply) string {
	t.Helper()
	b, err := AppendJSON(nil, question, r)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// The example of the answer contract, with the members that it leaves out empty.
func TestJSONIsTheContractsExample(t *testing.T) {
	const want = `{"question":"3000 gallon tank, 7000 per acre, ryegrass 12 lb",
 "language":"en",
 "status":"answered",
 "topic":"load",
 "given":[{"quantity":"tank_volume","value":3000,"unit":"gal","from":"said","at":[0,16]},
             {"quantity":"application_rate","value":7000,"unit":"gal/acre","from":"said","at":[18,31]},
             {"quantity":"seed_rate","of":"annual ryegrass","value":12,"unit":"lb/acre","from":"said","at":[33,47]}],
 "results":[{"quantity":"area_per_load","value":0.42857142857142855,"unit":"acre"},
             {"quantity":"seed_per_load","of":"annual ryegrass","value":5.142857142857143,"unit":"lb"}],
 "missing":[],"conflict":[],"unread":[],"withdrawn":[],
 "cautions":[{"id":"presoak","level":"advice"}],
 "reply":"…","spoken":"…"}`
	const area = 3000.0 / 7000
	got := jsonOf(t, "3000 gallon tank, 7000 per acre, ryegrass 12 lb", &Reply{Lang: "en", Text: "…", Spoken: "…",
		Outcome: &engine.Outcome{Status: engine.Answered, Topics: []engine.Topic{engine.TopicLoad, engine.TopicSoak},
			Given: engine.Facts{said(engine.TankVolume, "", 3000, 3000, "gal", 0, 16),
				said(engine.ApplicationRate, "", 7000, 7000, "gal/acre", 18, 31),
				said(engine.SeedRate, "annual ryegrass", 12, 12, "lb/acre", 33, 47)},
			Results: []engine.Value{{Slot: engine.AreaPerLoad, Min: area, Max: area},
				{Slot: engine.SeedPerLoad, Of: "annual ryegrass", Min: 12 * area, Max: 12 * area}},
			Notes: []engine.Note{{ID: "presoak", Level: engine.Advice, Of: "annual ryegrass"}, {ID: "spelling"}}}})
	if d := cmp.Diff(strings.Join(strings.Fields(want), ""), strings.Join(strings.Fields(got), "")); d != "" {
		t.Errorf("- want, + got:\n%s", d)
	}
}

func TestJSONOfOtherShapes(t *testing.T) {
	o := &engine.Outcome{Status: engine.Refused, Units: engine.Units{System: unit.Metric},
		Given: engine.Facts{
			{Slot: engine.PumpFlow, Min: 1600, Max: 1600, Unit: unit.Must("gal/min"), Origin: engine.Remembered, At: [2]int{9, 9}},
			{Slot: engine.Density, Min: 8.3, Max: 8.3, Unit: unit.Must("lb/gal"), Origin: engine.Assumed},
			{Slot: engine.Flow, Min: 1, Max: 1, Unit: unit.Must("gal/min"), Origin: engine.Derived},
			{Slot: engine.CropSaid, Of: "oats", Min: 0, Max: 0, Unit: unit.Must("")},
			{Slot: engine.LoadFraction, Min: 0.5, Max: 0.5},
			said(engine.ApplicationRate, "", 6000, 8000, "gal/acre", 0, 12)},
		Results: []engine.Value{{Slot: engine.Speed, Min: 3, Max: 3, Limit: true},
			{Slot: engine.Converted, Min: 50, Max: 50, Unit: unit.Must("°C")},
			{Slot: engine.Loads, Min: 1e-7, Max: 1e21}},
		Missing: []engine.Slot{engine.SeedRate, engine.Width, engine.SeedRate}, Conflict: []engine.Slot{engine.Area, engine.Width},
		Unread: []engine.Span{{Text: "5 \"zorp\"", At: [2]int{3, 9}}}, Withdrawn: []engine.Span{{Text: "7000", At: [2]int{0, 4}}},
		Notes: []engine.Note{{ID: "gas", Level: engine.Danger}, {ID: "gas", Level: engine.Danger}, {ID: "pto", Level: engine.Caution}}}
	const want = `{"question":"q","language":"es","status":"refused","topic":"",` +
		`"given":[{"quantity":"pump_flow","value":1600,"unit":"gal/min","from":"remembered"},` +
		`{"quantity":"density","value":8.3,"unit":"lb/gal","from":"assumed"},` +
		`{"quantity":"load_fraction","value":0.5,"unit":"","from":"said","at":[0,0]},` +
		`{"quantity":"application_rate","min":6000,"max":8000,"unit":"gal/acre","from":"said","at":[0,12]}],` +
		`"results":[{"quantity":"speed","value":4.828032,"unit":"km/h","as":"limit"},` +
		`{"quantity":"converted","value":10,"unit":"°C"},` +
		`{"quantity":"loads","min":1e-07,"max":1e+21,"unit":""}],` +
		`"missing":["seed_rate","width"],"conflict":["area","width"],` +
		`"unread":[{"text":"5 \"zorp\"","at":[3,9]}],"withdrawn":[{"text":"7000","at":[0,4]}],` +
		`"cautions":[{"id":"gas","level":"danger"},{"id":"pto","level":"caution"}],"reply":"","spoken":""}`
	if d := cmp.Diff(want, jsonOf(t, "q", &Reply{Outcome: o, Lang: "es"})); d != "" {
		t.Errorf("- want, + got:\n%s", d)
	}
}

func TestJSONOfNothing(t *testing.T) {
	const want = `{"question":"","language":"en","status":"not_understood","topic":"","given":[],"results":[],` +
		`"missing":[],"conflict":[],"unread":[],"withdrawn":[],"cautions":[],"reply":"","spoken":""}`
	if d := cmp.Diff(want, jsonOf(t, "", &Reply{})); d != "" {
		t.Errorf("- want, + got:\n%s", d)
	}
}

func TestJSONRefusesWhatIsNoNumber(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		o := &engine.Outcome{Results: []engine.Value{{Slot: engine.Area, Min: v, Max: v}}}
		if b, err := AppendJSON([]byte("kept"), "q", &Reply{Outcome: o}); err == nil || string(b) != "kept" {
			t.Errorf("%v: got %q, %v", v, b, err)
		}
	}
}

// Any bytes make one line of JSON that reads back as they were, but for what is not UTF-8.
func FuzzJSONText(f *testing.F) {
	for _, s := range []string{"", "a\x00b\r\n\t\"\\</>", "ñ🚜\u2028", "\xff\xfe", "half \xe2\x82", "\ufffd", "\x7f"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		line := jsonOf(t, s, &Reply{Text: s})
		var got struct{ Question, Reply string }
		if err := json.Unmarshal([]byte(line), &got); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		var want strings.Builder
		for _, r := range s {
			want.WriteRune(r)
		}
		if got.Question != want.String() || got.Reply != want.String() || !utf8.ValidString(line) || strings.ContainsAny(line, "\n\r") {
			t.Errorf("%q became %q", s, line)
		}
	})
}

func BenchmarkAppendJSON(b *testing.B) {
	r := &Reply{Lang: "en", Text: strings.Repeat("An answer. ", 20), Spoken: strings.Repeat("An answer. ", 20),
		Outcome: &engine.Outcome{Status: engine.Answered,
			Given:   engine.Facts{said(engine.TankVolume, "", 3000, 3000, "gal", 0, 16), said(engine.SeedRate, "oats", 12, 12, "lb/acre", 33, 47)},
			Results: []engine.Value{{Slot: engine.AreaPerLoad, Min: 3.0 / 7, Max: 3.0 / 7}, {Slot: engine.SeedPerLoad, Of: "oats", Min: 36.0 / 7, Max: 36.0 / 7}}}}
	b.ReportAllocs()
	var buf []byte
	for b.Loop() {
		buf, _ = AppendJSON(buf[:0], "3000 gallon tank, 7000 per acre, oats 12 lb", r)
	}
}
