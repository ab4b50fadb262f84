package main

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"testing"

	"tankside/bot/store/pgtest"
)

// said runs a command and gives its output; want is its exit status.
func said(t *testing.T, want int, args ...string) string {
	t.Helper()
	var out bytes.Buffer
	if status := run(args, &term{In: strings.NewReader(""), Out: &out, Err: &out}); status != want {
		t.Fatalf("%v: status %d\n%s", args, status, &out)
	}
	return out.String()
}

// A farm outgrows its file, and goes back to one: the same commands work on both.
func TestMoveLogThereAndBack(t *testing.T) {
	server, err := pgtest.Start()
	if err != nil {
		t.Fatal(err)
	}
	defer server.Close()
	name, err := server.Create(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	first, middle, last := filepath.Join(t.TempDir(), "log.db"), server.URL(name), filepath.Join(t.TempDir(), "back.db")
	for _, chat := range []string{"1", "-1007"} {
		talkTo(t, first, chat, "3000 gallon tank, 7000 per acre, ryegrass 12 lb", "log 3 loads")
	}
	table := said(t, 0, "move-log", first, middle)
	if back := said(t, 0, "move-log", middle, last); back != table {
		t.Errorf("there:\n%s\nand back:\n%s", table, back)
	}
	want := said(t, 0, "export", "--db", first, "--chat=-1007")
	for _, db := range []string{middle, last} {
		if got := said(t, 0, "export", "--db", db, "--chat=-1007"); got != want || strings.Count(want, "\n") < 4 {
			t.Errorf("%s:\n%s\nwant\n%s", db, got, want)
		}
		said(t, 1, "forget-chat", "--db", db, "--", "-1007")
		if out := said(t, 0, "forget-chat", "--db", db, "--yes", "--", "-1007"); !strings.Contains(out, "forgotten") {
			t.Error(out)
		}
		if got := said(t, 0, "export", "--db", db, "--chat=-1007"); strings.Count(got, "\n") > 1 {
			t.Errorf("not forgotten:\n%s", got)
		}
		if got := said(t, 0, "export", "--db", db, "--chat=1"); strings.Count(got, "\n") < 4 {
			t.Errorf("the other chat:\n%s", got)
		}
	}
	if out := said(t, 1, "move-log", first, middle); !strings.Contains(out, "already") {
		t.Error(out)
	}
	for _, args := range [][]string{{"backup", "--db", middle, filepath.Join(t.TempDir(), "x")}, {"restore", "--db", middle, last}} {
		if out := said(t, 1, args...); !strings.Contains(out, "pg_dump") {
			t.Error(out)
		}
	}
}

// talkTo says something in a chat of the terminal.
func talkTo(t *testing.T, db, chat string, lines ...string) {
	t.Helper()
	var out bytes.Buffer
	in := strings.NewReader(strings.Join(lines, "\n") + "\n")
	if status := run([]string{"chat", "--db", db, "--chat=" + chat}, &term{In: in, Out: &out, Err: &out}); status != 0 {
		t.Fatalf("status %d\n%s", status, &out)
	}
}
