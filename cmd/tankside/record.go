package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"tankside/bot"
	"tankside/bot/record"
)

type writeRecord struct {
	logFlags
	From   string `name:"from" placeholder:"DAY" help:"First day, as 2026-09-14. Without --from and --to, today."`
	To     string `name:"to" placeholder:"DAY" help:"Last day."`
	Field  string `name:"field" placeholder:"NAME" help:"Only this field."`
	Format string `name:"format" enum:"csv,xlsx,pdf," default:"" placeholder:"FORMAT" help:"csv, xlsx or pdf. Without it, by the name of the file."`
	Lang   string `name:"lang" enum:"en,es," default:"" placeholder:"LANG" help:"en or es. Without it, the chat's language."`
	Out    string `name:"out" short:"o" placeholder:"FILE" help:"File to write. Without it, standard output."`
}

// Run writes the record of the evening, and says what is missing from it.
func (c *writeRecord) Run(t *term) error {
	now := time.Now()
	q, format, err := c.asked(now)
	if err != nil {
		return err
	}
	r, err := c.build(q)
	if err != nil {
		return err
	}
	write := map[string]func(io.Writer) error{"csv": r.CSV, "xlsx": r.XLSX, "pdf": r.PDF}[format]
	if c.Out == "" {
		return write(t.Out)
	}
	if err := writeFile(c.Out, write); err != nil {
		return err
	}
	for _, line := range r.Missing() {
		fmt.Fprintln(t.Out, line)
	}
	return nil
}

// asked checks the flags.
func (c *writeRecord) asked(now time.Time) (q record.Query, format string, err error) {
	for _, day := range []string{c.From, c.To} {
		if _, err := time.Parse(time.DateOnly, day); day != "" && err != nil {
			return q, "", hinted{fmt.Errorf("%q is no day", day), "write it as " + now.Format(time.DateOnly)}
		}
	}
	if c.From == "" && c.To == "" {
		c.From, c.To = now.Format(time.DateOnly), now.Format(time.DateOnly)
	}
	if c.To != "" && c.To < c.From {
		return q, "", errors.New("--to is before --from")
	}
	format = cmp.Or(c.Format, strings.TrimPrefix(strings.ToLower(filepath.Ext(c.Out)), "."), "csv")
	switch format {
	case "csv", "xlsx", "pdf":
	default:
		return q, "", hinted{fmt.Errorf("cannot write %q", format), "say --format csv, xlsx or pdf"}
	}
	return record.Query{From: c.From, To: c.To, Field: c.Field, Lang: c.Lang, Made: now}, format, nil
}

func (c *writeRecord) build(q record.Query) (r *record.Record, err error) {
	ctx := context.Background()
	s, err := c.open(ctx)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	memory, _, _, err := s.Load(ctx, c.Chat, 0, q.Made)
	if err != nil {
		return nil, err
	}
	var rows []bot.Row
	if err := s.Loads(ctx, c.Chat, func(row bot.Row) error { rows = append(rows, row); return nil }); err != nil {
		return nil, err
	}
	return record.Build(rows, &memory, q), nil
}

// writeFile writes a file whole or not at all.
func writeFile(path string, write func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".tankside-*")
	if err != nil {
		return hinted{err, "choose another file"}
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(f.Name()))
		}
	}()
	if err := errors.Join(write(f), f.Chmod(0o644), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}
