package phrases

var englishSmall = [...]string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
	"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"}

var englishTens = [...]string{"", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}

var englishScales = [...]struct {
	of   uint64
	name string
}{{1e12, "trillion"}, {1e9, "billion"}, {1e6, "million"}, {1e3, "thousand"}, {100, "hundred"}}

// englishWhole says a whole number. English numbers do not agree with anything.
func englishWhole(dst []byte, n uint64, _ gender) []byte {
	if n < 20 {
		return append(dst, englishSmall[n]...)
	}
	if n < 100 {
		dst = append(dst, englishTens[n/10]...)
		if n%10 > 0 {
			dst = append(append(dst, ' '), englishSmall[n%10]...)
		}
		return dst
	}
	for _, scale := range englishScales {
		if n < scale.of {
			continue
		}
		dst = append(englishWhole(dst, n/scale.of, alone), ' ')
		dst = append(dst, scale.name...)
		if rest := n % scale.of; rest > 0 {
			dst = englishWhole(append(dst, ' '), rest, alone)
		}
		return dst
	}
	return dst
}

// englishDecimals says the digits after the point one by one.
func englishDecimals(dst []byte, digits string) []byte {
	for i := range len(digits) {
		if i > 0 {
			dst = append(dst, ' ')
		}
		dst = append(dst, englishSmall[digits[i]-'0']...)
	}
	return dst
}
