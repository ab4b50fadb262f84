package voice

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Lexicon is the bot's own words: what to listen for.
type Lexicon struct {
	Entries []Entry
	Fields  []string // the farm's field names
}

// Entry is the words for one thing, the usual one first: class "unit", key "lb",
// phrases "pound", "pounds".
type Entry struct {
	Class, Key string
	Phrases    []string
}

// telling are the classes that two readings of a note must agree on.
var telling = []string{"num", "scale", "frac", "point", "unit", "crop", "oh"}

// fill adds the rules that come from the lexicon to a grammar. Only what say can
// pronounce is listened for.
func (g grammar) fill(lex Lexicon, say func(phrase string, proper bool) (sound string, ok bool)) error {
	g["field"] = fieldRule(lex.Fields, say)
	for _, name := range g.reached("message") {
		g[name].walk(func(n *node) { g.need(n, lex, say) })
	}
	for _, name := range g.reached("phrase") {
		g[name].walk(func(n *node) { g.need(n, lex, say) })
	}
	for name, top := range g {
		var err error
		top.walk(func(n *node) {
			if n.kind == rule && n.text != "NULL" && (g[n.text] == nil || len(g[n.text].parts) == 0) {
				err = fmt.Errorf("grammar: <%s> needs <%s>, which has no words", name, n.text)
			}
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// need makes the rule that n names, if the lexicon has it. Alternatives further down
// a row are rarer.
func (g grammar) need(n *node, lex Lexicon, say func(string, bool) (string, bool)) {
	if n.kind != rule || g[n.text] != nil {
		return
	}
	made := &node{kind: choice}
	for _, e := range lex.Entries {
		if !e.named(n.text) {
			continue
		}
		for i, p := range spoken(e, say) {
			weight := 1 / float64(i+1)
			if e.Class == "filler" {
				weight = 1
			}
			made.parts = append(made.parts, &node{kind: sequence, parts: wordNodes(p), weight: weight})
		}
	}
	g[n.text] = made
}

func wordNodes(phrase string) (nodes []*node) {
	for _, w := range strings.Fields(phrase) {
		nodes = append(nodes, &node{kind: word, text: w})
	}
	return nodes
}

// named says whether a rule's name means this entry.
func (e Entry) named(name string) bool {
	class, key, one := strings.Cut(name, ".")
	if class != e.Class {
		return false
	}
	low, high, span := strings.Cut(key, "..")
	if !span {
		return !one || key == e.Key
	}
	from, err := strconv.Atoi(low)
	to, err2 := strconv.Atoi(high)
	value, err3 := strconv.Atoi(e.Key)
	return err == nil && err2 == nil && err3 == nil && from <= value && value <= to
}

// spoken are the phrases of an entry that can be told apart by ear: not those that
// nobody can pronounce, sound like one before, or are a misspelling of it.
func spoken(e Entry, say func(string, bool) (string, bool)) (list []string) {
	most := 2
	switch e.Class {
	case "crop":
		most = 4
	case "filler": // a list of words that are alike in carrying nothing
		most = len(e.Phrases)
	}
	var sounds []string
	for i, p := range e.Phrases {
		p = strings.ToLower(strings.ReplaceAll(p, "-", " "))
		p = strings.Join(strings.Fields(p), " ")
		sound, ok := say(p, i == 0 && e.Class == "crop")
		if !ok || slices.Contains(sounds, sound) || slices.ContainsFunc(list, func(q string) bool { return slip(q, p) }) {
			continue
		}
		if list, sounds = append(list, p), append(sounds, sound); len(list) == most {
			break
		}
	}
	return list
}

// slip says that p is a misspelling of q, not a form of it.
func slip(q, p string) bool {
	return len(q) > 4 && !strings.HasPrefix(p, q) && !strings.HasPrefix(q, p) && distance(q, p) <= 2
}

// distance is how many letters differ.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before := row[0]
		row[0] = i + 1
		for j := range len(b) {
			same := before
			if a[i] != b[j] {
				same++
			}
			before = row[j+1]
			row[j+1] = min(same, before+1, row[j]+1)
		}
	}
	return row[len(b)]
}

// fieldRule is the farm's own field names. Without any, fields are called by number.
func fieldRule(names []string, say func(string, bool) (string, bool)) *node {
	n := &node{kind: choice}
	for _, name := range append(slices.Clone(names), "one", "two", "three") {
		name = sayable(name)
		if _, ok := say(name, true); ok && name != "" {
			n.parts = append(n.parts, &node{kind: sequence, parts: wordNodes(name), weight: 1})
		}
	}
	return n
}

// sayable writes a name as it is said: "North-40" is "north forty".
func sayable(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case unicode.IsDigit(r):
			b.WriteRune(r)
		case unicode.IsLetter(r) || r == '\'':
			if s := b.String(); s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' {
				b.WriteByte(' ')
			}
			b.WriteRune(r)
		default:
			b.WriteByte(' ')
		}
	}
	words := strings.Fields(b.String())
	for i, w := range words {
		if n, err := strconv.Atoi(w); err == nil && n < 1000 {
			words[i] = numberWords(n)
		}
	}
	return strings.Join(words, " ")
}

var (
	units = strings.Fields("zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen")
	tens  = strings.Fields("zero ten twenty thirty forty fifty sixty seventy eighty ninety")
)

// numberWords says a number below 1,000 as part of a name.
func numberWords(n int) string {
	switch {
	case n < 20:
		return units[n]
	case n < 100 && n%10 == 0:
		return tens[n/10]
	case n < 100:
		return tens[n/10] + " " + units[n%10]
	case n%100 == 0:
		return units[n/100] + " hundred"
	}
	return units[n/100] + " hundred " + numberWords(n%100)
}
