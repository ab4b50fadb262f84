package parse

import (
	"strconv"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// jarUnit are the units that a jar goes by without a number: "quart jar", "frasco de
// litro". A quart or a pint is a jar's size wherever it stands.
var jarUnit = map[string]bool{"qt": true, "pt": true, "imp qt": true, "imp pt": true, "gal": true, "L": true}

func smallUnit(key string) bool {
	return key == "qt" || key == "pt" || key == "mL" || key == "imp qt" || key == "imp pt"
}

// isJar says whether token i names what seeds are counted in.
func (r *reader) isJar(i int) bool {
	t := r.at(i)
	return t.class == cRole && t.key == "jar" && !countWord[t.text]
}

// countWord are the words of counting that stand for jars without naming one.
var countWord = map[string]bool{"count": true, "counts": true, "counted": true, "i counted": true, "we counted": true, "sample": true, "samples": true, "conteo": true, "conteos": true,
	"conte": true, "contamos": true, "conto": true, "muestra": true, "muestras": true, "muestreo": true}

// jarSizes gives a jar's unit the one that nobody says: "a quart jar", "frasco de
// litro"; and "un cuarto" of a jar its unit.
func (r *reader) jarSizes() {
	r.countVerbs()
	if !r.saysJar() {
		return
	}
	for i := 0; i < len(r.tokens); i++ {
		t := &r.tokens[i]
		if t.class == cFrac && t.text == "cuarto" && r.jarBefore(i) && r.after(i).class != cUnit && r.after(i).class != cOf {
			if r.metricRate() {
				continue // a quarter of a litre is as likely: asked about
			}
			t.be(cUnit, "qt") // frasco de un cuarto
		}
		if t.class == cDash && r.before(i).class == cFrac && r.after(i).class == cUnit {
			t.class = cSkip // half-gallon jar
		}
		if t.class != cUnit || !jarUnit[t.key] {
			continue
		}
		r.severalJars(i)
		if !r.sizeUnsaid(i) {
			continue
		}
		if smallUnit(t.key) || r.jarBehind(i) || r.jarBefore(i) {
			r.insert(i, token{class: cNum, key: "1", from: t.from, to: t.from, word: true})
			i++
		}
	}
}

// countVerbs: "counted" is of seeds in jars where a jar, seeds or a list of numbers is
// named besides: "i counted 12 bags" and "counted 8 so far" are of something else.
func (r *reader) countVerbs() {
	at, seeds, things := -1, r.ctx.Jars, false
	for i := range r.tokens {
		switch t := &r.tokens[i]; {
		case t.class == cRole && t.key == "jar" && countVerb[t.text]:
			at = i
		case t.class == cRole && (t.key == "jar" || t.key == "seed"), t.class == cUnit && smallUnit(t.key), t.class == cNoun && t.key == "sample_cv":
			seeds = true
		case t.counted(), t.class == cNoun && t.key == "bags":
			things = true
		}
	}
	if at >= 0 && !seeds && (things || r.numbers() < fewCounts) {
		r.tokens[at].be(cFiller, r.tokens[at].text)
	}
}

// fewCounts is how many numbers behind "counted" make a list of jars by themselves.
const fewCounts = 3

var countVerb = map[string]bool{"counted": true, "i counted": true, "we counted": true, "conte": true, "contamos": true, "conto": true}

// severalJars: in "two quart jars, 14 and 22" the number is of jars, and their size is one;
// in "two 1 quart jars" the first number is.
func (r *reader) severalJars(i int) {
	if !r.jarsBehind(i) {
		return
	}
	n, first := r.before(i), r.at(i-2)
	if first.class == cNum {
		if n.class == cNum && first.word != n.word {
			n = first
		} else {
			return
		}
	}
	if n.class == cNum && len(n.key) == 1 && n.key > "1" {
		n.class = cOrd
	}
}

// jarsBehind says whether more than one jar stands right behind token i.
func (r *reader) jarsBehind(i int) bool {
	for k := i + 1; k <= i+3; k++ {
		if r.isJar(k) {
			return r.at(k).plural()
		}
	}
	return false
}

// saysJar says whether a jar, or a unit that only jars have, is named.
func (r *reader) saysJar() bool {
	for i := range r.tokens {
		if t := &r.tokens[i]; t.class == cRole && t.key == "jar" || t.class == cUnit && smallUnit(t.key) {
			return true
		}
	}
	return false
}

// sizeUnsaid says whether the unit at token i has no number, and is not what
// is converted to.
func (r *reader) sizeUnsaid(i int) bool {
	prev := r.before(i)
	if (prev.class == cArt || prev.class == cUn) && (r.at(i-2).class == cFrac || r.at(i-2).class == cNumFrac) {
		return false // half a gallon jar
	}
	switch {
	case prev.numeric(), prev.class == cUn, prev.class == cConv, prev.class == cPoint, prev.class == cSlash, prev.class == cUnit:
		return false
	case prev.class == cQ:
		return prev.key == "is"
	case prev.class == cHom:
		return prev.text != "to"
	}
	return true
}

// jarBehind says whether a jar stands right behind token i: "quart jar", "pint mason jar".
func (r *reader) jarBehind(i int) bool {
	for k := i + 1; k <= i+3; k++ {
		switch t := r.at(k); {
		case r.isJar(k):
			return true
		case t.class == cSkip, t.class == cDash, t.class == cFiller && k < len(r.tokens), t.class == cWord, t.text == "sample":
		default:
			return false
		}
	}
	return false
}

// jarBefore says whether a jar stands before token i with nothing but joints between:
// "frasco de un", "the jar is a", "jars are".
func (r *reader) jarBefore(i int) bool {
	for k := i - 1; k >= 0 && k >= i-5; k-- {
		switch t := r.at(k); {
		case r.isJar(k):
			return true
		case t.class == cSkip, t.class == cOf, t.class == cUn, t.class == cArt, t.class == cFiller, t.class == cMy, t.class == cAbout, t.class == cQ && t.key == "is":
		default:
			return false
		}
	}
	return false
}

// metricRate says whether ground or seed is in metric units.
func (r *reader) metricRate() bool {
	for i := range r.tokens {
		if t := &r.tokens[i]; t.class == cUnit && (t.key == "ha" || t.key == "m3" || t.key == "kg" || strings.HasSuffix(t.key, "/ha")) {
			return true
		}
	}
	return r.ctx.Units.System == unit.Metric
}

// onlyCounts says whether right after a word about jars the message is a list of bare
// numbers and nothing else: "29, 41, 22 and 35 ok?", "took two more, 22 and 31".
func (r *reader) onlyCounts() bool {
	if !r.ctx.Jars || r.numbers() < 2 {
		return false
	}
	for i := range r.tokens {
		switch t := &r.tokens[i]; t.class {
		case cNum:
			if v, err := strconv.ParseFloat(t.key, 64); err != nil || v > mostSeeds {
				return false
			}
		case cOrd, cComma, cAnd, cSlash, cSkip, cFiller, cWord, cQuestion, cHom, cArt, cUn, cMy:
		case cQ:
			if t.key != "is" {
				return false
			}
		case cRole:
			if t.key != "seed" {
				return false
			}
		case cNoun:
			if t.key != "verdict" && t.key != "sample_cv" {
				return false
			}
		default:
			return false
		}
	}
	return true
}

// mostSeeds is more seeds than anybody counts in a jar.
const mostSeeds = 1000

// jarsTold takes the number of jars that come with their counts out of these: "took two
// more, 22 and 31", "tomé tres: 22, 31 y 18".
func (r *reader) jarsTold() {
	first, all := r.firstNumber(), r.numbers()
	if first < 0 || all < 3 || r.tokens[first].key != strconv.Itoa(all-1) {
		return
	}
	for i := first + 1; i < len(r.tokens); i++ {
		switch t := &r.tokens[i]; {
		case t.class == cComma:
			r.tokens[first].class = cOrd
			return
		case t.class == cNum, t.class == cUnit, t.class == cRole && t.key != "jar":
			return
		}
	}
}

// largestJar is the largest jar that is taken for one, in gallons: something over a
// gallon. No tank is that small.
const largestJar = 1.6

// jarSized says whether an amount is the size of a jar: small enough, and a jar beside
// it, or seeds counted and no other vessel.
func (b *binder) jarSized(q *qty) bool {
	if q.dim() != unit.DimVolume || q.perLoad || q.per != "" || len(q.list) > 0 || q.odd || q.unit.ToBase(q.max) > largestJar || b.req.Convert != nil {
		return false
	}
	switch {
	case b.jarBehind(q.j - 1), b.jarBefore(q.i):
		return true
	case b.has(cRole, "pail", "heel"):
		return false
	case b.sampled():
		return true
	}
	return smallUnit(q.unit.Symbol) && (b.has(cRole, "seed") || len(b.tokens) <= 4 && (q.max <= 1 || q.unit.Symbol == "mL") && !b.has(cConv))
}

// jars binds the sizes of jars before a volume can be taken for a tank.
func (b *binder) jars() {
	for k := range b.qs {
		q := &b.qs[k]
		if q.done || q.bare() && q.part && b.jarBefore(q.i) {
			b.unsure(q) // "frasco de un cuarto" in litres: of what?
			continue
		}
		if !b.jarSized(q) {
			continue
		}
		b.cur = q
		for i := q.j; i <= q.j+2 && i < len(b.tokens); i++ {
			if b.isJar(i) {
				b.tokens[i].used = true
			}
		}
		b.set(q, engine.JarVolume, "", "quart jar")
	}
	b.cur = nil
}

// unsure leaves an amount to be asked about.
func (b *binder) unsure(q *qty) {
	if !q.done {
		q.done, q.rule = true, "a part of what nobody said"
		b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
	}
}

// jarCount says whether a bare number is the count of a jar: among jars any is that no
// other word places; where one number is said to be of seeds, that one and those listed
// with it: "rye 60 at 7000, qt jar 14 seeds".
func (b *binder) jarCount(q *qty, n near) bool {
	if !b.isCount(q) || !b.sampled() && !b.given(engine.JarVolume) {
		return false
	}
	if b.raisedTo(q) {
		return false
	}
	marked := false
	for k := range b.qs {
		if o := &b.qs[k]; b.ofSeeds(o) {
			if marked = true; b.oneList(q, o) {
				return true
			}
		}
	}
	if marked {
		return false
	}
	return b.sampled() && !(n.at && q.min > mostSeeds)
}

// raisedTo says whether a bare number is what the crop before it is changed to: "bump rye
// to 50 and redo the jar number", "sube el centeno a 80".
func (b *binder) raisedTo(q *qty) bool {
	joint := b.at(q.i - 1).text
	c := b.before(q.i - 1).class
	return (joint == "to" || joint == "a") && (c == cCrop || c == cRyeQ || c == cCropQ)
}

// ofSeeds says whether seeds stand right behind a number: "14 rye seeds", "38 semillas".
func (b *binder) ofSeeds(q *qty) bool {
	if !q.bare() || !b.isCount(q) {
		return false
	}
	for i := q.j; i < len(b.tokens) && i <= q.j+3; i++ {
		switch t := &b.tokens[i]; t.class {
		case cSkip, cFiller, cCrop, cRyeQ, cCropQ, cOf, cKind:
		case cRole:
			return t.key == "seed"
		default:
			return false
		}
	}
	return false
}

// oneList says whether two numbers are one or stand in one list, with nothing but bare
// numbers and joints between.
func (b *binder) oneList(q, o *qty) bool {
	from, to := min(q.j, o.j), max(q.i, o.i)
	for i := from; i < to; i++ {
		if t := &b.tokens[i]; t.class != cComma && t.class != cSkip && t.class != cAnd && t.class != cFiller && t.class != cNum {
			return false
		}
	}
	return true
}

// seedsAPound: "18,000 seeds/lb", "seed count 18,000", "18 mil semillas por libra" is
// how small a crop's seed is.
func (b *binder) seedsAPound(q *qty, n near) bool {
	if q.min < 500 || q.unit != nil || q.part {
		return false
	}
	text, at := "", -1
	switch before := b.nextWord(q.i-1, -1); {
	case q.per == "lb" || q.per == "kg":
		text = q.per
	case q.per != "":
		return false
	case b.at(q.j).class == cNoun && b.at(q.j).key == "seeds_per_weight":
		at = q.j
	case b.at(before).class == cNoun && b.at(before).key == "seeds_per_weight":
		at = before
	default:
		return false
	}
	if at >= 0 {
		text = b.tokens[at].text
		b.claim(at)
	}
	metric := strings.Contains(text, "kg") || strings.Contains(text, "kilo")
	q.unit, q.per = unit.Must(pick(metric, "seeds/kg", "seeds/lb")), ""
	of := b.onlyCrop()
	if of < 0 {
		of = b.cropFor(q, n)
	}
	b.set(q, engine.SeedsPerWeight, b.cropNear(of), "18,000 seeds/lb")
	return true
}

// jarAsked: "how many rye seeds should I see in a quart jar", "redo the jar number" ask
// for the count that an even mix gives.
func (a *asker) jarAsked() bool {
	if a.given(engine.SampleCount) || !a.sampled() && !a.given(engine.JarVolume) {
		return false
	}
	for i := range a.tokens {
		switch t := &a.tokens[i]; {
		case t.class == cQ && (t.key == "howmany" || t.key == "howmuch") && !a.jarsThemselves(i+1) && a.seedsMeant(i),
			t.class == cQ && t.key == "what" && a.seedsMeant(i) && a.supposed(),
			t.class == cQ && t.key == "what" && a.isJar(a.nextWord(i+1, 1)) && a.numberOf(a.nextWord(i+1, 1)),
			a.isJar(i) && a.numberOf(i) && a.anew():
			a.add(engine.TopicSamples, engine.ExpectedCount, i)
			if t.class == cQ {
				a.req.Question = true
			}
			return true
		}
	}
	return false
}

// jarsThemselves says whether jars follow, not their seeds: "how many jars should I take".
func (a *asker) jarsThemselves(i int) bool {
	i = a.nextWord(i, 1)
	return a.isJar(i) && !strings.HasPrefix(a.tokens[i].text, "semilla")
}

// seedsMeant says whether what is asked behind token i is a count of seeds.
func (a *asker) seedsMeant(i int) bool {
	for k := i + 1; k < len(a.tokens); k++ {
		switch t := &a.tokens[k]; t.class {
		case cRole:
			if t.key == "seed" || t.key == "jar" {
				return true
			}
			return false
		case cUnit:
			if !a.inAmount(k, nil) {
				return false // how many gallons
			}
		case cNoun:
			return t.key == "seeds_per_volume"
		}
	}
	return false
}

// supposed says whether it is about what there should be.
func (a *asker) supposed() bool {
	for _, w := range [...]string{"should", "expect", "supposed", "ought", "deb", "tendria", "esper"} {
		if strings.Contains(a.text, w) {
			return true
		}
	}
	return false
}

var numberWord = map[string]bool{"number": true, "numbers": true, "figure": true, "expectation": true, "numero": true, "cifra": true, "cuenta": true, "la cuenta": true}

// numberOf says whether a word for a number stands beside the jar at token i: "the jar
// number", "la cuenta del frasco".
func (a *asker) numberOf(i int) bool {
	before, behind := a.at(a.nextWord(i-1, -1)).text, a.at(i+1).text
	return numberWord[behind] || countWord[behind] || numberWord[before] || countWord[before]
}

// anew says whether something is to be worked out once more.
func (a *asker) anew() bool {
	for _, w := range [...]string{"redo", "again", "rework", "refigure", "recalc", "re-do", "rerun", "update", "rehaz", "rehacer", "recalcul", "otra vez", "de nuevo", "vuelve", "repite", "actualiza"} {
		if strings.Contains(a.text, w) {
			return true
		}
	}
	return false
}
