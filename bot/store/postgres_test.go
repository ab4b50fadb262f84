package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/store/pgtest"
)

// scans are the statements of the desk that may look at all rows: of a table that is
// small, or done every few hours.
var scans = []string{allGuests, dropCodes, pruneOutbox, pruneInbox, pruneReminders, pruneTurns, pruneButtons, inWait, outWait}

// Every statement finds its rows by an index in PostgreSQL too; those of the log by one
// that starts with the chat.
func TestNothingIsScannedInPostgres(t *testing.T) {
	s := open(t, pgtest.Database(t))
	conn, err := s.write.Conn(ctx)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	for _, set := range []string{"enable_seqscan = off", "plan_cache_mode = force_generic_plan"} {
		if _, err := conn.ExecContext(ctx, "set "+set); err != nil {
			t.Fatal(err)
		}
	}
	ofLog := len(readSQL) + len(writeSQL)
	all := append(append(append([]string{}, readSQL...), writeSQL...), fieldPast, dayPast)
	for i, text := range append(all, append([]string{waitingChats, waitingIn}, deskSQL...)...) {
		if strings.HasPrefix(text, "insert") || contains(scans, text) {
			continue
		}
		name, args := fmt.Sprintf("p%d", i), ""
		if n := parameters(text); n > 0 {
			args = "(null" + strings.Repeat(", null", n-1) + ")"
		}
		if _, err := conn.ExecContext(ctx, "prepare "+name+" as "+text); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		rows, err := conn.QueryContext(ctx, "explain execute "+name+args)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		for rows.Next() {
			var step string
			if err := rows.Scan(&step); err != nil {
				t.Fatal(err)
			}
			if strings.Contains(step, "Seq Scan") || i < ofLog && strings.Contains(step, "Index Cond") && !strings.Contains(step, "chat = ") {
				t.Errorf("%s\n\t%s", text, step)
			}
		}
		rows.Close()
	}
}

func contains(list []string, s string) bool {
	for _, one := range list {
		if one == s {
			return true
		}
	}
	return false
}

// Two programs that add to a chat's memory at the same time: neither undoes the other.
func TestChatIsHeldFromLoadToApply(t *testing.T) {
	path := pgtest.Database(t)
	stores := []*Store{open(t, path), open(t, path)}
	const each = 60
	var all sync.WaitGroup
	for i, s := range stores {
		for _, chat := range []int64{chatA, chatB} {
			all.Go(func() {
				for n := range int64(each) {
					id := n*2 + int64(i) + 1
					err := s.Do(ctx, func(tx bot.Tx) error {
						m, _, _, err := tx.Load(chat, id, noon)
						if err != nil {
							return err
						}
						m.Next, m.Field = m.Next+1, 1
						return tx.Apply(chat, id, m, []bot.Effect{{Add: load(id, 0, 1, noon)}}, nil)
					})
					if err != nil {
						t.Error(err)
					}
				}
			})
		}
	}
	all.Wait()
	for _, chat := range []int64{chatA, chatB} {
		m, b, _ := get(t, stores[0], chat, 0, noon)
		if m.Next != 2*each || b.Field.Count != 2*each {
			t.Errorf("chat %d: memory says %d, the log %d of %d", chat, m.Next, b.Field.Count, 2*each)
		}
	}
}

// What waits is given to one program at a time, a chat's first thing first.
func TestWaitingIsSharedOut(t *testing.T) {
	path := pgtest.Database(t)
	a, b := open(t, path), open(t, path)
	do(t, a, func(tx bot.Tx) error {
		var all []error
		for n := int64(1); n <= 6; n++ {
			_, err := tx.Receive(bot.Incoming{Number: n, Chat: n % 2, Raw: []byte("{}")})
			all = append(all, err)
		}
		return errors.Join(all...)
	})
	do(t, a, func(tx bot.Tx) error {
		mine, err := tx.Waiting(0, 1) // chat 1
		if err != nil || len(mine) != 1 || mine[0].Number != 1 {
			t.Errorf("%+v, %v", mine, err)
		}
		do(t, b, func(tx bot.Tx) error {
			theirs, err := tx.Waiting(0, 10)
			for i, in := range theirs {
				if in.Chat != 0 || in.Number != int64(2*i+2) {
					t.Errorf("%+v", theirs)
				}
			}
			if len(theirs) != 3 {
				t.Errorf("%d things of the other chat", len(theirs))
			}
			return err
		})
		return tx.Finish(1, "")
	})
	do(t, b, func(tx bot.Tx) error {
		list, err := tx.Waiting(0, 10)
		if len(list) != 5 || list[0].Number != 2 || list[1].Number != 3 {
			t.Errorf("%+v", list)
		}
		return err
	})
}

// Reminders that are due are told by one program each, whoever asks when.
func TestRemindersAreToldOnce(t *testing.T) {
	path := pgtest.Database(t)
	s := open(t, path)
	const n = 400
	do(t, s, func(tx bot.Tx) error {
		for range n {
			if _, err := tx.Remind(bot.Reminder{Chat: chatA, Kind: bot.RemindSaid, Due: noon, Zone: "UTC"}); err != nil {
				return err
			}
		}
		return nil
	})
	var told atomic.Int64
	var all sync.WaitGroup
	for range 4 {
		s := open(t, path)
		all.Go(func() {
			for got := 1; got > 0; {
				err := s.Do(ctx, func(tx bot.Tx) error {
					due, err := tx.Due(noon, 30)
					got = len(due)
					for _, r := range due {
						err = errors.Join(err, tx.EndReminder(r.ID))
					}
					return err
				})
				if err != nil {
					t.Error(err)
				}
				told.Add(int64(got))
			}
		})
	}
	all.Wait()
	if told.Load() != n {
		t.Errorf("%d reminders were told %d times", n, told.Load())
	}
}

// One of several programs has a role; when it goes, or its session does, another one
// has it within seconds, and the two never at the same time.
func TestLeadIsHandedOver(t *testing.T) {
	server := pgtest.Shared(t)
	name, err := server.Create(ctx)
	if err != nil {
		t.Fatal(err)
	}
	var now, terms atomic.Int64
	var stops []context.CancelFunc
	leads := make(chan int, 100)
	var all sync.WaitGroup
	for i := range 3 {
		s := open(t, server.URL(name))
		ctx, cancel := context.WithCancel(ctx)
		stops = append(stops, cancel)
		all.Go(func() {
			s.Lead(ctx, "role", nil, func(ctx context.Context) {
				if now.Add(1) != 1 {
					t.Error("two have the role")
				}
				terms.Add(1)
				leads <- i
				<-ctx.Done()
				time.Sleep(300 * time.Millisecond) // it has something to write down
				now.Add(-1)
			})
		})
	}
	next := func(what string) int {
		began := time.Now()
		select {
		case i := <-leads:
			t.Logf("%s: replica %d after %v", what, i+1, time.Since(began).Round(time.Millisecond))
			return i
		case <-time.After(8 * time.Second):
			t.Fatalf("%s: nobody has the role", what)
		}
		return 0
	}
	first := next("at the start")
	stops[first]()
	second := next("the first one ends")
	if second == first {
		t.Error("it goes on without its role")
	}
	s := open(t, server.URL(name))
	if _, err := s.write.Exec(`select pg_terminate_backend(pid) from pg_locks where locktype = 'advisory' and classid = $1
		and database = (select oid from pg_database where datname = current_database())`, leadClass); err != nil {
		t.Fatal(err)
	}
	next("its session is ended")
	for _, stop := range stops {
		stop()
	}
	all.Wait()
}

// Putting something into the outbox wakes whoever sends, in another program.
func TestOutboxWakesTheSender(t *testing.T) {
	path := pgtest.Database(t)
	a, b := open(t, path), open(t, path)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	woken, ready := make(chan struct{}, 10), make(chan struct{})
	go a.Lead(ctx, "outbox", func() { woken <- struct{}{} }, func(ctx context.Context) { close(ready); <-ctx.Done() })
	<-ready
	began := time.Now()
	do(t, b, func(tx bot.Tx) error { _, err := tx.Send(bot.Outgoing{Chat: chatA, Body: []byte("x")}); return err })
	<-woken
	if took := time.Since(began); took > lookAfter/2 {
		t.Errorf("woken after %v", took)
	}
}

// A database that is away, slow or half-open is not taken for a fault of what was to be
// done, and everything goes on by itself afterwards.
func TestFaultyNetwork(t *testing.T) {
	server := pgtest.Shared(t)
	name, err := server.Create(ctx)
	if err != nil {
		t.Fatal(err)
	}
	proxy, err := pgtest.NewProxy(server.Socket())
	if err != nil {
		t.Fatal(err)
	}
	defer proxy.Close()
	s := open(t, server.URLAt(proxy.Address, name))
	s.write.most, s.read.most = 1500*time.Millisecond, 1500*time.Millisecond
	id := int64(0)
	add := func() error {
		id++
		return s.Apply(ctx, chatA, id, bot.Memory{Field: 1}, []bot.Effect{{Add: load(id, 0, 1, noon)}}, nil)
	}
	for what, fault := range map[string]func(){
		"cut":       func() { proxy.Cut(true) },
		"half-open": proxy.Stall,
		"too slow":  func() { proxy.Slow(800 * time.Millisecond) },
	} {
		if err := add(); err != nil {
			t.Fatal(err)
		}
		fault()
		began := time.Now()
		if err := add(); !errors.Is(err, bot.ErrNotNow) {
			t.Errorf("%s: %v", what, err)
		}
		if took := time.Since(began); took > 4*time.Second {
			t.Errorf("%s: given up after %v", what, took)
		}
		proxy.Heal()
		if what == "half-open" {
			proxy.Cut(false) // what is late does not come any more
		}
		began = time.Now()
		for err = errors.New("not yet"); err != nil && time.Since(began) < 10*time.Second; {
			if err = s.Apply(ctx, chatA, id, bot.Memory{Field: 1}, []bot.Effect{{Add: load(id, 0, 1, noon)}}, nil); err != nil && !errors.Is(err, bot.ErrNotNow) {
				t.Fatalf("%s: %v", what, err)
			}
		}
		if err != nil {
			t.Fatalf("%s: still %v", what, err)
		}
	}
	if _, b, _ := get(t, s, chatA, 0, noon); b.Field.Count != int(id) {
		t.Errorf("%d loads of %d", b.Field.Count, id)
	}
	if err := s.Apply(ctx, chatA, 99, bot.Memory{}, []bot.Effect{{Cancel: load(98, 0, 1, noon)}}, nil); err == nil || errors.Is(err, bot.ErrNotNow) {
		t.Errorf("a load that is not there: %v", err)
	}
}

// What was set aside can be looked at.
func TestSetAsideIsSeen(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		do(t, s, func(tx bot.Tx) error {
			var all []error
			for n, chat := range []int64{chatA, chatB} {
				number := int64(n + 1)
				_, err := tx.Receive(bot.Incoming{Number: number, Chat: chat, Raw: []byte("{}")})
				id, err2 := tx.Send(bot.Outgoing{Chat: chat, Body: []byte("x")})
				all = append(all, err, err2)
				if chat == chatA {
					all = append(all, tx.Finish(number, "decode: no such thing"), tx.GiveUp(id, "forbidden"))
				} else {
					all = append(all, tx.Finish(number, ""), tx.Sent(id, 5))
				}
			}
			return errors.Join(all...)
		})
		a, err := s.SetAside(ctx)
		if err != nil || a.Updates != 1 || a.Messages != 1 || len(a.Latest) != 2 ||
			!strings.Contains(a.Latest[0], "update 1 of chat 7: decode") || !strings.Contains(a.Latest[1], "forbidden") {
			t.Errorf("%+v, %v", a, err)
		}
	})
}

// Loads and sums that do not tell the same are found.
func TestSoundInPostgres(t *testing.T) {
	s := open(t, pgtest.Database(t))
	fillAll(t, s, 20)
	if err := s.Sound(ctx); err != nil {
		t.Error(err)
	}
	if _, err := s.write.Exec(`delete from cancels where chat = $1`, chatA); err != nil {
		t.Fatal(err)
	}
	if err := s.Sound(ctx); err == nil || !strings.Contains(err.Error(), "damaged") {
		t.Errorf("want damage, got %v", err)
	}
}
