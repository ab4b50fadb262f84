// Package terminal is the transport of a laptop: one line in, one reply out. It is
// a conversation like any other; nothing is decided here.
//
// Deliberately not here: the store, flags, and any reading of what was said.
package terminal

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"tankside/bot"
	"tankside/engine"
	"tankside/phrases"
)

// Handler answers a message; *bot.Bot is one.
type Handler interface {
	Handle(context.Context, bot.Message) (*bot.Reply, error)
}

// Chat is one conversation at a terminal or through pipes.
type Chat struct {
	Handler Handler
	ID      int64
	Person  bot.Person
	JSON    bool // one object of the answer contract a line, instead of text
	Lines   Lines
	Out     io.Writer
	Now     func() time.Time
	Report  func(error) // told what went wrong on our side

	// Hear hears the voice note in a file, for the line "voice FILE"; unsure: the words
	// may not be what was said.
	Hear func(ctx context.Context, lang, file string) (words string, unsure bool, err error)

	last int64 // the message before
	lang string
	buf  []byte
}

// Run answers line by line, until the lines end or the answers cannot be written.
func (c *Chat) Run(ctx context.Context) error {
	for {
		line, err := c.Lines.Next()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if !c.JSON && strings.TrimSpace(line) == "" {
			continue // a person pressed Enter
		}
		if err := c.print(line, c.answer(ctx, line)); err != nil {
			return err
		}
	}
}

// answer never fails: what goes wrong on our side is reported, and said.
func (c *Chat) answer(ctx context.Context, line string) *bot.Reply {
	m := bot.Message{Chat: c.ID, Person: c.Person, Text: line, At: c.Now()}
	if file, ok := voiceNote(line); ok && c.Hear != nil {
		var err error
		if m.Text, m.Unsure, err = c.Hear(ctx, c.lang, file); err != nil {
			c.Report(err)
			return notHeard(c.lang)
		}
		m.Heard = true
	}
	// Messages are numbered by the clock. Where a clock was set back, a number may
	// have been used before; then the answer is an old one, and the next number is
	// tried.
	for m.ID = max(c.last+1, m.At.UnixMicro()); ; m.ID++ {
		r, err := Safely(ctx, c.Handler, m)
		if err != nil {
			c.Report(err)
			r = Broken(c.lang)
		}
		if !r.Repeat {
			c.last, c.lang = m.ID, r.Lang
			return r
		}
	}
}

// voiceNote is the file of a line such as "voice note.ogg".
func voiceNote(line string) (file string, ok bool) {
	file, ok = strings.CutPrefix(strings.TrimSpace(line), "voice ")
	switch strings.ToLower(filepath.Ext(file)) {
	case ".ogg", ".oga", ".opus":
		return strings.TrimSpace(file), ok
	}
	return "", false
}

// notHeard is the reply to a voice note that gave no words.
func notHeard(lang string) *bot.Reply {
	if lang == "" {
		lang = phrases.Languages()[0]
	}
	text := phrases.Word(lang, "telegram.not_heard")
	return &bot.Reply{Outcome: &engine.Outcome{Status: engine.NotUnderstood}, Lang: lang, Text: text, Spoken: text}
}

func (c *Chat) print(line string, r *bot.Reply) error {
	if !c.JSON {
		_, err := fmt.Fprintf(c.Out, "%s\n\n", strings.TrimRight(r.Text, "\n"))
		return err
	}
	var err error
	if c.buf, err = AppendLine(c.buf[:0], line, r); err != nil {
		c.Report(err)
	}
	_, err = c.Out.Write(c.buf)
	return err
}

// AppendLine appends the contract's JSON line for r. Should r hold what is no number,
// the line says that we are at fault and err says why; it is a line all the same.
func AppendLine(dst []byte, question string, r *bot.Reply) ([]byte, error) {
	line, err := bot.AppendJSON(dst, question, r)
	if err != nil {
		line, _ = bot.AppendJSON(dst, question, Broken(r.Lang))
	}
	return append(line, '\n'), err
}

// Safely asks h, and turns a panic into an error: one message that trips us must not
// end the conversation, or a batch of them.
func Safely(ctx context.Context, h Handler, m bot.Message) (r *bot.Reply, err error) {
	defer func() {
		if p := recover(); p != nil {
			r, err = nil, fmt.Errorf("message %.80q: %v", m.Text, p)
		}
	}()
	if r, err = h.Handle(ctx, m); r == nil && err == nil {
		err = fmt.Errorf("message %.80q: no answer", m.Text)
	}
	return r, err
}

// Broken is the reply when the fault is ours.
func Broken(lang string) *bot.Reply {
	if lang == "" {
		lang = phrases.Languages()[0]
	}
	o := &engine.Outcome{Status: engine.Refused, Problem: engine.Broken}
	a := phrases.Say(lang, o)
	return &bot.Reply{Outcome: o, Lang: lang, Text: a.Text, HTML: a.HTML, Spoken: a.Spoken}
}
