package bot

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"

	"tankside/engine"
	"tankside/engine/unit"
)

// The corpus is what must be understood: each message, as the first of a fresh
// chat, must come to the status, topic, facts and results of its header. The form
// is described in testdata/corpus/README.md.

// want is a header of the corpus.
type want struct {
	status, topic string
	facts, gives  []wantFact
	missing       []string
	conflict      []string
	unread        []string
	withdrawn     []string
}

type wantFact struct {
	slot, of string
	min, max float64
	unit     string
	free     bool // no value: a crop that was said
}

type line struct {
	want want
	text string
	at   string
}

// readCorpus reads one file.
func readCorpus(path string) ([]line, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var out []line
	var w want
	s := bufio.NewScanner(f)
	for n := 1; s.Scan(); n++ {
		text := s.Text()
		switch {
		case strings.HasPrefix(text, "#"), strings.TrimSpace(text) == "":
		case strings.HasPrefix(text, "  "):
			out = append(out, line{w, text[2:], fmt.Sprintf("%s:%d", filepath.Base(path), n)})
		default:
			if w, err = readHeader(text); err != nil {
				return nil, fmt.Errorf("%s:%d: %w", path, n, err)
			}
		}
	}
	return out, s.Err()
}

func readHeader(s string) (want, error) {
	parts := strings.Split(s, ";")
	words := splitFacts(parts[0])
	if len(words) < 2 {
		return want{}, fmt.Errorf("header needs a status and a topic: %q", s)
	}
	w := want{status: words[0], topic: words[1]}
	if w.topic == "-" {
		w.topic = ""
	}
	var err error
	if w.facts, err = readFacts(words[2:]); err != nil {
		return w, err
	}
	for _, p := range parts[1:] {
		p = strings.TrimSpace(p)
		key, rest, _ := strings.Cut(p, " ")
		switch key {
		case "missing":
			w.missing = strings.Fields(rest)
		case "conflict":
			w.conflict = strings.Fields(rest)
		case "unread":
			w.unread = trimAll(strings.Split(rest, "|"))
		case "withdrawn":
			w.withdrawn = trimAll(strings.Split(rest, "|"))
		case "gives":
			if w.gives, err = readFacts(splitFacts(rest)); err != nil {
				return w, err
			}
		default:
			return w, fmt.Errorf("unknown part %q", key)
		}
	}
	return w, nil
}

func trimAll(in []string) []string {
	for i := range in {
		in[i] = strings.TrimSpace(in[i])
	}
	return in
}

// splitFacts splits at blanks outside parentheses.
func splitFacts(s string) []string {
	var out []string
	depth, from := 0, -1
	for i, r := range s + " " {
		switch {
		case r == '(':
			depth++
		case r == ')':
			depth--
		}
		switch blank := r == ' ' && depth == 0; {
		case blank && from >= 0:
			out, from = append(out, s[from:i]), -1
		case !blank && from < 0:
			from = i
		}
	}
	return out
}

func readFacts(words []string) ([]wantFact, error) {
	var out []wantFact
	for _, w := range words {
		name, value, has := strings.Cut(w, "=")
		f := wantFact{slot: name, free: !has}
		if i := strings.IndexByte(name, '('); i >= 0 {
			f.slot, f.of = name[:i], strings.ReplaceAll(strings.TrimSuffix(name[i+1:], ")"), "_", " ")
		}
		if engine.SlotNamed(f.slot) == engine.NoSlot {
			return nil, fmt.Errorf("no quantity %q", f.slot)
		}
		if has {
			num, u, _ := strings.Cut(value, "_")
			f.unit = strings.ReplaceAll(u, "_", " ")
			lo, hi, ranged := strings.Cut(num, "..")
			if !ranged {
				hi = lo
			}
			var err1, err2 error
			f.min, err1 = strconv.ParseFloat(lo, 64)
			f.max, err2 = strconv.ParseFloat(hi, 64)
			if err1 != nil || err2 != nil {
				return nil, fmt.Errorf("no number in %q", w)
			}
		}
		out = append(out, f)
	}
	return out, nil
}

func nearly(a, b float64) bool { return math.Abs(a-b) <= 1e-3*math.Max(math.Abs(a), math.Abs(b))+1e-9 }

// check compares an outcome with what is wanted and lists the differences.
func (w *want) check(o *engine.Outcome) []string {
	var bad []string
	miss := func(format string, args ...any) { bad = append(bad, fmt.Sprintf(format, args...)) }
	if string(o.Status) != w.status {
		miss("status %s, want %s (problem %q)", o.Status, w.status, o.Problem)
	}
	topic := ""
	if len(o.Topics) > 0 {
		topic = string(o.Topics[0])
	}
	if topic != w.topic && w.topic != "" {
		miss("topic %q, want %q", topic, w.topic)
	}
	var said engine.Facts
	for _, f := range o.Given {
		if f.Origin == engine.Said {
			said = append(said, f)
		}
	}
	for _, f := range w.facts {
		if i := findFact(said, f); i >= 0 {
			said = append(said[:i:i], said[i+1:]...)
		} else if !(f.slot == "crop" && hasCrop(o.Given, f.of)) {
			miss("lacks %s(%s)=%g..%g %s", f.slot, f.of, f.min, f.max, f.unit)
		}
	}
	for _, f := range said {
		if f.Slot != engine.CropSaid {
			miss("extra %s(%s)=%g..%g %s", f.Slot, f.Of, f.Min, f.Max, f.Unit.Symbol)
		}
	}
	for _, g := range w.gives {
		if !hasResult(o, g) {
			miss("does not give %s(%s)=%g %s", g.slot, g.of, g.min, g.unit)
		}
	}
	for i, m := range w.missing {
		m, _, _ = strings.Cut(m, "(")
		if i >= len(o.Missing) || o.Missing[i].String() != m {
			miss("missing %v, want %v", o.Missing, w.missing)
			break
		}
	}
	if len(w.conflict) > 0 && len(o.Conflict) == 0 {
		miss("no conflict")
	}
	for _, u := range w.unread {
		if !overlaps(o.Unread, u) {
			miss("unread lacks %q: %v", u, o.Unread)
		}
	}
	for _, u := range w.withdrawn {
		if !overlaps(o.Withdrawn, u) {
			miss("withdrawn lacks %q: %v", u, o.Withdrawn)
		}
	}
	return bad
}

func hasCrop(fs engine.Facts, of string) bool {
	for i := range fs {
		if fs[i].Of == of {
			return true
		}
	}
	return false
}

func overlaps(spans []engine.Span, text string) bool {
	for _, s := range spans {
		if strings.Contains(strings.ToLower(s.Text), strings.ToLower(text)) || strings.Contains(strings.ToLower(text), strings.ToLower(s.Text)) {
			return true
		}
	}
	return false
}

func findFact(fs engine.Facts, w wantFact) int {
	for i, f := range fs {
		if f.Slot.String() != w.slot || f.Of != w.of && !(w.of == "" && w.slot == "gate_opening") {
			continue
		}
		if w.free || nearly(f.Min, w.min) && nearly(f.Max, w.max) && (f.Unit.Symbol == w.unit || w.unit == "" && f.Unit.Dim == unit.None) {
			return i
		}
		if u := unit.Find(w.unit); u != nil && u.Dim == f.Unit.Dim {
			lo, hi := f.Base()
			if nearly(lo, u.ToBase(w.min)) && nearly(hi, u.ToBase(w.max)) {
				return i
			}
		}
	}
	return -1
}

func hasResult(o *engine.Outcome, w wantFact) bool {
	for _, v := range o.Results {
		if v.Slot.String() != w.slot || w.of != "" && v.Of != w.of {
			continue
		}
		u := unit.Find(w.unit)
		if u == nil {
			return false
		}
		if w.slot == "converted" && v.Unit != nil && v.Unit.Dim != u.Dim {
			continue
		}
		if nearly(v.Min, u.ToBase(w.min)) && nearly(v.Max, u.ToBase(w.max)) {
			return true
		}
	}
	return false
}

var corpusNow = time.Date(2026, 9, 10, 15, 30, 0, 0, time.UTC)

func TestCorpus(t *testing.T) {
	files, err := filepath.Glob("../testdata/corpus/*/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no corpus: %v", err)
	}
	known := knownWrong(t)
	report := os.Getenv("CORPUS_REPORT")
	var out strings.Builder
	total, wrong := 0, 0
	sort.Strings(files)
	for _, path := range files {
		if filepath.Base(path) == "known_wrong.txt" {
			continue
		}
		lines, err := readCorpus(path)
		if err != nil {
			t.Error(err)
			continue
		}
		for _, l := range lines {
			total++
			r := Ask(Message{Text: l.text, At: corpusNow})
			bad := l.want.check(r.Outcome)
			lang := filepath.Base(filepath.Dir(path))
			switch {
			case len(bad) > 0 && report != "":
				fmt.Fprintf(&out, "%s/%s %s\n    %s\n", lang, l.at, l.text, strings.Join(bad, "\n    "))
				wrong++
			case len(bad) > 0 && !known[l.text]:
				t.Errorf("%s/%s %q\n\t%s", lang, l.at, l.text, strings.Join(bad, "\n\t"))
			case len(bad) == 0 && known[l.text]:
				t.Errorf("%s/%s %q is right now: take it out of known_wrong.txt", lang, l.at, l.text)
			}
		}
	}
	if report != "" {
		if err := os.WriteFile(report, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		t.Logf("%d of %d wrong", wrong, total)
	}
}

// knownWrong are the messages that are not yet read right. The list may only
// shrink: one that comes right fails the test until it is taken out.
func knownWrong(t *testing.T) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	files, err := filepath.Glob("../testdata/corpus/*/known_wrong.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range strings.Split(string(data), "\n") {
			if l = strings.TrimSpace(l); l != "" && !strings.HasPrefix(l, "#") {
				out[l] = true
			}
		}
	}
	return out
}
