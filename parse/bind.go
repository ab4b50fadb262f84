package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// binder gives each amount of one message its quantity. The rules are tried in
// the order of the table in rules.go; each is named by an example. A cue (a role
// word, a crop) speaks for one amount only: the nearer, the one before it first.
type binder struct {
	*reader
	qs       []qty
	req      *Request
	claimed  []bool // by token
	metric   bool   // what a number without a unit is in
	trace    *Trace
	unformed bool // a need or limit of P is waiting for its form
	cur      *qty // the amount being bound: what it claims becomes part of its place
}

func (b *binder) key(i int) string {
	if i < 0 {
		return ""
	}
	return b.tokens[i].key
}

func (b *binder) claim(i int) {
	if i < 0 {
		return
	}
	b.claimed[i], b.tokens[i].used = true, true
	if q := b.cur; q != nil {
		q.lo, q.hi = min(q.lo, i), max(q.hi, i+1)
	}
}

// has says whether a role word stands anywhere in the message.
func (b *binder) has(class class, keys ...string) bool {
	for i := range b.tokens {
		if b.tokens[i].class != class {
			continue
		}
		for _, k := range keys {
			if b.tokens[i].key == k {
				return true
			}
		}
		if len(keys) == 0 {
			return true
		}
	}
	return false
}

// set binds an amount.
func (b *binder) set(q *qty, s engine.Slot, of, rule string) {
	q.slot, q.of, q.rule, q.done = s, of, rule, true
}

// given says whether the slot is bound already.
func (b *binder) given(s engine.Slot) bool {
	for i := range b.qs {
		if b.qs[i].slot == s {
			return true
		}
	}
	return false
}

// bindAll binds every amount: those whose unit or role decides first, then those
// that only what is left open can place.
func (b *binder) bindAll() {
	b.othersNumbers()
	b.jars()
	b.lists()
	b.byFeet()
	b.ownShares()
	b.eachItsOwn()
	b.ofALoad()
	b.wantedRate()
	b.startHour()
	b.quitAt()
	b.rigs()
	b.wholeRound()
	b.workingDay()
	b.numberedField()
	b.refillTo()
	b.frostIn()
	b.gateTable()
	b.tubes()
	b.stirTime()
	for k := range b.qs {
		if q := &b.qs[k]; !q.done && !b.later(q) {
			b.cur = q
			b.bind(q)
		}
	}
	for k := range b.qs {
		if q := &b.qs[k]; !q.done {
			b.cur = q
			b.bind(q)
		}
	}
	b.cur = nil
	b.convertAlone()
	for k := range b.qs {
		if q := &b.qs[k]; !q.done && q.bare() {
			b.bindOpen(q)
		}
	}
	for k := range b.qs {
		b.emptiedIn(&b.qs[k])
	}
	b.usableTank()
	b.cappedLab()
	b.refilled()
	b.oneBag()
}

// usableTank: of "a 5250 gallon tank, 5000 usable" the operator fills the 5000.
func (b *binder) usableTank() {
	for i := range b.tokens {
		if !usableWords[b.tokens[i].text] {
			continue
		}
		for k := range b.qs {
			if q := &b.qs[k]; q.slot == engine.TankVolume && q.j <= i && b.gap(q.j, i) > 0 && b.count(engine.TankVolume) > 1 || q.slot == engine.TankVolume && q.i > i && b.gap(i+1, q.i) > 1 && b.count(engine.TankVolume) > 1 {
				b.withdraw(q)
			}
		}
	}
}

var usableWords = words("usable", "usable capacity", "usable volume", "working capacity", "utiles", "utilizables", "capacidad util", "de capacidad util")

// idle leaves out a number of something that has no part in the job ("217 cows",
// "4 bar on the tyres"): it is listed, not asked about. An unknown word right behind a
// number is asked about elsewhere.
func (b *binder) idle(q *qty, t *token) {
	if t.class != cIdle {
		return
	}
	t.used = true
	q.done, q.rule = true, "nothing of the job"
	b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j+1))
}

// restOfTag: "pur 98.5 inert 1.5": where the tag's words stand before their numbers, what
// else a tag tells of a lot does too. Nothing is worked out from it: it is listed.
func (b *binder) restOfTag(q *qty) bool {
	if !q.bare() && q.dim() != unit.DimFraction {
		return false
	}
	from, to := q.i-1, q.j
	if b.tagValuesFirst() {
		from, to = q.i, q.j+1
	}
	if !b.tagRest(from) && !b.tagRest(to-1) {
		return false
	}
	for i := from; i < to; i++ {
		b.tokens[i].used = true
	}
	q.done, q.rule = true, "a tag's rest"
	b.req.Unread = append(b.req.Unread, b.piece(from, to))
	return true
}

// tagRest says whether token i is what a tag tells besides purity and germination.
func (b *binder) tagRest(i int) bool {
	t := b.at(i)
	return t.class == cIdle && t.key == "tag"
}

// tagValuesFirst says whether the numbers of a tag stand before their words: "98.5 pur 1.5
// inert". The first word tells.
func (b *binder) tagValuesFirst() bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; b.tagRest(i) || t.class == cRole && tagRole[t.key] {
			return b.amountEndsAt(i)
		}
	}
	return false
}

// amountEndsAt says whether an amount ends right before token i.
func (b *binder) amountEndsAt(i int) bool {
	for k := range b.qs {
		if b.qs[k].j == i {
			return true
		}
	}
	return false
}

// spelled says whether an unknown word is one that people put behind numbers without
// meaning anything by it.
func (b *binder) spelled(t *token) bool { return len(t.text) < 2 }

// later says whether an amount waits for those that a role word places: a volume
// with no word of its own is the tank only when no other one is.
func (b *binder) later(q *qty) bool {
	if q.dim() != unit.DimVolume {
		return false
	}
	n := b.look(q)
	return n.left < 0 && n.right < 0
}

func (b *binder) bind(q *qty) {
	if t := b.at(q.j); q.bare() && t.class == cIdle && haulers[t.text] && (b.hauls() || len(b.qs) == 1 && b.has(cWhatIf)) {
		t.used = true
		q.hi = q.j + 1
		b.set(q, engine.Tankers, "", "4 trucks, 22 min round trip")
		return
	}
	if b.restOfTag(q) {
		return
	}
	if t := b.at(q.j); q.bare() && t.class == cIdle && t.key != "tag" || q.bare() && t.class == cWord && t.fix == "" && !b.spelled(t) && !(b.sampled() && jarPlace[t.text]) && !b.roleBefore(q) {
		b.idle(q, t)
		return
	}
	if b.onMark(q) {
		return // "a qué velocidad en la 4": no speed, no rate
	}
	if q.odd || len(q.list) > 0 {
		return // a number nobody can be sure of is asked about, not bound
	}
	if b.trace != nil {
		q.passed = b.passedOver(q)
	}
	b.unitAskedBehind(q)
	n := b.look(q)
	if q.clash != "" {
		b.settle(q, n)
	}
	if q.unit != nil && b.wrongUnit(q) {
		return
	}
	switch {
	case q.clash != "", b.returns(q):
		return
	case q.unit != nil:
		b.byUnit(q, n)
	case q.per != "":
		b.barePer(q, n)
	case (n.at || b.at(q.i-1).text == "rated") && b.shaftSpeed(q, n):
	default:
		b.byRole(q, n)
	}
}

// roleBefore says whether a word for something that a bare number fits stands right
// before it: "tank 3000 enuf agitation".
func (b *binder) roleBefore(q *qty) bool {
	t := b.at(q.i - 1)
	return t.class == cRole && hardRole[t.key] && !b.claimed[q.i-1]
}

// hardRole are words whose amounts have one dimension each: another one is a slip.
var hardRole = map[string]bool{"tank": true, "width": true, "speed": true, "pump": true}

// unitAskedBehind: in "gross 61,240 tare 22,800 gal?" the gallons are asked for.
func (b *binder) unitAskedBehind(q *qty) {
	if q.dim() != unit.DimVolume || b.at(q.j).class != cQuestion || q.i == 0 {
		return
	}
	if t := &b.tokens[q.i-1]; t.class == cRole && (t.key == "tare" || t.key == "gross") {
		q.unit = nil
		b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicWeigh, Slot: engine.LoadVolume})
	}
}

// wrongUnit: "tank 3000 acres", "speed 12 ft": the word right before the amount, and
// no other, is for something else.
func (b *binder) wrongUnit(q *qty) bool {
	i := q.i - 1
	for i >= 0 && (b.tokens[i].class == cSkip || b.tokens[i].class == cOf || b.tokens[i].class == cQ && b.tokens[i].key == "is") {
		i--
	}
	if i < 0 || b.tokens[i].class != cRole || !hardRole[b.tokens[i].key] || b.claimed[i] || roleTakes(b.tokens[i].key, q.dim()) || runVerb[b.tokens[i].text] {
		return false
	}
	for k := range b.qs {
		if &b.qs[k] != q && b.qs[k].j <= i && roleTakes(b.tokens[i].key, b.qs[k].whatever()) {
			return false // "3000 gallon tank 40 acres"
		}
	}
	if t := b.at(q.j); t.class == cRole || t.class == cCrop || len(b.qs) > 2 {
		return false
	}
	b.problem(&engine.Problem{Code: engine.WrongUnit, Slot: mentioned[b.tokens[i].key], Words: []string{b.piece(q.i, q.j).Text}})
	b.req.Unread = append(b.req.Unread, b.piece(i, q.j))
	q.done, q.rule = true, "a unit that does not fit its word"
	b.tokens[i].used = true
	return true
}

// settle decides a bare t, m, g or ton by its company: a metre beside a width or in
// a metric message, a tonne in a metric one, a US ton among pounds and acres.
func (b *binder) settle(q *qty, n near) {
	metric := b.saysMetric()
	symbol := ""
	switch q.clash {
	case "m?":
		role := b.key(n.left) + b.key(n.right)
		if metric || b.timedOnly() || role == "width" || role == "course" || b.metric || b.has(cQ, "howwide") {
			symbol = "m"
		}
	case "g?":
		switch {
		case q.max >= 200 && (b.key(n.left) == "tank" || b.key(n.right) == "tank"):
			symbol = "gal"
		case metric && q.max < 200:
			symbol = "g"
		}
	case "t?":
		if metric || b.metric {
			symbol = "t"
		}
	case "ton?":
		switch {
		case metric || b.metric:
			symbol = "t"
		case b.saysUS():
			symbol = "ton"
		}
	}
	if symbol != "" {
		q.unit, q.clash = unit.Find(symbol), ""
	}
}

func (b *binder) saysMetric() bool {
	for k := range b.qs {
		if b.qs[k].slot == engine.GateOpening || b.jarSized(&b.qs[k]) {
			continue // a gate has the marks it has, a cupboard the jars
		}
		if u := b.qs[k].unit; u != nil && u.System == unit.Metric {
			return true
		}
		if p := b.qs[k].per; p == "ha" {
			return true
		}
	}
	return false
}

func (b *binder) saysUS() bool {
	for k := range b.qs {
		if b.qs[k].slot == engine.GateOpening || b.jarSized(&b.qs[k]) {
			continue
		}
		u := b.qs[k].unit
		if u != nil && u.System == unit.US && u.Dim != unit.DimTime && u.Dim != unit.DimFraction && u.Dim != unit.DimMoney && u.Dim != unit.None {
			return true
		}
		if b.qs[k].per == "acre" {
			return true
		}
	}
	return false
}

func pick(metric bool, m, us string) string {
	if metric {
		return m
	}
	return us
}

// seedFits says whether the amount could be a seed rate of the crop at all.
func (b *binder) seedFits(q *qty, symbol string, crop int) bool {
	f := engine.Fact{Slot: engine.SeedRate, Of: b.tokens[crop].key, Min: q.min, Max: q.max, Unit: unit.Find(symbol)}
	return engine.Plausible(&f) == engine.Fine || engine.Plausible(&f) == engine.Unusual
}

// cropFor picks the crop that an amount of seed belongs to: the one behind "of",
// the unclaimed one before it, the one behind it.
func (b *binder) cropFor(q *qty, n near) int {
	switch {
	case n.of && n.rightCrop >= 0:
		return n.rightCrop
	case n.leftCrop >= 0:
		return n.leftCrop
	case n.rightCrop >= 0 && !b.cropOfNext(n.rightCrop, q):
		return n.rightCrop
	}
	return -1
}

// cropOfNext says whether a crop behind an amount is the next one's: "50 lb. Cereal rye
// 60 lb/acre". Where yet another crop follows that one, each stands behind its amount.
func (b *binder) cropOfNext(crop int, q *qty) bool {
	next := b.amountAt2(crop + 1)
	if next == nil || next == q || next.per != "acre" && next.per != "ha" && next.dim() != unit.DimMassPerArea || q.dim() == unit.DimMassPerArea && b.touching(q.j, crop) {
		return false
	}
	for i := next.j; i < len(b.tokens) && b.tokens[i].class != cComma; i++ {
		if t := &b.tokens[i]; t.class == cCrop || t.class == cCropQ || t.class == cRyeQ {
			return false
		}
	}
	return true
}

func (b *binder) nutFor(n near) int {
	if n.rightNut >= 0 {
		return n.rightNut
	}
	return n.leftNut
}

// runVerb tells of a speed or of anything that is run: "running 6500 gal/ac".
var runVerb = words("running", "going", "runnin", "goin")
