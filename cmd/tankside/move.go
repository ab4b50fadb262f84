package main

import (
	"context"
	"errors"
	"fmt"

	"tankside/bot/store"
)

type moveLog struct {
	From string `arg:"" help:"The log as it is: a file, or the address of a PostgreSQL database."`
	To   string `arg:"" help:"Where it is to be: a new file, or an empty database."`
}

// Run moves a log while no bot runs on it. It may be stopped and run again.
func (m *moveLog) Run(t *term) (err error) {
	for _, path := range []string{m.From, m.To} {
		unlock, err := (&dbFlag{DB: path}).lock()
		if err != nil {
			return hinted{err, "stop the bot first"}
		}
		defer unlock()
	}
	moved, err := store.Move(context.Background(), m.From, m.To)
	if err != nil {
		return hinted{fmt.Errorf("the log is not moved: %w", err), "the old log is as it was; run move-log again to go on"}
	}
	fmt.Fprintf(t.Out, "%-12s %12s  %s\n", "table", "rows", "checksum, the same in both")
	for _, one := range moved {
		fmt.Fprintf(t.Out, "%-12s %12d  %016x\n", one.Table, one.Rows, one.Hash)
	}
	_, err = fmt.Fprintln(t.Out, "The log is moved; the old one is as it was.")
	return err
}

type forgetChat struct {
	dbFlag
	Chat int64 `arg:"" help:"Number of the chat."`
	Sure bool  `name:"yes" help:"Do it. Without this, nothing is deleted."`
}

// Run deletes all that is kept of a chat.
func (f *forgetChat) Run(t *term) (err error) {
	if !f.Sure {
		return hinted{errors.New("nothing was deleted"), "what is deleted is gone, but for back-ups; add --yes to do it"}
	}
	unlock, err := f.lock()
	if err != nil {
		return hinted{err, "stop the bot first"}
	}
	defer func() { err = errors.Join(err, unlock()) }()
	ctx := context.Background()
	s, err := f.open(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	rows, err := s.Forget(ctx, f.Chat)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(t.Out, "Chat %d is forgotten: %d rows. Back-ups still have it.\n", f.Chat, rows)
	return err
}
