package phrases

var spanishSmall = [...]string{"cero", "uno", "dos", "tres", "cuatro", "cinco", "seis", "siete", "ocho", "nueve", "diez", "once", "doce",
	"trece", "catorce", "quince", "dieciséis", "diecisiete", "dieciocho", "diecinueve", "veinte", "veintiuno", "veintidós", "veintitrés",
	"veinticuatro", "veinticinco", "veintiséis", "veintisiete", "veintiocho", "veintinueve"}

var spanishTens = [...]string{"", "", "", "treinta", "cuarenta", "cincuenta", "sesenta", "setenta", "ochenta", "noventa"}

var spanishHundreds = [...]string{"", "ciento", "doscient", "trescient", "cuatrocient", "quinient", "seiscient", "setecient", "ochocient", "novecient"}

// spanishWhole says a whole number. One and the hundreds agree with the noun
// ("una libra", "doscientas libras"), one loses its end before a masculine one
// ("veintiún galones"), and whole millions take "de" ("un millón de galones").
func spanishWhole(dst []byte, n uint64, g gender) []byte {
	whole := n >= 1e6 && n%1e6 == 0
	dst = spanishMillions(dst, n, g)
	if whole && g != alone {
		dst = append(dst, " de"...)
	}
	return dst
}

func spanishMillions(dst []byte, n uint64, g gender) []byte {
	for _, scale := range [...]struct {
		of        uint64
		one, many string
	}{{1e12, " billón", " billones"}, {1e6, " millón", " millones"}} {
		if n < scale.of {
			continue
		}
		dst = spanishThousands(dst, n/scale.of, masculine)
		if n/scale.of == 1 {
			dst = append(dst, scale.one...)
		} else {
			dst = append(dst, scale.many...)
		}
		if n %= scale.of; n == 0 {
			return dst
		}
		dst = append(dst, ' ')
	}
	return spanishThousands(dst, n, g)
}

func spanishThousands(dst []byte, n uint64, g gender) []byte {
	if n < 1000 {
		return spanishHundred(dst, n, g)
	}
	if n >= 2000 {
		before := g
		if before == alone {
			before = masculine // "veintiún mil"
		}
		dst = append(spanishHundred(dst, n/1000, before), ' ')
	}
	dst = append(dst, "mil"...)
	if n%1000 > 0 {
		dst = spanishHundred(append(dst, ' '), n%1000, g)
	}
	return dst
}

func spanishHundred(dst []byte, n uint64, g gender) []byte {
	switch h := n / 100; {
	case n == 100:
		return append(dst, "cien"...)
	case h > 0:
		dst = append(dst, spanishHundreds[h]...)
		if h > 1 && g == feminine {
			dst = append(dst, "as"...)
		} else if h > 1 {
			dst = append(dst, "os"...)
		}
		if n %= 100; n == 0 {
			return dst
		}
		dst = append(dst, ' ')
	}
	switch {
	case n%10 == 1 && n != 11 && g != alone:
		return spanishOne(dst, n, g)
	case n < 30:
		return append(dst, spanishSmall[n]...)
	}
	dst = append(dst, spanishTens[n/10]...)
	if n%10 > 0 {
		dst = append(append(dst, " y "...), spanishSmall[n%10]...)
	}
	return dst
}

// spanishOne says 1, 21, 31 … before a noun.
func spanishOne(dst []byte, n uint64, g gender) []byte {
	one := "un"
	switch {
	case g == feminine:
		one = "una"
	case n == 21:
		one = "ún"
	}
	switch {
	case n == 21:
		dst = append(dst, "veinti"...)
	case n > 21:
		dst = append(append(dst, spanishTens[n/10]...), " y "...)
	}
	return append(dst, one...)
}

// spanishDecimals says two digits as one number ("cero punto cuarenta y tres"),
// with the zeros before it, and longer ones digit by digit.
func spanishDecimals(dst []byte, digits string) []byte {
	if len(digits) == 2 && digits[0] != '0' {
		return spanishHundred(dst, uint64(digits[0]-'0')*10+uint64(digits[1]-'0'), alone)
	}
	for i := range len(digits) {
		if i > 0 {
			dst = append(dst, ' ')
		}
		dst = append(dst, spanishSmall[digits[i]-'0']...)
	}
	return dst
}
