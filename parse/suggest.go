package parse

import (
	"math/bits"
	"strings"
)

// respell finds the word that an unknown one is nearly certainly a misspelling of:
// one letter off in words of four letters and more, two in words of eight and more,
// and no other meaning as near. Otherwise it returns "": a guess is worse than a
// question.
func (r *reader) respell(w string) string {
	if len(w) < 4 || len(w) > 20 {
		return ""
	}
	limit := 1
	if len(w) >= 8 {
		limit = 2
	}
	best, found, clash := limit+1, "", false
	var meaning entry
	sig := letters(w)
	for _, lx := range [2]*lexicon{r.first, r.second} {
		for _, c := range lx.spelling() {
			if d := len(c.word) - len(w); d > limit || -d > limit || bits.OnesCount32(c.letters^sig) > 2*limit {
				continue
			}
			if c.word[0] != w[0] && limit > 1 && len(w) < 9 && distance(w, c.word, 1) > 1 {
				continue // two letters off and another first one: too far
			}
			d := distance(w, c.word, min(limit, best))
			if d > limit || d > best {
				continue
			}
			e := lx.entries[c.word]
			switch {
			case d < best:
				best, found, meaning, clash = d, c.word, e, false
			case e.class != meaning.class || e.key != meaning.key:
				clash = true
			}
		}
	}
	if clash {
		return ""
	}
	return found
}

// inflected says whether two words are forms of one: widths and width, recovered and
// recover. Reading one as the other changes nothing that anybody needs to see.
func inflected(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if strings.HasPrefix(b, a) {
		return endings[b[len(a):]]
	}
	stem := a[:len(a)-1]
	return strings.HasPrefix(b, stem) && a[len(stem)] == 'e' && (b[len(stem):] == "ing" || b[len(stem):] == "ed")
}

var endings = map[string]bool{"s": true, "es": true, "d": true, "ed": true, "r": true, "er": true, "ing": true, "ly": true, "me": true, "la": true, "lo": true, "le": true}

// spellable is a word that others may be misspellings of.
type spellable struct {
	word    string
	letters uint32
}

// mayMisspell are the classes whose words are worth mending: amounts hang on them.
var mayMisspell = map[class]bool{cUnit: true, cCrop: true, cCropQ: true, cRole: true, cNum: true, cScale: true, cNoun: true, cNut: true, cFrac: true}

func (lx *lexicon) spelling() []spellable {
	lx.once.Do(func() {
		for _, w := range lx.words {
			if mayMisspell[lx.entries[w].class] {
				lx.spell = append(lx.spell, spellable{w, letters(w)})
			}
		}
	})
	return lx.spell
}

// letters is the set of letters in a word, a cheap bound on its distance.
func letters(w string) uint32 {
	var s uint32
	for i := 0; i < len(w); i++ {
		if c := w[i]; 'a' <= c && c <= 'z' {
			s |= 1 << (c - 'a')
		}
	}
	return s
}

// distance is the number of letters added, dropped, changed or swapped with a
// neighbour (optimal string alignment), or limit+1 as soon as it is more.
func distance(a, b string, limit int) int {
	var rows [3][24]int
	if len(a) > 22 || len(b) > 22 {
		return limit + 1
	}
	prev2, prev, cur := &rows[0], &rows[1], &rows[2]
	for j := 0; j <= len(b); j++ {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		low := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d := min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, prev2[j-2]+1)
			}
			cur[j] = d
			low = min(low, d)
		}
		if low > limit {
			return limit + 1
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(b)]
}
