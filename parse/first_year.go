package parse

import (
	"slices"
	"strings"
)

// firstYear makes one token of the words for the nitrogen that counts in the first year,
// so that their digit is no number of the message: "N yr 1", "nitrogen the first year",
// "nitrógeno el 1er año". Without a nutrient beside them they say so only where the
// message gives a lab sheet, or says nothing else: "and year one?".
func (r *reader) firstYear() {
	for i := 0; i < len(r.tokens); i++ {
		from, to, ok := r.yearOne(i)
		if !ok {
			continue
		}
		n := r.yearLinks(from-1, -1)
		switch {
		case r.nitrogen(n) && !r.measured(n):
			from = n
		case r.nitrogen(r.yearLinks(to, +1)):
			to = r.yearLinks(to, +1) + 1
		case !r.sheetSaid() && len(r.tokens) > to-from+3:
			continue
		}
		last := r.tokens[to-1]
		r.tokens[from] = token{class: cNut, key: "available_n", text: r.text[r.tokens[from].from:last.to], from: r.tokens[from].from, to: last.to,
			glued: r.tokens[from].glued, word: true, span: int8(min(to-from, 100))}
		r.tokens = slices.Delete(r.tokens, from+1, to)
		i = from
	}
}

var yearWord = map[string]bool{"year": true, "yr": true, "yr.": true, "ano": true}

// yearOne is where the words for the first year stand, if its word is token i: "year 1",
// "first year".
func (r *reader) yearOne(i int) (from, to int, ok bool) {
	text := r.tokens[i].text
	if !yearWord[text[strings.LastIndexByte(text, ' ')+1:]] { // "del año" is one token
		return 0, 0, false
	}
	if after := r.at(i + 1); (after.class == cNum || after.class == cOrd) && after.key == "1" && r.at(i+2).class != cUnit {
		return i, i + 2, true
	}
	if before := r.at(i - 1); i > 0 && (before.class == cOrd || before.class == cNum && before.word) && before.key == "1" {
		return i - 1, i + 1, true
	}
	return 0, 0, false
}

// yearLinks steps from token i over the small words between nitrogen and its year.
func (r *reader) yearLinks(i, step int) int {
	for n := 0; n < 3 && i >= 0 && i < len(r.tokens) && yearLink[r.tokens[i].text]; n++ {
		i += step
	}
	return i
}

var yearLink = map[string]bool{"the": true, "in": true, "in the": true, "for": true, "for the": true, "of": true, "of the": true, "this": true, "-": true, "el": true, "en": true, "del": true, "de": true, "para": true, "para el": true, "este": true}

// nitrogen says whether token i names nitrogen as such, or as far as crops get it.
func (r *reader) nitrogen(i int) bool {
	t := r.at(i)
	return (t.class == cNut || t.class == cNutW) && (t.key == "total_n" || t.key == "available_n")
}

// measured says whether token i has its own amount right before it: the N of "28 N year 1".
func (r *reader) measured(i int) bool {
	t := r.at(i - 1)
	return i > 0 && (t.numeric() || t.class == cUnit || t.class == cPerThou || t.class == cOf && r.at(i-2).numeric())
}

// sheetSaid says whether the message names a nutrient or a lab.
func (r *reader) sheetSaid() bool {
	return r.says(cNut) || r.says(cNutW) || r.says(cNutQ) || r.says(cAnalysis)
}

// organicWord: "14 nh4 10 organic per 1000" is organic nitrogen; beside no other value of a
// lab sheet the word is nobody's unit.
func (r *reader) organicWord(i int) {
	t := &r.tokens[i]
	if t.text != "organic" && t.text != "organico" && t.text != "org" {
		return
	}
	for k := range r.tokens {
		if o := &r.tokens[k]; k != i && (o.class == cNut || o.class == cNutW || o.class == cNutQ || o.class == cAnalysis || o.class == cPerThou) {
			return
		}
	}
	t.be(cWord, "")
}
