package terminal

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/bottest"
	"tankside/engine"
)

var noon = time.Date(2026, 9, 14, 12, 0, 0, 0, time.UTC)

func all(t *testing.T, r *Reader) (lines []string) {
	t.Helper()
	for {
		line, err := r.Next()
		if err == io.EOF {
			return lines
		}
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, line)
	}
}

func TestReaderKeepsLinesApart(t *testing.T) {
	mib := strings.Repeat("x", MaxLine)
	for in, want := range map[string][]string{
		"":                                     nil,
		"\n":                                   {""},
		"a":                                    {"a"},
		"a\n":                                  {"a"},
		"a\r\nb\rc\n\r\n\n":                    {"a", "b\rc", "", ""},
		"a\x00b\xff\n\xfe":                     {"a\x00b\xff", "\xfe"},
		mib + "\nnext":                         {mib, "next"},
		mib + mib + "y\nnext\n":                {mib, "next"},
		mib + mib:                              {mib},
		strings.Repeat("x", 64<<10) + "\nnext": {strings.Repeat("x", 64<<10), "next"},
	} {
		got := all(t, NewReader(strings.NewReader(in), nil))
		if strings.Join(got, "|") != strings.Join(want, "|") || len(got) != len(want) {
			t.Errorf("%.20q…: got %d lines %.40q, want %d", in, len(got), got, len(want))
		}
	}
}

// Whoever asks line by line gets each answer before it says the next thing.
func TestReaderCallsBeforeItWaits(t *testing.T) {
	waits := 0
	in, out := io.Pipe()
	r := NewReader(in, func() error { waits++; return nil })
	go func() {
		io.WriteString(out, "one\ntwo\nthr")
		io.WriteString(out, "ee\n")
		out.Close()
	}()
	for i, want := range []struct {
		line  string
		waits int
	}{{"one", 1}, {"two", 1}, {"three", 2}} {
		if line, err := r.Next(); line != want.line || err != nil || waits != want.waits {
			t.Errorf("line %d: %q after %d waits, %v; want %q after %d", i, line, waits, err, want.line, want.waits)
		}
	}
	gone := errors.New("nobody reads")
	if _, err := NewReader(strings.NewReader("one\n"), func() error { return gone }).Next(); err != gone {
		t.Errorf("got %v, want %v", err, gone)
	}
}

func run(t *testing.T, h Handler, in string, asJSON bool) (out string, reported []error) {
	t.Helper()
	var b bytes.Buffer
	c := Chat{Handler: h, ID: 7, Person: bot.Person{ID: 1, Name: "Ann"}, JSON: asJSON, Lines: NewReader(strings.NewReader(in), nil),
		Out: &b, Now: func() time.Time { return noon }, Report: func(err error) { reported = append(reported, err) }}
	if err := c.Run(context.Background()); err != nil {
		t.Fatal(err)
	}
	return b.String(), reported
}

func TestChatInWords(t *testing.T) {
	h := &bottest.Echo{}
	out, _ := run(t, h, "first\n\n   \nsecond\n", false)
	if want := "first\n\nsecond\n\n"; out != want {
		t.Errorf("got %q, want %q", out, want)
	}
	want := bot.Message{Chat: 7, ID: noon.UnixMicro() + 1, Person: bot.Person{ID: 1, Name: "Ann"}, Text: "second", At: noon}
	if len(h.Got) != 2 || h.Got[1] != want {
		t.Errorf("got %v, want %v last", h.Got, want)
	}
}

// A clock that was set back gives numbers that are taken: the message is new all the same.
func TestChatAfterTheClockWasSetBack(t *testing.T) {
	h := &bottest.Echo{}
	run(t, h, "one\ntwo\n", false)
	if out, _ := run(t, h, "three\n", false); out != "three\n\n" || len(h.Got) != 3 {
		t.Errorf("got %q and %d messages", out, len(h.Got))
	}
}

type failing struct{ how func() (*bot.Reply, error) }

func (f failing) Handle(_ context.Context, m bot.Message) (*bot.Reply, error) {
	if m.Text != "fail" {
		return &bot.Reply{Lang: "es", Text: m.Text}, nil
	}
	return f.how()
}

func TestChatGoesOnWhenWeFail(t *testing.T) {
	for name, how := range map[string]func() (*bot.Reply, error){
		"error":   func() (*bot.Reply, error) { return nil, errors.New("disk full") },
		"panic":   func() (*bot.Reply, error) { panic("index out of range") },
		"nothing": func() (*bot.Reply, error) { return nil, nil },
		"no number": func() (*bot.Reply, error) {
			return &bot.Reply{Lang: "es", Outcome: &engine.Outcome{Results: []engine.Value{{Slot: engine.Area, Min: math.NaN(), Max: math.NaN()}}}}, nil
		},
	} {
		out, reported := run(t, failing{how}, "before\nfail\n\nafter\n", true)
		lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
		if len(lines) != 4 || len(reported) != 1 {
			t.Fatalf("%s: %d lines for 4, %d reports for 1:\n%s", name, len(lines), len(reported), out)
		}
		var got struct{ Question, Status, Language, Reply string }
		if err := json.Unmarshal([]byte(lines[1]), &got); err != nil {
			t.Fatalf("%s: %q: %v", name, lines[1], err)
		}
		if got.Question != "fail" || got.Status != "refused" || got.Language != "es" || got.Reply == "" {
			t.Errorf("%s: got %+v", name, got)
		}
	}
}

func TestChatStopsWhenNobodyReads(t *testing.T) {
	in, out := io.Pipe()
	in.Close()
	c := Chat{Handler: &bottest.Echo{}, Lines: NewReader(strings.NewReader("a\nb\n"), nil), Out: out, Now: func() time.Time { return noon }}
	if err := c.Run(context.Background()); err != io.ErrClosedPipe {
		t.Errorf("got %v", err)
	}
}
