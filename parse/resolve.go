package parse

import (
	"slices"
	"strconv"
	"strings"

	"tankside/engine/unit"
)

// resolve settles the words that mean several things by what stands beside them,
// so that the grammar can go by class alone. Each rule carries an example.
func (r *reader) resolve() {
	r.clocks()
	r.separate()
	r.hoist()
	for i := range r.tokens {
		if rule := resolvers[r.tokens[i].class]; rule != nil {
			rule(r, i)
		}
	}
	r.labels()
}

var resolvers = func() (f [numClasses]func(*reader, int)) {
	f[cHom], f[cArt], f[cUn], f[cUnitIn], f[cClash], f[cUnit] = (*reader).homophone, (*reader).article, (*reader).one, (*reader).inch, (*reader).clash, (*reader).sign
	f[cPer], f[cSlash], f[cXPer], f[cDash], f[cAnd], f[cBetween] = (*reader).per, (*reader).slash, (*reader).times, (*reader).dash, (*reader).and, (*reader).between
	f[cARange], f[cOh], f[cPoint], f[cComa], f[cScale], f[cRange] = (*reader).toOrAt, (*reader).oh, (*reader).point, (*reader).coma, (*reader).scale, (*reader).rangeWord
	f[cOf], f[cNutW] = (*reader).of, (*reader).bareN
	f[cPair], f[cDozen], f[cFrac] = (*reader).pair, (*reader).dozen, (*reader).fraction
	f[cRole] = (*reader).total
	f[cTime], f[cAbout] = (*reader).timeWord, (*reader).about
	f[cNum], f[cMoney] = (*reader).pronoun, (*reader).currency
	return f
}()

// bareN: "n at 8400?" is an "and" in a hurry.
func (r *reader) bareN(i int) {
	if i == 0 && r.after(0).class == cAt && r.tokens[0].text == "n" && len(r.tokens) <= 5 && !r.says(cUnit) && !r.says(cMoney) {
		r.tokens[0].be(cComma, "and")
		r.tokens[0].text = "and"
	}
}

// at returns token i, or an empty filler outside the message.
func (r *reader) at(i int) *token {
	if i < 0 || i >= len(r.tokens) {
		return &token{class: cFiller}
	}
	return &r.tokens[i]
}

// before and after skip what has been taken out.
func (r *reader) before(i int) *token {
	for i--; i >= 0 && r.tokens[i].class == cSkip; i-- {
	}
	return r.at(i)
}

func (r *reader) after(i int) *token {
	for i++; i < len(r.tokens) && r.tokens[i].class == cSkip; i++ {
	}
	return r.at(i)
}

// numeric says whether a token is part of a number.
func (t *token) numeric() bool {
	switch t.class {
	case cNum, cNumFrac, cScale, cFrac:
		return true
	}
	return false
}

// opens says whether a number can start here, homophones aside.
func (t *token) opens() bool {
	return t.class == cNum || t.class == cNumFrac || t.class == cFrac || t.class == cScale && t.text != "k" || t.class == cPoint || t.class == cUn || t.class == cDozen
}

// counted says whether a token is something one counts: loads, tanks, bags.
func (t *token) counted() bool {
	return t.class == cRole && (t.key == "load" || t.key == "tank" || t.key == "bag" || t.key == "pail")
}

func (t *token) plural() bool {
	return len(t.text) > 2 && t.text[len(t.text)-1] == 's' || t.text == "feet"
}

func (t *token) be(c class, key string) { t.class, t.key = c, key }

// homophone: "to thousand gallon tank" is two, "done for to go" four, "six to
// eight" a range, "ate thousand" eight; otherwise the word it looks like.
func (r *reader) homophone(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	switch t.text {
	case "to", "too":
		switch {
		case t.text == "to" && prev.numeric() && next.opens():
			t.be(cRange, "-")
		case t.text == "to" && prev.class == cUnit && next.opens() && r.sameUnitAhead(i, prev.key):
			t.be(cRange, "-") // 10 lb to 12 lb
		case next.class == cScale && next.text != "k" && !prev.numeric() && prev.class != cConv:
			t.be(cNum, "2")
		case t.text == "to" && (prev.class == cUnit || prev.class == cConv || prev.numeric()):
			t.be(cConv, "to")
		case t.text == "to" && r.says(cConv) && next.class == cUnit:
			t.be(cConv, "to")
		case next.class == cScale || next.class == cUnit && (next.plural() || next.span > 1) || next.counted() && next.plural():
			t.be(cNum, "2")
		default:
			t.be(cFiller, "to")
		}
	case "for":
		if !prev.numeric() && (next.class == cScale && next.text != "k" || (next.class == cUnit || next.counted()) && next.plural() && prev.class != cQ && prev.class != cNoun && prev.key != "seed" ||
			next.class == cAct && next.key == "left" && prev.class != cQ) {
			t.be(cNum, "4")
		} else {
			t.be(cFiller, "for")
		}
	default:
		if !prev.numeric() && (next.class == cScale || next.class == cUnit || next.counted()) {
			t.class = cNum
		} else {
			t.be(cFiller, t.text)
		}
	}
}

// sameUnitAhead says whether the amount after token i is in this unit too.
func (r *reader) sameUnitAhead(i int, unit string) bool {
	for i++; i < len(r.tokens); i++ {
		switch t := &r.tokens[i]; {
		case t.class == cUnit:
			return t.key == unit
		case !t.numeric() && t.class != cAnd:
			return false
		}
	}
	return false
}

// article: "a hundred" is one hundred, "7000 an acre" is per acre, "a half" a half.
func (r *reader) article(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	behindAmount := prev.class == cUnit || prev.numeric() || prev.class == cClash || prev.class == cPer
	switch {
	case prev.class == cSlash && t.text == "a" && next.class != cUnit:
		t.be(cUnit, "acre") // 12 lb/a
	case next.class == cScale && t.key != "the" && next.text != "k":
		t.be(cNum, "1")
	case next.class == cFrac && t.key != "the", prev.class == cFrac, prev.class == cNumFrac:
		t.class = cSkip
	case next.class == cUnit && !behindAmount && t.key != "the" && (r.partAhead(i+2) || next.text == "dollar" || next.text == "buck" || r.at(i+2).key == "ago"):
		t.be(cNum, "1") // a stone and a half; a dollar ten; an hour ago
	case behindAmount && next.class == cUnit && (r.says(cConv) && sameDim(prev.key, next.key) || r.perAlready(i)):
		t.be(cConv, "to") // convert 40 acres a hectáreas, 12 lb/ac a kg/ha
	case behindAmount && next.class == cUnit && perUnit[next.key]:
		t.be(cPer, "per")
	case behindAmount && t.key != "the" && (next.key == "load" || next.key == "tank") && next.class == cRole && !next.plural():
		t.be(cPerLoad, "load")
		next.be(cSkip, "load")
	default:
		t.be(cFiller, t.key)
	}
}

// perAlready says whether the unit before token i is itself what something is per.
func (r *reader) perAlready(i int) bool {
	if r.tokens[i].text != "a" || r.before(i).class != cUnit {
		return false
	}
	for k := i - 1; k > 0; k-- {
		if r.tokens[k].class == cUnit {
			return r.tokens[k-1].class == cPer || r.tokens[k-1].class == cSlash
		}
	}
	return false
}

// partAhead says whether "and a half" or the like starts at token i.
func (r *reader) partAhead(i int) bool {
	a, b, c := r.at(i), r.at(i+1), r.at(i+2)
	return a.class == cAnd && (b.class == cFrac || b.class == cNumFrac || c.class == cFrac && (b.class == cArt || b.class == cUn))
}

// says whether a class stands anywhere in the message.
func (r *reader) says(c class) bool {
	for i := range r.tokens {
		if r.tokens[i].class == c {
			return true
		}
	}
	return false
}

// about: "3000ish gallons", "7000 or so per acre": inside an amount it parts nothing.
func (r *reader) about(i int) {
	prev, next := r.before(i), r.after(i)
	if prev.numeric() && (next.class == cUnit || next.class == cScale || next.class == cPer || next.class == cArt) || prev.class == cUnit && (next.class == cPer || next.class == cArt && next.key != "the") {
		r.tokens[i].class = cSkip
	}
}

// total: right before a number on a lab sheet it is total nitrogen: "ammonium 6.2 total 28.4".
func (r *reader) total(i int) {
	if t := &r.tokens[i]; t.text == "total" && r.after(i).class == cNum && r.says(cNut) {
		for k := range r.tokens {
			if r.tokens[k].class == cNut && r.tokens[k].key == "total_n" {
				return
			}
		}
		t.be(cNut, "total_n")
	}
}

// of: "a quarter of an acre", "1/4 de acre": the part is of the unit.
func (r *reader) of(i int) {
	prev, next := r.before(i), r.after(i)
	if prev.class != cFrac && prev.class != cNumFrac {
		return
	}
	if (next.class == cArt || next.class == cUn) && r.after(i+1).class == cUnit {
		next.class = cSkip
		r.tokens[i].class = cSkip
	} else if next.class == cUnit {
		r.tokens[i].class = cSkip
	}
}

// hoist moves what an amount is per in front of what it is of: "120 pounds of
// nitrogen an acre", "30 lb n per 1000 gal", "12 lb ryegrass/acre".
func (r *reader) hoist() {
	for i := range r.tokens {
		t := &r.tokens[i]
		if t.counted() && (r.at(i-1).numeric() || r.at(i-1).class == cUn) && r.at(i+1).class == cAnd && (r.at(i+2).class == cFrac || r.at(i+2).class == cNumFrac) {
			role := *t // "dos cargas y media" is two and a half loads
			r.tokens[i], r.tokens[i+1], r.tokens[i+2] = r.tokens[i+1], r.tokens[i+2], role
			continue
		}
		if t.class != cNut && !(t.class == cNoun && t.key == "total_volume") && t.class != cNutW && t.class != cNutQ && t.class != cCrop && t.class != cRyeQ && t.class != cCropQ && !(t.class == cRole && t.key == "seed") {
			continue
		}
		from := i
		if r.at(i-1).class == cOf {
			from--
		}
		if c := r.at(from - 1).class; c != cUnit && c != cNum {
			continue
		}
		n := r.perLength(i + 1)
		if n == 0 || r.at(from-1).class == cNum && r.at(i+1).class != cPerThou {
			continue
		}
		moved := make([]token, 0, i+1-from)
		moved = append(moved, r.tokens[from:i+1]...)
		copy(r.tokens[from:], r.tokens[i+1:i+1+n])
		copy(r.tokens[from+n:], moved)
	}
}

// perLength is how many tokens from i say what an amount is per.
func (r *reader) perLength(i int) int {
	switch c := r.at(i).class; {
	case c == cPerThou:
		return 1
	case c == cPer && r.at(i+1).class == cRole && r.at(i+1).key == "load":
		return 2
	case (c == cPer || c == cSlash || c == cXPer || c == cArt && r.at(i).key != "the") && r.at(i+1).class == cUnit && perUnit[r.at(i+1).key]:
		return 2
	case (c == cPer || c == cSlash || c == cXPer || c == cArt && r.at(i).key != "the") && r.at(i+1).class == cRole && (r.at(i+1).key == "load" || r.at(i+1).key == "tank") && !r.at(i+1).plural() && !r.at(i+2).opens():
		return 2 // 5 lb of oats per load
	}
	return 0
}

// separate parts number words that stand side by side where a list or a mark is
// plain: the counts of jars, the mark behind "gate".
func (r *reader) separate() {
	jars := false
	for i := range r.tokens {
		jars = jars || r.tokens[i].class == cRole && r.tokens[i].key == "jar"
	}
	for i := 0; i < len(r.tokens); i++ {
		t := &r.tokens[i]
		switch {
		case r.partOfOne(i):
			r.insert(i, token{class: cNum, key: "1", from: t.from, to: t.from, word: true}) // libra y media
			i++
		case r.ownNumber(i, jars):
			r.insert(i, token{class: cComma, key: ",", text: "and", from: t.from, to: t.from})
			i++
		}
	}
}

// insert puts a token before token i.
func (r *reader) insert(i int, t token) { r.tokens = slices.Insert(r.tokens, i, t) }

// partOfOne says whether token i is a unit whose one is unsaid: "libra y media".
func (r *reader) partOfOne(i int) bool {
	prev := r.at(i - 1)
	return r.tokens[i].class == cUnit && r.at(i+1).class == cAnd && r.at(i+2).class == cFrac && !prev.numeric() && prev.class != cUn && prev.class != cArt && prev.class != cPer
}

// ownNumber says whether the number word at i starts a number of its own: among jar
// counts where it cannot go on the last, behind the mark of a gate.
func (r *reader) ownNumber(i int, jars bool) bool {
	t, prev := &r.tokens[i], r.at(i-1)
	if t.class != cNum || !t.word || prev.class != cNum || !prev.word {
		return false
	}
	gate := r.at(i - 2)
	return jars && !(isTens(prev.key) && len(t.key) == 1) || gate.class == cRole && gate.key == "gate" && len(prev.key) == 1
}

func sameDim(a, b string) bool {
	u, v := unit.Find(a), unit.Find(b)
	return u != nil && v != nil && u.Dim == v.Dim
}

// perUnit are the units that something can be "per" with an article alone.
var perUnit = map[string]bool{"acre": true, "ha": true, "min": true, "h": true, "s": true, "lb": true, "kg": true, "gal": true, "ft2": true, "m2": true,
	"ton": true, "t": true, "m3": true, "L": true, "imp gal": true}

// one: "una carga más" is one load, "un tanque de 3000" just a tank, "un cuarto" a
// quarter, "treinta y un" thirty-one.
func (r *reader) one(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	second := r.after(i + 1)
	switch {
	case next.class == cFrac:
		t.class = cSkip
	case next.class == cScale, prev.class == cAnd && next.class == cUnit, prev.numeric() && next.class == cUnit:
		t.be(cNum, "1")
	case next.class == cUnit && !prev.numeric(), next.class == cAnd:
		t.be(cNum, "1")
	case next.counted() && (second.class == cAnd || second.text == "mas" || second.class == cAct && second.key == "log"):
		t.be(cNum, "1")
	default:
		t.be(cFiller, "a")
	}
}

// inch: "12 in" is a width, "1500 gallons in 4 minutes" is not.
func (r *reader) inch(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	free := !next.opens() && !(next.class == cRole && (next.key == "tank" || next.key == "load")) && next.class != cArt && next.class != cMy && next.class != cUnit && next.class != cHom && next.class != cName && next.text != "the"
	if prev.numeric() && free {
		t.be(cUnit, "in")
	}
}

// clash keeps a bare t, m, g or ton as a unit only behind a number; what it means
// is settled when it is bound.
func (r *reader) clash(i int) {
	t, prev := &r.tokens[i], r.before(i)
	if prev.numeric() || prev.class == cPer || prev.class == cSlash || prev.class == cUnit && prev.key == "$" {
		return
	}
	if t.text == "ton" || t.text == "tons" {
		return
	}
	t.be(cFiller, t.text)
}

// sign: # is pounds behind a number and "number" before one; ' and " are feet and
// inches only right behind a number.
func (r *reader) sign(i int) {
	t, prev := &r.tokens[i], r.before(i)
	switch t.text {
	case "#":
		if !prev.numeric() {
			t.be(cFiller, "#")
			if n := r.at(i + 1); n.class == cNum && n.glued {
				n.class = cOrd
			}
		}
	case "'", `"`:
		if !prev.numeric() || !t.glued {
			t.be(cFiller, t.text)
		}
	}
}

// per: before a unit it divides, before a load it counts per load.
func (r *reader) per(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
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

func (r *reader) clashToUnit(t *token) { t.class = cUnit }

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
		case t.class == cSkip, t.class == cOf, t.class == cUnit, t.numeric(), t.class == cAnd, t.class == cFiller && t.text != "a":
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

// oh: a nought between number words ("five thousand oh fifty"), before a point
// ("oh point five") or behind one ("point oh five").
func (r *reader) oh(i int) {
	prev, next := r.before(i), r.after(i)
	behindPoint := (prev.class == cPoint || prev.class == cOh) && (next.class == cNum || next.class == cOh)
	if !(next.class == cPoint || behindPoint || prev.numeric() && prev.word && next.class == cNum && next.word || prev.class == cDouble) {
		r.tokens[i].be(cFiller, "oh")
	}
}

// point: only before digits or number words.
func (r *reader) point(i int) {
	if next := r.after(i); next.class != cNum && next.class != cOh {
		r.tokens[i].be(cFiller, "point")
	}
}

// coma: spoken "coma" between number words is a decimal mark.
func (r *reader) coma(i int) {
	if r.before(i).class == cNum && r.after(i).class == cNum {
		r.tokens[i].be(cPoint, ".")
	} else {
		r.tokens[i].be(cComma, ",")
	}
}

// scale: a lone k behind no number is potassium, and so is one that stands apart in
// a lab sheet ("n 31 k 19").
func (r *reader) scale(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	sheet := !t.glued && next.class != cUnit && next.class != cPer && next.class != cArt && (r.says(cNut) || r.says(cNutW) || r.says(cNutQ))
	if t.text == "k" && (!prev.numeric() || sheet) {
		t.be(cNutQ, "k")
	}
}

// pair: "a couple loads" is two; a couple of anything vaguer is in the lexicon.
func (r *reader) pair(i int) {
	if next := r.after(i); next.counted() || next.class == cUnit {
		r.tokens[i].be(cNum, "2")
		return
	}
	r.tokens[i].be(cVague, "vague")
}

func (r *reader) dozen(i int) {
	r.tokens[i].be(cNum, "12")
}

// fraction: "third" behind "the" is an ordinal; a quarter with nothing to be a part
// of is left as it is.
func (r *reader) fraction(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	if (t.text == "third" || t.text == "fourth" || t.text == "fifth" || t.text == "eighth") && prev.class != cNum && (next.class == cRole && !r.ofNext(i)) {
		t.be(cOrd, "3")
	}
}

func (r *reader) ofNext(i int) bool { return r.after(i).class == cOf }

// currency: a sign behind its number is a unit: 2,40 €/kg.
func (r *reader) currency(i int) {
	if r.before(i).numeric() && !r.after(i).opens() {
		r.tokens[i].be(cUnit, "$")
	}
}

// pronoun: "that's the old one", "for this one": one counts only before something
// to count, in a longer number, or as all that is said.
func (r *reader) pronoun(i int) {
	t := &r.tokens[i]
	if t.text != "one" || len(r.tokens) <= 2 {
		return
	}
	prev, next := r.before(i), r.after(i)
	counts := next.class == cUnit || next.class == cScale || next.class == cFrac || next.class == cPoint || next.class == cPer || next.class == cNum || next.class == cClash ||
		next.class == cNumFrac || next.counted() || next.class == cAnd && (r.after(i+1).class == cFrac || r.after(i+1).class == cArt || r.after(i+1).class == cNum) || next.class == cRange || next.class == cOh || next.class == cCrop
	numbered := prev.class == cRole && (prev.key == "gate" || prev.key == "load" || prev.key == "jar" || prev.key == "field") || prev.numeric() || prev.class == cPoint || prev.class == cOh || prev.class == cAnd || prev.class == cRange
	if !counts && !numbered {
		t.be(cFiller, "one")
	}
}

// timeWord: "past", "after", "till" mean a time of day only there; the clock pass
// has taken those.
func (r *reader) timeWord(i int) {
	t := &r.tokens[i]
	switch t.key {
	case "past", "to", "oclock":
		t.be(cFiller, t.key)
	}
}

// labels: a number right behind "load", "field" or "lote" that no unit follows
// numbers the thing ("load 4 done", "field 12 needs 40 acres").
func (r *reader) labels() {
	for i := 1; i < len(r.tokens); i++ {
		t, prev := &r.tokens[i], &r.tokens[i-1]
		if t.class != cNum || t.span > 1 {
			continue
		}
		thing := prev.class == cRole && (prev.key == "load" || prev.key == "field") && !prev.plural() && prev.text != "area" && prev.text != "superficie" || prev.class == cLabel ||
			prev.class == cAct && (prev.key == "field_switch" && namesField(prev.text) || prev.key == "log" && (strings.HasSuffix(prev.text, " load") || strings.HasSuffix(prev.text, " carga")))
		next := r.after(i)
		if !thing || next.class == cUnit || next.class == cScale || next.class == cPer || next.class == cClash || next.class == cRange || next.class == cFrac ||
			next.class == cPerLoad || next.class == cNum && next.word && t.word {
			continue
		}
		if n, err := strconv.Atoi(t.key); err == nil && n > 0 && n < 200 {
			t.class = cOrd
		}
	}
	r.jarLabels()
}

// jarLabels: in "jar 1 had 22 jar 2 had 31" the small number right behind "jar" is
// its label when a count follows before the next jar.
func (r *reader) jarLabels() {
	for i := 0; i+1 < len(r.tokens); i++ { // "in five jars, 18 22 20 25 15": five is no count
		t, next := &r.tokens[i], &r.tokens[i+1]
		if t.class == cNum && next.class == cRole && next.key == "jar" && next.plural() && r.numbers() > 3 && r.firstNumber() == i {
			t.class = cOrd
		}
	}
	for i := 1; i < len(r.tokens); i++ {
		t, prev := &r.tokens[i], &r.tokens[i-1]
		if t.class != cNum || prev.class != cRole || prev.key != "jar" || prev.plural() || len(t.key) > 2 || !r.twice(prev.text) {
			continue
		}
		for k := i + 1; k < len(r.tokens) && k <= i+4; k++ {
			switch n := &r.tokens[k]; n.class {
			case cNum:
				t.class = cOrd
			case cSkip, cFiller, cComma, cQ:
				continue
			}
			break
		}
	}
}

// firstNumber is the index of the first number.
func (r *reader) firstNumber() int {
	for i := range r.tokens {
		if r.tokens[i].class == cNum {
			return i
		}
	}
	return -1
}

// numbers counts the numbers of the message.
func (r *reader) numbers() int {
	n := 0
	for i := range r.tokens {
		if r.tokens[i].class == cNum {
			n++
		}
	}
	return n
}

// twice says whether a word stands in the message more than once.
func (r *reader) twice(text string) bool {
	n := 0
	for i := range r.tokens {
		if r.tokens[i].text == text {
			n++
		}
	}
	return n > 1
}

// namesField says whether an act's words end in the word for a field.
func namesField(s string) bool {
	for _, w := range [...]string{"field", "lote", "campo", "parcela"} {
		if strings.HasSuffix(s, w) {
			return true
		}
	}
	return false
}
