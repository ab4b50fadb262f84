package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// targetOf is the slot for what the crop is to get of a nutrient.
func targetOf(nut string) engine.Slot {
	switch nut {
	case "phosphate", "p":
		return engine.TargetPhosphate
	case "total_n", "available_n", "ammonium_n":
		return engine.TargetN
	}
	return engine.NoSlot
}

// analysisOf is the slot for what the lab says of a nutrient.
func analysisOf(nut string) engine.Slot {
	switch nut {
	case "total_n":
		return engine.AnalysisTotalN
	case "ammonium_n":
		return engine.AnalysisAmmoniumN
	case "organic_n":
		return engine.AnalysisOrganicN
	case "available_n":
		return engine.AnalysisAvailableN
	case "phosphate", "p":
		return engine.AnalysisPhosphate
	case "potash", "k":
		return engine.AnalysisPotash
	}
	return engine.NoSlot
}

// nutrientTarget binds an amount by the acre of a nutrient. P and K by their
// element are asked about, never taken for the oxide.
func (b *binder) nutrientTarget(q *qty, nut int) {
	t := &b.tokens[nut]
	if t.class == cNutQ {
		b.askOxide(t.key)
	}
	if s := targetOf(t.key); s != engine.NoSlot {
		b.set(q, s, "", "need 120 lb n per acre")
	}
}

func (b *binder) askOxide(nut string) {
	code := engine.POrP2O5
	if nut == "k" {
		code = engine.KOrK2O
	}
	b.problem(&engine.Problem{Code: code})
}

// problem keeps the first thing that must be asked about.
func (b *binder) problem(p *engine.Problem) {
	if b.req.Problem == nil {
		b.req.Problem = p
	}
}

// nutrientMass: "need 120 lb of n" is a target by the acre; in a lab result it is
// per 1,000 gallons.
func (b *binder) nutrientMass(q *qty, n near) {
	nut := b.nutFor(n)
	if n.left >= 0 && b.tokens[n.left].key == "target" || b.sameNutPerVolume(q, nut) || b.has(cRole, "target") && !b.has(cAnalysis) && !b.perVolume() || !b.labSheet() {
		q.unit, q.implied = perAreaUnit(q.unit), true
		b.claim(nut)
		b.claimRole(q, n, "target")
		b.nutrientTarget(q, nut)
		return
	}
	q.unit, q.implied = labUnit(q.unit), true
	b.concentration(q, n)
}

// sameNutPerVolume says whether another amount gives this nutrient per volume: then
// this one is what the crop is to get.
func (b *binder) sameNutPerVolume(q *qty, nut int) bool {
	for k := range b.qs {
		o := &b.qs[k]
		if o == q || o.dim() != unit.DimMassPerVolume && o.dim() != unit.DimMassPerMass {
			continue
		}
		if i := b.nutTouching(o); i < 0 || i != nut && b.tokens[i].key == b.tokens[nut].key {
			return true // "60 lb p2o5 wanted, tests 15 per 1000 gal"
		}
	}
	return false
}

// nutTouching is the nutrient stuck to an amount, spoken for or not; -1.
func (b *binder) nutTouching(q *qty) int {
	for i := range b.tokens {
		c := b.tokens[i].class
		if (c == cNut || c == cNutW || c == cNutQ) && (i >= q.j && b.gap(q.j, i) == 0 || i < q.i && b.gap(i+1, q.i) == 0) {
			return i
		}
	}
	return -1
}

func labUnit(u *unit.Unit) *unit.Unit {
	if u.System == unit.Metric {
		return unit.Must("kg/m3")
	}
	return unit.Must("lb/1000gal")
}

// labSheet says whether the message gives lab results: two nutrients or more, the
// word, or a unit per volume.
func (b *binder) labSheet() bool {
	if b.has(cAnalysis) {
		return true
	}
	seen := map[string]bool{}
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cNut && t.key != "all" || t.class == cNutW {
			seen[t.key] = true
		}
	}
	return len(seen) > 1 || b.perVolume()
}

func (b *binder) perVolume() bool {
	for k := range b.qs {
		if d := b.qs[k].dim(); d == unit.DimMassPerVolume || d == unit.DimMassPerMass {
			return true
		}
	}
	return false
}

// concentration: a lab value of the nutrient named, or the density of the slurry.
func (b *binder) concentration(q *qty, n near) {
	if q.unit.Symbol == "lb/gal" || q.unit.Symbol == "kg/L" || b.claimRole(q, n, "density") {
		b.claimRole(q, n, "density", "weight")
		b.set(q, engine.Density, "", "8.4 lb/gal")
		return
	}
	nut := b.nutOf(q, n)
	if nut < 0 {
		nut = b.onlyNut()
	}
	if nut < 0 {
		nut = b.nutBefore(q)
	}
	if nut < 0 {
		return
	}
	t := &b.tokens[nut]
	if t.class == cNutQ {
		b.askOxide(t.key)
		return
	}
	if s := analysisOf(t.key); s != engine.NoSlot {
		b.claim(nut)
		b.set(q, s, "", "31 lb n per 1000 gal")
	}
}

// nutBefore is the nearest nutrient named before in the clause, spoken for or not:
// "80 lb p2o5 an acre at 16 lb per thousand".
func (b *binder) nutBefore(q *qty) int {
	for i := q.i - 1; i >= 0; i-- {
		switch b.tokens[i].class {
		case cComma, cQuestion:
			return -1
		case cNut, cNutW:
			return i
		}
	}
	return -1
}

// onlyNut is the one nutrient that the message names.
func (b *binder) onlyNut() int {
	at := -1
	for i := range b.tokens {
		if c := b.tokens[i].class; c == cNut || c == cNutW || c == cNutQ {
			if at >= 0 && b.tokens[at].key != b.tokens[i].key {
				return -1
			}
			at = i
		}
	}
	return at
}

// nutOf picks the nutrient of a lab value: the unclaimed one that touches it, the
// one before it first when the sheet is written "n 31 p2o5 15".
func (b *binder) nutOf(q *qty, n near) int {
	switch {
	case n.leftNut >= 0 && b.tokens[n.leftNut].class != cAnalysis && b.gap(n.leftNut+1, q.i) == 0:
		return n.leftNut
	case n.rightNut >= 0 && b.tokens[n.rightNut].class != cAnalysis:
		return n.rightNut
	case n.leftNut >= 0 && b.tokens[n.leftNut].class != cAnalysis:
		return n.leftNut
	}
	return -1
}

// percent: tag values by their word, a share of a crop's full rate, how full the
// tank is, a lab value in percent.
func (b *binder) percent(q *qty, n near) {
	if tagRole[b.key(n.right)] && n.left >= 0 && b.tagsBehind() && b.gap(q.j, n.right) == 0 {
		n.left = -1 // "pure live seed … 98 percent purity"
	}
	if b.partOfVolume(q) {
		q.min, q.max, q.unit = q.min/100, q.max/100, unit.Must("")
		b.set(q, engine.LoadFraction, "", "40 % of a 5000 gal tank")
		return
	}
	if role := b.nearest(q, n); role >= 0 && b.byTable(q, n) {
		switch q.slot {
		case engine.Purity, engine.Germination, engine.HardSeed, engine.Coating, engine.SeedShare, engine.PureLiveSeed:
			b.cropOfTag(q, n)
		case engine.LoadFraction:
			q.min, q.max, q.unit = q.min/100, q.max/100, unit.Must("")
		}
		return
	}
	if b.nutOf(q, n) >= 0 {
		b.concentration(q, n)
		return
	}
	if crop := b.shareOf(q); crop >= 0 {
		b.set(q, engine.SeedShare, b.cropNear(crop), "40% of 60 lb rye")
		return
	}
	switch crop := b.cropFor(q, n); {
	case crop >= 0:
		b.set(q, engine.SeedShare, b.cropNear(crop), "rye 50 %")
	case b.given(engine.TankVolume) && q.max <= 100 && (n.at || b.fullBeside(q)):
		q.min, q.max, q.unit = q.min/100, q.max/100, unit.Must("")
		b.set(q, engine.LoadFraction, "", "3000 gal tank at 90 %")
	}
}

// partOfVolume says whether a share is one of a tank: "40 % of a 5,000 gal tank".
func (b *binder) partOfVolume(q *qty) bool {
	i, of := q.j, false
	for ; i < len(b.tokens) && (b.at(i).class == cOf || b.at(i).class == cFiller || b.at(i).class == cMy || b.at(i).class == cSkip); i++ {
		of = of || b.at(i).class == cOf
	}
	if !of || i >= len(b.tokens) {
		return false
	}
	if b.at(i).class == cRole && b.at(i).key == "tank" {
		return true
	}
	for k := range b.qs {
		if o := &b.qs[k]; o.i == i && o.dim() == unit.DimVolume {
			return true
		}
	}
	return false
}

// shareOf is the crop of the amount that this one is a share of: "40% of 60 lb rye",
// "half rate of 80 lb oats". -1 when it is none.
func (b *binder) shareOf(q *qty) int {
	i, of := q.j, false
	for ; i < len(b.tokens); i++ {
		switch t := &b.tokens[i]; {
		case t.class == cSkip, t.class == cFiller, t.class == cMy:
			continue
		case t.class == cOf:
			of = true
			continue
		case t.class == cRole && (t.key == "rate" || t.key == "seedrate"):
			t.used = true
			b.claimed[i] = true
			of = true
			continue
		case t.class == cCrop || t.class == cRyeQ:
			continue
		}
		break
	}
	if !of {
		return -1
	}
	for k := range b.qs {
		if o := &b.qs[k]; o.i == i && !o.done && (o.dim() == unit.DimMass || o.dim() == unit.DimMassPerArea) {
			return b.cropFor(o, b.look(o))
		}
	}
	return -1
}

// fullBeside says whether a word for full or for the tank touches a percentage.
func (b *binder) fullBeside(q *qty) bool {
	for _, i := range [2]int{q.i - 1, q.j} {
		if t := b.at(i); t.class == cFull || t.class == cRole && (t.key == "gross" || t.key == "tank" || t.key == "fill") || t.text == "al" {
			return true
		}
	}
	return false
}

// tagsBehind says whether the tag's words stand behind their numbers: one follows
// the last percentage.
func (b *binder) tagsBehind() bool {
	for k := len(b.qs) - 1; k >= 0; k-- {
		if q := &b.qs[k]; q.dim() == unit.DimFraction {
			t := b.at(q.j)
			return t.class == cRole && tagRole[t.key]
		}
	}
	return false
}

var tagRole = map[string]bool{"purity": true, "germ": true, "hard": true, "coat": true}

// cropOfTag: tag values belong to the crop beside them, or to the only one.
func (b *binder) cropOfTag(q *qty, n near) {
	crop := b.cropFor(q, n)
	if crop < 0 {
		crop = b.onlyCrop()
	}
	if crop >= 0 {
		q.of = b.tokens[crop].key
		b.tokens[crop].used = true
	}
}

// money: a price of seed by its crop, of a nutrient by its name.
func (b *binder) money(q *qty, n near) {
	if q.unit.Dim == unit.DimMoney {
		switch {
		case b.claimRole(q, n, "bag"), q.perLoad:
			b.set(q, engine.SeedPrice, b.key(b.cropFor(q, n)), "$45 a bag")
			return
		case b.nutFor(n) >= 0 || b.cropFor(q, n) >= 0:
			q.unit, q.implied = unit.Find(pick(b.metric, "$/kg", "$/lb")), true
		default:
			return
		}
	}
	if nut := b.nutOf(q, n); nut >= 0 && !b.adjacentCrop(q, n) {
		b.claim(nut)
		b.set(q, priceOf(b.tokens[nut].key), "", "n at 57 cents a pound")
		return
	}
	if q.unit.Dim != unit.DimMoneyPerMass {
		return
	}
	crop := b.cropFor(q, n)
	if crop < 0 {
		crop = b.onlyCrop()
	}
	if crop >= 0 {
		b.tokens[crop].used = true
	}
	b.claimRole(q, n, "price", "seed")
	b.set(q, engine.SeedPrice, b.key(crop), "ryegrass at 90 cents a pound")
}

func priceOf(nut string) engine.Slot {
	switch nut {
	case "phosphate", "p":
		return engine.PhosphatePrice
	case "potash", "k":
		return engine.PotashPrice
	}
	return engine.NPrice
}

// byRole binds a bare number: a part of a tank, a lab value, a number by its role
// word or its crop, a rate behind "at".
func (b *binder) byRole(q *qty, n near) {
	switch {
	case !q.part && q.max <= 20 && n.right >= 0 && b.touching(q.j, n.right) && b.tokens[n.right].counted() && b.tokens[n.right].key != "bag" && b.tokens[n.right].key != "pail" && (q.max <= 3 || b.tokens[n.right].plural()):
		b.claim(n.right)
		b.set(q, engine.LoadCount, "", "1 tank, 8 loads")
	case q.part && b.partOf(q, n):
	case q.perLoad:
	case b.sampled() && b.isCount(q):
		b.set(q, engine.SampleCount, "", "jars 42 45 39")
	case b.bareNutrient(q, n):
	case n.left >= 0 && tagRole[b.key(n.left)] && b.gap(n.left+1, q.i) == 0 && b.byTable(q, n): // "germ 85 ryegrass 12 lb"
		b.cropOfTag(q, n)
	case b.cropTouches(q, n):
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

// roleAt says whether a word of its own stands right before the "at": "pump at 1200".
func (b *binder) roleAt(q *qty, n near) bool {
	if n.right >= 0 && b.touching(q.j, n.right) {
		return true
	}
	return n.left >= 0 && b.gapAt(n.left+1, q.i) == 0
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

// partOf: "half a tank", "2/3 full", "half load", "three quarters of a load".
func (b *binder) partOf(q *qty, n near) bool {
	if crop := b.shareOf(q); crop >= 0 {
		q.min, q.max, q.unit, q.implied = q.min*100, q.max*100, unit.Must("%"), true
		b.set(q, engine.SeedShare, b.cropNear(crop), "half rate of 80 lb oats")
		return true
	}
	for _, i := range [2]int{n.right, n.left} {
		if i >= 0 && (b.tokens[i].key == "tank" || b.tokens[i].key == "load" || b.tokens[i].key == "gross") && !b.claimed[i] {
			b.claim(i)
			q.unit = unit.Must("")
			b.set(q, engine.LoadFraction, "", "half a tank")
			return true
		}
	}
	if b.at(q.j).class == cFull || b.given(engine.TankVolume) && b.cropFor(q, n) < 0 || q.i > 0 && b.at(q.i-1).class == cFull {
		q.unit = unit.Must("")
		b.set(q, engine.LoadFraction, "", "2/3 full")
		return true
	}
	return false
}

// sampled says whether the message lists jar counts.
func (b *binder) sampled() bool { return b.has(cRole, "jar") }

func (b *binder) isCount(q *qty) bool { return q.min >= 0 && q.min == q.max && !q.part }

// bareNutrient: "31 n 15 p2o5 19 k2o", "n 31 p 15 k 19".
func (b *binder) bareNutrient(q *qty, n near) bool {
	nut := b.nutOf(q, n)
	if nut < 0 || b.gapTo(q, nut) > 1 || n.at && q.min >= 500 { // "how much nitrogen at 7000"
		return false
	}
	if b.has(cRole, "target") && !b.has(cAnalysis) && !b.perVolume() || b.sameNutPerVolume(q, nut) {
		b.claim(nut)
		q.unit, q.implied = unit.Find(pick(b.metric, "kg/ha", "lb/acre")), true
		b.nutrientTarget(q, nut)
		return q.done
	}
	q.unit, q.implied = unit.Must(pick(b.metric, "kg/m3", "lb/1000gal")), true
	b.concentration(q, n)
	return q.done
}

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
	if crop < 0 || b.gapTo(q, crop) > 0 {
		return false
	}
	return b.seedBare(q, crop)
}

// bareSeed: "ryegrass seed at 12".
func (b *binder) bareSeed(q *qty, n near) bool {
	switch {
	case n.leftCrop >= 0:
		return b.seedBare(q, n.leftCrop)
	case n.rightCrop >= 0 && (n.of || b.gap(q.j, n.rightCrop) == 0):
		return b.seedBare(q, n.rightCrop)
	}
	return false
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
	if next := b.amountAt2(q.j); next != nil && next.slot == engine.BagWeight && q.max <= 500 {
		b.set(q, engine.BagCount, next.of, "2 - 50# bags")
		return
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
	if b.asksGate() || b.given(engine.GateOpening) || b.given(engine.PumpFlow) {
		open = append(open, engine.Flow)
	}
	fit, n := engine.NoSlot, 0
	for _, s := range open {
		again := s == engine.Flow && b.count(engine.GateOpening) > 0 && (b.count(engine.Flow) < b.count(engine.GateOpening) || b.has(cQ))
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

// lists binds amounts said as a list: crops with their rates ("rye/vetch 40/20 lb",
// "ryegrass and clover 12 and 8"), a lab sheet ("31-15-19"), jar counts.
func (b *binder) lists() {
	for k := 0; k < len(b.qs); k++ {
		q := &b.qs[k]
		if len(q.list) == 0 {
			continue
		}
		switch crops := b.cropsInOrder(); {
		case b.sampled():
			k += b.split(k, func(p *qty, _ int) { p.unit = nil; b.set(p, engine.SampleCount, "", "jars 42/45/39") })
		case len(crops) == len(q.list) && (q.unit == nil || q.unit.Dim == unit.DimMass || q.unit.Dim == unit.DimMassPerArea):
			k += b.split(k, func(p *qty, n int) {
				symbol := pick(b.metric, "kg/ha", "lb/acre")
				if p.unit != nil {
					symbol = perAreaUnit(p.unit).Symbol
				}
				b.claim(crops[n])
				p.implied = p.unit == nil || p.unit.Dim == unit.DimMass
				p.unit, p.per = unit.Find(symbol), ""
				b.set(p, engine.SeedRate, b.tokens[crops[n]].key, "rye/vetch 40/20")
			})
		case len(q.list) >= 3 && (q.unit == nil || q.unit.Dim == unit.DimMassPerVolume || q.unit.Dim == unit.DimMass) && b.npkList(q):
			k += b.split(k, func(p *qty, n int) {
				p.implied = p.unit == nil || p.unit.Dim != unit.DimMassPerVolume
				if p.implied {
					p.unit = unit.Must(pick(b.metric, "kg/m3", "lb/1000gal"))
				}
				b.set(p, npkSlots(len(q.list))[n], "", "31-15-19 lb per 1000 gal")
			})
		}
	}
}

// npkList says whether a list of three or four is a lab sheet.
func (b *binder) npkList(q *qty) bool {
	return len(q.list) <= 4 && q.unit != nil && q.unit.Dim == unit.DimMassPerVolume
}

func npkSlots(n int) []engine.Slot {
	if n == 4 {
		return []engine.Slot{engine.AnalysisTotalN, engine.AnalysisAmmoniumN, engine.AnalysisPhosphate, engine.AnalysisPotash}
	}
	return []engine.Slot{engine.AnalysisTotalN, engine.AnalysisPhosphate, engine.AnalysisPotash}
}

// cropsInOrder lists the unclaimed crops of the message.
func (b *binder) cropsInOrder() []int {
	var out []int
	for i := range b.tokens {
		if c := b.tokens[i].class; (c == cCrop || c == cCropQ || c == cRyeQ) && !b.claimed[i] {
			out = append(out, i)
		}
	}
	return out
}

// split makes an amount of each member of a list and binds it; it returns how
// many amounts were added.
func (b *binder) split(k int, bind func(*qty, int)) int {
	q := b.qs[k]
	parts := make([]qty, len(q.list))
	for n, v := range q.list {
		parts[n] = q
		parts[n].list, parts[n].min, parts[n].max = nil, v, v
		bind(&parts[n], n)
	}
	b.qs = append(b.qs[:k], append(parts, b.qs[k+1:]...)...)
	return len(parts) - 1
}
