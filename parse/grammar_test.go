package parse

import (
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// The grammar as EBNF, so that a change of it is seen.
func TestGrammarIsAsWritten(t *testing.T) {
	const path = "../testdata/parse/grammar.ebnf"
	got := strings.TrimSpace(Grammar()) + "\n"
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the grammar is\n%s\n%s has\n%s", got, path, want)
	}
}

// The grammar takes any sequence of word classes, so no message is refused by it.
func TestGrammarTakesAnything(t *testing.T) {
	words := []string{"3000", "half", "thousand", "point", "oh", "and", "to", "/", "gal", "per", "per load", "per 1000 gal", "$", "tank", "1/2", "-", "ryegrass", "?", ","}
	for _, a := range words {
		for _, b := range words {
			for _, c := range words {
				text := a + " " + b + " " + c
				if req := Parse(text, in("en")); req.Problem != nil && req.Problem.Code == "broken" {
					t.Fatalf("%q: %v", text, req.Problem)
				}
			}
		}
	}
}
