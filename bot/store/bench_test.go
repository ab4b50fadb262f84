package store

import (
	"database/sql"
	"encoding/json"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"tankside/bot"
	"tankside/engine"
	"tankside/engine/unit"
)

// aReply is about as much as a logged load is answered with.
func aReply() *bot.Reply {
	return &bot.Reply{Lang: "en", Text: "Load 3 logged: 0.43 acres on north 40.\n40 acres to go.", Spoken: "Load three logged.",
		Outcome: &engine.Outcome{Status: engine.Done, Topics: []engine.Topic{engine.TopicLog}, Act: engine.ActLogged,
			Given:   engine.Facts{{Slot: engine.TankVolume, Min: 3000, Max: 3000, Unit: unit.Must("gal")}},
			Results: []engine.Value{{Slot: engine.LoadCount, Min: 3, Max: 3}, {Slot: engine.AreaDone, Min: 1.3, Max: 1.3}}}}
}

// BenchmarkAppend logs loads in two chats, and beside each one inserts the same rows
// with the bare driver into tables of its own, as durably. It reports how many times
// the driver's time the store takes: memory, reply and sums are what it buys.
func BenchmarkAppend(b *testing.B) {
	s := open(b, filepath.Join(b.TempDir(), "log.db"))
	raw := open(b, filepath.Join(b.TempDir(), "raw.db"))
	if err := raw.write.prepare(ctx, []string{bareLoad}); err != nil {
		b.Fatal(err)
	}
	r := aReply()
	text, err := json.Marshal(r)
	if err != nil {
		b.Fatal(err)
	}
	var ours, theirs time.Duration
	id := int64(0)
	b.ReportAllocs()
	for b.Loop() {
		id++
		chat := []int64{chatA, chatB}[id%2]
		l := load(id, 0, 1, noon.Add(time.Duration(id)*time.Second))
		start := time.Now()
		if err := s.Apply(ctx, chat, id, bot.Memory{Field: 1}, []bot.Effect{{Add: l}}, r); err != nil {
			b.Fatal(err)
		}
		ours += time.Since(start)
		b.StopTimer()
		start = time.Now()
		insertRows(b, raw.write, chat, id, l, string(text))
		theirs += time.Since(start)
		b.StartTimer()
	}
	b.ReportMetric(float64(ours)/float64(theirs), "x_driver")
}

const bareLoad = `insert into loads (chat, n, id, part, replaces, field, field_name, seq, fraction,
		volume, area, rate, spread_at, spread_zone, day, said_at, said_zone, who, who_name, note)
	values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20)`

// insertRows inserts the message, the load and its seeds, as fast as the driver can.
func insertRows(b *testing.B, h *handle, chat, n int64, l *bot.Load, reply string) {
	tx, err := h.Begin()
	if err != nil {
		b.Fatal(err)
	}
	exec := func(text string, args ...any) {
		if st := h.statements[text]; st != nil {
			_, err = tx.Stmt(st).Exec(args...)
		} else {
			_, err = tx.Exec(text, args...) // this driver keeps statements by itself
		}
		if err != nil {
			b.Fatal(err)
		}
	}
	at, day := l.When.UnixMicro(), dayOf(l.When)
	exec(addMessage, chat, n, at, reply)
	exec(bareLoad, chat, n, l.ID, l.Part, l.Replaces, l.Field, l.FieldName, l.Seq, l.Fraction,
		l.Volume, l.Area, l.Rate, at, -18000, day, at, -18000, l.Who.ID, l.Who.Name, l.Note)
	for i, s := range l.Seeds {
		exec(addSeed.text(1, 6), chat, n, i, s.Crop, s.Rate, s.Weight)
	}
	if err := tx.Commit(); err != nil {
		b.Fatal(err)
	}
}

// big is a log of 1,000,000 loads (20,000 with -short), half of them in chat A: all
// in one field, over 200 days. It is made once a run.
var big = sync.OnceValues(func() (string, error) {
	dir, err := makeTemp()
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "big.db")
	s, err := Open(ctx, path)
	if err != nil {
		return "", err
	}
	defer s.Close()
	return path, fill(s.write.DB, bigRows())
})

func bigRows() int {
	if testing.Short() {
		return 20_000
	}
	return 1_000_000
}

// fill makes rows in SQL, and the sums from the rows: not with the code under test.
func fill(db *sql.DB, rows int) error {
	first, day := noon.AddDate(0, 0, -200), dayOf(noon.AddDate(0, 0, -200))
	tx, err := db.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	for _, chat := range []int64{chatA, chatB} {
		for _, step := range []struct {
			text string
			args []any
		}{
			{`with recursive i(n) as (select 1 union all select n + 1 from i where n < $2)
				insert into loads select $1, n, n, 0, 0, 1, 'north 40', n, 1, 3000, 3000.0 / 7000, 7000,
					$3 + n * 200 / $2 * 86400000000 + n % 1000, -18000, $4 + n * 200 / $2, $3, -18000, 3, 'Ann', '' from i`,
				[]any{chat, rows / 2, first.UnixMicro(), day}},
			{`insert into load_seeds select chat, n, 0, 'annual ryegrass', 12, 12 * area from loads where chat = $1`, []any{chat}},
			{`insert into cancels select chat, n, said_at, -18000, 'undo' from loads where chat = $1 and n % 100 = 0`, []any{chat}},
			{sumsOf("field", "field"), []any{chat}},
			{sumsOf("day", "day"), []any{chat}},
			{sumsOf("year", "day * 0 + 2026"), []any{chat}},
			{seedSumsOf("year", "day * 0 + 2026"), []any{chat}},
			{seedSumsOf("field", "field"), []any{chat}},
			{seedSumsOf("day", "day"), []any{chat}},
			{`insert into chats values ($1, '{"units":{"System":0},"field":1,"fields":[{"id":1,"name":"north 40"}]}')`, []any{chat}},
		} {
			if _, err := tx.Exec(step.text, step.args...); err != nil {
				return err
			}
		}
	}
	return tx.Commit()
}

func sumsOf(in, key string) string {
	return `insert into sums select chat, '` + in + `', ` + key + `, sum(fraction), count(*), sum(volume), sum(area),
		min(spread_at), -18000, max(spread_at), -18000 from loads l where chat = $1 and ` + standing + ` group by ` + key
}

func seedSumsOf(in, key string) string {
	return `insert into seed_sums select l.chat, '` + in + `', l.` + key + `, s.crop, count(*), sum(s.weight)
		from loads l join load_seeds s on s.chat = l.chat and s.n = l.n where l.chat = $1 and ` + standing + ` group by l.` + key + `, s.crop`
}

// BenchmarkTotals reads everything that a message may need of a big log, and beside
// it adds the field up by a scan.
func BenchmarkTotals(b *testing.B) {
	s := openBig(b)
	start := time.Now()
	var scanned float64
	if err := s.read.QueryRow(`select sum(area) from loads l where chat = $1 and field = 1 and `+standing, chatA).Scan(&scanned); err != nil {
		b.Fatal(err)
	}
	scan := time.Since(start)
	b.ReportAllocs()
	for b.Loop() {
		_, book, _, err := s.Load(ctx, chatA, 1, noon)
		if err != nil {
			b.Fatal(err)
		}
		if d := book.Field.Area - scanned; d > 1e-3 || d < -1e-3 || len(book.Recent) != 12 {
			b.Fatalf("%v acres from sums, %v by scan, %d recent", book.Field.Area, scanned, len(book.Recent))
		}
	}
	b.ReportMetric(float64(scan)/float64(b.Elapsed())*float64(b.N), "x_faster_than_scan")
}

// BenchmarkUndoInBig logs a load into the big log, takes it back, so that the last
// one has to be found anew, and logs it right.
func BenchmarkUndoInBig(b *testing.B) {
	s := openBig(b)
	at := time.Now()
	for b.Loop() {
		at = at.Add(time.Second)
		wrong, right := load(at.UnixNano(), 0, 1, at), load(at.UnixNano(), 1, 1, at)
		effects := []bot.Effect{{Add: wrong}, {Cancel: wrong, Why: "corrected", Add: right}}
		if err := s.Apply(ctx, chatB, wrong.ID, bot.Memory{Field: 1}, effects, aReply()); err != nil {
			b.Fatal(err)
		}
	}
}

func openBig(b *testing.B) *Store {
	b.Helper()
	path, err := big()
	if err != nil {
		b.Fatal(err)
	}
	return open(b, path)
}
