package parse

import (
	"bufio"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"tankside/engine"
)

// corpusMessages are the messages of the corpus, by language.
func corpusMessages(t testing.TB) map[string][]string {
	t.Helper()
	files, err := filepath.Glob("../testdata/corpus/*/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no corpus: %v", err)
	}
	out := map[string][]string{}
	for _, path := range files {
		if filepath.Base(path) == "known_wrong.txt" {
			continue
		}
		f, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		lang := filepath.Base(filepath.Dir(path))
		s := bufio.NewScanner(f)
		for s.Scan() {
			if text, ok := strings.CutPrefix(s.Text(), "  "); ok {
				out[lang] = append(out[lang], text)
			}
		}
		if err := s.Err(); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
	return out
}

// spans are all stretches of a message that a request accounts for.
func spans(req *Request) [][2]int {
	var out [][2]int
	for i := range req.Facts {
		out = append(out, req.Facts[i].At)
	}
	for _, l := range req.Loose {
		out = append(out, l.At)
	}
	for _, list := range [...][]engine.Span{req.Unread, req.Withdrawn} {
		for _, s := range list {
			out = append(out, s.At)
		}
	}
	for _, a := range req.Acts {
		out = append(out, a.At)
	}
	if req.Start != nil {
		out = append(out, req.Start.At)
	}
	if req.FieldSaid != "" {
		out = append(out, req.FieldAt)
	}
	return out
}

// lost lists the numbers of a message, in digits or words, that nothing in its
// request accounts for. A time and the number of a load are in When and Ordinal,
// which have no span of their own.
func lost(t testing.TB, text string, ctx Context, req *Request) (out []string) {
	if len(text) > MaxLength {
		return nil
	}
	r, _ := readWords(t, text, ctx)
	covered := spans(req)
	for i := range r.tokens {
		tok := &r.tokens[i]
		switch tok.class {
		case cClock:
			if req.When != nil && strconv.Itoa(req.When.Clock) == tok.key {
				continue
			}
		case cDate:
			if req.Date != nil && strconv.Itoa(req.Date.Month*100+req.Date.Day) == tok.key {
				continue
			}
		case cOrd:
			if n, err := strconv.Atoi(tok.key); err == nil && n == req.Ordinal {
				continue
			}
		case cNum, cNumFrac, cFrac, cScale:
			if req.When != nil && req.When.Ago > 0 && beforeAgo(r, i) || req.Factor != 0 {
				continue
			}
		default:
			continue
		}
		if from, to := r.origin(tok.from), r.origin(tok.to); !inside(covered, from, to) {
			out = append(out, text[from:to])
		}
	}
	return out
}

func inside(spans [][2]int, from, to int) bool {
	for _, s := range spans {
		if s[0] <= from && to <= s[1] {
			return true
		}
	}
	return false
}

// beforeAgo says whether a time that counts back from now is close by.
func beforeAgo(r *reader, i int) bool {
	for k := max(0, i-6); k < len(r.tokens) && k <= i+6; k++ {
		if t := &r.tokens[k]; t.class == cTime && t.key == "ago" {
			return true
		}
	}
	return false
}

// Every number that was said is in a fact or listed as not used.
func TestNumbersAreConserved(t *testing.T) {
	for lang, messages := range corpusMessages(t) {
		for _, text := range messages {
			if gone := lost(t, text, in(lang), Parse(text, in(lang))); len(gone) > 0 {
				t.Errorf("%s %q: nothing accounts for %q", lang, text, gone)
			}
		}
	}
}

// The place of a fact lies in the message, on whole runes, and holds a number.
func TestFactsLieInTheMessage(t *testing.T) {
	for lang, messages := range corpusMessages(t) {
		for _, text := range messages {
			checkPlaces(t, text, in(lang), Parse(text, in(lang)))
		}
	}
}

func checkPlaces(t testing.TB, text string, ctx Context, req *Request) {
	t.Helper()
	for _, s := range spans(req) {
		if s[0] < 0 || s[1] > len(text) || s[0] >= s[1] && text != "" {
			t.Fatalf("%q: the place %v is not in the message", text, s)
		}
	}
	for _, list := range [...][]engine.Span{req.Unread, req.Withdrawn} {
		for _, s := range list {
			if text[s.At[0]:s.At[1]] != s.Text {
				t.Errorf("%q: %q is not what stands at %v", text, s.Text, s.At)
			}
		}
	}
	r, _ := readWords(t, text, ctx)
	for i := range req.Facts {
		if f := &req.Facts[i]; !hasNumber(r, f.At) {
			t.Errorf("%q: no number in %q of %s", text, text[f.At[0]:f.At[1]], f.Slot)
		}
	}
}

func hasNumber(r *reader, at [2]int) bool {
	for i := range r.tokens {
		t := &r.tokens[i]
		if from, to := r.origin(t.from), r.origin(t.to); from >= at[0] && to <= at[1] && (t.numeric() || t.class == cOrd || t.class == cFull) {
			return true
		}
	}
	return false
}
