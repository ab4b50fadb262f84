package voice

import (
	"math"
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

// bears says that the loop's reading has all that the model's tells, in the same order,
// and one thing more at most: where a small word is that the loop does not know, it
// hears a number.
func (t teller) bears(loop, model string) bool {
	want, have := t.tell(model), t.tell(loop)
	if len(have) > len(want)+1 {
		return false
	}
	for _, key := range have {
		if len(want) > 0 && key == want[0] {
			want = want[1:]
		}
	}
	return len(want) == 0
}

// near is how many points of the recogniser's score a reading may be behind another
// and still be what was said. On testdata/voice/tuning.txt in noise, 100 leaves 6 of 222
// wrong, 200 leaves 2 of 201, 300 none of 178; more only answers less.
const near = 300

// rival is the best of the guesses that tell something else than the words heard,
// unless it is far behind all that tell the same.
func (t teller) rival(r reading) (text string, ok bool) {
	best, other := math.MinInt, math.MinInt
	for _, g := range r.guesses {
		switch {
		case t.same(g.text, r.text):
			best = max(best, g.score)
		case g.score > other:
			text, other = g.text, g.score
		}
	}
	return text, other > math.MinInt && (best == math.MinInt || other > best-near)
}

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
