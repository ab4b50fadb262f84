package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"tankside/bot"
	"tankside/bot/store"
	"tankside/bot/terminal"
	"tankside/bot/voice"
)

var update = flag.Bool("update", false, "write the replies into the dialogs instead of comparing them")

func TestMain(m *testing.M) {
	voice.Child(os.Args)
	testscript.Main(m, map[string]func(){"tankside": main})
}

// TestDialogs runs testdata/dialogs: conversations, and the program's commands.
func TestDialogs(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "../../testdata/dialogs", UpdateScripts: *update, RequireExplicitExec: true,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"talk": talk}})
}

// talk FILE [CHAT [NAME]] holds a conversation over log.db and prints it with its
// replies, for cmp with the file it came from. In the file, "> " goes before what is
// said and "@ " before the date and time when it is said; from there on a minute
// passes with each message. Everything else is what was replied when the file was
// written.
func talk(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 || len(args) > 3 {
		ts.Fatalf("usage: talk FILE [CHAT [NAME]]")
	}
	s, err := store.Open(context.Background(), ts.MkAbs("log.db"))
	ts.Check(err)
	defer s.Close()
	c := conversation{zone: time.FixedZone("", -5*3600), lines: strings.Split(ts.ReadFile(args[0]), "\n"), out: ts.Stdout()}
	c.now = time.Date(2026, 9, 14, 7, 0, 0, 0, c.zone)
	s.Now = func() time.Time { return c.now }
	chat := terminal.Chat{Handler: bot.New(s), ID: 1, Person: bot.Person{ID: 1, Name: "Ann"}, Lines: &c, Out: c.out,
		Now: s.Now, Report: func(err error) { ts.Fatalf("%v", err) }}
	if len(args) > 1 {
		_, err := fmt.Sscan(args[1], &chat.ID)
		ts.Check(err)
	}
	if len(args) > 2 {
		chat.Person = bot.Person{ID: int64(len(args[2])), Name: args[2]}
	}
	ts.Check(chat.Run(context.Background()))
}

// conversation is the lines said in a file, and the clock they are said by.
type conversation struct {
	zone  *time.Location
	now   time.Time
	lines []string
	out   io.Writer
}

// Next copies what is said to the transcript, and skips the old replies.
func (c *conversation) Next() (string, error) {
	for len(c.lines) > 0 {
		line := c.lines[0]
		c.lines = c.lines[1:]
		if at, ok := strings.CutPrefix(line, "@ "); ok {
			now, err := time.ParseInLocation("2006-01-02 15:04", at, c.zone)
			if err != nil {
				return "", err
			}
			c.now = now.Add(-time.Minute)
			fmt.Fprintln(c.out, line)
		} else if said, ok := strings.CutPrefix(line, "> "); ok {
			c.now = c.now.Add(time.Minute)
			fmt.Fprintln(c.out, line)
			return said, nil
		}
	}
	return "", io.EOF
}
