package parse

import (
	"strconv"
	"strings"
)

// resolve settles the words that mean several things by what stands beside them,
// so that the grammar can go by class alone. Each rule carries an example.
func (r *reader) resolve() {
	r.runTimes()
	r.firstYear()
	r.clocks()
	r.dates()
	r.jarSizes()
	r.separate()
	r.secondLoad()
	r.numbered()
	r.addsLoads()
	r.cropUsed()
	r.seedToFinish()
	r.loadsAndPart()
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
	f[cOf], f[cNutW], f[cNut] = (*reader).of, (*reader).bareN, (*reader).organicWord
	f[cPair], f[cDozen], f[cFrac] = (*reader).pair, (*reader).dozen, (*reader).fraction
	f[cRole] = (*reader).total
	f[cVague] = (*reader).tonsOf
	f[cAct] = (*reader).backTo
	f[cNot] = (*reader).loweredTo
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
	if t := &r.tokens[i]; t.text == "n" && !r.says(cNut) && !r.says(cAnalysis) && (r.seedBehind(i) || r.soaks(i)) {
		t.be(cComma, "and") // how much ground n seed
		t.text = "and"
	}
}

// seedBehind says whether seed is what follows token i, with no number between.
func (r *reader) seedBehind(i int) bool {
	t := r.after(i)
	return t.class == cRole && t.key == "seed" && !r.before(i).numeric()
}

// soaks says whether soaking is asked about behind token i.
func (r *reader) soaks(i int) bool {
	for k := i + 1; k < len(r.tokens) && k <= i+3; k++ {
		if t := &r.tokens[k]; t.class == cNoun && t.key == "soak" {
			return true
		}
	}
	return false
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
		case t.text == "to" && prev.class == cRole && next.class == cUnit && next.span <= 1 && !r.after(i+1).opens() && r.after(i+1).class != cPer && r.says(cUnit):
			t.be(cConv, "to") // 3400 gallon tank to litres
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
	case next.class == cUnit && (next.key == "min" || next.key == "h") && t.text == "a" && (prev.class == cUnitIn || prev.text == "in" || prev.text == "took" || prev.text == "takes" || prev.text == "for"):
		t.be(cNum, "1") // 150 metres in a minute ten
	case next.class == cUnit && next.key == "bu" && t.text == "a" && !behindAmount && perUnit[r.at(i+3).key]:
		t.be(cNum, "1") // a bushel an acre
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

// nutrient says whether token i names one.
func (r *reader) nutrient(i int) bool {
	c := r.at(i).class
	return c == cNut || c == cNutW || c == cNutQ
}

// total: right before or behind a number on a lab sheet it is total nitrogen: "ammonium 6.2 total 28.4".
func (r *reader) total(i int) {
	t := &r.tokens[i]
	if t.key == "return" && (t.text == "home" || t.text == "come back" || t.text == "back" && (r.before(i).text == "came" || r.before(i).text == "comes")) && !r.hauls(i) {
		t.be(cFiller, t.text) // the test came back 24, 5 on the home place
		return
	}
	if t.text == "marca" && r.before(i).class == cRole && r.before(i).key == "tank" {
		t.be(cFiller, t.text) // el tanque marca tres cuartos
		return
	}
	behind := r.before(i).class == cNum && !r.nutrient(i-2) && (r.says(cNut) || r.says(cAnalysis)) // 28 total, 14 ammonia
	if t.text == "total" && (behind || r.after(i).class == cNum && r.says(cNut)) {
		for k := range r.tokens {
			if !behind && r.tokens[k].class == cNut && r.tokens[k].key == "total_n" {
				return
			}
		}
		t.be(cNut, "total_n")
	}
}

// hauls says whether the message speaks of the way or of time besides the word at token i.
func (r *reader) hauls(i int) bool {
	for k := range r.tokens {
		t := &r.tokens[k]
		if k != i && t.class == cRole && (t.key == "fill" || t.key == "drive" || t.key == "eachway" || t.key == "return" || t.key == "spread" || t.key == "out") || t.class == cUnit && (t.key == "min" || t.key == "h") || t.class == cNoun && (t.key == "cycle_time" || t.key == "loads_per_hour") || t.class == cFull {
			return true
		}
	}
	return false
}

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
	if t.text == "k" && !prev.numeric() && (next.class == cFiller || next.class == cComma) && (i == 0 || prev.class == cFiller || prev.class == cComma || prev.class == cAct) && !r.says(cNut) && !r.says(cNutW) {
		t.be(cFiller, "k") // "k so the new tank holds 4800"
		return
	}
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

// backTo: "go back to 6500" corrects a number, "go back to field 12" changes fields.
func (r *reader) backTo(i int) {
	if t, next := &r.tokens[i], r.after(i); t.key == "field_switch" && next.class == cNum && !namesField(t.text) {
		if v, err := strconv.ParseFloat(next.key, 64); err == nil && v >= 100 || r.after(i+1).class == cUnit || r.after(i+1).class == cScale {
			t.be(cFix, t.text)
		}
	}
}

// tonsOf: "tons of seed" is a lot of it, "3 tons of oats" a weight.
func (r *reader) tonsOf(i int) {
	if t := &r.tokens[i]; r.before(i).numeric() && (t.text == "tons of" || t.text == "a ton of" || t.text == "ton of") {
		t.be(cClash, "ton?")
	}
}

func (r *reader) dozen(i int) {
	r.tokens[i].be(cNum, "12")
}

// fraction: "third" behind "the" is an ordinal; a quarter with nothing to be a part
// of is left as it is.
func (r *reader) fraction(i int) {
	t, prev, next := &r.tokens[i], r.before(i), r.after(i)
	isOne := next.text == "one" || next.text == "one's" || next.text == "ones"
	if n := ordinalWord[t.text]; n != "" && (isOne || next.class == cClock) {
		if t.be(cOrd, n); isOne {
			next.be(cRole, "load") // the third one went on at 9:40
		}
		return
	}
	if (t.text == "third" || t.text == "fourth" || t.text == "fifth" || t.text == "eighth") && prev.class != cNum && (next.class == cRole && !r.ofNext(i) || next.class == cAct && strings.HasPrefix(next.text, "load ")) {
		t.be(cOrd, ordinalWord[t.text])
	}
}

// ordinalWord are the fractions that also count in order.
var ordinalWord = map[string]string{"third": "3", "fourth": "4", "fifth": "5", "eighth": "8"}

func (r *reader) ofNext(i int) bool { return r.after(i).class == cOf }

// loweredTo: "drop the rate to 5500" sets the rate and takes nothing away.
func (r *reader) loweredTo(i int) {
	if strings.HasPrefix(r.tokens[i].text, "drop") && r.at(i+1).class == cRole && r.at(i+2).text == "to" && r.at(i+3).class == cNum {
		r.tokens[i].class = cFiller
	}
}
