package parse

import (
	"strconv"
	"strings"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// number is a number phrase, in digits or words, as one grammar production. The
// shapes it takes are a closed list; numbers that stand side by side in any other
// way are never added or multiplied.
//
//	3000 · 3k · 3 thousand · three thousand five hundred · 7 mil 500
//	twenty five hundred · a hundred and sixty · cuarenta y dos
//	seventy two fifty (a pair: 7250) · five thousand oh fifty
//	seven point five thousand · point four three · oh point five
//	12 1/2 · 3½ · three and a half · three quarters · half
type number struct {
	Value  float64
	Alt    float64 // a second reading of "3.000"; 0 when there is one only
	Scale  float64 // what a spoken thousand or k multiplied by; 1 without
	Pair   bool    // "seventy two fifty", "one fifty": only where one reading is plausible
	Odd    bool    // a shape that could be two numbers: asked about
	Words  bool    // in words
	Part   bool    // a bare fraction: half, 2/3
	Digits int     // how many digits were typed, for labels
}

// Parse implements participle.Parseable.
func (n *number) Parse(lx *lexer.PeekingLexer) error {
	t := lx.Peek()
	n.Scale = 1
	switch t.Type {
	case tNumFrac, tFrac:
		lx.Next()
		n.Value, n.Part = value(t), true
		return nil
	case tPoint:
		n.Words = true
		return n.decimals(lx)
	case tOh: // oh point five
		lx.Next()
		n.Words = true
		if lx.Peek().Type == tPoint {
			return n.decimals(lx)
		}
		return nil
	case tScale: // "hundred acres", "mil galones", the one before it unsaid
		n.Value, n.Words = 1, true
	case tNum:
		lx.Next()
		n.first(t)
		n.small(lx)
	default:
		return participle.NextMatch
	}
	n.scaled(lx)
	n.tail(lx)
	return nil
}

// value is the number in a token; a token that holds none is not tried.
func value(t *lexer.Token) float64 {
	if t.Type != tNum && t.Type != tNumFrac && t.Type != tScale && t.Type != tFrac {
		return 0
	}
	v, _ := strconv.ParseFloat(t.Value, 64)
	return v
}

// first takes the opening token: its value, and the other reading of "3.000".
func (n *number) first(t *lexer.Token) {
	hi, lo, two := strings.Cut(t.Value, "~")
	v, err := strconv.ParseFloat(hi, 64)
	n.Value = v
	n.Odd = err != nil
	if two {
		n.Alt, _ = strconv.ParseFloat(lo, 64)
	}
	n.Words = t.Pos.Column == 1
}

// small completes a number below a thousand said in words.
func (n *number) small(lx *lexer.PeekingLexer) {
	if lx.Peek().Type == tNumFrac { // 12 1/2, 3½
		n.Value += value(lx.Next())
		return
	}
	if !n.Words {
		switch t := lx.Peek(); {
		case t.Type == tPoint: // "2 point 5", "2 punto cinco"
			n.decimals(lx)
		case t.Type == tFrac && n.Value > 1 && n.Value < 16 && value(t) < 0.5: // 3 quarters
			n.Value, n.Part = n.Value*value(lx.Next()), true
		}
		return
	}
	n.tensAndOnes(lx)
	switch t := lx.Peek(); {
	case t.Type == tPoint:
		n.decimals(lx)
	case t.Type == tFrac && n.Value < 100: // three quarters
		n.Value, n.Part = n.Value*value(lx.Next()), true
	case t.Type == tOh: // three oh five
		lx.Next()
		if o := lx.Peek(); o.Type == tNum && value(o) < 10 && n.Value < 100 {
			n.Value, n.Pair = n.Value*100+value(lx.Next()), true
		} else {
			n.Odd = true
		}
	case t.Type == tNum && t.Pos.Column == 1:
		n.beside(lx, value(t))
	}
}

// tensAndOnes: sixty five, cuarenta y dos, doscientos cincuenta.
func (n *number) tensAndOnes(lx *lexer.PeekingLexer) {
	word := func() (float64, bool) {
		t := lx.Peek()
		return value(t), t.Type == tNum && t.Pos.Column == 1
	}
	if v, ok := word(); ok && n.Value >= 100 && n.Value < 1000 && v < 100 { // doscientos cincuenta
		lx.Next()
		n.Value += v
		if !isRoundTens(v) {
			return
		}
	}
	if !isRoundTens(mod100(n.Value)) {
		return
	}
	if v, ok := word(); ok && v >= 1 && v < 10 {
		lx.Next()
		n.Value += v
		return
	}
	if lx.Peek().Type == tAnd { // cuarenta y dos
		mark := lx.MakeCheckpoint()
		lx.Next()
		if v, ok := word(); ok && v >= 1 && v < 10 {
			lx.Next()
			n.Value += v
			return
		}
		lx.LoadCheckpoint(mark)
	}
}

func mod100(v float64) float64 { return float64(int(v) % 100) }

func isRoundTens(v float64) bool { return v >= 20 && v < 100 && int(v)%10 == 0 }

// beside: a second number word right behind. "seventy two fifty" is a pair, "one
// two" and "seven five hundred" are not numbers anyone can be sure of.
func (n *number) beside(lx *lexer.PeekingLexer, v float64) {
	if n.Value >= 10 && separateNext(lx) {
		return // "fifteen thirty six hundred gallon": the next number is its own
	}
	if v < 10 || v >= 100 || n.Value < 1 || n.Value >= 100 {
		if v < 10 && n.Value >= 100 && n.Value < 1000 {
			return
		}
		n.Odd = true
		lx.Next()
		for t := lx.Peek(); t.Type == tNum && t.Pos.Column == 1 || t.Type == tScale; t = lx.Peek() {
			lx.Next()
		}
		return
	}
	lx.Next()
	second := number{Value: v, Words: true}
	second.tensAndOnes(lx)
	n.Value, n.Pair = n.Value*100+second.Value, true
	if t := lx.Peek(); t.Type == tNum && t.Pos.Column == 1 {
		n.Odd = true
		lx.Next()
	}
}

// separateNext says whether the number that starts here runs on to a hundred or a
// thousand, so that it cannot be the second half of a pair.
func separateNext(lx *lexer.PeekingLexer) bool {
	mark := lx.MakeCheckpoint()
	defer lx.LoadCheckpoint(mark)
	for n := 0; n < 2; n++ {
		if t := lx.Peek(); t.Type != tNum || t.Pos.Column == 0 {
			break
		}
		lx.Next()
	}
	return lx.Peek().Type == tScale
}

// decimals: point four three, punto veinticinco, 2 point 5. A run of ones is read
// digit by digit; a two-digit word adds its two digits.
func (n *number) decimals(lx *lexer.PeekingLexer) error {
	lx.Next() // the point
	digits := ""
	for {
		t := lx.Peek()
		switch {
		case t.Type == tAnd && isTens(digits): // punto treinta y cinco
		case t.Type == tOh:
			digits += "0"
		case t.Type == tNum && !strings.ContainsAny(t.Value, ".~") && (len(t.Value) == 1 || digits == "" || isTens(digits)):
			if isTens(digits) && len(t.Value) == 1 {
				digits = digits[:1]
			}
			digits += t.Value
		default:
			if digits == "" {
				return participle.NextMatch
			}
			frac, err := strconv.ParseFloat("0."+digits, 64)
			n.Odd = n.Odd || err != nil
			n.Value += frac
			return nil
		}
		lx.Next()
	}
}

// scaled multiplies by hundred and thousand and takes what follows them.
func (n *number) scaled(lx *lexer.PeekingLexer) {
	for lx.Peek().Type == tScale {
		by := value(lx.Next())
		if n.Alt != 0 {
			n.Value, n.Alt = n.Alt, 0 // "7.500 thousand" can only be a decimal
		}
		if n.Pair {
			n.Odd = true
		}
		n.Value *= by
		n.Scale *= by
		n.rest(lx, by)
	}
}

// rest is what follows a hundred or a thousand: sixty, five hundred, oh fifty.
func (n *number) rest(lx *lexer.PeekingLexer, by float64) {
	mark := lx.MakeCheckpoint()
	if lx.Peek().Type == tAnd {
		lx.Next()
	}
	if lx.Peek().Type == tOh {
		lx.Next()
	}
	t := lx.Peek()
	typed := t.Type == tNum && t.Pos.Column == 0
	if t.Type != tNum || typed && (by != 1000 || len(t.Value) != 3) {
		lx.LoadCheckpoint(mark)
		return
	}
	lx.Next()
	below := number{Scale: 1}
	below.first(t)
	below.small(lx)
	if lx.Peek().Type == tScale && value(lx.Peek()) >= by {
		if by == 100 && n.Value < 1000 && below.Value < 100 { // "a hundred and twelve thousand"
			n.Value += below.Value
			return
		}
		lx.LoadCheckpoint(mark) // "tres mil siete mil": the next number
		return
	}
	if lx.Peek().Type == tScale && value(lx.Peek()) < by {
		below.Value *= value(lx.Next())
		below.rest(lx, 100)
	}
	if below.Value >= by || below.Odd || below.Pair || below.Part {
		n.Odd = true
	}
	n.Value += below.Value
	n.Scale = 1 // a number with a rest is said in full: a range does not share it
}

// tail: "and a half", "y medio", "and three quarters". Behind a thousand it could
// be half a thousand, so it is asked about.
func (n *number) tail(lx *lexer.PeekingLexer) {
	if n.Part || lx.Peek().Type != tAnd {
		return
	}
	mark := lx.MakeCheckpoint()
	lx.Next()
	t := lx.Peek()
	part := 0.0
	switch t.Type {
	case tFrac, tNumFrac:
		part = value(lx.Next())
	case tNum:
		lx.Next()
		if lx.Peek().Type == tFrac {
			part = value(t) * value(lx.Next())
		}
	}
	if part == 0 || part >= 1 {
		lx.LoadCheckpoint(mark)
		return
	}
	if n.Value >= 1000 {
		n.Odd = true
	}
	n.Value += part
	if lx.Peek().Type == tScale && n.Scale == 1 { // seven and a half thousand
		n.Scale = value(lx.Next())
		n.Value *= n.Scale
	}
}
