package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"tankside/bot"
	"tankside/bot/record"
)

type loadSet struct {
	logFlags
	File    string `arg:"" help:"CSV with the columns item, name, value and unit: tank, rate, seed, pump, width, field, gate and so on."`
	Unusual bool   `name:"unusual" help:"Take values that are outside the usual band."`
	Name    string `name:"name" help:"Who is importing, for the memory. Without it, your user name."`
}

// Run puts a set-up and fields into a chat, all of the file or nothing of it.
func (c *loadSet) Run(t *term) (err error) {
	f, err := os.Open(c.File)
	if err != nil {
		return err
	}
	defer f.Close()
	setup, err := record.ReadSetup(f, c.Unusual)
	if err != nil {
		return hinted{fmt.Errorf("nothing was imported from %s\n%w", c.File, err), `a line is like tank,,3000,gal or field,north forty,38.5,acre under the headings item,name,value,unit`}
	}
	ctx := context.Background()
	s, err := c.open(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	now := time.Now()
	err = s.Do(ctx, func(tx bot.Tx) error {
		memory, _, _, err := tx.Load(c.Chat, 0, now)
		if err != nil {
			return err
		}
		if err := setup.Into(&memory, now, cmp.Or(c.Name, os.Getenv("USER"), os.Getenv("USERNAME"))); err != nil {
			return err
		}
		return tx.Apply(c.Chat, now.UnixMicro(), memory, nil, nil)
	})
	if err != nil {
		return fmt.Errorf("nothing was imported: %w", err)
	}
	fmt.Fprintf(t.Out, "imported values: %d, fields: %d, gate runs: %d\n", len(setup.Facts), len(setup.Fields), len(setup.Runs))
	return nil
}
