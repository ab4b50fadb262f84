package parse

import "testing"

// readWords takes a message through the steps up to its amounts.
func readWords(t testing.TB, text string, ctx Context) (*reader, []qty) {
	t.Helper()
	r := &reader{folded: fold(text), raw: text, ctx: &ctx, room: new(room)}
	r.lex()
	r.resolve()
	found, err := r.amounts()
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return r, r.quantities(found)
}

// tokenOf is the token that stands for a word of the message.
func tokenOf(t testing.TB, r *reader, word string) *token {
	t.Helper()
	for i := range r.tokens {
		if r.tokens[i].text == word {
			return &r.tokens[i]
		}
	}
	t.Fatalf("%q: no token %q", r.raw, word)
	return nil
}

// in is a context in which a message that does not tell is taken in a language.
func in(lang string) Context { return Context{Lang: lang} }
