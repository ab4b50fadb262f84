package voice

import (
	"slices"
	"strings"
)

// teller finds the words that two readings must agree on.
type teller map[string]string

// newTeller takes them from the lexicon: forms of the same unit are alike.
func newTeller(lex Lexicon) teller {
	t := teller{}
	for _, e := range lex.Entries {
		if !slices.Contains(telling, e.Class) {
			continue
		}
		for _, p := range e.Phrases {
			p = strings.ToLower(p)
			if !strings.Contains(p, " ") && t[p] == "" {
				t[p] = e.Key
			}
			if e.Class == "crop" { // "crimson clover": each word tells
				for _, w := range strings.Fields(p) {
					if t[w] == "" {
						t[w] = w
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
		if key := t[w]; key != "" {
			list = append(list, key)
		}
	}
	return list
}

func (t teller) same(a, b string) bool { return slices.Equal(t.tell(a), t.tell(b)) }
