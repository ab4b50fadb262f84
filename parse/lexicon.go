package parse

import (
	"embed"
	"encoding/csv"
	"fmt"
	"io"
	"sort"
	"strings"
	"sync"
)

//go:embed lexicon/*.csv
var lexiconFiles embed.FS

// Languages are those that have a lexicon file, the default first.
var Languages = []string{"en", "es"}

// entry is one meaning of a word or phrase.
type entry struct {
	class class
	key   string
	words int8   // how many tokens it spans
	head  string // the first word of its row: how it is spelled
}

// lexicon is the words of one language, the common signs included.
type lexicon struct {
	lang    string
	entries map[string]entry // phrase, its tokens joined by one blank
	longest map[string]int8  // first token → tokens in the longest phrase that starts with it
	own     map[string]bool  // single words of this language's own file: they tell the language
	words   []string         // single words of four letters and more, for spelling, sorted
	once    sync.Once
	spell   []spellable // those of words that a misspelling may be mended to
}

// lexicons loads every language once; a broken embedded file is a broken build.
var lexicons = sync.OnceValue(func() map[string]*lexicon {
	all := make(map[string]*lexicon, len(Languages))
	for _, lang := range Languages {
		lx, err := loadLexicon(lang)
		if err != nil {
			panic("parse: " + err.Error())
		}
		all[lang] = lx
	}
	return all
})

func loadLexicon(lang string) (*lexicon, error) {
	lx := &lexicon{lang: lang, entries: map[string]entry{}, longest: map[string]int8{}, own: map[string]bool{}}
	for _, name := range []string{"common", lang} {
		rows, err := lexiconRows(name)
		if err != nil {
			return nil, err
		}
		for _, row := range rows {
			c, ok := classNamed[row[0]]
			if !ok {
				return nil, fmt.Errorf("lexicon %s: no class %q", name, row[0])
			}
			phrases := strings.Split(row[2], "|")
			for _, phrase := range phrases {
				lx.add(phrase, entry{class: c, key: intern(row[1]), head: phrases[0]}, name == lang)
			}
		}
	}
	for w := range lx.own {
		if c := lx.entries[w].class; len(w) >= 4 && c != cFiller && c != cWord {
			lx.words = append(lx.words, w)
		}
	}
	sort.Strings(lx.words)
	return lx, nil
}

// lexiconRows reads class, key, words; the rest of the file is comments.
func lexiconRows(name string) ([][]string, error) {
	f, err := lexiconFiles.Open("lexicon/" + name + ".csv")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment, r.FieldsPerRecord = '#', 3
	var rows [][]string
	for {
		row, err := r.Read()
		if err == io.EOF {
			return rows, nil
		}
		if err != nil {
			return nil, fmt.Errorf("lexicon %s: %w", name, err)
		}
		rows = append(rows, row)
	}
}

// add files a phrase under its tokens. The first row that names a phrase keeps
// it, so a file's order decides between two senses, and fillers come last.
func (lx *lexicon) add(phrase string, e entry, own bool) {
	var s scanner
	s.scan(phrase)
	if len(s.raw) == 0 {
		return
	}
	parts := make([]string, len(s.raw))
	for i, r := range s.raw {
		parts[i] = r.text
	}
	key := strings.Join(parts, " ")
	e.words = int8(len(parts))
	if _, taken := lx.entries[key]; !taken || own && !lx.own[key] {
		lx.entries[key] = e
	}
	lx.longest[parts[0]] = max(lx.longest[parts[0]], e.words)
	if own && len(parts) == 1 {
		lx.own[key] = true
	}
}

// match finds the longest phrase that starts at raw[i].
func (lx *lexicon) match(raw []rawToken, i int, buf []byte) (entry, bool) {
	n := int(lx.longest[raw[i].text])
	for n = min(n, len(raw)-i); n > 1; n-- {
		buf = buf[:0]
		for j := i; j < i+n; j++ {
			if j > i {
				buf = append(buf, ' ')
			}
			buf = append(buf, raw[j].text...)
		}
		if e, ok := lx.entries[string(buf)]; ok {
			return e, true
		}
	}
	if n == 0 {
		return entry{}, false
	}
	e, ok := lx.entries[raw[i].text]
	return e, ok
}

// intern keeps one copy of each key, so that tokens can be compared cheaply and
// no key allocates while parsing.
var interned = map[string]string{}

func intern(s string) string {
	if t, ok := interned[s]; ok {
		return t
	}
	interned[s] = s
	return s
}

// LexiconKeys lists "class key" of every row of a language, for the tests that
// look for gaps.
func LexiconKeys(lang string) ([]string, error) {
	rows, err := lexiconRows(lang)
	if err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	var out []string
	for _, r := range rows {
		if k := r[0] + " " + r[1]; !seen[k] {
			seen[k] = true
			out = append(out, k)
		}
	}
	sort.Strings(out)
	return out, nil
}
