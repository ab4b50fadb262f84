package parse

import (
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
)

// byRole binds a bare number: a part of a tank, a lab value, a number by its role
// word or its crop, a rate behind "at".
func (b *binder) byRole(q *qty, n near) {
	switch {
	case b.groundAnHour(q), b.loadsAnHour(q, n), b.bareBag(q, n):
	case b.cyclePartBefore(q) && b.hauls():
		b.claim(q.i - 1)
		q.unit, q.implied = unit.Must("min"), true
		b.set(q, engine.Duration, durationPart[b.key(q.i-1)], "return 4 loads per hr?")
		b.eachWayBehind(q)
	case !q.part && q.max <= 20 && n.right >= 0 && b.touching(q.j, n.right) && b.tokens[n.right].counted() && b.tokens[n.right].key != "bag" && b.tokens[n.right].key != "pail" && (q.max <= 3 || b.tokens[n.right].plural()):
		b.claim(n.right)
		if b.tokens[n.right].key == "tank" && b.hauls() {
			b.set(q, engine.Tankers, "", "3 tankers, 35 min cycle")
			return
		}
		b.set(q, engine.LoadCount, "", "1 tank, 8 loads")
	case q.part && b.partOf(q, n):
	case q.perLoad:
	case q.min >= 200 && b.loadsOf(q):
		q.unit, q.implied = unit.Find(pick(b.metric, "L", "gal")), true
		b.set(q, engine.LoadVolume, "", "43 loads of 3000")
	case b.seedsAPound(q, n):
	case b.jarCount(q, n):
		b.set(q, engine.SampleCount, "", "jars 42 45 39")
	case b.bareNutrient(q, n):
	case n.left >= 0 && tagRole[b.key(n.left)] && b.gap(n.left+1, q.i) == 0 && b.byTable(q, n): // "germ 85 ryegrass 12 lb"
		b.cropOfTag(q, n)
	case b.theOne(q):
		q.unit, q.implied = unit.Find(pick(b.metric, "L", "gal")), true
		b.set(q, engine.TankVolume, "", "with the 4200")
	case eachWord[b.at(q.j).text] && b.given(engine.Tankers) && q.min >= 500:
		q.unit, q.implied = unit.Find(pick(b.metric, "L", "gal")), true
		b.set(q, engine.TankVolume, "", "2 tankers hauling 7000 each")
	case b.bagsOf(q) >= 0:
		if i := b.bagsOf(q); b.tokens[i].class == cRole {
			b.claim(i)
		}
		q.unit, q.implied = unit.Must(pick(b.metric, "kg", "lb")), true
		b.set(q, engine.BagWeight, "", "how many bags of 50")
	case n.left >= 0 && b.key(n.left) == "soiltemp" && b.gap(n.left+1, q.i) == 0 && b.byTable(q, n): // "soil temps 48 ok for ryegrass"
	case b.at(q.i-1).class == cAt && b.poundBefore(q.i-1) && q.max < 20 && b.has(cNoun, "seed_cost") && b.seedAt(q) == nil:
		q.unit, q.implied = unit.Must(pick(b.metric, "$/kg", "$/lb")), true
		b.set(q, engine.SeedPrice, b.key(b.onlyCrop()), "la libra está a 1.85")
	case b.priced(q, n), b.barePriced(q):
	case b.cropTouches(q, n):
	case n.at && q.min >= 200 && b.numberedLoad(): // "corrige la carga 2 a 2700"
	case b.seedSetTo(q):
		q.unit, q.implied = unit.Must(pick(b.metric, "kg/ha", "lb/acre")), true
		b.set(q, engine.SeedRate, b.key(b.onlyCrop()), "cut the seed to 12")
	case b.judgedRate(q):
	case b.seedByVerb(q, n):
	case b.runsAt(q):
	case n.at && b.metric && q.min >= 10 && q.max < 200 && b.given(engine.TankVolume) && !b.given(engine.ApplicationRate) && q.i >= 2 && b.at(q.i-2).class == cUnit && (b.at(q.i-2).key == "m3" || b.at(q.i-2).key == "L"):
		q.unit, q.implied = unit.Must("m3/ha"), true
		b.set(q, engine.ApplicationRate, "", "12 m3 at 40")
	case n.at && q.min >= 200 && !b.roleAt(q, n):
		q.unit, q.implied = unit.Find(pick(b.metric, pick(q.max >= 1500, "L/ha", "m3/ha"), "gal/acre")), true
		b.set(q, engine.ApplicationRate, "", "at 7000")
	case b.byTable(q, n):
		if q.slot == engine.SeedRate || q.slot == engine.SeedShare {
			b.cropOf(q, b.cropFor(q, n))
		}
		if q.slot == engine.BagCount {
			q.of = b.cropNear(b.cropFor(q, n))
		}
		if q.slot == engine.Purity || q.slot == engine.Germination || q.slot == engine.HardSeed || q.slot == engine.Coating {
			b.cropOfTag(q, n)
		}
	case b.bareSeed(q, n):
	}
}

// seedByVerb: "ryegrass at 85 cents a pound, I put 12", "radish for 12 acres at 8": behind a
// verb or "at", a number far too small for slurry is the seed of the one crop.
func (b *binder) seedByVerb(q *qty, n near) bool {
	crop := b.onlyCrop()
	verb := n.left >= 0 && b.tokens[n.left].key == "rate" && b.verb(n.left) && b.gap(n.left+1, q.i) == 0
	if crop < 0 || b.given(engine.SeedRate) || q.max >= 150 || !verb && !n.at || b.has(cRole, "speed", "gate", "width", "pump", "seedrate") || b.amountBetween(crop, q) == nil {
		return false
	}
	if !b.seedBare(q, crop) {
		return false
	}
	if verb {
		b.claim(n.left)
	}
	return true
}

// amountBetween is an amount that stands between token i and another amount.
func (b *binder) amountBetween(i int, q *qty) *qty {
	for k := range b.qs {
		if o := &b.qs[k]; o != q && (o.i >= i && o.j <= q.i || o.i >= q.j && o.j <= i) {
			return o
		}
	}
	return nil
}

// loadsAnHour: "3 loads an hour" is a pace, no count.
func (b *binder) loadsAnHour(q *qty, n near) bool {
	if b.cyclePartBefore(q) {
		return false
	}
	if t := b.at(q.j); t.class == cNoun && t.key == "loads_per_hour" && q.max <= 60 {
		b.claim(q.j)
		b.setPace(q)
		return true
	}
	if n.right < 0 || !b.touching(q.j, n.right) || b.tokens[n.right].key != "load" && b.tokens[n.right].key != "tank" {
		return false
	}
	per := n.right + 1
	if c := b.at(per).class; c == cPer || c == cSlash || c == cArt || c == cFiller {
		per++
	}
	if t := b.at(per); t.class != cUnit || t.key != "h" {
		return false
	}
	b.claim(n.right)
	b.claim(per)
	b.setPace(q)
	return true
}

// theOne: a tank goes by its size: "in the 4200", "con el de 4200".
func (b *binder) theOne(q *qty) bool {
	if q.min < 1000 || q.max > 12000 || b.given(engine.TankVolume) || b.at(q.j).opens() {
		return false
	}
	a, the := b.at(q.i-1).text, b.at(q.i-2).text
	return a == "de" && the == "el" || a == "el de" || a == "the" && (the == "in" || the == "with" || the == "using" || the == "of")
}

// cyclePartBefore says whether the word for a part of a round, still without its time,
// stands right before a bare number.
func (b *binder) cyclePartBefore(q *qty) bool {
	t := b.at(q.i - 1)
	return q.bare() && q.i > 0 && t.class == cRole && !b.claimed[q.i-1] && (t.key == "fill" || t.key == "drive" || t.key == "return" || t.key == "spread") && q.max < 100
}

func (b *binder) setPace(q *qty) {
	q.unit = unit.Must("1/h")
	b.set(q, engine.LoadsPerHour, "", "3 loads an hour")
}

// haulers are tankers by other names, where a round is spoken of.
var haulers = map[string]bool{"trucks": true, "semis": true, "camiones": true, "troques": true, "tractores": true}

// hauls says whether the message is about the round that tankers make.
func (b *binder) hauls() bool {
	return b.has(cNoun, "cycle_time", "loads_per_hour", "area_per_hour") || b.given(engine.CycleTime) || b.has(cRole, "fill", "drive", "return", "eachway")
}

// loadsOf says whether the number is the size of loads that were counted: "43 loads of
// 3000".
func (b *binder) loadsOf(q *qty) bool {
	i := q.i - 1
	if b.at(i).class != cOf && b.at(i).class != cAt {
		return false
	}
	t := b.before(i)
	return t.class == cRole && t.key == "load" && t.plural() && (b.given(engine.LoadCount) || b.given(engine.Area))
}

// numberedLoad says whether a load named by its number is put right.
func (b *binder) numberedLoad() bool { return b.has(cAct, "correct") && b.has(cOrd) }

// roleAt says whether a word of its own stands right before the "at": "pump at 1200".
func (b *binder) roleAt(q *qty, n near) bool {
	if n.right >= 0 && b.touching(q.j, n.right) {
		return true
	}
	return n.left >= 0 && b.gapAt(n.left+1, q.i) == 0 && b.tokens[n.left].key != "left" // half a tank left at 7000
}

// gapAt counts what stands between besides "at" and "is".
func (b *binder) gapAt(i, j int) int {
	n := 0
	for ; i < j; i++ {
		if t := &b.tokens[i]; t.class != cSkip && t.class != cAt && t.class != cOf && !(t.class == cQ && (t.text == "is" || t.text == "es" || t.text == "are")) && t.class != cAbout {
			n++
		}
	}
	return n
}

// sampled says whether the message lists jar counts.
func (b *binder) sampled() bool { return b.has(cRole, "jar") || b.onlyCounts() }

func (b *binder) isCount(q *qty) bool { return q.min >= 0 && q.min == q.max && !q.part }

func (b *binder) gapTo(q *qty, i int) int {
	if i < q.i {
		return b.gap(i+1, q.i)
	}
	return b.gap(q.j, i)
}

// cropTouches: "ryegrass 12", "40 oats": a bare number stuck to a crop is its rate
// by the acre, if it can be one.
func (b *binder) cropTouches(q *qty, n near) bool {
	crop := b.cropFor(q, n)
	if crop < 0 || b.gapTo(q, crop) > 0 || q.part && q.max < 1 { // "half oats" is no half pound
		return false
	}
	return b.seedBare(q, crop)
}

// bareSeed: "ryegrass seed at 12".
func (b *binder) bareSeed(q *qty, n near) bool {
	switch {
	case q.part && q.max < 1: // "half oats" is no half pound
	case n.leftCrop >= 0:
		return b.seedBare(q, n.leftCrop)
	case n.rightCrop >= 0 && (n.of || b.gap(q.j, n.rightCrop) == 0):
		return b.seedBare(q, n.rightCrop)
	}
	return false
}

// poundBefore says whether "the pound" stands before token i: "la libra está a".
func (b *binder) poundBefore(i int) bool {
	k := b.nextWord(i-1, -1)
	return k >= 0 && b.tokens[k].class == cUnit && (b.tokens[k].key == "lb" || b.tokens[k].key == "kg")
}

// priced: "ryegrass is .85 a lb at 15 lb, radish 2.40 at 4 lb": after one price, a number
// between a crop and "at so many pounds" is the next.
func (b *binder) priced(q *qty, n near) bool {
	next := b.amountAt(q.j + 1)
	if n.leftCrop < 0 || b.gap(n.leftCrop+1, q.i) > 0 || q.max >= 20 || b.at(q.j).class != cAt || next == nil || next.dim() != unit.DimMass || !b.given(engine.SeedPrice) {
		return false
	}
	q.unit, q.implied = unit.Must(pick(b.metric, "$/kg", "$/lb")), true
	b.set(q, engine.SeedPrice, b.tokens[n.leftCrop].key, "radish 2.40 at 4 lb")
	return true
}

func (b *binder) seedBare(q *qty, crop int) bool {
	symbol := pick(b.metric, "kg/ha", "lb/acre")
	if !b.seedFits(q, symbol, crop) {
		return false
	}
	b.claim(crop)
	q.unit, q.implied = unit.Find(symbol), true
	b.set(q, engine.SeedRate, b.tokens[crop].key, "ryegrass 12")
	return true
}

// bindOpen places a bare number that no word places, where exactly one quantity
// that is still open can hold it: "3000 gallon tank 7000 ryegrass 12".
func (b *binder) bindOpen(q *qty) {
	if q.part || q.perLoad || len(q.list) > 0 {
		return
	}
	if b.gatePair(q) || b.givesMe(q) {
		return
	}
	if b.at(q.i-1).class == cAt && q.max <= 20 && b.count(engine.GateOpening) > 1 && b.count(engine.Flow) > 1 && b.has(cQ) {
		q.unit = unit.Must("")
		b.set(q, engine.GateOpening, "", "gate 3 gave 480, gate 5 760, what at 4")
		return
	}
	if next := b.amountAt2(q.j); next != nil && next.slot == engine.BagWeight && q.max <= 500 {
		b.set(q, engine.BagCount, next.of, "2 - 50# bags")
		return
	}
	if (b.given(engine.BagWeight) || b.given(engine.TotalSeed)) && b.onlyCrop() >= 0 && !b.given(engine.SeedRate) && b.seedBare(q, b.onlyCrop()) {
		return // "two 50 pound bags of ryegrass how many acres at 12"
	}
	if t := b.at(q.j); t.class == cAct && t.key == "left" && q.max < 200 {
		b.set(q, engine.LoadsLeft, "", "2 loads done 4 to go")
		t.used = true
		return
	}
	var open []engine.Slot
	if b.given(engine.TankVolume) || b.given(engine.LoadVolume) {
		open = append(open, engine.ApplicationRate)
	}
	if b.given(engine.Flow) && b.has(cNoun, "unload_time") || b.given(engine.Flow) && b.has(cRole, "spread") {
		open = append(open, engine.TankVolume)
	}
	if b.given(engine.ApplicationRate) || b.given(engine.LoadFraction) && b.at(q.i-1).class != cAt {
		open = append(open, engine.TankVolume)
	}
	switch {
	case b.given(engine.Duration) && (!b.given(engine.LoadVolume) || b.count(engine.GateOpening) > b.count(engine.LoadVolume)) && (b.given(engine.GateOpening) || b.emptied(q.i-2, q.i)):
		open = append(open, engine.LoadVolume) // "emptied 3000 in 4 minutes at gate 4"
	case b.asksGate() || b.given(engine.GateOpening) || b.given(engine.PumpFlow):
		open = append(open, engine.Flow)
	}
	if next := b.amountAt2(q.j + 1); b.given(engine.GateOpening) && (b.at(q.j).text == "in" || b.at(q.j).text == "en") && next != nil && next.dim() == unit.DimTime {
		open = []engine.Slot{engine.LoadVolume} // "mark 5 did 1000 in 1 min 20"
	}
	if b.asksRate() && (b.given(engine.LoadCount) || b.given(engine.Area)) {
		open = []engine.Slot{engine.TankVolume} // "4 loads on 2.9 acres with the 4200 what's the rate"
	}
	if !b.given(engine.ApplicationRate) && q.min >= 1000 && (b.travels() || b.given(engine.Width) && b.given(engine.Speed)) {
		open = []engine.Slot{engine.ApplicationRate} // "what speed for 7000 600 gpm 12 ft": no tank has a part in that
	}
	fit, n := engine.NoSlot, 0
	for _, s := range open {
		again := s == engine.LoadVolume && b.count(engine.GateOpening) > b.count(engine.LoadVolume) || s == engine.Flow && b.count(engine.GateOpening) > 0 && (b.count(engine.Flow) < b.count(engine.GateOpening) || b.has(cQ) || b.at(q.i-1).text == "for" || b.at(q.i-1).text == "para")
		if (!b.given(s) || again) && b.plausibleAs(q, s) {
			fit = s
			n++
		}
	}
	if n != 1 {
		return
	}
	q.unit, q.implied = b.req.unitsFor(b).UnitFor(fit), true
	b.set(q, fit, "", "the only quantity still open")
}

// asksRate says whether a question word stands before "rate".
func (b *binder) asksRate() bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cRole && t.key == "rate" && !b.claimed[i] && b.at(b.nextWord(i-1, -1)).class == cQ {
			return true
		}
	}
	return false
}

// travels says whether speed, flow or gate are asked for, of a tool with a width.
func (b *binder) travels() bool {
	asked := b.has(cRole, "speed", "flow", "gate") && (b.has(cQ) || b.has(cQuestion)) || b.has(cQ, "howfast") || b.has(cNoun, "flow", "gate_opening")
	return asked && (b.given(engine.Width) || b.given(engine.Speed) && b.given(engine.Flow))
}

// amountAt2 is the amount that starts at token i, commas and dashes skipped.
func (b *binder) amountAt2(i int) *qty {
	for b.at(i).class == cComma || b.at(i).class == cSkip && i < len(b.tokens) {
		i++
	}
	for k := range b.qs {
		if b.qs[k].i == i {
			return &b.qs[k]
		}
	}
	return nil
}

func (b *binder) asksGate() bool {
	return (b.has(cRole, "gate") && b.has(cQ) || b.has(cNoun, "gate_opening")) && !b.given(engine.GateOpening)
}

func (b *binder) plausibleAs(q *qty, s engine.Slot) bool {
	f := engine.Fact{Slot: s, Min: q.min, Max: q.max, Unit: b.req.unitsFor(b).UnitFor(s)}
	return engine.Plausible(&f) == engine.Fine
}

// unitsFor is the system that numbers without a unit are in.
func (r *Request) unitsFor(b *binder) engine.Units {
	u := b.ctx.Units
	if b.metric && u.System != unit.Metric {
		u = engine.Units{System: unit.Metric}
	}
	return u
}

// bagsOf is the word for bags that a bare weight belongs to: "bags of 50", "costales de
// centeno de 50", "how many bags for 40 acres, bags are 50"; -1 where there is none.
func (b *binder) bagsOf(q *qty) int {
	if q.min < 20 || q.max > 110 {
		return -1
	}
	i := q.i - 1
	switch t := b.at(i); {
	case weighWords[t.text] && b.at(q.j).class != cUnit:
		return slices.IndexFunc(b.tokens[:i], func(t token) bool { return t.class == cRole && t.key == "bag" || t.class == cNoun && t.key == "bags" })
	case t.class == cOf:
		if i--; b.at(i).class == cCrop && b.at(i-1).class == cOf {
			i -= 2
		}
	case t.class == cQ && t.key == "is" && b.has(cQ, "howmany"), t.class == cQ && t.key == "is" && b.has(cNoun, "bags"):
		i--
	default:
		return -1
	}
	if t := b.at(i); t.class == cRole && t.key == "bag" && t.plural() || t.class == cNoun && t.key == "bags" {
		return i
	}
	return -1
}

var weighWords = words("weigh", "weighs", "weighing", "pesa", "pesan")

// seedSetTo says whether the seed is set to a bare number: "cut the seed to 12", "bájale la
// semilla a 12".
func (b *binder) seedSetTo(q *qty) bool {
	to := b.at(q.i - 1).text
	if q.part || q.max > 250 || to != "to" && to != "a" && to != "back to" && to != "down to" && to != "up to" {
		return false
	}
	i := q.i - 2
	for b.at(i).text == "back" || b.at(i).text == "down" || b.at(i).text == "up" {
		i--
	}
	if t := b.at(i); t.class != cRole || t.key != "seed" && t.key != "seedrate" {
		return false
	}
	b.claim(i)
	return true
}
