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
	if from, to := w.Days(day("2027-11-03")); !from.Equal(day("2027-08-02")) || !to.Equal(day("2027-09-15")) {
		t.Errorf("2 August to 15 September of 2027: %v to %v", from, to)
	}
	for _, c := range Crops() {
		for _, w := range c.Windows {
			if from, to := w.Days(day("2026-01-01")); !from.Before(to) || from.Format("01-02") != w.From || to.Format("01-02") != w.To {
				t.Errorf("%s: %+v", c.Name, w)
			}
		}
	}
}

func TestAnswerTiming(t *testing.T) {
	oats, rye := Facts{{Slot: CropSaid, Of: "oats", Unit: bare}}, Facts{{Slot: CropSaid, Of: "cereal rye", Unit: bare}}
	ask := []Topic{TopicCrop}
	if r := Answer(ask, oats, &Context{}); len(r.Timings) != 0 {
		t.Error("the time was not asked for")
	}
	if r := Answer(ask, oats, &Context{Timing: true}); r.Problem != FrostNeeded || len(r.Timings) != 1 || len(r.Timings[0].Windows) == 0 {
		t.Errorf("neither frost nor place: %q, %+v", r.Problem, r.Timings)
	}
	r := Answer(ask, oats, &Context{Timing: true, Frost: day("2026-10-20")})
	if r.Problem != "" || !r.Timings[0].From.Equal(day("2026-08-25")) || !r.Timings[0].To.Equal(day("2026-09-08")) {
		t.Errorf("six to eight weeks ahead of 20 October: %q, %+v", r.Problem, r.Timings)
	}
	if r := Answer(ask, oats, &Context{Timing: true, Place: "Pennsylvania"}); r.Problem != "" || len(r.Timings[0].Windows) != 1 {
		t.Errorf("in Pennsylvania: %q, %+v", r.Problem, r.Timings)
	}
	if r := Answer(ask, rye, &Context{Timing: true, Place: "Pennsylvania"}); r.Problem != FrostNeeded || len(r.Timings[0].Windows) != 0 {
		t.Errorf("rye has no window there: %q, %+v", r.Problem, r.Timings)
	}
	if r := Answer(ask, rye, &Context{Timing: true, Frost: day("2026-10-20")}); r.Problem != "" || !r.Timings[0].From.IsZero() || len(r.Timings[0].Windows) == 0 {
		t.Errorf("rye has no lead time, and a window elsewhere: %q, %+v", r.Problem, r.Timings)
	}
}

func TestTooCold(t *testing.T) {
	rye := CropNamed("cereal rye")
	if !rye.TooCold(33) || rye.TooCold(34) {
		t.Error("rye needs 34 °F")
	}
}
