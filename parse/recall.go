package parse

import "strings"

// recalls says whether a question is about loads of the past, and keeps the place it
// names, even one that this chat has no field of: an answer about every field would
// be the wrong one.
func (b *binder) recalls() {
	past := b.req.Span != "" || b.req.When != nil && b.req.When.Days > 0
	if b.has(cNoun, "window", "frost") { // "too late for rye? first freeze was last week"
		return
	}
	if !past || !b.req.Question && !b.acted("totals") || len(b.req.Facts) > 0 || b.acted("log") || b.acted("same") || b.req.Same {
		return
	}
	if b.req.Field == "" {
		b.req.Field = b.placeSaid()
	}
	b.req.Recall = b.req.Field != "" || b.acted("totals") || len(b.req.Asks)+len(b.req.Mentions) > 0
	if b.req.Recall {
		b.req.Off, b.req.Problem, b.req.Loose = false, nil, nil
	}
}

// placeSaid is the run of words behind "on the" or "en el" that may be a field's
// name; empty when one of them means something else.
func (b *binder) placeSaid() string {
	for i := range b.tokens {
		words := strings.Fields(b.tokens[i].text) // "did we put on" is one token
		if len(words) == 0 || !placeWord[words[len(words)-1]] {
			continue
		}
		from := i + 1
		for from < len(b.tokens) && (b.tokens[from].class == cArt || b.tokens[from].class == cMy) {
			from++
		}
		to := from
		for to < len(b.tokens) && b.nameLike(to) {
			to++
		}
		if to > from {
			return b.piece(from, to).Text
		}
	}
	return ""
}

var placeWord = map[string]bool{"on": true, "in": true, "at": true, "en": true}

func (b *binder) nameLike(i int) bool {
	switch t := &b.tokens[i]; t.class {
	case cWord, cFiller, cNum, cName, cNoun, cRole:
		return true
	case cSkip:
		return i+1 < len(b.tokens) && b.nameLike(i+1)
	}
	return false
}
