package bot

import (
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"
	"unicode"

	"tankside/engine"
	"tankside/engine/unit"
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

// systems: a message in US units and its twin in metric ones give the same results.
func TestMetricTwinGivesTheSameResults(t *testing.T) {
	n := 0
	for lang, lines := range corpusLines(t) {
		for _, l := range lines {
			twin, ok := metricTwin(lang, l.text)
			if !ok {
				continue
			}
			us, metric := askText(l.text).Outcome, askText(twin).Outcome
			if us.Status != engine.Answered {
				continue
			}
			n++
			if bad := differentResults(us, metric); bad != "" {
				t.Errorf("%s: %q and %q: %s", l.at, l.text, twin, bad)
			}
		}
	}
	enough(t, n, 120)
}

// twinUnit is the metric unit that a US unit is turned into, and how it is written.
var twinUnit = map[string][2]string{"gal": {"L", "L"}, "gal/acre": {"L/ha", "L/ha"}, "gal/min": {"L/min", "L/min"}, "acre": {"ha", "ha"}, "lb/acre": {"kg/ha", "kg/ha"},
	"ft": {"m", "metros"}, "mph": {"km/h", "km/h"}, "lb": {"kg", "kg"}}

// metricTwin writes each amount of a message anew in its metric unit. Only messages
// whose amounts all carry their unit in the text can be turned.
func metricTwin(lang, text string) (string, bool) {
	req := parse.Parse(text, parse.Context{Lang: lang})
	if len(req.Facts) < 2 || len(req.Loose)+len(req.Unread)+len(req.Withdrawn)+len(req.Acts)+len(req.Fixes) > 0 || req.Problem != nil || req.Convert != nil || req.WhatIf {
		return "", false
	}
	facts := append(engine.Facts(nil), req.Facts...)
	sort.Slice(facts, func(i, j int) bool { return facts[i].At[0] > facts[j].At[0] })
	for i := range facts {
		f := &facts[i]
		if f.Range() || f.Implied || f.About || i > 0 && f.At[1] > facts[i-1].At[0] {
			return "", false
		}
		to, ok := twinUnit[f.Unit.Symbol]
		if !ok {
			if f.Unit.Dim != unit.DimTime && f.Unit.Dim != unit.DimFraction && f.Unit.Dim != unit.None {
				return "", false
			}
			continue
		}
		said, plain := amountIn(text[f.At[0]:f.At[1]])
		if !plain {
			return "", false
		}
		value := unit.Must(to[0]).FromBase(f.Unit.ToBase(f.Min))
		anew := strings.Replace(text[f.At[0]:f.At[1]], said, fmt.Sprintf("%.9f %s", value, to[1]), 1)
		text = text[:f.At[0]] + anew + text[f.At[1]:]
	}
	return text, true
}

// usAmount is a plain number in digits with a US unit.
var usAmount = regexp.MustCompile(`(?i)(\d[\d,]*(?:\.\d+)?|\.\d+)[ -]?(gallons per acre|gallons an acre|gal/acre|gal/ac|gpa|galones por acre|gal por acre|gallons per minute|gal/min|gpm|` +
	`galones por minuto|gallons?|gal|galones|acres?|ac|lb/acre|lb/ac|lbs? per acre|lbs? an acre|pounds per acre|pounds an acre|libras por acre|ft|feet|foot|pies|mph|millas por hora|lbs?|pounds|libras)\b`)

// amountIn finds the one amount of a stretch of text; false when there are several
// numbers or it is written in another way.
func amountIn(s string) (string, bool) {
	found := usAmount.FindAllString(s, -1)
	if len(found) != 1 || strings.ContainsAny(strings.Replace(s, found[0], "", 1), "0123456789½¼¾") {
		return "", false
	}
	return found[0], true
}

// differentResults says in what two outcomes differ by more than a millionth. A pail is
// a common size of its own in either system.
func differentResults(a, b *engine.Outcome) string {
	if a.Status != b.Status {
		return fmt.Sprintf("%s is %s (%s)", a.Status, b.Status, b.Problem)
	}
	if len(a.Results) != len(b.Results) {
		return fmt.Sprintf("%d results and %d", len(a.Results), len(b.Results))
	}
	for i, v := range a.Results {
		w := b.Results[i]
		if v.Slot == engine.Pails || v.Slot == engine.SoakWater {
			continue
		}
		if v.Slot != w.Slot || v.Of != w.Of || !close6(v.Min, w.Min) || !close6(v.Max, w.Max) {
			return fmt.Sprintf("%s %s %.9g..%.9g is %s %s %.9g..%.9g", v.Slot, v.Of, v.Min, v.Max, w.Slot, w.Of, w.Min, w.Max)
		}
	}
	return ""
}

func close6(a, b float64) bool { return math.Abs(a-b) <= 1e-6*math.Max(math.Abs(a), math.Abs(b))+1e-12 }
