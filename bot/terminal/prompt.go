package terminal

import (
	"errors"
	"io"
	"os"

	"github.com/chzyer/readline"
)

// Prompt reads lines from a person at a terminal, with line editing and a history
// to search (arrow keys, Ctrl-R).
type Prompt struct{ line *readline.Instance }

// IsTerminal says whether a person is at the other end of f.
func IsTerminal(f *os.File) bool { return readline.IsTerminal(int(f.Fd())) }

// NewPrompt starts reading from the terminal. The history is kept in a file, unless
// its name is empty.
func NewPrompt(history string) (*Prompt, error) {
	if history != "" {
		// Made here, since what an operator says is not for every user to read.
		if f, err := os.OpenFile(history, os.O_CREATE|os.O_RDWR, 0o600); err == nil {
			f.Close()
		} else {
			history = ""
		}
	}
	line, err := readline.NewEx(&readline.Config{Prompt: "> ", HistoryFile: history, HistorySearchFold: true})
	if err != nil {
		return nil, err
	}
	return &Prompt{line}, nil
}

// Next gives the next line. Ctrl-C drops what has been typed; on an empty line it
// ends, as Ctrl-D and the words "quit" and "exit" do.
func (p *Prompt) Next() (string, error) {
	for {
		line, err := p.line.Readline()
		if errors.Is(err, readline.ErrInterrupt) {
			if line == "" {
				return "", io.EOF
			}
			continue
		}
		if line == "quit" || line == "exit" {
			return "", io.EOF
		}
		return line, err
	}
}

// Close gives the terminal back.
func (p *Prompt) Close() error { return p.line.Close() }
