package bot

import (
	"encoding/json"
	"testing"

	"tankside/engine"
	"tankside/engine/unit"
)

// fullMemory is a chat that knows something of everything.
func fullMemory() (Memory, Book) {
	at := corpusNow
	remembered := func(s engine.Slot, of string, v float64, u string) Remembered {
		return Remembered{Fact: engine.Fact{Slot: s, Of: of, Min: v, Max: v, Unit: unit.Must(u)}, When: at, Who: "Sam"}
	}
	m := Memory{Lang: "en", Facts: []Remembered{remembered(engine.TankVolume, "", 3000, "gal"), remembered(engine.ApplicationRate, "", 7000, "gal/acre"),
		remembered(engine.SeedRate, "annual ryegrass", 12, "lb/acre"), remembered(engine.Width, "", 12, "ft"), remembered(engine.PumpFlow, "", 1600, "gal/min")},
		Pending: &Pending{Slot: engine.Speed, Topics: []engine.Topic{engine.TopicFlow}, Choices: []engine.Choice{{Slot: engine.Speed, Min: 3, Max: 3, Unit: unit.Must("mph")}}},
		Last:    &Last{Topics: []engine.Topic{engine.TopicLoad}, Facts: engine.Facts{{Slot: engine.TankVolume, Min: 3000, Max: 3000, Unit: unit.Must("gal")}}, Slots: []engine.Slot{engine.TankVolume}},
		Runs:    []engine.Run{{Opening: 3, Flow: 450}, {Opening: 5, Flow: 750}},
		Fields:  []Field{{ID: 1, Name: "North 40", Area: 40, Opened: at}, {ID: 2, Name: "River piece", Area: 12, Opened: at}}, Field: 1, Next: 2,
		Limits: []engine.Limit{{Slot: engine.ApplicationRate, Value: 9000}}, UnitOf: map[string]string{"ton": "ton"}}
	load := Load{ID: 5, Field: 1, FieldName: "North 40", Seq: 1, Fraction: 1, Volume: 3000, Area: 3000.0 / 7000, Rate: 7000,
		Seeds: []Seed{{Crop: "annual ryegrass", Rate: 12, Weight: 5.14}}, When: at, Said: at}
	sums := Totals{Loads: 1, Count: 1, Volume: 3000, Area: 3000.0 / 7000, Seeds: []Seed{{Crop: "annual ryegrass", Weight: 5.14}}, First: at, Last: at}
	return m, Book{At: 1, Field: sums, Today: sums, Season: sums, Recent: []Load{load}, ByField: map[int64]Totals{1: sums, 2: {}}}
}

func asJSON(t testing.TB, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

var chatter = []string{"and at 8000?", "make it 8000", "log load", "log 2 and a half loads", "undo", "correct last load to 2500 gallons", "call it home place", "close field", "new field east, 5 acres", "switch to river piece",
	"forget the pump", "forget everything", "gate 4 gives 600 gpm", "gate for 600?", "forget the gate", "use metric", "en español", "5 mph", "yes", "never mind", "note wet in the corner", "20 acres", "oats 60 lb",
	"3000 tons of oats", "3.5 tons", "no", "40 acre field", "north 40 is 38 acres", "totals", "what's left", "list fields", "my setup", "4000 or 5000 gallon tank", "half load"}

// Decide leaves the caller's memory and book as they were, whatever is said.
func TestDecideTouchesNothing(t *testing.T) {
	m, book := fullMemory()
	wantM, wantB := asJSON(t, m), asJSON(t, book)
	messages := append([]string(nil), chatter...)
	for _, lines := range corpusLines(t) {
		for i := 0; i < len(lines); i += 3 {
			messages = append(messages, lines[i].text)
		}
	}
	for _, text := range messages {
		for _, mem := range [2]Memory{m, withoutPending(m)} {
			Decide(Message{Chat: 1, ID: 9, Text: text, At: corpusNow}, mem, book)
			if got := asJSON(t, m); got != wantM {
				t.Fatalf("%q changed the memory it was given:\n%s\n%s", text, wantM, got)
			}
			if got := asJSON(t, book); got != wantB {
				t.Fatalf("%q changed the book it was given", text)
			}
		}
	}
}

func withoutPending(m Memory) Memory {
	m.Pending = nil
	return m
}

// The same message, memory and book always come to the same.
func TestDecideIsAFunction(t *testing.T) {
	for _, text := range chatter {
		var want string
		for range 3 {
			m, book := fullMemory()
			d := Decide(Message{Chat: 1, ID: 9, Text: text, At: corpusNow}, m, book)
			got := Say(d).Text + asJSON(t, d.Memory) + asJSON(t, d.Effects)
			if want != "" && got != want {
				t.Errorf("%q comes to\n%s\nthen to\n%s", text, want, got)
			}
			want = got
		}
	}
}

// What a message does to the log, as effects.
func TestEffects(t *testing.T) {
	for _, c := range []struct {
		text      string
		adds      []float64 // fraction of each load that is added
		cancels   int
		why       string
		volume    float64 // of the last one added
		fieldName string
	}{
		{"log load", []float64{1}, 0, "", 3000, "North 40"},
		{"log 2 and a half loads", []float64{1, 1, 0.5}, 0, "", 1500, "North 40"},
		{"half load", []float64{0.5}, 0, "", 1500, "North 40"},
		{"log load 1800 gallons", []float64{1}, 0, "", 1800, "North 40"},
		{"log load on river piece", []float64{1}, 0, "", 3000, "River piece"},
		{"undo", nil, 1, "undo", 0, ""},
		{"correct last load to 2500 gallons", []float64{1}, 1, "corrected", 2500, "North 40"},
		{"note wet in the corner", []float64{1}, 1, "note", 3000, "North 40"},
		{"and at 8000?", nil, 0, "", 0, ""},
		{"don't log that", nil, 0, "", 0, ""},
		{"totals", nil, 0, "", 0, ""},
		{"my tank is 4000", nil, 0, "", 0, ""},
		{"how many loads for 40 acres", nil, 0, "", 0, ""},
		{"log 0 loads", nil, 0, "", 0, ""},
		{"log 500 loads", nil, 0, "", 0, ""},
		{"log load 5000 gallons", nil, 0, "", 0, ""},
		{"log some loads", nil, 0, "", 0, ""},
		{"new field east, 5 acres", nil, 0, "", 0, ""},
	} {
		m, book := fullMemory()
		d := Decide(Message{Chat: 1, ID: 9, Text: c.text, At: corpusNow, Person: Person{Name: "Sam"}}, withoutPending(m), book)
		var adds []*Load
		cancels := 0
		for _, e := range d.Effects {
			if e.Add != nil {
				adds = append(adds, e.Add)
			}
			if e.Cancel != nil {
				cancels++
				if e.Why != c.why {
					t.Errorf("%q: cancelled for %q, want %q", c.text, e.Why, c.why)
				}
			}
		}
		if len(adds) != len(c.adds) || cancels != c.cancels {
			t.Errorf("%q: %d loads added and %d cancelled (%s %s), want %d and %d", c.text, len(adds), cancels, d.Outcome.Status, d.Outcome.Problem, len(c.adds), c.cancels)
			continue
		}
		for i, l := range adds {
			if l.Fraction != c.adds[i] || l.ID != 9 || l.Part != i || l.Seq < 1 || i > 0 && l.Seq != adds[i-1].Seq+1 || c.why != "note" && l.Who.Name != "Sam" {
				t.Errorf("%q: load %d is %+v", c.text, i, l)
			}
		}
		if n := len(adds); n > 0 && (adds[n-1].Volume != c.volume || adds[n-1].FieldName != c.fieldName) {
			t.Errorf("%q: the last load has %g gallons in %q, want %g in %q", c.text, adds[n-1].Volume, adds[n-1].FieldName, c.volume, c.fieldName)
		}
	}
}
