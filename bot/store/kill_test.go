package store

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/store/pgtest"
)

// childLog is set in the process that logs until it is killed.
const childLog = "TANKSIDE_TEST_CHILD_LOG"

func TestMain(m *testing.M) {
	if path := os.Getenv(childLog); path != "" {
		logForEver(path)
	}
	status := m.Run()
	os.RemoveAll(temp)
	pgtest.StopShared()
	os.Exit(status)
}

// temp outlives a single test; TestMain removes it.
var temp string

func makeTemp() (string, error) {
	var err error
	temp, err = os.MkdirTemp("", "tankside")
	return temp, err
}

// logForEver logs load after load, in two chats in turn, and prints the number of
// each one when the store has confirmed it. Every fourth is logged with a second
// part, which the same message takes back again.
func logForEver(path string) {
	s, err := Open(ctx, path)
	next := map[int64]int64{}
	for err == nil {
		for _, chat := range []int64{chatA, chatB} {
			if next[chat] == 0 {
				_, book, _, _ := s.Load(ctx, chat, 0, noon)
				next[chat] = int64(book.Today.Count) + 1
			}
			if err = logOne(s, chat, next[chat]); err != nil {
				break
			}
			fmt.Println(chat, next[chat])
			next[chat]++
		}
	}
	fmt.Fprintln(os.Stderr, err)
	os.Exit(1)
}

func logOne(s *Store, chat, id int64) error {
	effects := []bot.Effect{{Add: load(id, 0, 1, noon)}}
	if id%4 == 0 {
		effects = append(effects, bot.Effect{Add: load(id, 1, 1, noon)}, bot.Effect{Cancel: load(id, 1, 1, noon), Why: "undo"})
	}
	return s.Apply(ctx, chat, id, bot.Memory{Field: 1, Next: id}, effects, &bot.Reply{Text: "logged"})
}

// What was confirmed is in the log once, whenever the program is killed; what was
// not is there whole or not at all.
func TestKilledAtAnyMoment(t *testing.T) {
	for name, kills := range map[string]int{"file": 20, "postgres": 8} {
		t.Run(name, func(t *testing.T) { killOften(t, databases[name](t), kills) })
	}
}

func killOften(t *testing.T, path string, kills int) {
	confirmed := map[int64]int64{chatA: 0, chatB: 0}
	for range kills {
		killOnce(t, path, confirmed)
		s, err := Open(ctx, path)
		if err != nil {
			t.Fatal(err)
		}
		for chat, last := range confirmed {
			confirmed[chat] = checkLog(t, s, chat, last) // from here on the log is known to hold them
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if confirmed[chatA] < 2*int64(kills) {
		t.Errorf("only %d loads were logged in %d runs: too few to tell", confirmed[chatA], kills)
	}
}

func killOnce(t *testing.T, path string, confirmed map[int64]int64) {
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childLog+"="+path)
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	for n := 0; lines.Scan(); n++ {
		var chat, id int64
		if _, err := fmt.Sscan(lines.Text(), &chat, &id); err == nil {
			confirmed[chat] = id
		}
		if n == 0 { // it is logging: let it, for a moment that nobody chose
			time.AfterFunc(time.Duration(rand.Int64N(int64(100*time.Millisecond))), func() { child.Process.Kill() })
		}
	}
	if err := child.Wait(); err == nil {
		t.Fatal("the child ended by itself")
	}
}

// checkLog returns how many loads are in the log.
func checkLog(t *testing.T, s *Store, chat, last int64) int64 {
	t.Helper()
	m, book, _ := get(t, s, chat, 0, noon)
	next, stand := int64(1), 0
	for _, row := range rowsOf(t, s, chat) {
		if row.Part == 1 {
			if row.Cancelled.IsZero() {
				t.Fatalf("chat %d: load %d.1 should have been taken back", chat, row.ID)
			}
			continue
		}
		if row.ID != next {
			t.Fatalf("chat %d: load %d where load %d should be", chat, row.ID, next)
		}
		next, stand = next+1, stand+1
	}
	if got := next - 1; got < last || got > last+1 {
		t.Fatalf("chat %d: %d loads confirmed, %d in the log", chat, last, got)
	}
	if book.Field.Count != stand || book.Today.Count != stand || m.Next != next-1 {
		t.Fatalf("chat %d: %d loads stand, sums say %d and %d, memory %d", chat, stand, book.Field.Count, book.Today.Count, m.Next)
	}
	if _, _, r := get(t, s, chat, next-1, noon); r == nil && next > 1 { // killed before this chat's first load
		t.Fatalf("chat %d: load %d without its reply", chat, next-1)
	}
	return next - 1
}
