package voice

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"sort"
	"strings"
)

// order is how many words the model looks at, the one that comes included.
const order = 3

// model counts n-grams: counts[n-1] has those of n words, joined by blanks.
type model struct {
	counts [order]map[string]int
	total  [order]map[string]history // by the words before
}

// history is what came after the same words.
type history struct{ tokens, kinds int }

// learn counts sentences.
func learn(sentences [][]string) *model {
	m := &model{}
	for n := range m.counts {
		m.counts[n], m.total[n] = map[string]int{}, map[string]history{}
	}
	for _, s := range sentences {
		padded := append(append([]string{"<s>"}, s...), "</s>")
		for end := 1; end < len(padded); end++ {
			for n := 1; n <= order && end-n+1 >= 0; n++ {
				m.counts[n-1][strings.Join(padded[end-n+1:end+1], " ")]++
			}
		}
	}
	for n, counts := range m.counts {
		for gram, c := range counts {
			before, _ := split(gram)
			h := m.total[n][before]
			m.total[n][before] = history{h.tokens + c, h.kinds + 1}
		}
	}
	return m
}

// split parts the last word from those before.
func split(gram string) (before, last string) {
	if at := strings.LastIndexByte(gram, ' '); at >= 0 {
		return gram[:at], gram[at+1:]
	}
	return "", gram
}

// later drops the first word: what the model backs off to.
func later(gram string) string {
	_, rest, _ := strings.Cut(gram, " ")
	return rest
}

// discount is what every n-gram of a length gives away to those never seen
// (absolute discounting, Ney, Essen and Kneser 1994: n1 / (n1 + 2 n2)).
func (m *model) discount(n int) float64 {
	var once, twice float64
	for _, c := range m.counts[n] {
		switch c {
		case 1:
			once++
		case 2:
			twice++
		}
	}
	if once == 0 {
		return 0.5 // nothing was seen once: still leave something for what was not seen
	}
	return once / (once + 2*twice)
}

// probabilities are P(last | before) of every n-gram, with what is given away spread
// over the shorter model, and for each history the share given away.
func (m *model) probabilities() (p, away [order]map[string]float64) {
	for n := range m.counts {
		d := m.discount(n)
		p[n], away[n] = make(map[string]float64, len(m.counts[n])), make(map[string]float64, len(m.total[n]))
		for before, h := range m.total[n] {
			away[n][before] = d * float64(h.kinds) / float64(h.tokens)
		}
		for gram, c := range m.counts[n] {
			before, _ := split(gram)
			shorter := 1 / float64(len(m.counts[0])) // below single words all are alike
			if n > 0 {
				shorter = p[n-1][later(gram)]
			}
			p[n][gram] = (float64(c)-d)/float64(m.total[n][before].tokens) + away[n][before]*shorter
		}
	}
	return p, away
}

// write writes the model in ARPA's format. The weight for backing off is just the
// share given away, since the shorter model was added to every n-gram.
func (m *model) write(out io.Writer) error {
	p, away := m.probabilities()
	w := bufio.NewWriter(out)
	fmt.Fprint(w, "\\data\\\n")
	for n := range p {
		size := len(p[n])
		if n == 0 {
			size++ // <s>
		}
		fmt.Fprintf(w, "ngram %d=%d\n", n+1, size)
	}
	for n := range p {
		fmt.Fprintf(w, "\n\\%d-grams:\n", n+1)
		if n == 0 {
			fmt.Fprintf(w, "-99.0000\t<s>\t%.4f\n", log10(away[1]["<s>"]))
		}
		for _, gram := range sorted(p[n]) {
			fmt.Fprintf(w, "%.4f\t%s", log10(p[n][gram]), gram)
			if n+1 < order {
				if share, ok := away[n+1][gram]; ok {
					fmt.Fprintf(w, "\t%.4f", log10(share))
				} else {
					fmt.Fprint(w, "\t0.0000")
				}
			}
			fmt.Fprintln(w)
		}
	}
	fmt.Fprint(w, "\n\\end\\\n")
	return w.Flush()
}

func log10(x float64) float64 { return math.Log10(max(x, 1e-9)) }

func sorted(m map[string]float64) []string {
	list := make([]string, 0, len(m))
	for k := range m {
		list = append(list, k)
	}
	sort.Strings(list)
	return list
}
