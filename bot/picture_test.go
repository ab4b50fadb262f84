package bot

import (
	"testing"
	"time"

	"tankside/engine"
	"tankside/engine/unit"
)

// talked holds a conversation and gives the last outcome with its memory and book.
func talked(t *testing.T, lines ...string) (*engine.Outcome, *Memory, *Book) {
	t.Helper()
	var m Memory
	var b Book
	var o *engine.Outcome
	at := time.Date(2026, 9, 14, 7, 0, 0, 0, time.UTC)
	for i, line := range lines {
		d := Decide(Message{Chat: 1, ID: int64(i + 1), Text: line, At: at.Add(time.Duration(i) * time.Minute)}, m, b)
		m, o = d.Memory, d.Outcome
	}
	return o, &m, &b
}

func TestPictureOfAnswers(t *testing.T) {
	o, m, b := talked(t, "gate 3 gives 450 gpm", "gate 5 gives 750 gpm", "what gate for 600 gpm")
	if p := PictureOf(o, m, b, nil); p == nil || p.Gate == nil || len(p.Gate.Runs) != 2 || p.Gate.Opening < 3.9 || p.Gate.Opening > 4.1 || p.Gate.Flow != 600 {
		t.Errorf("gate: %+v", p)
	}
	o, m, b = talked(t, "jar counts 42 38 45 40")
	if p := PictureOf(o, m, b, nil); p == nil || p.Jars == nil || len(p.Jars.Counts) != 4 || p.Jars.Counts[2] != 45 {
		t.Errorf("jars: %+v, %+v", p, o)
	}
	o, m, b = talked(t, "3000 gallon tank, pump 1000 gpm, 509 gpm going out, how is the mixing")
	if p := PictureOf(o, m, b, nil); p == nil || p.Tank == nil || p.Tank.Tank != 3000 || p.Tank.Pump != 1000 || p.Tank.Flow < 508.9 || p.Tank.Flow > 509.1 {
		t.Errorf("tank: %+v, %+v", p, o)
	}
	o, m, b = talked(t, "3000 gallon tank, 7000 per acre")
	if p := PictureOf(o, m, b, nil); p != nil {
		t.Errorf("a load has a picture: %+v", p)
	}
}

func TestPictureOfTheLog(t *testing.T) {
	o, m, b := talked(t, "start field creek, 12 acres", "my fields")
	b.ByField = map[int64]Totals{m.Field: {Loads: 3, Area: 4}}
	if p := PictureOf(o, m, b, nil); p == nil || len(p.Fields) != 1 || p.Fields[0].Name != "creek" || p.Fields[0].Done != 4 || p.Fields[0].Area != 12 {
		t.Errorf("fields: %+v, %+v", p, o)
	}
	o, m, b = talked(t, "3000 gallon tank, 7000 per acre", "start field creek, 12 acres", "totals")
	if p := PictureOf(o, m, b, nil); p == nil || len(p.Fields) != 1 || p.Fields[0].Name != "creek" || p.Fields[0].Area != 12 {
		t.Errorf("one field: %+v, %+v", p, o)
	}
	o, m, b = talked(t, "fill 10 minutes, drive 8 minutes, spread 6 minutes, return 6 minutes", "totals today")
	today := []Load{{When: time.Unix(100, 0), Fraction: 1}, {When: time.Unix(4000, 0), Fraction: 0.5}}
	p := PictureOf(o, m, b, today)
	if p == nil || p.Day == nil || len(p.Day.Loads) != 2 || p.Day.Loads[1].Loads != 0.5 || p.Day.Target != 2 {
		t.Errorf("day: %+v, %+v", p, o)
	}
	if PictureOf(o, m, b, nil) != nil {
		t.Error("a day without loads has a picture")
	}
}

func TestTargetPaceUnknown(t *testing.T) {
	minutes := func(part string, v float64) Remembered {
		return Remembered{Fact: engine.Fact{Slot: engine.Duration, Of: part, Min: v, Max: v, Unit: unit.Must("min")}}
	}
	if p := TargetPace(&Memory{Facts: []Remembered{minutes("fill", 10)}}); p != 0 {
		t.Errorf("filling alone makes a pace of %g", p)
	}
}
