package phrases

import (
	"strconv"
	"strings"
	"testing"
)

func TestNumberWords(t *testing.T) {
	for _, c := range []struct {
		lang string
		v    float64
		g    gender
		want string
	}{
		{"en", 0, alone, "zero"}, {"en", 7, alone, "seven"}, {"en", 13, alone, "thirteen"}, {"en", 40, alone, "forty"}, {"en", 42, alone, "forty two"},
		{"en", 100, alone, "one hundred"}, {"en", 305, alone, "three hundred five"}, {"en", 7000, alone, "seven thousand"},
		{"en", 21345, alone, "twenty one thousand three hundred forty five"}, {"en", 1e6, alone, "one million"},
		{"en", 0.43, alone, "zero point four three"}, {"en", 3.05, alone, "three point zero five"}, {"en", -2.5, alone, "minus two point five"},
		{"es", 0, alone, "cero"}, {"es", 1, alone, "uno"}, {"es", 1, masculine, "un"}, {"es", 1, feminine, "una"},
		{"es", 16, masculine, "dieciséis"}, {"es", 21, masculine, "veintiún"}, {"es", 21, feminine, "veintiuna"}, {"es", 21, alone, "veintiuno"},
		{"es", 31, masculine, "treinta y un"}, {"es", 31, feminine, "treinta y una"}, {"es", 42, masculine, "cuarenta y dos"},
		{"es", 100, masculine, "cien"}, {"es", 101, feminine, "ciento una"}, {"es", 111, feminine, "ciento once"}, {"es", 200, feminine, "doscientas"},
		{"es", 500, masculine, "quinientos"}, {"es", 700, masculine, "setecientos"}, {"es", 900, feminine, "novecientas"},
		{"es", 1000, masculine, "mil"}, {"es", 1001, feminine, "mil una"}, {"es", 2500, feminine, "dos mil quinientas"},
		{"es", 21000, masculine, "veintiún mil"}, {"es", 21000, feminine, "veintiuna mil"}, {"es", 31000, alone, "treinta y un mil"},
		{"es", 200000, feminine, "doscientas mil"}, {"es", 1e6, masculine, "un millón de"}, {"es", 1e6, alone, "un millón"},
		{"es", 2.5e6, masculine, "dos millones quinientos mil"}, {"es", 1e9, alone, "mil millones"}, {"es", 1e12, feminine, "un billón de"},
		{"es", 0.43, masculine, "cero punto cuarenta y tres"}, {"es", 1.5, feminine, "uno punto cinco"}, {"es", 3.05, alone, "tres punto cero cinco"},
		{"es", 0.125, alone, "cero punto uno dos cinco"},
	} {
		w := catalogue[c.lang].words
		if got := string(w.append(nil, c.v, c.g)); got != c.want {
			t.Errorf("%s %v: got %q, want %q", c.lang, c.v, got, c.want)
		}
	}
}

// TestNumberWordsAreDistinct: two numbers never sound the same.
func TestNumberWordsAreDistinct(t *testing.T) {
	for _, lang := range Languages() {
		seen := map[string]int{}
		w := catalogue[lang].words
		for n := range 30000 {
			said := string(w.append(nil, float64(n), alone))
			if was, ok := seen[said]; ok {
				t.Fatalf("%s: %d and %d are both %q", lang, was, n, said)
			}
			seen[said] = n
		}
	}
}

func TestLiteral(t *testing.T) {
	for in, want := range map[string]string{
		"12 lb/ac":             "twelve pounds acres",
		"about 7,000.":         "about seven thousand.",
		"at 2:15":              "at two fifteen",
		"at 2:05":              "at two zero five",
		"40%":                  "forty percent",
		"field_3-b":            "field three b",
		"a · b (c)":            "a, b, c",
		"3.5":                  "three point five",
		"007":                  "zero zero seven",
		"<b>&amp;":             "bamp,",
		"12½ lb":               "twelve pounds",
		"99999999999999999999": strings.TrimSpace(strings.Repeat("nine ", 20)),
	} {
		w := catalogue["en"].words
		if got := string(tidy([]byte(w.literal(in, true)))); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

func TestAppendNumber(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.43: "0.43", 999: "999", 1000: "1,000", 7000.5: "7,000.5", 1234567: "1,234,567", -1200: "−1,200"} {
		if got := string(appendDecimals(nil, v, -1)); got != want {
			t.Errorf("%v: got %s, want %s", v, got, want)
		}
	}
}

func TestRounding(t *testing.T) {
	for _, c := range []struct {
		v    float64
		d    digits
		way  direction
		want string
	}{
		{12.999, digits{2, 2, 1}, near, "13"}, {0.42857, digits{2, 2, 2}, near, "0.43"}, {5.142857, digits{2, 1, 0}, near, "5.14"},
		{25.714, digits{2, 1, 0}, near, "25.7"}, {2857.14, digits{1, 0, 0}, near, "2857"}, {0.0004, digits{2, 2, 2}, near, "0.0004"},
		{5.399, digits{1, 1, 1}, down, "5.3"}, {6187.9, digits{1, 0, 0}, down, "6187"}, {2.9999999999, digits{0, 0, 0}, down, "3"},
		{9.01, digits{1, 1, 0}, up, "9.1"}, {3.0000000001, digits{0, 0, 0}, up, "3"},
	} {
		if got := strconv.FormatFloat(roundTo(c.v, c.d, c.way), 'f', -1, 64); got != c.want {
			t.Errorf("%v %v %v: got %s, want %s", c.v, c.d, c.way, got, c.want)
		}
	}
}
