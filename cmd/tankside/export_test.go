package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/store"
	"tankside/engine"
	"tankside/engine/unit"
)

var fourteenth = time.Date(2026, 9, 14, 14, 15, 0, 0, time.FixedZone("", -5*3600))

// aLog has a load with cells that a spreadsheet would run, and the load that
// replaces it, in a chat with these units; and one of another chat.
func aLog(t *testing.T, units engine.Units) (path string) {
	t.Helper()
	ctx := context.Background()
	path = filepath.Join(t.TempDir(), "log.db")
	s, err := store.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	s.Now = func() time.Time { return fourteenth.Add(time.Hour) }
	first := bot.Load{ID: 5, Field: 1, FieldName: `=SUM(A1)`, Seq: 1, Fraction: 1, Volume: 3000, Area: 3.0 / 7, Rate: 7000,
		Seeds: []bot.Seed{{Crop: "oats", Rate: 40, Weight: 120.0 / 7}, {Crop: "alfalfa", Rate: 9, Weight: 27.0 / 7}},
		When:  fourteenth, Said: fourteenth, Who: bot.Person{Name: "@Ann"}, Note: "-2+3, \"quoted\"\nline"}
	second := first
	second.ID, second.Replaces, second.Fraction, second.Volume, second.Area = 6, 5, 0.5, 1500, 1.5/7
	second.FieldName, second.Note, second.Who.Name, second.Seeds = "+north", "\tx", "\rBob", nil
	for _, step := range []struct {
		chat, id int64
		effect   bot.Effect
	}{{1, 5, bot.Effect{Add: &first}}, {2, 5, bot.Effect{Add: &second}}, {1, 6, bot.Effect{Cancel: &first, Why: "corrected", Add: &second}}} {
		if err := s.Apply(ctx, step.chat, step.id, bot.Memory{Units: units}, []bot.Effect{step.effect}, nil); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

func exported(t *testing.T, path string) [][]string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run([]string{"export", "--db", path}, &term{In: strings.NewReader(""), Out: &out, Err: &errs}); status != 0 {
		t.Fatal(errs.String())
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func TestExport(t *testing.T) {
	rows := exported(t, aLog(t, engine.Units{}))
	want := [][]string{
		{"message", "part", "spread", "logged", "who", "field", "load", "tank share", "volume (gal)", "area (acre)", "rate (gal/acre)",
			"seed", "note", "replaces message", "taken back", "why"},
		{"5", "0", "2026-09-14T14:15:00-05:00", "2026-09-14T14:15:00-05:00", "'@Ann", "'=SUM(A1)", "1", "1", "3000", "0.428571", "7000",
			"oats 17.1429 lb (40 lb/acre); alfalfa 3.85714 lb (9 lb/acre)", "'-2+3, \"quoted\"\nline", "", "2026-09-14T15:15:00-05:00", "corrected"},
		{"6", "0", "2026-09-14T14:15:00-05:00", "2026-09-14T14:15:00-05:00", "'\rBob", "'+north", "1", "0.5", "1500", "0.214286", "7000",
			"", "'\tx", "5", "", ""},
	}
	if len(rows) != len(want) {
		t.Fatalf("%d rows, want %d: %q", len(rows), len(want), rows)
	}
	for i := range want {
		if !slices.Equal(rows[i], want[i]) {
			t.Errorf("row %d:\n got %q\nwant %q", i, rows[i], want[i])
		}
	}
}

func TestExportInTheChatsUnits(t *testing.T) {
	rows := exported(t, aLog(t, engine.Units{System: unit.Metric}))
	for column, want := range map[int][2]string{8: {"volume (L)", "11356.2"}, 9: {"area (ha)", "0.173437"}, 10: {"rate (m3/ha)", "65.4777"},
		11: {"seed", "oats 7.77587 kg (44.834 kg/ha); alfalfa 1.74957 kg (10.0877 kg/ha)"}} {
		if rows[0][column] != want[0] || rows[1][column] != want[1] {
			t.Errorf("got %q, %q; want %q", rows[0][column], rows[1][column], want)
		}
	}
}
