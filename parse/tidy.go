package parse

import (
	"unicode"
	"unicode/utf8"
)

// folded is a message in lower case without accents, with the way back to the
// bytes of the original.
type folded struct {
	text string
	at   []int32 // original offset of each byte of text; nil when they are the same
}

// origin is the offset in the original message of an offset in the folded text.
func (f *folded) origin(i int) int {
	if f.at == nil {
		return i
	}
	return int(f.at[i])
}

// fold lowers case and strips accents. Control characters and invalid bytes become
// blanks: they separate, they never mean anything.
func fold(s string) folded {
	plain := true
	for i := 0; i < len(s); i++ {
		if c := s[i]; c >= utf8.RuneSelf || c < ' ' || 'A' <= c && c <= 'Z' {
			plain = false
			break
		}
	}
	if plain {
		return folded{text: s}
	}
	out := make([]byte, 0, len(s)+8)
	ascii := true
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			ascii = false
			break
		}
	}
	if ascii {
		for i := 0; i < len(s); i++ {
			out = append(out, foldASCII(s[i]))
		}
		return folded{text: string(out)}
	}
	at := make([]int32, 0, len(s)+9)
	for i, r := range s {
		n := len(out)
		out = appendFolded(out, r)
		for ; n < len(out); n++ {
			at = append(at, int32(i))
		}
	}
	at = append(at, int32(len(s)))
	return folded{text: string(out), at: at}
}

func foldASCII(c byte) byte {
	switch {
	case 'A' <= c && c <= 'Z':
		return c + 'a' - 'A'
	case c == '\n' || c == '\r':
		return ';' // a new line ends a clause
	case c < ' ' || c == 0x7f:
		return ' '
	}
	return c
}

var foldRune = map[rune]string{
	'á': "a", 'à': "a", 'â': "a", 'ä': "a", 'ã': "a", 'é': "e", 'è': "e", 'ê': "e", 'ë': "e", 'í': "i", 'ì': "i", 'ï': "i", 'î': "i",
	'ó': "o", 'ò': "o", 'ô': "o", 'ö': "o", 'õ': "o", 'ú': "u", 'ù': "u", 'ü': "u", 'û': "u", 'ñ': "n", 'ç': "c",
	'’': "'", '‘': "'", '´': "'", '′': "'", '“': `"`, '”': `"`, '″': `"`, '–': "-", '—': "-", '−': "-", '‐': "-", '‑': "-",
	'²': "2", '³': "3", '₂': "2", '₃': "3", '₄': "4", '₅': "5", '×': " x ", '·': " ", '•': " ", '…': ";", '¿': " ", '¡': " ", '⁄': "/", '÷': "/",
	'½': "½", '¼': "¼", '¾': "¾", '⅓': "⅓", '⅔': "⅔", '⅛': "⅛", '⅜': "⅜", '⅝': "⅝", '⅞': "⅞", '£': "£", '¢': "¢", '€': "€", '°': "°",
	'\u00a0': " ", '\u2009': " ", '\u202f': " ", '\u200b': "", '\ufeff': "", '№': "#", 'º': "°", 'ª': "a",
}

func appendFolded(out []byte, r rune) []byte {
	if r < utf8.RuneSelf {
		return append(out, foldASCII(byte(r)))
	}
	r = unicode.ToLower(r)
	if s, ok := foldRune[r]; ok {
		return append(out, s...)
	}
	switch {
	case r >= '０' && r <= '９':
		return append(out, byte('0'+r-'０'))
	case r == utf8.RuneError || unicode.IsSpace(r) || unicode.IsControl(r) || unicode.Is(unicode.Mn, r):
		return append(out, ' ')
	case unicode.IsLetter(r) || unicode.IsDigit(r):
		return utf8.AppendRune(out, r) // another script: an unknown word, not nothing
	}
	return append(out, ' ') // emoji and other signs separate
}
