package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
)

// example is a command in the README and what the README says that it prints.
type example struct{ command, output string }

// examples finds the commands of this program in fenced blocks: "$ " before the
// command, its output below.
func examples(text string) (found []example) {
	inside := false
	var now *example
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "```") {
			inside, now = !inside, nil
			continue
		}
		if command, ok := strings.CutPrefix(line, "$ "); inside && ok {
			now = nil
			if strings.HasPrefix(command, "go run ./cmd/tankside ") {
				found = append(found, example{command: command})
				now = &found[len(found)-1]
			}
		} else if now != nil {
			now.output += line + "\n"
		}
	}
	return found
}

// words splits a command as a shell does, as far as the README needs.
func words(command string) (list []string) {
	for i, part := range strings.Split(command, `"`) {
		if i%2 == 1 {
			list = append(list, part)
		} else {
			list = append(list, strings.Fields(part)...)
		}
	}
	return list
}

func TestREADME(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	found := examples(string(text))
	if len(found) == 0 {
		t.Fatal("no command found")
	}
	for _, e := range found {
		var out, errs bytes.Buffer
		args := words(e.command)[len([]string{"go", "run", "./cmd/tankside"}):]
		if status := run(args, &term{In: strings.NewReader(""), Out: &out, Err: &errs}); status != 0 {
			t.Errorf("%s: status %d: %s", e.command, status, errs.String())
		}
		if out.String() != e.output {
			t.Errorf("%s\nprints:\n%s\nREADME says:\n%s", e.command, out.String(), e.output)
		}
	}
}

// What the README offers to ask is answered, by itself.
func TestREADMEQuestions(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, _ := strings.Cut(string(text), "## What you can ask")
	section, _, _ = strings.Cut(section, "\n## ")
	n := 0
	for i, question := range strings.Split(section, "`") {
		if i%2 == 0 {
			continue
		}
		n++
		var out bytes.Buffer
		if status := run([]string{"ask", question}, &term{In: strings.NewReader(""), Out: &out, Err: &out}); status != 0 {
			t.Errorf("%s\n%s", question, out.String())
		}
	}
	if n < 10 {
		t.Errorf("only %d questions found", n)
	}
}
