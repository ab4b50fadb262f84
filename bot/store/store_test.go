package store

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"tankside/bot"
	"tankside/bot/store/pgtest"
	"tankside/engine"
	"tankside/engine/unit"
)

// Each test runs two chats side by side, with the same message and field numbers.
const chatA, chatB = 7, -1007

var (
	ctx     = context.Background()
	central = time.FixedZone("", -5*3600)
	noon    = time.Date(2026, 9, 14, 12, 0, 0, 0, central)
)

// databases are what the suite runs on.
var databases = map[string]func(t testing.TB) string{
	"file":     func(t testing.TB) string { return filepath.Join(t.TempDir(), "log.db") },
	"memory":   func(testing.TB) string { return ":memory:" },
	"postgres": pgtest.Database,
}

func onEach(t *testing.T, f func(t *testing.T, s *Store)) {
	for name, path := range databases {
		t.Run(name, func(t *testing.T) { f(t, open(t, path(t))) })
	}
}

func open(t testing.TB, path string) *Store {
	t.Helper()
	s, err := Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// load is a full load of 3,000 gallons at 7,000 an acre, with ryegrass.
func load(id int64, part int, field int64, when time.Time) *bot.Load {
	return &bot.Load{
		ID: id, Part: part, Field: field, FieldName: fmt.Sprintf("field %d", field), Seq: int(id), Fraction: 1,
		Volume: 3000, Area: 3000.0 / 7000, Rate: 7000,
		Seeds: []bot.Seed{{Crop: "annual ryegrass", Rate: 12, Weight: 12 * 3000.0 / 7000}, {Crop: "oats", Rate: 40, Weight: 40 * 3000.0 / 7000}},
		When:  when, Said: when.Add(time.Minute), Who: bot.Person{ID: 3, Name: "Ann"}, Note: "=1+1",
	}
}

func apply(t testing.TB, s bot.Store, chat, id int64, m bot.Memory, effects ...bot.Effect) {
	t.Helper()
	if err := s.Apply(ctx, chat, id, m, effects, &bot.Reply{Text: fmt.Sprintf("%d/%d", chat, id)}); err != nil {
		t.Fatal(err)
	}
}

func get(t testing.TB, s bot.Store, chat, id int64, at time.Time) (bot.Memory, bot.Book, *bot.Reply) {
	t.Helper()
	m, b, r, err := s.Load(ctx, chat, id, at)
	if err != nil {
		t.Fatal(err)
	}
	return m, b, r
}

// same compares what is stored: moments to the microsecond, whatever the name of
// their zone; sums to what adding in another order may change.
var same = cmp.Options{
	cmpopts.EquateEmpty(),
	cmpopts.EquateApprox(1e-9, 1e-9),
	cmp.Comparer(func(a, b time.Time) bool {
		_, za := a.Zone()
		_, zb := b.Zone()
		return a.UnixMicro() == b.UnixMicro() && za == zb
	}),
}

func mustEqual(t interface{ Errorf(string, ...any) }, what string, got, want any) {
	if d := cmp.Diff(want, got, same); d != "" {
		t.Errorf("%s (- want, + got):\n%s", what, d)
	}
}

func TestNewChatIsEmpty(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		m, b, r := get(t, s, chatA, 1, noon)
		if r != nil {
			t.Errorf("a reply from nowhere: %v", r)
		}
		mustEqual(t, "memory", m, bot.Memory{})
		mustEqual(t, "book", b, bot.Book{})
	})
}

func TestMemoryAndReplyComeBack(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		tank := engine.Fact{Slot: engine.TankVolume, Min: 4000, Max: 4000, Unit: unit.Must("imp gal"), Origin: engine.Remembered, At: [2]int{3, 9}}
		mA := bot.Memory{Lang: "es", Units: engine.Units{System: unit.Metric, Litres: true}, Next: 3, Field: 2,
			Facts:  []bot.Remembered{{Fact: tank, When: noon, Who: "Ann"}},
			Fields: []bot.Field{{ID: 1, Name: "north 40", Area: 40, Opened: noon, Closed: noon}, {ID: 2, Name: "=cmd()", Opened: noon}},
			Runs:   []engine.Run{{Opening: 4, Flow: 620}}, UnitOf: map[string]string{"t": "ton"},
		}
		rA := &bot.Reply{Lang: "es", Text: "0,43", HTML: "<b>0,43</b>", Spoken: "cero", Buttons: []bot.Button{{Label: "undo", Say: "undo"}},
			Outcome: &engine.Outcome{Status: engine.Done, Topics: []engine.Topic{engine.TopicLog}, Given: engine.Facts{tank},
				Results: []engine.Value{{Slot: engine.SeedPerLoad, Of: "oats", Min: 1.0 / 3, Max: 2, Limit: true, Unit: unit.Must("kg")}},
				Notes:   []engine.Note{{ID: "presoak", Level: engine.Advice}}, Missing: []engine.Slot{engine.Width}}}
		mB := bot.Memory{Lang: "en", Field: 9}
		if err := s.Apply(ctx, chatA, 5, mA, nil, rA); err != nil {
			t.Fatal(err)
		}
		apply(t, s, chatB, 5, mB)

		m, _, r := get(t, s, chatA, 5, noon)
		mustEqual(t, "memory", m, mA)
		mustEqual(t, "reply", r, rA)
		if m.Facts[0].Fact.Unit != tank.Unit || r.Outcome.Given[0].Unit != tank.Unit || r.Outcome.Results[0].Unit != unit.Must("kg") {
			t.Error("a unit that came back is not the one of the table")
		}
		m, _, r = get(t, s, chatB, 5, noon)
		mustEqual(t, "the other chat's memory", m, mB)
		if r == nil || r.Text != "-1007/5" {
			t.Errorf("the other chat's reply: %v", r)
		}
		if _, _, r = get(t, s, chatB, 6, noon); r != nil {
			t.Errorf("message 6 was never said, yet got %v", r)
		}
	})
}

func TestMessageTwiceChangesNothing(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		for range 3 {
			for _, chat := range []int64{chatA, chatB} {
				apply(t, s, chat, 1, bot.Memory{Field: 1}, bot.Effect{Add: load(1, 0, 1, noon)}, bot.Effect{Add: load(1, 1, 1, noon)})
			}
		}
		apply(t, s, chatA, 1, bot.Memory{Field: 2}, bot.Effect{Cancel: load(1, 0, 1, noon), Why: "undo"}, bot.Effect{Add: load(9, 0, 1, noon)})
		for _, chat := range []int64{chatA, chatB} {
			m, b, _ := get(t, s, chat, 1, noon)
			if m.Field != 1 || b.Field.Count != 2 || b.Today.Loads != 2 || b.Season.Volume != 6000 || len(b.Recent) != 2 {
				t.Errorf("chat %d: field %d, book %+v", chat, m.Field, b)
			}
		}
	})
}

// A load that another message adds again under the same number counts once; so
// does taking it back.
func TestLoadAndCancelCountOnce(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		m := bot.Memory{Field: 1}
		apply(t, s, chatA, 1, m, bot.Effect{Add: load(1, 0, 1, noon)})
		apply(t, s, chatB, 1, m, bot.Effect{Add: load(1, 0, 1, noon)})
		apply(t, s, chatA, 2, m, bot.Effect{Add: load(1, 0, 1, noon)}, bot.Effect{Add: load(2, 0, 1, noon)})
		for id := int64(3); id < 6; id++ {
			apply(t, s, chatA, id, m, bot.Effect{Cancel: &bot.Load{ID: 1}, Why: "undo"})
		}
		_, b, _ := get(t, s, chatA, 0, noon)
		if b.Field.Count != 1 || b.Today.Count != 1 || len(b.Recent) != 1 || b.Recent[0].ID != 2 {
			t.Errorf("want load 2 alone: %+v", b)
		}
		if _, b, _ = get(t, s, chatB, 0, noon); b.Field.Count != 1 {
			t.Errorf("the other chat lost its load: %+v", b)
		}
	})
}

func TestCancelStaysInItsChat(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		apply(t, s, chatA, 1, bot.Memory{Field: 1}, bot.Effect{Add: load(1, 0, 1, noon)})
		err := s.Apply(ctx, chatB, 2, bot.Memory{Field: 5}, []bot.Effect{{Add: load(2, 0, 5, noon)}, {Cancel: &bot.Load{ID: 1}, Why: "undo"}}, nil)
		if err == nil || !strings.Contains(err.Error(), "not in this chat's log") {
			t.Errorf("want a refusal, got %v", err)
		}
		if m, b, r := get(t, s, chatB, 2, noon); m.Field != 0 || b.Season.Count != 0 || r != nil {
			t.Errorf("a failed message left something behind: %+v %+v %v", m, b, r)
		}
		if _, b, _ := get(t, s, chatA, 0, noon); b.Field.Count != 1 {
			t.Errorf("chat A lost its load: %+v", b)
		}
	})
}

func TestRowsShowCorrections(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		s.Now = func() time.Time { return noon.Add(time.Hour) }
		first, second := load(1, 0, 1, noon), load(2, 0, 1, noon)
		second.Replaces, second.Seeds = 1, nil
		apply(t, s, chatA, 1, bot.Memory{}, bot.Effect{Add: first})
		apply(t, s, chatB, 1, bot.Memory{}, bot.Effect{Add: load(1, 0, 3, noon)})
		apply(t, s, chatA, 2, bot.Memory{}, bot.Effect{Cancel: first, Why: "corrected", Add: second})
		var rows []bot.Row
		err := s.Loads(ctx, chatA, func(r bot.Row) error { rows = append(rows, r); return nil })
		if err != nil {
			t.Fatal(err)
		}
		mustEqual(t, "rows", rows, []bot.Row{{Load: *first, Cancelled: noon.Add(time.Hour), Why: "corrected"}, {Load: *second}})
	})
}

func TestLoadsPagesAndStops(t *testing.T) {
	s := open(t, ":memory:")
	for id := int64(1); id <= 1234; id++ {
		apply(t, s, chatA, id, bot.Memory{}, bot.Effect{Add: load(id, 0, 1, noon)})
	}
	n, last := 0, int64(0)
	err := s.Loads(ctx, chatA, func(r bot.Row) error {
		n++
		if r.ID != last+1 {
			return fmt.Errorf("row %d follows row %d", r.ID, last)
		}
		last = r.ID
		// The log may be written while it is read.
		return s.Apply(ctx, chatB, r.ID, bot.Memory{}, nil, nil)
	})
	if n != 1234 || err != nil {
		t.Errorf("read %d rows of 1234: %v", n, err)
	}
	stop := fmt.Errorf("enough")
	n = 0
	if err := s.Loads(ctx, chatA, func(bot.Row) error { n++; return stop }); err != stop || n != 1 {
		t.Errorf("want one row and %v, got %d and %v", stop, n, err)
	}
}

// Days and seasons are the operator's own: 23:30 on 31 December in the field is
// already the next year in UTC.
func TestDaysAreLocal(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		late := time.Date(2025, 12, 31, 23, 30, 0, 0, central)
		early := time.Date(2026, 1, 1, 0, 30, 0, 0, central)
		apply(t, s, chatA, 1, bot.Memory{}, bot.Effect{Add: load(1, 0, 0, late)}, bot.Effect{Add: load(1, 1, 0, early)})
		apply(t, s, chatB, 1, bot.Memory{}, bot.Effect{Add: load(1, 0, 0, late.UTC())})
		_, b, _ := get(t, s, chatA, 0, late)
		if b.Today.Count != 1 || b.Season.Count != 1 || !b.Today.First.Equal(late) {
			t.Errorf("31 December: %+v", b)
		}
		_, b, _ = get(t, s, chatA, 0, early.AddDate(0, 11, 30))
		if b.Today.Count != 0 || b.Season.Count != 1 || !b.Season.Last.Equal(early) {
			t.Errorf("the next 31 December: %+v", b)
		}
		if b.Field.Count != 2 || !b.Field.First.Equal(late) || !b.Field.Last.Equal(early) {
			t.Errorf("the field counts across years: %+v", b.Field)
		}
		if _, b, _ = get(t, s, chatB, 0, early); b.Season.Count != 1 {
			t.Errorf("the other chat said it in UTC: %+v", b)
		}
	})
}
