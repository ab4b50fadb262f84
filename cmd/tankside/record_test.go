package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/store"
)

// talked is a log after a conversation that begins at seven on 14 September 2026, a
// message every ten minutes.
func talked(t *testing.T, lines ...string) (path string) {
	t.Helper()
	ctx := context.Background()
	path = filepath.Join(t.TempDir(), "log.db")
	s, err := store.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 9, 14, 7, 0, 0, 0, time.Local)
	s.Now = func() time.Time { return at }
	b := bot.New(s)
	for i, line := range lines {
		at = at.Add(10 * time.Minute)
		if _, err := b.Handle(ctx, bot.Message{Chat: 1, ID: int64(i + 1), Person: bot.Person{ID: 1, Name: "Ann"}, Text: line, At: at}); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// does runs a command that has to come to this exit status.
func does(t *testing.T, status int, args ...string) (out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	if got := run(args, &term{In: strings.NewReader(""), Out: &o, Err: &e}); got != status {
		t.Fatalf("%q: exit status %d, want %d: %s%s", args, got, status, o.String(), e.String())
	}
	return o.String(), e.String()
}

var aDay = []string{"3000 gallon tank, 7000 per acre, annual ryegrass 12 lb", "start field creek, 12 acres", "log load", "log load", "half load", "undo",
	"log load", "note soil was moist; weather 61 F, light wind", "make the last load 2500 gallons"}

func TestRecordOfADay(t *testing.T) {
	db := talked(t, aDay...)
	out, _ := does(t, 0, "record", "--db", db, "--from", "2026-09-14", "--to", "2026-09-14")
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(out, "\ufeff"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var states []string
	for _, row := range rows {
		if row[0] == "load" {
			states = append(states, strings.Split(row[12], " 2026")[0]+" "+row[6])
		}
	}
	if got := strings.Join(states, ", "); got != "stands 3000, stands 3000, taken back 1500, taken back 3000, stands 2500" {
		t.Errorf("got %s", got)
	}
	for _, want := range []string{`"soil state","moist"`, `"weather, while spreading","61 F, light wind"`, `"grand total"`, `"8500"`, "Not a legal document"} {
		if !strings.Contains(out, want) {
			t.Errorf("it lacks %s:\n%s", want, out)
		}
	}
	if out, _ = does(t, 0, "record", "--db", db, "--from", "2027-01-01"); strings.Contains(out, "creek") {
		t.Errorf("another year has it: %s", out)
	}
}

func TestRecordFiles(t *testing.T) {
	db, folder := talked(t, aDay...), t.TempDir()
	for name, start := range map[string]string{"a.csv": "\ufeff", "a.xlsx": "PK", "a.PDF": "%PDF"} {
		file := filepath.Join(folder, name)
		out, _ := does(t, 0, "record", "--db", db, "--from", "2026-09-14", "--out", file, "--lang", "es")
		raw, err := os.ReadFile(file)
		if err != nil || !bytes.HasPrefix(raw, []byte(start)) {
			t.Errorf("%s: %.20q, %v", name, raw, err)
		}
		if !strings.Contains(out, "Falta: 2026-09-14, creek: ") || !strings.Contains(out, "lote de semilla (ballico anual)") || strings.Contains(out, "suelo") {
			t.Errorf("%s says %q", name, out)
		}
	}
	left, err := os.ReadDir(folder)
	if err != nil || len(left) != 3 {
		t.Errorf("files left over: %v, %v", left, err)
	}
	for want, args := range map[string][]string{"is no day": {"--from", "yesterday"}, "is before": {"--from", "2026-09-02", "--to", "2026-09-01"},
		"cannot write": {"--out", "a.docx"}} {
		if _, errs := does(t, 1, append([]string{"record", "--db", db}, args...)...); !strings.Contains(errs, want) {
			t.Errorf("%q: %s", args, errs)
		}
	}
}

func TestPictures(t *testing.T) {
	db := talked(t, append([]string{"pump 1000 gpm", "509 gpm out", "gate 3 gives 450 gpm", "gate 5 gives 750 gpm"}, aDay...)...)
	for kind, c := range map[string]struct {
		args []string
		says string
	}{
		"day":    {[]string{"--day", "2026-09-14"}, "Loads on Sep 14: creek. 3 loads from 8:10 am to 8:50 am"},
		"fields": {nil, "creek 1.21 of 12 acres (10 %)"},
		"gate":   {[]string{"--flow", "600"}, "Gate 4 gives 600 gallons a minute"},
		"jars":   {[]string{"--counts", "42,38,45,40"}, "4 jars: 42, 38, 45, 40"},
		"tank":   {nil, "Tank of 3,000 gallons, pump 1,000: 509 go out"},
	} {
		file := filepath.Join(t.TempDir(), "a.png")
		out, _ := does(t, 0, append([]string{"picture", kind, "--db", db, "--out", file}, c.args...)...)
		if !strings.Contains(out, c.says) {
			t.Errorf("%s says %s, want %q", kind, out, c.says)
		}
		raw, err := os.Open(file)
		if err != nil {
			t.Fatal(err)
		}
		defer raw.Close()
		if _, err := png.Decode(raw); err != nil {
			t.Errorf("%s: %v", kind, err)
		}
	}
	for _, args := range [][]string{{"day", "--day", "2020-01-01"}, {"jars", "--counts", "1,2"}, {"gate", "--flow", "9000"}, {"day", "--day", "x"}} {
		file := filepath.Join(t.TempDir(), "a.png")
		_, errs := does(t, 1, append([]string{"picture", "--db", db, "--out", file}, args...)...)
		if _, err := os.Stat(file); err == nil || !strings.Contains(errs, "hint: ") {
			t.Errorf("%q: %s", args, errs)
		}
	}
}

func TestImport(t *testing.T) {
	db, folder := talked(t, "tank 2000"), t.TempDir()
	file := filepath.Join(folder, "setup.csv")
	write := func(text string) {
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("item,name,value,unit\ntank,,3000,gal\nrate,,7000,gal/acre\nfield,creek,12,acre\n")
	if out, _ := does(t, 0, "import", file, "--db", db); out != "imported values: 2, fields: 1, gate runs: 0\n" {
		t.Errorf("said %q", out)
	}
	write("item,name,value,unit\ntank,,4000,gal\nrate,,lots,gal/acre\n")
	if _, errs := does(t, 1, "import", file, "--db", db); !strings.Contains(errs, `line 3: "lots" is no number`) || !strings.Contains(errs, "nothing was imported") {
		t.Errorf("said %q", errs)
	}
	s, err := store.Open(context.Background(), db)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	r, err := bot.New(s).Handle(context.Background(), bot.Message{Chat: 1, ID: 99, Text: "what is my setup", At: time.Now()})
	if err != nil || !strings.Contains(r.Text, "3,000") {
		t.Errorf("the chat says %v, %v", r, err)
	}
}
