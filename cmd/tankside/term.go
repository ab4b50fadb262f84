package main

// The rules of the terminal:
//
//   - Answers go to standard output. Everything else goes to standard error.
//   - What goes wrong is one line: "tankside: ", lower case, no full stop.
//   - Where there is something to do about it, a line "hint: " follows.
//   - No colour, no pictures, no progress: a reply is what a person reads in a cab.
//   - Exit status: 0 done, 1 could not, 2 used wrongly. A single question that gets
//     no answer is 1 although its reply is on standard output.
//   - chat and ask need no configuration.

import (
	"errors"
	"fmt"
	"io"
	"os"

	"tankside/bot/terminal"
)

// term is where a command reads and writes.
type term struct {
	In       io.Reader
	Out, Err io.Writer
}

// errNoAnswer is the failure of a question whose reply says all there is to say.
var errNoAnswer = errors.New("no answer")

// hinted is an error that something can be done about.
type hinted struct {
	error
	hint string
}

func (h hinted) Unwrap() error { return h.error }

// complain reports what went wrong.
func (t *term) complain(err error) {
	fmt.Fprintf(t.Err, "tankside: %v\n", err)
	var h hinted
	if errors.As(err, &h) {
		fmt.Fprintf(t.Err, "hint: %s\n", h.hint)
	}
}

// person says whether somebody is typing, rather than a file or a program.
func (t *term) person() bool {
	f, ok := t.In.(*os.File)
	return ok && terminal.IsTerminal(f)
}
