// Package phrases is everything that the operator reads or hears. It turns an
// engine.Outcome into a reply: plain text, HTML for a messenger, or words for the
// ear.
//
// What is said and in which order is decided here, in Go, once for all languages.
// The words are in lang/, one file per language; the number words of a language,
// which are grammar rather than words, are in words_<language>.go.
//
// Deliberately not here: arithmetic of the job, memory, transports, and any
// reading of what people wrote.
package phrases

import (
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// Answer is one outcome in its three forms.
type Answer struct {
	Text   string // plain
	HTML   string // for a messenger: everything escaped, the first line bold
	Spoken string // no digit, no symbol, no abbreviation
}

// Say gives all three forms. An unknown language is answered in English.
func Say(lang string, o *engine.Outcome) Answer {
	return Answer{Text: Text(lang, o), HTML: HTML(lang, o), Spoken: Spoken(lang, o)}
}

// Text is what a person reads.
func Text(lang string, o *engine.Outcome) string { return render(lang, plain, o) }

// HTML is Text with the first line bold and everything else escaped.
func HTML(lang string, o *engine.Outcome) string { return render(lang, html, o) }

// Spoken is what a person hears.
func Spoken(lang string, o *engine.Outcome) string { return render(lang, spoken, o) }

// Languages lists the languages there are texts for, English first.
func Languages() []string { return []string{"en", "es"} }

// UnitWord is the unit as one says it for n of them: "gallons an acre".
func UnitWord(lang string, u *unit.Unit, n float64) string {
	return languageNamed(lang).unit(u).word(n == 1)
}

// CropWord is the name of a crop, or the name itself when it is not known.
func CropWord(lang, name string) string {
	if t := languageNamed(lang).texts["crop"][name]; t != nil {
		return t.shown.many[0].lit
	}
	return name
}

// Word is a fixed word or sentence of the catalogue by its full key, such as
// "word.yes", for what a transport has to say by itself (a button, a prompt).
func Word(lang, key string) string {
	section, name, _ := strings.Cut(key, ".")
	t := languageNamed(lang).texts[section][name]
	if t == nil {
		return key
	}
	p := page{lang: languageNamed(lang)}
	p.say(t, &params{})
	return string(p.buf)
}

func render(lang string, f form, o *engine.Outcome) string {
	var room [1024]byte
	p := page{buf: room[:0], lang: languageNamed(lang), form: f, o: o}
	p.compose()
	return string(p.buf)
}
