// Command tankside answers the questions of seeding cover crops through a slurry
// tank, and keeps the log of the loads.
package main

import (
	"errors"
	"os"

	"github.com/alecthomas/kong"

	"tankside/bot/voice"
)

// commands are the subcommands, one file each.
type commands struct {
	Ask        ask         `cmd:"" help:"Answer a question, or a batch of them. Each stands alone; nothing is remembered."`
	Chat       chat        `cmd:"" help:"Talk: the set-up is remembered and loads are logged."`
	Explain    explain     `cmd:"" help:"Show how a message is read."`
	Check      check       `cmd:"" help:"Check tables, words and texts for gaps."`
	Export     export      `cmd:"" help:"Write a chat's log as CSV."`
	Record     writeRecord `cmd:"" help:"Write the record of a day or more: CSV, XLSX or PDF."`
	Picture    drawPicture `cmd:"" help:"Draw a picture to a file: day, fields, gate, jars or tank."`
	Import     loadSet     `cmd:"" help:"Read a set-up and fields from CSV."`
	Serve      serve       `cmd:"" help:"Run the bot on Telegram."`
	Doctor     doctor      `cmd:"" help:"Check what serve needs, and say what to do about it."`
	Backup     backup      `cmd:"" help:"Copy the log to a new file; it may be in use."`
	Restore    restore     `cmd:"" help:"Put a back-up in the place of the log; the log that was there is kept."`
	MoveLog    moveLog     `cmd:"" help:"Move the log between a file and PostgreSQL, and compare the two."`
	Forget     forgetChat  `cmd:"" name:"forget-chat" help:"Delete all that is kept of a chat."`
	Vocabulary vocabulary  `cmd:"" help:"Write what the offline recogniser listens for."`
	Version    version     `cmd:"" help:"Print the version."`
}

func main() {
	voice.Child(os.Args)
	os.Exit(run(os.Args[1:], &term{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}))
}

// run does one command and returns the exit status: 0 done, 1 could not, 2 used wrongly.
func run(args []string, t *term) int {
	if len(args) == 0 {
		args = []string{"--help"}
	}
	helped := false
	parser, err := kong.New(&commands{}, kong.Name("tankside"), kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Description("Loads, seed, rates and flow for seeding through a slurry tank, in plain words."),
		kong.Writers(t.Out, t.Err), kong.Exit(func(int) { helped = true }))
	if err != nil {
		panic(err) // the struct above is wrong
	}
	command, err := parser.Parse(dashesLast(args))
	switch {
	case helped:
		return 0
	case err != nil:
		t.complain(hinted{err, "tankside --help shows the commands, tankside COMMAND --help one of them"})
		return 2
	}
	err = command.Run(t)
	if err != nil && !errors.Is(err, errNoAnswer) {
		t.complain(err)
	}
	if err != nil {
		return 1
	}
	return 0
}
