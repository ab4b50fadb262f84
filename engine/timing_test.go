package engine

import (
	"testing"
	"time"
)

func day(text string) time.Time {
	d, err := time.Parse("2006-01-02", text)
	if err != nil {
		panic(err)
	}
	return d
}

func TestSeedBy(t *testing.T) {
	from, to, ok := CropNamed("annual ryegrass").SeedBy(day("2026-10-20"))
	if !ok || !from.Equal(day("2026-09-08")) || !to.Equal(day("2026-09-15")) {
		t.Errorf("five to six weeks ahead of 20 October: %v to %v", from, to)
	}
	if _, _, ok := CropNamed("cereal rye").SeedBy(day("2026-10-20")); ok {
		t.Error("rye has no lead time: it may go in to freeze-up")
	}
}

func TestWindow(t *testing.T) {
	w := CropNamed("annual ryegrass").Windows[0]
	for date, want := range map[string]bool{"2026-08-01": false, "2026-08-02": true, "2027-09-15": true, "2026-09-16": false} {
		if w.Open(day(date)) != want {
			t.Errorf("%s: open %v", date, !want)
		}
	}
}

func TestTooCold(t *testing.T) {
	rye := CropNamed("cereal rye")
	if !rye.TooCold(33) || rye.TooCold(34) {
		t.Error("rye needs 34 °F")
	}
}
