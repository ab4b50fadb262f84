package phrases

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// gender is how a number agrees with the noun after it, in languages that do.
type gender byte

const (
	alone gender = iota // no noun follows
	masculine
	feminine
)

// numberWords is how a language says numbers. A speech program left to itself
// reads "12 lb/ac" as "twelve L B slash A C", and in Spanish "7,000" as "siete
// coma cero cero cero", so nothing but words is handed to it.
type numberWords struct {
	whole    func(dst []byte, n uint64, g gender) []byte
	decimals func(dst []byte, digits string) []byte
	minus    string
	point    string
	percent  string            // from the catalogue, as are:
	signs    map[rune]string   // how the signs of arithmetic are said
	full     map[string]string // abbreviations in full
}

var numberWordsOf = map[string]numberWords{
	"en": {whole: englishWhole, decimals: englishDecimals, minus: "minus", point: "point"},
	"es": {whole: spanishWhole, decimals: spanishDecimals, minus: "menos", point: "punto"},
}

// most is the largest number said as one; a longer one is said digit by digit.
const most = 999_999_999_999_999

// append says v.
func (w *numberWords) append(dst []byte, v float64, g gender) []byte {
	if v < 0 {
		dst = append(append(dst, w.minus...), ' ')
	}
	var room [64]byte
	return w.digits(dst, string(strconv.AppendFloat(room[:0], math.Abs(v), 'f', -1, 64)), g)
}

// digits says a number that is written plainly: digits and at most one point.
func (w *numberWords) digits(dst []byte, number string, g gender) []byte {
	whole, part, _ := strings.Cut(number, ".")
	n, err := strconv.ParseUint(whole, 10, 64)
	switch {
	case whole == "":
		n = 0
	case err != nil || n > most || len(whole) > 1 && whole[0] == '0':
		dst = w.oneByOne(dst, whole)
		if part != "" {
			dst = append(append(append(dst, ' '), w.point...), ' ')
			return w.decimals(dst, part)
		}
		return dst
	}
	if part == "" {
		return w.whole(dst, n, g)
	}
	dst = w.whole(dst, n, genderBeforePoint(g))
	dst = append(append(append(dst, ' '), w.point...), ' ')
	return w.decimals(dst, part)
}

// genderBeforePoint: "una libra" but "uno punto cinco libras".
func genderBeforePoint(gender) gender { return alone }

func (w *numberWords) oneByOne(dst []byte, digits string) []byte {
	for i := range len(digits) {
		if i > 0 {
			dst = append(dst, ' ')
		}
		dst = w.whole(dst, uint64(digits[i]-'0'), alone)
	}
	return dst
}

// literal puts text into words: numbers are said, abbreviations are said in full,
// signs become pauses or nothing. People's own words keep what they wrote in
// capitals: it may be a name.
func (w *numberWords) literal(s string, own bool) string {
	dst := make([]byte, 0, len(s)+16)
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		switch {
		case r >= '0' && r <= '9':
			size = numberLength(s[i:])
			dst = w.digits(apart(dst), strings.ReplaceAll(s[i:i+size], ",", ""), alone)
			if next := i + size; next < len(s) && !strings.ContainsRune(" ,.\n", rune(s[next])) {
				dst = append(dst, ' ')
			}
		case unicode.IsLetter(r):
			size = wordLength(s[i:])
			word := s[i : i+size]
			if full, ok := w.full[word]; ok && !(own && word != strings.ToLower(word)) {
				word = full
			}
			dst = w.letters(dst, word)
		case r == ':' && i > 0 && isDigit(s, i-1) && isDigit(s, i+1): // a time of day
			dst = append(dst, ' ')
		default:
			dst = w.sign(dst, r)
		}
		i += size
	}
	return string(dst)
}

func isDigit(s string, i int) bool { return i < len(s) && s[i] >= '0' && s[i] <= '9' }

// apart makes sure that a number does not stick to what stands before it.
func apart(dst []byte) []byte {
	if len(dst) > 0 && dst[len(dst)-1] != ' ' && dst[len(dst)-1] != '\n' {
		return append(dst, ' ')
	}
	return dst
}

// wordLength is how many bytes at the start of s are letters.
func wordLength(s string) int {
	for i, r := range s {
		if !unicode.IsLetter(r) && !unicode.IsMark(r) {
			return i
		}
	}
	return len(s)
}

// letters appends a word without letters that are really signs.
func (w *numberWords) letters(dst []byte, word string) []byte {
	for _, r := range word {
		if r != 'º' && r != 'ª' {
			dst = utf8.AppendRune(dst, r)
		}
	}
	return dst
}

// numberLength is how many bytes of s are one number: 7,000.5 is, 7, is not.
func numberLength(s string) int {
	n := 0
	point := false
	for n < len(s) {
		c := s[n]
		inside := n+1 < len(s) && s[n+1] >= '0' && s[n+1] <= '9'
		switch {
		case c >= '0' && c <= '9':
		case c == ',' && inside && !point:
		case c == '.' && inside && !point:
			point = true
		default:
			return n
		}
		n++
	}
	return n
}

// sign appends one rune as the ear takes it.
func (w *numberWords) sign(dst []byte, r rune) []byte {
	switch {
	case unicode.IsMark(r), strings.ContainsRune(" \n,.?!'", r):
		return utf8.AppendRune(dst, r)
	case r == '’':
		return append(dst, '\'')
	case r == '%':
		return append(append(trimSpace(dst), ' '), w.percent...)
	case w.signs[r] != "":
		return append(append(append(trimSpace(dst), ' '), w.signs[r]...), ' ')
	case strings.ContainsRune("(·:;–—", r):
		return append(trimSpace(dst), ',', ' ')
	case strings.ContainsRune("-/_\t", r):
		return append(dst, ' ')
	}
	return dst
}

func trimSpace(dst []byte) []byte {
	for len(dst) > 0 && dst[len(dst)-1] == ' ' {
		dst = dst[:len(dst)-1]
	}
	return dst
}

// tidy takes out, in place, the doubled blanks and pauses that come of putting
// pieces together.
func tidy(s []byte) []byte {
	out := s[:0]
	for _, c := range s {
		if strings.IndexByte(" ,.?!", c) >= 0 {
			out = trimSpace(out)
			last := byte(0)
			if len(out) > 0 {
				last = out[len(out)-1]
			}
			switch {
			case c == ' ' && last == 0:
				continue
			case c == ',' && strings.IndexByte("\x00,.?!", last) >= 0, c == '.' && strings.IndexByte("\x00.?!", last) >= 0:
				out = append(out, ' ')
				continue
			case last == ',' && c != ' ' && c != ',':
				out = out[:len(out)-1]
			}
		}
		out = append(out, c)
	}
	out = trimSpace(out)
	for i, c := range out {
		if strings.IndexByte(".?!", c) >= 0 && i+2 < len(out) {
			upperFirst(out[i+2:])
		}
	}
	return out
}
