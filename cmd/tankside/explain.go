package main

import (
	"fmt"
	"strings"

	"tankside/parse"
)

type explain struct {
	Message []string `arg:"" help:"The message to read."`
}

// Run prints what was read, how it was bound and why.
func (e *explain) Run(t *term) error {
	_, err := fmt.Fprintln(t.Out, strings.TrimRight(parse.Explain(strings.Join(e.Message, " "), parse.Context{}), "\n"))
	return err
}
