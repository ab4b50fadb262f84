package phrases

import (
	"strings"

	"tankside/engine"
)

// Fill is what stands for the placeholders of a fixed text: people's own words,
// which are escaped in HTML, and numbers.
type Fill struct {
	Word, Other, Field, Who, At string
	N, M                        float64
}

// Line is a text of the catalogue by its full key, such as "telegram.stranger", for
// what a transport says by itself: plain, and escaped for HTML. An unknown key gives
// itself.
func Line(lang, key string, f Fill) (text, escaped string) {
	section, name, _ := strings.Cut(key, ".")
	t := languageNamed(lang).texts[section][name]
	if t == nil {
		return key, key
	}
	x := params{word: f.Word, other: f.Other, field: f.Field, who: f.Who, at: f.At, n: f.N, m: f.M}
	write := func(as form) string {
		p := page{lang: languageNamed(lang), form: as, o: &engine.Outcome{}}
		p.say(t, &x)
		return string(p.buf)
	}
	return write(plain), write(html)
}
