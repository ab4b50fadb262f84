package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/store/pgtest"
)

// fillAll puts something into every table, in two chats.
func fillAll(t *testing.T, s *Store, loads int64) {
	t.Helper()
	do(t, s, func(tx bot.Tx) error { return fillLog(tx, loads) })
	do(t, s, func(tx bot.Tx) error {
		var all []error
		for i, chat := range []int64{chatA, chatB} {
			n := int64(i + 1)
			_, err := tx.Receive(bot.Incoming{Number: n, Chat: chat, Raw: []byte(`{"said":"secret words"}`)})
			out, err2 := tx.Send(bot.Outgoing{Chat: chat, Body: []byte("secret words")})
			_, err3 := tx.Offer(chat, []bot.Button{{Say: "secret words"}})
			_, err4 := tx.Remind(bot.Reminder{Chat: chat, Kind: bot.RemindSaid, Text: "secret words", Due: noon, Zone: "UTC"})
			all = append(all, err, err2, err3, err4, tx.PutTurn(chat, bot.Turn{Message: n, Key: n, Out: out, Before: &bot.Memory{Lang: "en"}}),
				tx.PutGuest(bot.Guest{ID: chat, Role: bot.Member, Name: "secret words"}), tx.PutCode(fmt.Sprint("code", n), bot.Member, chat, noon), tx.SetOffset(n))
		}
		_, err := tx.(interface {
			exec(string, ...any) (int64, error)
		}).exec(addMoved, int64(-99), int64(chatB))
		return errors.Join(append(all, err)...)
	})
}

var moveRoutes = map[string][2]func(testing.TB) string{
	"to postgres": {databases["file"], pgtest.Database},
	"to sqlite":   {pgtest.Database, databases["file"]},
	"to another":  {databases["file"], databases["file"]},
}

func fillLog(tx bot.Tx, loads int64) error {
	for _, chat := range []int64{chatA, chatB} {
		for id := int64(1); id <= loads; id++ {
			l := load(id, 0, 1+id%3, noon.Add(time.Duration(id)*time.Minute))
			l.Note, l.Who.Name = "zero \x00 and \xff, ünï 🚜", "Ann\x00"
			effects := []bot.Effect{{Add: l}}
			if id%10 == 0 {
				effects = append(effects, bot.Effect{Cancel: load(id-1, 0, 1, noon), Why: "undo"})
			}
			if err := tx.Apply(chat, id, bot.Memory{Field: 1, Next: id}, effects, &bot.Reply{Text: fmt.Sprint(chat, id)}); err != nil {
				return err
			}
		}
	}
	return nil
}

// A log that is moved is the same log: every row, every value, and it goes on.
func TestMove(t *testing.T) {
	for name, route := range moveRoutes {
		t.Run(name, func(t *testing.T) {
			from, to := route[0](t), route[1](t)
			s := open(t, from)
			fillAll(t, s, 60)
			moved, err := Move(ctx, from, to)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range moved {
				if m.Rows == 0 || m.Fresh != m.Rows {
					t.Errorf("%+v: every table had something", m)
				}
			}
			d := open(t, to)
			for _, chat := range []int64{chatA, chatB} {
				m1, b1, r1 := get(t, s, chat, 7, noon)
				m2, b2, r2 := get(t, d, chat, 7, noon)
				mustEqual(t, "memory", m2, m1)
				mustEqual(t, "book", b2, b1)
				mustEqual(t, "reply", r2, r1)
				mustEqual(t, "rows", rowsOf(t, d, chat), rowsOf(t, s, chat))
			}
			apply(t, d, chatA, 1000, bot.Memory{Field: 1}, bot.Effect{Add: load(1000, 0, 1, noon)})
			do(t, d, func(tx bot.Tx) error {
				id, err := tx.Send(bot.Outgoing{Chat: chatA, Body: []byte("x")})
				if id <= 2 {
					t.Errorf("a number was given again: %d", id)
				}
				return err
			})
			if _, err := Move(ctx, from, to); err == nil || !strings.Contains(err.Error(), "already") {
				t.Errorf("moved onto a log that is in use: %v", err)
			}
			if _, err := Move(ctx, from, from); err == nil {
				t.Error("moved onto itself")
			}
		})
	}
}

// A move that was broken off anywhere goes on, what was copied is not copied again,
// and nobody opens the new log before it is whole. In between, the old log may grow.
func TestMoveBrokenOff(t *testing.T) {
	for _, name := range []string{"to postgres", "to sqlite"} {
		route := moveRoutes[name]
		t.Run(name, func(t *testing.T) {
			from, to := route[0](t), route[1](t)
			s := open(t, from)
			fillAll(t, s, 1200) // several pages
			begun := false
			for n := int64(1); ; n++ {
				if n == 3 {
					apply(t, s, chatB, 9000, bot.Memory{Field: 2}, bot.Effect{Add: load(9000, 0, 1, noon)}) // before what has been copied
				}
				moved, err := Move(newFuse(40<<(3*n)), from, to)
				if err == nil {
					if n < 3 {
						t.Fatalf("done at the first try of %d: it was not broken off", n)
					}
					i := slices.IndexFunc(moved, func(m Moved) bool { return m.Table == "messages" })
					t.Logf("done after %d calls; the last one copied %d of %d messages", n, moved[i].Fresh, moved[i].Rows)
					break
				}
				if n > 20 {
					t.Fatal(err)
				}
				begun = begun || notOpened(t, to)
			}
			if !begun {
				t.Error("it was never broken off in the middle")
			}
			d := open(t, to)
			for _, chat := range []int64{chatA, chatB} {
				mustEqual(t, "rows", rowsOf(t, d, chat), rowsOf(t, s, chat))
			}
		})
	}
}

// notOpened tells whether a log is half moved; then nobody may open it, and no other
// log may be moved there.
func notOpened(t *testing.T, path string) bool {
	t.Helper()
	s, err := openAny(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	from, err := s.movingFrom(ctx)
	if err != nil || from == "" {
		return false
	}
	if _, err := Open(ctx, path); err == nil || !strings.Contains(err.Error(), "move-log") {
		t.Fatalf("a log that is not whole was opened: %v", err)
	}
	other := databases["file"](t)
	open(t, other)
	if _, err := Move(ctx, other, path); err == nil || !strings.Contains(err.Error(), "being moved") {
		t.Fatalf("two logs were moved into one: %v", err)
	}
	return true
}

// fuse is a context that ends after it has been looked at so many times.
type fuse struct {
	context.Context
	left atomic.Int64
	once sync.Once
	gone chan struct{}
}

func newFuse(looks int64) *fuse {
	f := &fuse{Context: ctx, gone: make(chan struct{})}
	f.left.Store(looks)
	return f
}

func (f *fuse) Done() <-chan struct{} {
	if f.left.Add(-1) < 0 {
		f.once.Do(func() { close(f.gone) })
	}
	return f.gone
}

func (f *fuse) Err() error {
	select {
	case <-f.gone:
		return context.Canceled
	default:
		return nil
	}
}

// Every table is in the list, and both databases have the same ones with the same
// columns in the same order.
func TestTablesAreListedAndAlike(t *testing.T) {
	names := map[string]bool{"goose_db_version": true, "sqlite_sequence": true, "moving": true}
	for _, tab := range tables {
		names[tab.name] = true
	}
	file, server := open(t, ":memory:"), open(t, pgtest.Database(t))
	for s, list := range map[*Store]string{file: `select name from sqlite_master where type = 'table'`,
		server: `select tablename from pg_tables where schemaname = 'public'`} {
		for _, name := range texts(t, s, list) {
			if !names[name] {
				t.Errorf("table %s is not in the list: move-log and forget-chat would leave it out", name)
			}
		}
	}
	for _, tab := range append(slices.Clone(tables), table{name: "moving"}) {
		a, b := columnsOf(t, file, tab.name), columnsOf(t, server, tab.name)
		if !slices.Equal(a, b) {
			t.Errorf("%s: SQLite has %v, PostgreSQL %v", tab.name, a, b)
		}
		if tab.of == "" && slices.Contains(a, "chat") {
			t.Errorf("%s has a chat, and forget-chat leaves it alone", tab.name)
		}
	}
	indexes := texts(t, file, `select name from sqlite_master where type = 'index' and sql is not null order by name`)
	have := texts(t, server, `select indexname from pg_indexes where schemaname = 'public' and indexname not like '%_pkey' order by indexname collate "C"`)
	if !slices.Equal(indexes, have) {
		t.Errorf("indexes: SQLite has %v, PostgreSQL %v", indexes, have)
	}
}

func texts(t *testing.T, s *Store, text string) (list []string) {
	t.Helper()
	rows, err := s.write.Query(text)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var one string
		if err := rows.Scan(&one); err != nil {
			t.Fatal(err)
		}
		list = append(list, one)
	}
	return list
}

func columnsOf(t *testing.T, s *Store, name string) []string {
	t.Helper()
	rows, err := s.write.Query(`select * from ` + name)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		t.Fatal(err)
	}
	return columns
}

// What is forgotten is gone from every table, and from the bytes of the file; the
// other chat keeps all it has.
func TestForget(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		fillAll(t, s, 30)
		before := rowsOf(t, s, chatA)
		n, err := s.Forget(ctx, chatB)
		if err != nil || n < 30*4 {
			t.Fatalf("%d rows, %v", n, err)
		}
		for _, tab := range tables {
			if tab.of == "" {
				continue
			}
			var left, others int
			if err := s.write.QueryRow(`select count(*) from `+tab.name+` where `+tab.of, chatB).Scan(&left); err != nil || left > 0 {
				t.Errorf("%s: %d rows left, %v", tab.name, left, err)
			}
			if err := s.write.QueryRow(`select count(*) from `+tab.name+` where `+tab.of, chatA).Scan(&others); err != nil || others == 0 && tab.name != "moved" {
				t.Errorf("%s: the other chat lost its rows, %v", tab.name, err)
			}
		}
		mustEqual(t, "the other chat's rows", rowsOf(t, s, chatA), before)
		if m, b, r := get(t, s, chatB, 1, noon); m.Next != 0 || b.Season.Count != 0 || r != nil {
			t.Errorf("still known: %+v %+v %v", m, b, r)
		}
		if n, err := s.Forget(ctx, chatB); n != 0 || err != nil {
			t.Errorf("forgotten twice: %d rows, %v", n, err)
		}
	})
}

func TestForgottenIsNotInTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "log.db")
	s := open(t, path)
	for _, chat := range []int64{chatA, chatB} {
		l := load(1, 0, 1, noon)
		l.Note = fmt.Sprintf("the note of chat %d", chat)
		apply(t, s, chat, 1, bot.Memory{}, bot.Effect{Add: l})
	}
	find := func() (a, b bool) {
		var all []byte
		for _, end := range []string{"", "-wal"} {
			data, _ := os.ReadFile(path + end)
			all = append(all, data...)
		}
		return strings.Contains(string(all), fmt.Sprintf("the note of chat %d", chatA)), strings.Contains(string(all), fmt.Sprintf("the note of chat %d", chatB))
	}
	if a, b := find(); !a || !b {
		t.Fatal("the test cannot see notes in the file")
	}
	if _, err := s.Forget(ctx, chatB); err != nil {
		t.Fatal(err)
	}
	if a, b := find(); !a || b {
		t.Errorf("in the file: the other chat's note %v, the forgotten one %v", a, b)
	}
}

// PostgreSQL's own back-up brings everything back.
func TestDumpAndRestore(t *testing.T) {
	server := pgtest.Shared(t)
	name, err := server.Create(ctx)
	if err != nil {
		t.Fatal(err)
	}
	s := open(t, server.URL(name))
	fillAll(t, s, 40)
	file := filepath.Join(server.Dir(), name+".dump")
	if _, err := server.Run("pg_dump", "-Fc", "-f", file, name); err != nil {
		t.Fatal(err)
	}
	copied, err := server.Create(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := server.Run("pg_restore", "--exit-on-error", "-d", copied, file); err != nil {
		t.Fatal(err)
	}
	d := open(t, server.URL(copied))
	for _, tab := range tables {
		a, err := s.sum(ctx, tab)
		b, err2 := d.sum(ctx, tab)
		if err != nil || err2 != nil || a != b || a.Rows == 0 {
			t.Errorf("%s: %+v before, %+v after; %v %v", tab.name, a, b, err, err2)
		}
	}
}
