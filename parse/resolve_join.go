package parse

import (
	"strconv"
)

// per: before a unit it divides, before a load it counts per load.
func (r *reader) per(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	if t.text == "pur" && next.class != cUnit && next.class != cClash && next.class != cArt && !next.counted() && (prev.numeric() || next.numeric() || prev.class == cUnit) {
		t.be(cRole, "purity") // a tag's "98.5 pur", no misheard "per"
		return
	}
	if next.class == cArt || next.class == cMy {
		if u := r.after(i + 1); u.class == cUnit || u.counted() {
			next.class, next = cSkip, u
		}
	}
	switch {
	case next.class == cUnit && (prev.numeric() || prev.class == cUnit || prev.class == cClash || prev.counted() || perUnit[next.key]):
		t.be(cPer, "per")
	case next.class == cClash && (prev.class == cUnit || prev.numeric()):
		t.be(cPer, "per")
		r.clashToUnit(next)
	case next.class == cRole && (next.key == "load" || next.key == "tank") && (prev.class == cUnit || prev.numeric() || prev.class == cSkip):
		t.be(cPerLoad, next.key)
		next.be(cSkip, next.key)
	default:
		t.be(cFiller, "per")
	}
}

// slash: gal/acre divides, 40/20 is a list, lb/load is per load.
func (r *reader) slash(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	switch {
	case prev.class == cNum && next.class == cNum:
	case next.class == cArt && next.text == "a" && (prev.class == cUnit || prev.class == cClash || prev.numeric()):
		next.be(cUnit, "acre")
		t.be(cPer, "per")
	default:
		r.per(i)
	}
}

// times: "7mil x acre" is per acre; "20 ft x 1452 ft" only sets lengths apart.
func (r *reader) times(i int) {
	if next := r.after(i); next.class == cUnit && r.before(i).class != cFiller {
		r.tokens[i].be(cPer, "per")
		return
	}
	r.tokens[i].be(cComma, "x")
}

// dash: 6-8 is a range, 3000-gallon a hyphen, " -5" a negative number,
// "2 - 50# bags" a count and a size, 12-6-9 a list.
func (r *reader) dash(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	switch {
	case prev.class == cNum && prev.word && isTens(prev.key) && next.class == cNum && next.word && len(next.key) == 1:
		t.class = cSkip // sixty-five
	case prev.class == cNum && prev.key != "0" && next.class == cNumFrac && t.glued && next.glued:
		t.class = cSkip // 3-1/2
	case next.class == cNum && !prev.numeric() && r.at(i+1).glued && (!t.glued || i == 0):
		next.key = "-" + next.key
		t.class = cSkip
	case prev.numeric() && next.opens():
		if r.after(i+1).text == "#" && !t.glued || r.inList(i) {
			t.be(cSlash, "/")
			if !r.inList(i) {
				t.be(cComma, "-")
			}
			return
		}
		t.be(cRange, "-")
	case prev.class == cUnit && next.opens() && r.sameUnitAhead(i, prev.key):
		t.be(cRange, "-")
	case prev.numeric() && next.class == cUnit: // 33-acre
		t.class = cSkip
	default:
		t.be(cFiller, "-")
	}
}

// inList says whether this dash is one of two that join three numbers.
func (r *reader) inList(i int) bool {
	dashed := func(j int) bool { return r.at(j).text == "-" && r.at(j-1).class == cNum && r.at(j+1).class == cNum }
	return dashed(i) && (dashed(i+2) || dashed(i-2))
}

// and: inside a number ("a hundred and sixty", "cuarenta y dos", "three and a
// half"), behind a unit before a part ("doce libras y media"), between two numbers
// of a list ("12 and 40"); otherwise it only parts phrases.
func (r *reader) and(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	part := next.class == cFrac || next.class == cNumFrac || (next.class == cArt || next.class == cUn) && r.after(i+1).class == cFrac ||
		next.class == cNum && r.after(i+1).class == cFrac && next.word
	switch {
	case part && (prev.numeric() || prev.class == cUnit || prev.counted()):
	case prev.class == cScale && prev.text != "k" && next.class == cNum && next.word:
	case prev.class == cNum && prev.word && next.class == cNum && next.word && isTens(prev.key) && len(next.key) == 1:
	case prev.class == cNum && prev.word && isTens(prev.key) && next.class == cUn:
	case prev.class == cNum && next.class == cNum && !r.behindAny(i) && !farApart(prev.key, next.key) && !farApart(next.key, prev.key):
		t.be(cSlash, "and")
	default:
		t.be(cComma, "and")
	}
}

func isTens(key string) bool { return len(key) == 2 && key[1] == '0' && key[0] >= '2' }

// between: the next "and" parts the ends of a range.
func (r *reader) between(i int) {
	r.tokens[i].be(cFiller, "between")
	for j := i + 1; j < len(r.tokens) && j < i+8; j++ {
		t := &r.tokens[j]
		if t.class == cAnd && r.before(j).class != cFiller && r.after(j).opens() && j > i+1 {
			if isTens(r.before(j).key) && len(r.after(j).key) == 1 && r.before(j).word && r.after(j).word {
				continue // entre cuarenta y dos y cincuenta
			}
			t.be(cRange, "-")
			return
		}
	}
}

// toOrAt: Spanish "a" is a range between numbers, else "at".
func (r *reader) toOrAt(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	switch {
	case prev.numeric() && next.opens() && r.shaftBehind(i+1):
		t.be(cAt, "at") // bomba 1500 a 1000 rpm
	case prev.numeric() && next.opens() && !r.behindRole(i) && !farApart(prev.key, next.key):
		t.be(cRange, "-")
	case prev.class == cUnit && next.opens() && r.sameUnitAhead(i, prev.key) && !r.behindRole(i):
		t.be(cRange, "-")
	case next.opens():
		t.be(cAt, "at")
	case next.class == cUnit && (prev.class == cUnit || prev.numeric()):
		t.be(cConv, "to")
	default:
		t.be(cFiller, "a")
	}
}

// shaftBehind says whether the number at token i is a shaft's speed.
func (r *reader) shaftBehind(i int) bool {
	t := r.after(i)
	return r.at(i).numeric() && t.class == cRole && t.key == "pto"
}

// farApart says whether two numbers are too far apart to be the ends of a range:
// "fosfato 1.5 a 35 m3/ha", "ballico 12 a 7000 por acre".
func farApart(lo, hi string) bool {
	a, err1 := strconv.ParseFloat(lo, 64)
	b, err2 := strconv.ParseFloat(hi, 64)
	return err1 == nil && err2 == nil && a > 0 && b > 20*a
}

// behindRole says whether the number that ends before token i stands behind a word
// of its own: "tanque de 3000 a 7000 por acre" is no range.
func (r *reader) behindRole(i int) bool {
	for i--; i >= 0; i-- {
		switch t := &r.tokens[i]; {
		case t.class == cSkip, t.class == cOf, t.class == cUnit, t.numeric(), t.class == cAnd, t.class == cAct && t.key == "done", t.class == cFiller && t.text != "a":
		default:
			return t.counted() || t.class == cRole && t.key == "field"
		}
	}
	return false
}

// behindAny says whether any role word stands before the number that ends at i.
func (r *reader) behindAny(i int) bool {
	for i--; i >= 0; i-- {
		switch t := &r.tokens[i]; {
		case t.class == cSkip, t.class == cOf, t.numeric(), t.class == cFiller, t.class == cQ && t.key == "is":
		default:
			return t.class == cRole && t.key != "jar" && t.key != "seed" && t.key != "seedrate"
		}
	}
	return false
}

// rangeWord: "through" is a range only between numbers.
func (r *reader) rangeWord(i int) {
	if t := &r.tokens[i]; !r.before(i).numeric() || !r.after(i).opens() {
		t.be(cFiller, t.text)
	}
}
