package bot

import (
	"fmt"
	"path/filepath"
	"sort"
	"strings"
	"testing"
	"unicode"

	"tankside/engine"
	"tankside/parse"
)

// Metamorphic tests: a message of the corpus, said another way, must come to the
// same. No expected value is written down here, so the whole corpus takes part.

// corpusLines are the lines of the corpus that are read right, by language.
func corpusLines(t testing.TB) map[string][]line {
	t.Helper()
	files, err := filepath.Glob("../testdata/corpus/*/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no corpus: %v", err)
	}
	sort.Strings(files)
	out := map[string][]line{}
	for _, path := range files {
		if filepath.Base(path) == "known_wrong.txt" {
			continue
		}
		lines, err := readCorpus(path)
		if err != nil {
			t.Fatal(err)
		}
		lang := filepath.Base(filepath.Dir(path))
		for _, l := range lines {
			l.at = lang + "/" + l.at
			out[lang] = append(out[lang], l)
		}
	}
	return out
}

func askText(text string) *Reply { return Ask(Message{Text: text, At: corpusNow}) }

// sense is what a message comes to, without places and wording.
func sense(o *engine.Outcome) string {
	if o.Status == engine.NotUnderstood {
		return string(o.Status) // how it is declined hangs on its length
	}
	var given, results []string
	for i := range o.Given {
		f := &o.Given[i]
		lo, hi := f.Base()
		given = append(given, fmt.Sprintf("%s(%s)=%s..%s %d", f.Slot, f.Of, rounded(lo), rounded(hi), f.Origin))
	}
	for _, v := range o.Results {
		results = append(results, fmt.Sprintf("%s(%s)=%s..%s", v.Slot, v.Of, rounded(v.Min), rounded(v.Max)))
	}
	sort.Strings(given)
	sort.Strings(results)
	topics := make([]string, len(o.Topics))
	for i, topic := range o.Topics {
		topics[i] = string(topic)
	}
	sort.Strings(topics)
	return fmt.Sprintf("%s %s %s %v\n  given %s\n  results %s\n  missing %v", o.Status, o.Problem, o.Act, topics, strings.Join(given, ", "), strings.Join(results, ", "), o.Missing)
}

// rounded is a value to eight digits.
func rounded(v float64) string { return fmt.Sprintf("%.8g", v) }

// same checks that two ways of saying a thing come to the same.
func same(t *testing.T, at, how, a, b string) bool {
	t.Helper()
	x, y := sense(askText(a).Outcome), sense(askText(b).Outcome)
	if x == y {
		return true
	}
	t.Errorf("%s: %s\n%q\n%s\n%q\n%s", at, how, a, x, b, y)
	return false
}

// enough makes sure that a transformation found messages to work on.
func enough(t *testing.T, n, want int) {
	t.Helper()
	t.Logf("%d messages", n)
	if n < want {
		t.Errorf("only %d messages could be changed, want %d", n, want)
	}
}

func TestUpperCaseIsTheSame(t *testing.T) {
	n := 0
	for _, lines := range corpusLines(t) {
		for _, l := range lines {
			if up := upper(l.text); up != l.text && same(t, l.at, "upper case", l.text, up) {
				n++
			}
		}
	}
	enough(t, n, 1500)
}

func upper(s string) string { return strings.Map(unicode.ToUpper, s) }

var filler = map[string][]func(string) string{
	"en": {
		func(s string) string { return "ok so " + s },
		func(s string) string { return "hey " + s },
		func(s string) string { return s + " please" },
		func(s string) string { return s + " thanks" },
		func(s string) string { return "um " + s },
	},
	"es": {
		func(s string) string { return "oye " + s },
		func(s string) string { return s + " por favor" },
		func(s string) string { return "pues mira " + s },
		func(s string) string { return "bueno " + s },
	},
}

func TestFillerChangesNothing(t *testing.T) {
	n := 0
	for lang, lines := range corpusLines(t) {
		for _, l := range lines {
			if !fillable(l.text) {
				continue
			}
			for _, add := range filler[lang] {
				if turns(add(l.text)) {
					continue
				}
				if same(t, l.at, "filler", l.text, add(l.text)) {
					n++
				}
			}
		}
	}
	enough(t, n, 4000)
}

// turns says whether filler and message together are an order or a correction of their
// own: "us gallons please" sets the chat's units, "bueno no" takes back.
func turns(s string) bool {
	return strings.HasSuffix(s, "us gallons please") || strings.HasPrefix(s, "bueno no ")
}

// fillable leaves out messages that end in a name or a note, which filler would be
// part of, and those of one or two words, where a greeting is most of the message.
func fillable(s string) bool {
	req := parse.Parse(s, parse.Context{})
	for _, a := range req.Acts {
		switch a.Name {
		case "note", "field_new", "field_name", "field_switch", "field_close":
			return false
		}
	}
	return len(strings.Fields(s)) > 2 && len(s) < 300 && isPlainText(s)
}

func isPlainText(s string) bool {
	for _, r := range s {
		if r < ' ' || r == unicode.ReplacementChar {
			return false
		}
	}
	return true
}

// A list of facts between commas means the same in any order.
func TestOrderOfFactsIsTheSame(t *testing.T) {
	n := 0
	for _, lines := range corpusLines(t) {
		for _, l := range lines {
			for _, other := range shuffles(l.text) {
				if same(t, l.at, "another order", l.text, other) {
					n++
				}
			}
		}
	}
	enough(t, n, 200)
}

// shuffles are a comma list turned round and rotated, where each part holds facts of
// its own: an amount with its unit or role, and nothing that leans on its neighbour.
func shuffles(s string) []string {
	parts := strings.Split(s, ", ")
	if len(parts) < 2 || strings.ContainsAny(s, "?¿;:") {
		return nil
	}
	whole := parse.Parse(s, parse.Context{})
	if len(whole.Withdrawn)+len(whole.Loose)+len(whole.Unread)+len(whole.Asks)+len(whole.Acts) > 0 || whole.Correct || whole.WhatIf || whole.Problem != nil {
		return nil
	}
	facts := 0
	for _, p := range parts {
		req := parse.Parse(p, parse.Context{})
		if len(req.Facts) == 0 || len(req.Loose)+len(req.Crops)+len(req.Unread) > 0 || req.Lang != whole.Lang {
			return nil
		}
		facts += len(req.Facts)
	}
	if facts != len(whole.Facts) {
		return nil // one part changes what another is
	}
	back := make([]string, len(parts))
	for i, p := range parts {
		back[len(parts)-1-i] = p
	}
	out := []string{strings.Join(back, ", ")}
	if len(parts) > 2 {
		out = append(out, strings.Join(append(parts[1:len(parts):len(parts)], parts[0]), ", "))
	}
	return out
}
