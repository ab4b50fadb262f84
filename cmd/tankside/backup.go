package main

import (
	"context"
	"errors"
	"fmt"

	"tankside/bot/store"
)

type backup struct {
	dbFlag
	File string `arg:"" help:"The new file."`
}

// Run copies the log while it may be in use.
func (b *backup) Run(t *term) (err error) {
	ctx := context.Background()
	s, err := b.open(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if err := s.Backup(ctx, b.File); err != nil {
		return fmt.Errorf("no back-up: %w", err)
	}
	_, err = fmt.Fprintf(t.Out, "The log is in %s.\n", b.File)
	return err
}

type restore struct {
	dbFlag
	File string `arg:"" help:"The back-up."`
}

// Run puts a back-up in the log's place, unless the bot is running on it.
func (r *restore) Run(t *term) (err error) {
	path, err := r.path()
	if err != nil {
		return err
	}
	unlock, err := r.lock()
	if err != nil {
		return hinted{err, "stop the bot first"}
	}
	defer func() { err = errors.Join(err, unlock()) }()
	kept, err := store.Restore(context.Background(), r.File, path)
	if err != nil {
		return fmt.Errorf("nothing was restored: %w", err)
	}
	if kept != "" {
		fmt.Fprintf(t.Out, "The log that was there is now %s.\n", kept)
	}
	_, err = fmt.Fprintf(t.Out, "The log is now what %s holds.\n", r.File)
	return err
}
