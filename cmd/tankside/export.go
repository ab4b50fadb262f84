package main

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"tankside/bot"
	"tankside/engine"
	"tankside/engine/unit"
)

type export struct {
	logFlags
}

// Run writes every row of the log: loads taken back too, with when and why.
func (e *export) Run(t *term) (err error) {
	ctx := context.Background()
	s, err := e.open(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	return exportLog(ctx, s, e.Chat, t.Out)
}

func exportLog(ctx context.Context, s bot.Store, chat int64, out io.Writer) error {
	memory, _, _, err := s.Load(ctx, chat, 0, time.Now())
	if err != nil {
		return err
	}
	w := csv.NewWriter(out)
	sheet := newSheet(memory.Units)
	w.Write(sheet.header())
	if err := s.Loads(ctx, chat, func(r bot.Row) error { return w.Write(sheet.row(&r)) }); err != nil {
		return err
	}
	w.Flush()
	return w.Error()
}

// sheet writes amounts in the chat's units, with the unit in the heading.
type sheet struct{ volume, area, rate, seedRate, seed *unit.Unit }

func newSheet(u engine.Units) sheet {
	return sheet{u.UnitFor(engine.LoadVolume), u.UnitFor(engine.AreaDone), u.UnitFor(engine.ApplicationRate),
		u.UnitFor(engine.SeedRate), u.UnitFor(engine.SeedUsed)}
}

func (s sheet) header() []string {
	return []string{"message", "part", "spread", "logged", "who", "field", "load", "tank share",
		"volume (" + s.volume.Symbol + ")", "area (" + s.area.Symbol + ")", "rate (" + s.rate.Symbol + ")",
		"seed", "note", "replaces message", "taken back", "why"}
}

func (s sheet) row(r *bot.Row) []string {
	return []string{id(r.ID), strconv.Itoa(r.Part), clock(r.When), clock(r.Said), harmless(r.Who.Name), harmless(r.FieldName),
		strconv.Itoa(r.Seq), amount(r.Fraction), amount(s.volume.FromBase(r.Volume)), amount(s.area.FromBase(r.Area)),
		amount(s.rate.FromBase(r.Rate)), harmless(s.seeds(r.Seeds)), harmless(r.Note), id(r.Replaces), clock(r.Cancelled), harmless(r.Why)}
}

// seeds is a cell such as "oats 17.1 lb (40 lb/acre); alfalfa 4 lb (9 lb/acre)".
func (s sheet) seeds(seeds []bot.Seed) string {
	var cells []string
	for _, seed := range seeds {
		cells = append(cells, fmt.Sprintf("%s %s %s (%s %s)", seed.Crop, amount(s.seed.FromBase(seed.Weight)), s.seed.Symbol,
			amount(s.seedRate.FromBase(seed.Rate)), s.seedRate.Symbol))
	}
	return strings.Join(cells, "; ")
}

// amount keeps six digits, more than any scale or meter gives.
func amount(v float64) string {
	short, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	return strconv.FormatFloat(short, 'f', -1, 64)
}

func id(n int64) string {
	if n == 0 {
		return ""
	}
	return strconv.FormatInt(n, 10)
}

func clock(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.RFC3339)
}

// harmless keeps a cell from being taken for a formula by a spreadsheet.
func harmless(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}
