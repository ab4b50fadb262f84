package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
	"runtime"
	"slices"
	"strings"
	"testing"
)

func TestDashesLast(t *testing.T) {
	for in, want := range map[string]string{
		`ask|--json|-`:              `ask|--json|-`,
		`ask|how much`:              `ask|how much`,
		`ask|-5 gal|--json`:         `ask|--json|--|-5 gal`,
		`ask|-5|gal`:                `ask|--|-5|gal`,
		`ask|--json|--|--json`:      `ask|--json|--|--json`,
		`ask|a|-.5 acre|--json|b`:   `ask|--json|--|a|-.5 acre|b`,
		`ask|--help`:                `ask|--help`,
		`chat|--chat|-7`:            `chat|--chat|-7`,
		`explain|-3000 gallon tank`: `explain|--|-3000 gallon tank`,
		`ask|-- not a flag, a dash`: `ask|--|-- not a flag, a dash`,
	} {
		if got := dashesLast(strings.Split(in, "|")); !slices.Equal(got, strings.Split(want, "|")) {
			t.Errorf("%s became %q, want %s", in, got, want)
		}
	}
}

func askJSON(t *testing.T, in string, args ...string) []string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(append([]string{"ask", "--json"}, args...), &term{In: strings.NewReader(in), Out: &out, Err: &errs}); status != 0 || errs.Len() > 0 {
		t.Fatalf("status %d, %s", status, errs.String())
	}
	return strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
}

// Whatever a line holds, it gets its one line, in order.
func TestBatchAnswersEveryLine(t *testing.T) {
	lines := []string{"3000 gallon tank, 7000 per acre", "", "   ", strings.Repeat("7000 per acre ", 200), "\xff\xfe\x80", "a\x00b\x1b[31m",
		`<b>3000</b> & "quoted" \ back`, "=cmd|'/c calc'!A0", strings.Repeat("9", 400), "🚜 3000 gallon tank", "1e308 gallon tank, 1e-308 per acre",
		"0 gallon tank, 0 per acre", "-3000 gallon tank", strings.Repeat("x", 3<<20), "how many acres in a load, 3000 gallon tank, 7000 per acre"}
	for _, args := range [][]string{nil, {"-"}} {
		got := askJSON(t, strings.Join(lines, "\n"), args...)
		if len(got) != len(lines) {
			t.Fatalf("%d lines for %d", len(got), len(lines))
		}
		for i, line := range got {
			checkLine(t, lines[i], line)
		}
	}
}

func checkLine(t *testing.T, said, line string) {
	t.Helper()
	var got struct {
		Question, Status, Reply, Spoken                                string
		Given, Results, Missing, Conflict, Unread, Withdrawn, Cautions []json.RawMessage
	}
	if err := json.Unmarshal([]byte(line), &got); err != nil {
		t.Fatalf("%.80q: %.200q: %v", said, line, err)
	}
	if !strings.HasPrefix(strings.ToValidUTF8(said, ""), strings.ReplaceAll(got.Question, "\ufffd", "")) {
		t.Errorf("%.80q is answered as %.80q", said, got.Question)
	}
	if !slices.Contains([]string{"answered", "asks", "not_understood", "done", "refused"}, got.Status) || got.Reply == "" || got.Spoken == "" {
		t.Errorf("%.80q: status %q, reply %q, spoken %q", said, got.Status, got.Reply, got.Spoken)
	}
	for name, list := range map[string][]json.RawMessage{"given": got.Given, "results": got.Results, "missing": got.Missing,
		"conflict": got.Conflict, "unread": got.Unread, "withdrawn": got.Withdrawn, "cautions": got.Cautions} {
		if list == nil {
			t.Errorf("%.80q: %s is null", said, name)
		}
	}
}

func TestArgumentsAreQuestions(t *testing.T) {
	if got := askJSON(t, "", "3000 gallon tank", "-3000 gallon tank", "help"); len(got) != 3 {
		t.Errorf("%d lines for 3 questions", len(got))
	}
	for _, c := range []struct {
		args []string
		n    int
	}{{[]string{"help"}, 1}, {[]string{"3000", "gallon", "tank"}, 1}, {[]string{"a tank", "help"}, 2}, {[]string{"a b"}, 1}} {
		in := (&ask{Questions: c.args}).asked(&term{In: strings.NewReader("")})
		n := 0
		for ; ; n++ {
			if _, err := in.Next(); err == io.EOF {
				break
			}
		}
		if n != c.n {
			t.Errorf("%q are %d questions, want %d", c.args, n, c.n)
		}
	}
}

// Each answer is out before the next question has to be waited for.
func TestBatchStreams(t *testing.T) {
	in, say := io.Pipe()
	hear, out := io.Pipe()
	done := make(chan int)
	go func() { done <- run([]string{"ask", "--json"}, &term{In: in, Out: out, Err: io.Discard}) }()
	heard := bufio.NewScanner(hear)
	for range 3 {
		io.WriteString(say, "3000 gallon tank, 7000 per acre\n")
		if !heard.Scan() {
			t.Fatal("no answer")
		}
	}
	say.Close()
	if status := <-done; status != 0 {
		t.Errorf("status %d", status)
	}
}

// repeated is the same line n times.
type repeated struct {
	line string
	n    int
}

func (r *repeated) Next() (string, error) {
	if r.n--; r.n < 0 {
		return "", io.EOF
	}
	return r.line, nil
}

// A batch takes no more memory for many lines than for a few.
func TestBatchMemoryIsFlat(t *testing.T) {
	after := func(lines int) uint64 {
		b := newBatch(true, io.Discard, func(err error) { t.Error(err) })
		if _, _, err := b.run(&repeated{"3000 gallon tank, 7000 per acre, ryegrass 12 lb", lines}); err != nil {
			t.Fatal(err)
		}
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		runtime.KeepAlive(b)
		return m.HeapAlloc
	}
	few := after(500)
	if many := after(5000); many > few+1<<20 {
		t.Errorf("%d bytes in use after 500 lines, %d after 5,000", few, many)
	}
}

func BenchmarkBatch(b *testing.B) {
	batch := newBatch(true, io.Discard, func(err error) { b.Error(err) })
	b.ReportAllocs()
	if _, _, err := batch.run(&repeated{"3000 gallon tank, 7000 per acre, ryegrass 12 lb", b.N}); err != nil {
		b.Fatal(err)
	}
}
