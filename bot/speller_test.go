package bot

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// spell writes a number below a million, with up to three decimals, in words.
func spell(lang, digits string) (string, bool) {
	switch {
	case inThousands.MatchString(digits):
		digits = strings.ReplaceAll(digits, ",", "")
	case strings.Count(digits, ".")+strings.Count(digits, ",") > 1, twoReadings.MatchString(digits):
		return "", false
	}
	whole, part, decimal := strings.Cut(strings.Replace(digits, ",", ".", 1), ".")
	n := 0
	if whole != "" {
		v, err := strconv.Atoi(whole)
		if err != nil || v >= 1000000 || len(whole) > 1 && whole[0] == '0' {
			return "", false
		}
		n = v
	}
	words := spellWhole[lang](n)
	if !decimal {
		return words, true
	}
	if len(part) > 3 {
		return "", false
	}
	words += map[string]string{"en": " point", "es": " punto"}[lang]
	for _, d := range part {
		words += " " + spellWhole[lang](int(d-'0'))
	}
	return words, true
}

var (
	inThousands = regexp.MustCompile(`^\d{1,3}(,\d{3})+(\.\d+)?$`)
	twoReadings = regexp.MustCompile(`^\d{1,3}\.\d{3}$`) // 3.000
)

var spellWhole = map[string]func(int) string{"en": spellEnglish, "es": spellSpanish}

var (
	englishOnes = strings.Fields("zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen")
	englishTens = strings.Fields("_ _ twenty thirty forty fifty sixty seventy eighty ninety")
	spanishOnes = strings.Fields("cero uno dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince dieciseis diecisiete dieciocho diecinueve " +
		"veinte veintiuno veintidos veintitres veinticuatro veinticinco veintiseis veintisiete veintiocho veintinueve")
	spanishTens     = strings.Fields("_ _ _ treinta cuarenta cincuenta sesenta setenta ochenta noventa")
	spanishHundreds = strings.Fields("_ ciento doscientos trescientos cuatrocientos quinientos seiscientos setecientos ochocientos novecientos")
)

func spellEnglish(n int) string {
	switch {
	case n < 20:
		return englishOnes[n]
	case n < 100:
		return joinRest(englishTens[n/10], n%10, " ", spellEnglish)
	case n < 1000:
		return joinRest(englishOnes[n/100]+" hundred", n%100, " ", spellEnglish)
	}
	return joinRest(spellEnglish(n/1000)+" thousand", n%1000, " ", spellEnglish)
}

func spellSpanish(n int) string {
	switch {
	case n < 30:
		return spanishOnes[n]
	case n == 100:
		return "cien"
	case n < 100:
		return joinRest(spanishTens[n/10], n%10, " y ", spellSpanish)
	case n < 1000:
		return joinRest(spanishHundreds[n/100], n%100, " ", spellSpanish)
	case n < 2000:
		return joinRest("mil", n%1000, " ", spellSpanish)
	}
	return joinRest(spellSpanish(n/1000)+" mil", n%1000, " ", spellSpanish)
}

func joinRest(head string, rest int, by string, spell func(int) string) string {
	if rest == 0 {
		return head
	}
	return head + by + spell(rest)
}

func TestSpell(t *testing.T) {
	for _, c := range []struct{ lang, digits, want string }{{"en", "3000", "three thousand"}, {"en", "7,250", "seven thousand two hundred fifty"}, {"en", "12", "twelve"},
		{"en", "0.43", "zero point four three"}, {"en", ".5", "zero point five"}, {"en", "120", "one hundred twenty"}, {"en", "41000", "forty one thousand"},
		{"es", "3500", "tres mil quinientos"}, {"es", "1600", "mil seiscientos"}, {"es", "42", "cuarenta y dos"}, {"es", "120", "ciento veinte"}, {"es", "100", "cien"}} {
		if got, ok := spell(c.lang, c.digits); !ok || got != c.want {
			t.Errorf("%s is %q, want %q", c.digits, got, c.want)
		}
	}
}

// loneNumber is a number in digits that stands by itself: nothing is glued to it.
var loneNumber = regexp.MustCompile(`^(\d{1,3}(,\d{3})+|\d+)?([.,]\d+)?$`)

// inWords is a message with its numbers in words. Left as they are: messages with a
// number that something is glued to, and those where two numbers stand side by side,
// which in words can be another number.
func inWords(lang, text string) (string, bool) {
	fields := strings.Fields(text)
	changed, last := false, false
	for i, f := range fields {
		bare := strings.TrimRight(f, ",?")
		if !strings.ContainsAny(bare, "0123456789½¼¾⅓⅔⅛") {
			last = false
			continue
		}
		if !loneNumber.MatchString(bare) || bare == "" {
			return "", false
		}
		words, ok := spell(lang, bare)
		if !ok || last || lang == "es" && strings.HasSuffix(bare, "1") || isBesideWords(fields, i) {
			return "", false
		}
		fields[i] = words + f[len(bare):]
		changed, last = true, f == bare
	}
	return strings.Join(fields, " "), changed
}

// isBesideWords says whether a number word or a sign stands next to a number: "7 mil
// 500", "3 1/2", "12 and 40".
func isBesideWords(fields []string, i int) bool {
	for _, k := range [2]int{i - 1, i + 1} {
		if k < 0 || k >= len(fields) {
			continue
		}
		switch w := strings.ToLower(strings.Trim(fields[k], ",.?")); w {
		case "and", "y", "o", "or", "mil", "thousand", "hundred", "point", "punto", "coma", "-", "half", "medio", "media", "x", "k", "#", "'", `"`, "=", "@", "&", "+":
			return true
		}
	}
	return false
}

// The same message in words and in digits comes to the same.
func TestWordsAndDigitsAreTheSame(t *testing.T) {
	n := 0
	for lang, lines := range corpusLines(t) {
		for _, l := range lines {
			if !fillable(l.text) {
				continue
			}
			if words, ok := inWords(languageOf(l.text, lang), l.text); ok && same(t, l.at, "in words", l.text, words) {
				n++
			}
		}
	}
	enough(t, n, 300)
}

// languageOf is the language a message is read in: the corpus has mixed ones.
func languageOf(text, lang string) string {
	if r := askText(text); r.Lang != "" {
		return r.Lang
	}
	return lang
}
