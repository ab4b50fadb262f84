package parse

import (
	"strings"
	"testing"
	"unicode/utf8"
)

func TestFold(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"plain text 12", "plain text 12"},
		{"Tank 3000 GAL", "tank 3000 gal"},
		{"¿Cuántos galones? Ñandú", " cuantos galones? nandu"},
		{"ÁÉÍÓÚÜ áéíóúü", "aeiouu aeiouu"},
		{"7½ gal", "7½ gal"},
		{"12′ × 4″", "12'  x  4\""},
		{"6–8k — ok", "6-8k - ok"},
		{"m³/ha P₂O₅", "m3/ha p2o5"},
		{"3\u202f000\u00a0L", "3 000 l"},
		{"３０００", "3000"},
		{"a\tb\x00c\x1bd\x7fe", "a b c d e"},
		{"one\ntwo\r\nthree", "one;two;;three"},
		{"🚜 12 ft 👍", "  12 ft  "},
		{"\xff12\xfe gal\xc3", " 12  gal "},
		{"zero\u200bwidth\ufeff", "zerowidth"},
		{"e\u0301", "e "},
		{"кг", "кг"},
	} {
		if got := fold(c.in); got.text != c.want {
			t.Errorf("fold(%q) = %q, want %q", c.in, got.text, c.want)
		}
	}
}

// Every byte of the folded text leads back to the rune that it came from.
func TestFoldKeepsTheWayBack(t *testing.T) {
	for _, s := range []string{"", "a", "Ñ12", "¿Qué?  m³", "6–8 ½", "\xff\xfe3000\xc3", "🚜3000🚜", "a\u200bb", "×3", "\ufeff", "…7"} {
		f := fold(s)
		last := -1
		for i := 0; i <= len(f.text); i++ {
			at := f.origin(i)
			if at < last || at > len(s) || at < len(s) && i < len(f.text) && !utf8.RuneStart(s[at]) && s[at] < 0x80 {
				t.Fatalf("fold(%q): byte %d leads to %d after %d", s, i, at, last)
			}
			last = at
		}
		if f.origin(len(f.text)) != len(s) {
			t.Errorf("fold(%q): the end leads to %d, not %d", s, f.origin(len(f.text)), len(s))
		}
		for i := 0; i < len(f.text); i++ {
			if c := f.text[i]; c >= '0' && c <= '9' && strings.IndexByte(s, c) >= 0 && s[f.origin(i)] != c && s[f.origin(i)] < utf8.RuneSelf {
				t.Errorf("fold(%q): digit %q leads to %q", s, c, s[f.origin(i)])
			}
		}
		if !utf8.ValidString(f.text) {
			t.Errorf("fold(%q) is not UTF-8: %q", s, f.text)
		}
	}
}

func TestFoldIsStable(t *testing.T) {
	for _, s := range []string{"¿Cuántos GALONES?", "12′ × 4″ m³", "\xff6–8k½"} {
		once := fold(s).text
		if twice := fold(once).text; twice != once {
			t.Errorf("fold(%q) folds on to %q", once, twice)
		}
	}
}
