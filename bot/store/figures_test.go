package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/store/pgtest"
)

// BenchmarkFigures fills both databases with a big log and measures, side by side,
// what a message costs: reading all that a chat's totals and what is left need, and
// logging a load durably, beside bare inserts of the same rows by the same driver in
// turn with it. One chat has a tenth of all loads, the others a thousand each.
//
//	TANKSIDE_TEST_LOADS=1000000 go test ./bot/store -run '^$' -bench Figures -benchtime 1x -timeout 1h
func BenchmarkFigures(b *testing.B) {
	rows := 50_000
	if n, err := strconv.Atoi(os.Getenv("TANKSIDE_TEST_LOADS")); err == nil {
		rows = n
	}
	b.Run("sqlite", func(b *testing.B) {
		for b.Loop() {
			figures(b, filepath.Join(b.TempDir(), "log.db"), "analyze", rows)
		}
	})
	b.Run("postgres", func(b *testing.B) {
		server, err := pgtest.StartDurable()
		if err != nil {
			b.Fatal(err)
		}
		defer server.Close()
		for b.Loop() {
			name, err := server.Create(ctx)
			if err != nil {
				b.Fatal(err)
			}
			figures(b, server.URL(name), "vacuum analyze", rows) // as a server in use keeps it
		}
	})
}

func figures(b *testing.B, path, tidy string, rows int) {
	s := open(b, path)
	began := time.Now()
	for _, text := range append(fillSteps(rows), tidy) {
		if _, err := s.write.Exec(text); err != nil {
			b.Fatalf("%s: %v", text, err)
		}
	}
	b.Logf("%d loads filled in %.0f s; %s", rows, time.Since(began).Seconds(), sizes(b, s))
	b.Logf("totals and what is left %s", measure(2000, func(i int) { readTotals(b, s, rows, i) }))
	ours, theirs := appends(b, s, rows)
	b.Logf("append                  %s", ours)
	b.Logf("the same rows, bare     %s  ratio %.2f, of the medians %.2f", theirs, float64(ours.total)/float64(theirs.total), float64(ours.at(0.5))/float64(theirs.at(0.5)))
	b.Logf("append, 8 at a time     %.0f loads a second", together(b, s, rows))
}

// timings are sorted.
type timings struct {
	all   []time.Duration
	total time.Duration
}

func (t timings) at(p float64) time.Duration { return t.all[int(p*float64(len(t.all)-1))] }

func (t timings) String() string {
	ms := func(p float64) float64 { return float64(t.at(p).Microseconds()) / 1000 }
	return fmt.Sprintf("p50 %6.2f ms  p99 %6.2f ms  max %6.2f ms", ms(0.5), ms(0.99), ms(1))
}

func (t *timings) add(d time.Duration) { t.all, t.total = append(t.all, d), t.total+d }

func measure(n int, f func(i int)) (t timings) {
	for i := range n {
		began := time.Now()
		f(i)
		t.add(time.Since(began))
	}
	slices.Sort(t.all)
	return t
}

// chatOfRun takes the big chat every fifth time.
func chatOfRun(rows, i int) int64 {
	if i%5 == 0 {
		return 1
	}
	return 2 + rand.Int64N(max(int64(rows-rows/10)/1000, 1))
}

func readTotals(b *testing.B, s *Store, rows, i int) {
	chat := chatOfRun(rows, i)
	_, book, _, err := s.Load(ctx, chat, 1, noon)
	if err != nil || book.Field.Count == 0 || len(book.Recent) != 12 {
		b.Fatalf("chat %d: %d loads in the field, %d recent, %v", chat, book.Field.Count, len(book.Recent), err)
	}
}

// appends logs loads, and in turn with that inserts the same rows into the same tables,
// of a chat beside.
func appends(b *testing.B, s *Store, rows int) (ours, theirs timings) {
	r := aReply()
	text, err := json.Marshal(r)
	if err != nil {
		b.Fatal(err)
	}
	if s.config == nil {
		if err := s.write.prepare(ctx, []string{bareLoad}); err != nil {
			b.Fatal(err)
		}
	}
	m := bot.Memory{Field: 1, Fields: []bot.Field{{ID: 1, Name: "north 40"}}}
	for i := range 1000 {
		id, chat := int64(rows+i+1), chatOfRun(rows, i)
		l := load(id, 0, 1, noon.Add(time.Duration(i)*time.Second))
		began := time.Now()
		if err := s.Apply(ctx, chat, id, m, []bot.Effect{{Add: l}}, r); err != nil {
			b.Fatal(err)
		}
		ours.add(time.Since(began))
		began = time.Now()
		insertRows(b, s.write, -chat, id, l, string(text))
		theirs.add(time.Since(began))
	}
	slices.Sort(ours.all)
	slices.Sort(theirs.all)
	return ours, theirs
}

// together logs loads of many chats at the same time, and gives how many a second.
func together(b *testing.B, s *Store, rows int) float64 {
	const at, each = 8, 250
	began := time.Now()
	var all sync.WaitGroup
	for i := range at {
		all.Go(func() {
			for n := range each {
				id := int64(rows + 10_000 + i*each + n)
				m, l := bot.Memory{Field: 1}, load(id, 0, 1, noon.Add(time.Duration(n)*time.Second))
				if err := s.Apply(ctx, chatOfRun(rows, n), id, m, []bot.Effect{{Add: l}}, aReply()); err != nil {
					b.Error(err)
				}
			}
		})
	}
	all.Wait()
	return at * each / time.Since(began).Seconds()
}

// fillSteps make rows in SQL that both databases know, and the sums from the rows.
func fillSteps(rows int) []string {
	big, first := rows/10, noon.AddDate(0, 0, -200)
	chat := fmt.Sprintf("case when i < %d then 1 else 2 + (i - %d) / 1000 end", big, big)
	n := fmt.Sprintf("case when i < %d then i + 1 else (i - %d) %% 1000 + 1 end", big, big)
	days := fmt.Sprintf("(case when i < %d then i * 200 / %d else (i - %d) %% 1000 / 5 end)", big, big, big)
	numbers := fmt.Sprintf(`with recursive i(i) as (select 0 union all select i + 1 from i where i < %d) `, rows-1)
	reply, _ := json.Marshal(aReply())
	sumOver := func(in, key string) []string {
		ofAll := strings.NewReplacer("l.chat = $1 and ", "", "chat = $1 and ", "", "group by ", "group by l.chat, ")
		return []string{ofAll.Replace(sumsOf(in, key)), ofAll.Replace(seedSumsOf(in, key))}
	}
	steps := []string{
		numbers + fmt.Sprintf(`insert into loads select %s, %s, %s, 0, 0, 1, 'north 40', %s, 1, 3000, 3000.0 / 7000, 7000,
			%d + %s * 86400000000 + i %% 1000, -18000, %d + %s, %d, -18000, 3, 'Ann', '' from i`,
			chat, n, n, n, first.UnixMicro(), days, dayOf(first), days, first.UnixMicro()),
		`insert into messages select chat, n, said_at, '` + strings.ReplaceAll(string(reply), "'", "''") + `' from loads`,
		`insert into load_seeds select chat, n, 0, 'annual ryegrass', 12, 12 * area from loads`,
		`insert into cancels select chat, n, said_at, -18000, 'undo' from loads where n % 100 = 0`,
		`insert into chats select distinct chat, '{"units":{"System":0},"field":1,"fields":[{"id":1,"name":"north 40"}]}' from loads`,
	}
	steps = append(steps, slices.Concat(sumOver("field", "field"), sumOver("day", "day"), sumOver("year", "day * 0 + 2026"))...)
	return steps
}

// sizes tells how much room a log takes.
func sizes(b *testing.B, s *Store) string {
	if s.config == nil {
		var pages, size int64
		if err := errors.Join(s.write.QueryRow("pragma page_count").Scan(&pages), s.write.QueryRow("pragma page_size").Scan(&size)); err != nil {
			b.Fatal(err)
		}
		return fmt.Sprintf("%d MB", pages*size>>20)
	}
	rows, err := s.write.Query(`select relname, pg_total_relation_size(relid) >> 20 from pg_stat_user_tables order by 2 desc, 1 limit 7`)
	if err != nil {
		b.Fatal(err)
	}
	defer rows.Close()
	var all []string
	for rows.Next() {
		var name string
		var mb int64
		if err := rows.Scan(&name, &mb); err != nil {
			b.Fatal(err)
		}
		all = append(all, fmt.Sprintf("%s %d MB", name, mb))
	}
	return strings.Join(all, ", ")
}
