package parse

import "strings"

// Words are the phrases for one thing, the usual one first.
type Words struct {
	Class, Key string
	Phrases    []string
}

// Lexicon lists the words of a language, for those who have to expect them, such as
// an ear.
func Lexicon(lang string) ([]Words, error) {
	rows, err := lexiconRows(lang)
	if err != nil {
		return nil, err
	}
	out := make([]Words, len(rows))
	for i, r := range rows {
		out[i] = Words{r[0], r[1], strings.Split(r[2], "|")}
	}
	return out, nil
}
