package store

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"tankside/bot"
	"tankside/bot/bottest"
	"tankside/bot/store/pgtest"
)

// Whatever is added and taken back, in two chats at once: the sums equal those
// added up from all rows, the log only grows, and both stores tell the same.
func TestSumsEqualScan(t *testing.T) {
	now := noon
	file, server := open(t, ":memory:"), open(t, pgtest.Database(t))
	for _, s := range []*Store{file, server} {
		forbidChanges(t, s)
		s.Now = func() time.Time { return now }
	}
	run := int64(0)
	rapid.Check(t, func(t *rapid.T) {
		run++
		s := file
		if run%5 == 0 { // it takes longer
			s = server
		}
		chats := []int64{run, -run} // fresh chats for every run
		plain := &bottest.Store{Now: s.Now}
		for id := int64(1); id <= int64(rapid.IntRange(1, 25).Draw(t, "messages")); id++ {
			chat := rapid.SampledFrom(chats).Draw(t, "chat")
			m := bot.Memory{Field: rapid.Int64Range(0, 3).Draw(t, "field")}
			for f := int64(1); f <= 3; f++ {
				m.Fields = append(m.Fields, bot.Field{ID: f})
			}
			if rapid.Bool().Draw(t, "closed") {
				m.Fields[0].Closed = now
			}
			_, book, _, err := s.Load(ctx, chat, id, now)
			if err != nil {
				t.Fatal(err)
			}
			effects := drawEffects(t, id, m.Field, book.Recent)
			r := &bot.Reply{}
			e1, e2 := s.Apply(ctx, chat, id, m, effects, r), plain.Apply(ctx, chat, id, m, effects, r)
			if e1 != nil || e2 != nil {
				t.Fatalf("%v, %v", e1, e2)
			}
			compare(t, s, plain, chats)
		}
	})
}

func drawEffects(t *rapid.T, id, field int64, recent []bot.Load) []bot.Effect {
	var effects []bot.Effect
	for part := range rapid.IntRange(0, 3).Draw(t, "effects") {
		var e bot.Effect
		if len(recent) > 0 && rapid.Bool().Draw(t, "cancel") {
			e.Cancel, e.Why = &recent[rapid.IntRange(0, len(recent)-1).Draw(t, "which")], "undo"
		}
		if e.Cancel == nil || rapid.Bool().Draw(t, "correct") {
			e.Add = drawLoad(t, id, part, field)
		}
		effects = append(effects, e)
	}
	return effects
}

func drawLoad(t *rapid.T, id int64, part int, field int64) *bot.Load {
	// One zone a day: of two loads at one moment, either may be called the first.
	hundreds := rapid.IntRange(-4, 0).Draw(t, "hundreds of days")
	minutes := rapid.IntRange(-900, 900).Draw(t, "minutes")
	zone := time.FixedZone("", 3600*(hundreds-3))
	l := load(id, part, field, noon.AddDate(0, 0, 100*hundreds).In(zone).Add(time.Duration(minutes)*time.Minute))
	l.Fraction = rapid.Float64Range(0.1, 1).Draw(t, "fraction")
	l.Volume, l.Area = 3000*l.Fraction, rapid.Float64Range(0.01, 20).Draw(t, "area")
	l.Seeds = l.Seeds[:rapid.IntRange(0, 2).Draw(t, "seeds")]
	return l
}

func compare(t *rapid.T, s *Store, plain *bottest.Store, chats []int64) {
	for _, chat := range chats {
		m1, b1, _, err := s.Load(ctx, chat, 0, noon)
		if err != nil {
			t.Fatal(err)
		}
		m2, b2, _, _ := plain.Load(ctx, chat, 0, noon)
		mustEqual(t, "memory", m1, m2)
		mustEqual(t, "book", b1, b2)
		mustEqual(t, "rows", rowsOf(t, s, chat), rowsOf(t, plain, chat))
	}
}

func rowsOf(t interface{ Fatal(...any) }, s bot.Store, chat int64) (rows []bot.Row) {
	if err := s.Loads(ctx, chat, func(r bot.Row) error { rows = append(rows, r); return nil }); err != nil {
		t.Fatal(err)
	}
	return rows
}

// forbidChanges makes the database itself refuse to change or delete what is logged.
func forbidChanges(t testing.TB, s *Store) {
	t.Helper()
	body := ` begin select raise(abort, 'the log is append-only'); end`
	if s.config != nil {
		body = ` for each row execute function refuse()`
		if _, err := s.write.Exec(`create function refuse() returns trigger language plpgsql as $$ begin raise 'the log is append-only'; end $$`); err != nil {
			t.Fatal(err)
		}
	}
	for _, table := range []string{"loads", "load_seeds", "cancels", "messages"} {
		for _, what := range []string{"update", "delete"} {
			_, err := s.write.Exec(`create trigger no_` + what + `_` + table + ` before ` + what + ` on ` + table + body)
			if err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestForbidChangesForbids(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		forbidChanges(t, s)
		apply(t, s, chatA, 1, bot.Memory{}, bot.Effect{Add: load(1, 0, 1, noon)})
		if _, err := s.write.Exec(`update loads set volume = 1`); err == nil {
			t.Error("a load could be changed")
		}
	})
}
