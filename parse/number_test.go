package parse

import (
	"math"
	"testing"
)

// The shapes of a number that are read, each with its value. Digits with their
// marks come first, then words, then what dictation makes of them, then Spanish.
var numberShapes = []struct {
	lang, text string
	want       float64
}{
	{"en", "3000", 3000}, {"en", "3,000", 3000}, {"en", "12,500", 12500}, {"en", "1,234,567", 1234567}, {"en", "3 000", 3000}, {"en", "3000.5", 3000.5},
	{"en", "12 500 gallons", 12500}, {"en", ".5", 0.5}, {"en", "0.43", 0.43}, {"en", "0,5", 0.5}, {"en", "7,5", 7.5}, {"en", "1.234,5", 1234.5},
	{"en", "1,234.5", 1234.5}, {"en", "0.500", 0.5}, {"en", "3k", 3000}, {"en", "3.5k", 3500}, {"en", "3K", 3000}, {"en", "3 k", 3000}, {"en", "1/2", 0.5},
	{"en", "½", 0.5}, {"en", "3½", 3.5}, {"en", "3 1/2", 3.5}, {"en", "2/3", 2.0 / 3}, {"en", "¾", 0.75}, {"en", "12 ⅜", 12.375}, {"en", "3-1/2", 3.5},
	{"en", "3 thousand", 3000}, {"en", "6 hundred", 600}, {"en", "7.5 thousand", 7500}, {"en", "7.500 thousand", 7500}, {"en", "2 point 5", 2.5}, {"en", "３０００", 3000},

	{"en", "zero", 0}, {"en", "nineteen", 19}, {"en", "twenty-five", 25}, {"en", "twenty five", 25}, {"en", "three thousand", 3000}, {"en", "three grand", 3000},
	{"en", "three thousand five hundred", 3500}, {"en", "twenty five hundred", 2500}, {"en", "seventy-two hundred", 7200}, {"en", "three thousand two hundred and fifty", 3250},
	{"en", "seven and a half", 7.5}, {"en", "seven and a half thousand", 7500}, {"en", "a half", 0.5}, {"en", "half a", 0.5}, {"en", "half an", 0.5}, {"en", "a quarter", 0.25},
	{"en", "three quarters", 0.75}, {"en", "two thirds", 2.0 / 3}, {"en", "three and three quarters", 3.75}, {"en", "one point five", 1.5}, {"en", "point five", 0.5},
	{"en", "oh point five", 0.5}, {"en", "point four three", 0.43}, {"en", "point oh five", 0.05}, {"en", "one point oh oh five", 1.005}, {"en", "zero point four two", 0.42}, {"en", "seven point five thousand", 7500},
	{"en", "a hundred and twenty", 120}, {"en", "a hundred", 100}, {"en", "hundred", 100}, {"en", "five thousand oh fifty", 5050}, {"en", "twelve thousand", 12000},
	{"en", "one hundred and five", 105}, {"en", "two hundred thousand", 200000}, {"en", "ninety nine", 99}, {"en", "one thousand and one", 1001}, {"en", "a dozen", 12},

	{"en", "to thousand", 2000}, {"en", "too thousand", 2000}, {"en", "for thousand", 4000}, {"en", "ate thousand", 8000}, {"en", "won hundred", 100}, {"en", "tree thousand", 3000},

	{"es", "mil", 1000}, {"es", "tres mil", 3000}, {"es", "tres mil quinientos", 3500}, {"es", "siete mil quinientos cincuenta", 7550}, {"es", "mil doscientos", 1200},
	{"es", "7 mil 500", 7500}, {"es", "7mil", 7000}, {"es", "7.5 mil", 7500}, {"es", "veinticinco", 25}, {"es", "veinti cinco", 25}, {"es", "cuarenta y dos", 42},
	{"es", "ciento veinte", 120}, {"es", "doscientos cincuenta", 250}, {"es", "doscientas", 200}, {"es", "ciento cinco", 105}, {"es", "dos mil veinticinco", 2025},
	{"es", "medio", 0.5}, {"es", "media", 0.5}, {"es", "un cuarto", 0.25}, {"es", "tres cuartos", 0.75}, {"es", "doce y medio", 12.5}, {"es", "siete y media", 7.5},
	{"es", "tres coma cinco", 3.5}, {"es", "dos punto cinco", 2.5}, {"es", "punto veinticinco", 0.25}, {"es", "punto treinta y cinco", 0.35}, {"es", "3,5", 3.5},
	{"es", "3 000 litros", 3000}, {"es", "1.234,5", 1234.5}, {"es", "dieciseis", 16}, {"es", "diez y seis", 16}, {"es", "sien", 100}, {"es", "quinientos mil", 500000},
}

func TestNumberShapes(t *testing.T) {
	for _, c := range numberShapes {
		_, found := readWords(t, c.text, in(c.lang))
		if len(found) != 1 {
			t.Errorf("%q: %d amounts, want one of %g", c.text, len(found), c.want)
			continue
		}
		if n := found[0]; math.Abs(n.min-c.want) > 1e-9 || n.min != n.max || n.odd || n.pair || n.alt != 0 || len(n.list) > 0 {
			t.Errorf("%q: got %g (odd %v, pair %v, other reading %g), want %g", c.text, n.min, n.odd, n.pair, n.alt, c.want)
		}
	}
}

// Shapes that could be two numbers are marked, never settled by the grammar alone.
func TestNumberShapesThatAreAskedAbout(t *testing.T) {
	for _, text := range []string{"seven five hundred", "one two", "three thousand and a half", "three five eight",
		"1.2.3", "12,5,6", "two fifty thousand", "tres mil y medio", "siete cinco"} {
		odd := false
		_, found := readWords(t, text, in("en"))
		for _, a := range found {
			odd = odd || a.odd
		}
		if !odd || len(found) != 1 {
			t.Errorf("%q: %d amounts, asked about %v; want one, asked about", text, len(found), odd)
		}
	}
}

// Pairs of tens are one number only where no other reading is plausible, which the
// binding decides.
func TestNumberPairs(t *testing.T) {
	for text, want := range map[string]float64{"one fifty": 150, "twelve fifty": 1250, "seventy two fifty": 7250, "seventy-two fifty": 7250,
		"three oh five": 305, "twenty five": 0, "thirty two fifty five": 3255, "one twenty": 120, "one fifty two": 152} {
		_, found := readWords(t, text, in("en"))
		if len(found) != 1 {
			t.Errorf("%q: %d amounts", text, len(found))
			continue
		}
		if n := found[0]; n.pair != (want > 0) || want > 0 && n.min != want || n.odd {
			t.Errorf("%q: got %g (pair %v, odd %v), want %g", text, n.min, n.pair, n.odd, want)
		}
	}
}

// "3.000" has two readings; the unit tells, else it is asked about.
func TestNumberMarksWithTwoReadings(t *testing.T) {
	for text, want := range map[string][2]float64{"3.000": {3000, 3}, "12.500": {12500, 12.5}, "1.250": {1250, 1.25}, "3,000": {3000, 0}, "0.500": {0.5, 0},
		"1.234.567": {1234567, 0}, "3.00": {3, 0}, "3.0000": {3, 0}} {
		_, found := readWords(t, text, in("es"))
		if len(found) != 1 {
			t.Errorf("%q: %d amounts", text, len(found))
			continue
		}
		if n := found[0]; n.min != want[0] || n.alt != want[1] {
			t.Errorf("%q: got %g or %g, want %g or %g", text, n.min, n.alt, want[0], want[1])
		}
	}
}

// Numbers that stand side by side in no listed shape stay two numbers.
func TestNumbersAreNeverAdded(t *testing.T) {
	for text, want := range map[string][]float64{"3000 7000": {3000, 7000}, "12 40": {12, 40}, "gate 4 620": {4, 620}, "tres mil siete mil": {3000, 7000},
		"3000, 500": {3000, 500}, "three thousand seven thousand": {3000, 7000}, "fifteen thirty six hundred": {15, 3600},
		"seventy two fifty thousand": {72, 50000}} {
		lang := "en"
		if text[0] == 't' && text[1] == 'r' {
			lang = "es"
		}
		_, found := readWords(t, text, in(lang))
		for i := range want {
			if i >= len(found) || found[i].min != want[i] || found[i].odd {
				t.Errorf("%q: amount %d is not %g", text, i, want[i])
			}
		}
	}
}
