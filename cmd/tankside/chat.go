package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"tankside/bot"
	"tankside/bot/store"
	"tankside/bot/terminal"
)

type chat struct {
	logFlags
	voiceFlags
	JSON bool   `name:"json" help:"One JSON object a line."`
	Name string `name:"name" help:"Who is talking, for the log. Without it, your user name."`
}

// Run talks until the input ends.
func (c *chat) Run(t *term) (err error) {
	ctx := context.Background()
	s, err := c.open(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	talk := terminal.Chat{Handler: bot.New(s), ID: c.Chat, Person: bot.Person{ID: 1, Name: c.who()}, JSON: c.JSON,
		Lines: terminal.NewReader(t.In, nil), Out: t.Out, Now: time.Now, Report: t.complain}
	hear, done, err := c.hearing(func(ctx context.Context) []string { return fieldsOf(ctx, s, c.Chat) })
	if err != nil {
		return err
	}
	defer done()
	talk.Hear = func(ctx context.Context, lang, file string) (string, bool, error) {
		return hearFile(ctx, hear, lang, file)
	}
	if t.person() {
		prompt, err := terminal.NewPrompt(c.history())
		if err != nil {
			return fmt.Errorf("cannot use the terminal: %w", err)
		}
		defer prompt.Close()
		talk.Lines = prompt
		fmt.Fprintln(t.Err, `Say what you have and ask what you need; "help" shows how. Ctrl-D ends.`)
	}
	return talk.Run(ctx)
}

// hearFile hears a voice note that is in a file.
func hearFile(ctx context.Context, hear hearing, lang, file string) (words string, unsure bool, err error) {
	if hear == nil {
		return "", false, hinted{errors.New("nothing here hears voice notes"), howToHear}
	}
	f, err := os.Open(file)
	if err != nil {
		return "", false, err
	}
	defer f.Close()
	return hear(ctx, lang, f)
}

func fieldsOf(ctx context.Context, s *store.Store, chat int64) (names []string) {
	m, _, _, err := s.Load(ctx, chat, 0, time.Now())
	if err != nil {
		return nil
	}
	for _, f := range m.Fields {
		names = append(names, f.Name)
	}
	return names
}

func (c *chat) who() string {
	return cmp.Or(c.Name, os.Getenv("USER"), os.Getenv("USERNAME"))
}

// history is the file of the lines typed, beside the log.
func (c *chat) history() string {
	if c.DB == ":memory:" {
		return ""
	}
	return c.DB + "-history"
}
