package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"tankside/bot"
	"tankside/bot/terminal"
	"tankside/engine"
)

type ask struct {
	JSON      bool     `name:"json" help:"One JSON object a question."`
	Questions []string `arg:"" optional:"" name:"question" help:"What to ask. Several, each in quotes, are several questions. With - or nothing, each line of standard input is one."`
}

// Run answers every question. Only a single question can fail.
func (a *ask) Run(t *term) error {
	in := a.asked(t)
	if in == nil {
		return hinted{errors.New("nothing asked"), `tankside ask "3000 gallon tank, 7000 per acre, ryegrass 12 lb"`}
	}
	b := newBatch(a.JSON, t.Out, t.complain)
	if in == fromInput {
		in = terminal.NewReader(t.In, b.out.Flush)
	}
	answered, n, err := b.run(in)
	if err = errors.Join(err, b.out.Flush()); err != nil {
		return err
	}
	if !a.JSON && n == 1 && answered == 0 {
		return errNoAnswer
	}
	return nil
}

// fromInput stands for the lines of standard input.
var fromInput terminal.Lines = &list{}

// asked is where the questions come from, or nil when there are none.
func (a *ask) asked(t *term) terminal.Lines {
	q := a.Questions
	switch {
	case len(q) == 0 && t.person():
		return nil
	case len(q) == 0, len(q) == 1 && q[0] == "-":
		return fromInput
	case !a.JSON && !strings.ContainsAny(strings.Join(q, ""), " \t\n"):
		return &list{strings.Join(q, " ")} // the words of one question, without quotes around it
	}
	l := list(q)
	return &l
}

// list is lines known beforehand.
type list []string

func (l *list) Next() (string, error) {
	if len(*l) == 0 {
		return "", io.EOF
	}
	line := (*l)[0]
	*l = (*l)[1:]
	return line, nil
}

// batch answers line after line, each in a chat of its own.
type batch struct {
	handler terminal.Handler
	json    bool
	out     *bufio.Writer
	report  func(error)
}

func newBatch(json bool, out io.Writer, report func(error)) *batch {
	return &batch{handler: alone{}, json: json, out: bufio.NewWriterSize(out, 64<<10), report: report}
}

func (b *batch) run(in terminal.Lines) (answered, n int, err error) {
	var buf []byte
	for {
		line, err := in.Next()
		if err == io.EOF {
			return answered, n, nil
		}
		if err != nil {
			return answered, n, err
		}
		n++
		r, err := terminal.Safely(context.Background(), b.handler, bot.Message{ID: int64(n), Text: line, At: time.Now()})
		if err != nil {
			b.report(err)
			r = terminal.Broken("")
		}
		if o := r.Outcome; o != nil && (o.Status == engine.Answered || o.Status == engine.Done) {
			answered++
		}
		if b.json {
			if buf, err = terminal.AppendLine(buf[:0], line, r); err != nil {
				b.report(err)
			}
		} else {
			buf = b.words(buf[:0], r, n > 1)
		}
		if _, err := b.out.Write(buf); err != nil {
			return answered, n, err
		}
	}
}

// words are the reply, with a blank line before all but the first.
func (b *batch) words(buf []byte, r *bot.Reply, more bool) []byte {
	if more {
		buf = append(buf, '\n')
	}
	return fmt.Appendf(buf, "%s\n", strings.TrimRight(r.Text, "\n"))
}

// alone answers each question in a chat of its own; nothing is kept.
type alone struct{}

func (alone) Handle(_ context.Context, m bot.Message) (*bot.Reply, error) { return bot.Ask(m), nil }
