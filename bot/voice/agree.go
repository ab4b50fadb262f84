package voice

import (
	"slices"
	"strings"
)

// teller finds the words that two readings must agree on.
type teller struct {
	keys   map[string]string
	scales map[string]bool // hundred, thousand: nobody says them without a number before
}

// newTeller takes them from the lexicon: forms of the same unit are alike.
func newTeller(lex Lexicon) teller {
	t := teller{map[string]string{}, map[string]bool{}}
	for _, e := range lex.Entries {
		if !slices.Contains(telling, e.Class) {
			continue
		}
		for _, p := range e.Phrases {
			p = strings.ToLower(p)
			t.scales[p] = e.Class == "scale"
			if !strings.Contains(p, " ") && t.keys[p] == "" {
				t.keys[p] = e.Key
			}
			if e.Class == "crop" { // "crimson clover": each word tells
				for _, w := range strings.Fields(p) {
					if t.keys[w] == "" {
						t.keys[w] = w
					}
				}
			}
		}
	}
	return t
}

// tell gives the numbers, units and crops of a reading, in order.
func (t teller) tell(text string) (list []string) {
	for _, w := range strings.Fields(strings.ToLower(text)) {
		if key := t.keys[w]; key != "" {
			list = append(list, key)
		}
	}
	return list
}

func (t teller) same(a, b string) bool { return slices.Equal(t.tell(a), t.tell(b)) }

// lame says that a scale word stands without a number or an article before it: a
// number was swallowed.
func (t teller) lame(text string) bool {
	words := strings.Fields(strings.ToLower(text))
	for i, w := range words {
		if t.scales[w] && (i == 0 || t.keys[words[i-1]] == "" && words[i-1] != "a" && words[i-1] != "couple") {
			return true
		}
	}
	return false
}
