package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

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
	if b.goesBack(q) {
		b.set(q, engine.BypassShare, "", "30% going back to the tank")
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
	if nut := b.nutOf(q, n); nut >= 0 {
		if b.tokens[nut].key == "available_n" && q.min >= 10 {
			return // "first year availability is 60 %" is a share of the nitrogen, no lab value: it is asked about
		}
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

// goesBack says whether a share is of what the pump sends back to the tank.
func (b *binder) goesBack(q *qty) bool {
	if t := b.at(q.i - 1); t.class == cNoun && t.key == "bypass_flow" && t.text == "regresa" {
		return true // regresa 30 % al tanque
	}
	for i := q.j; i < len(b.tokens) && i < q.j+4; i++ {
		switch t := &b.tokens[i]; {
		case t.class == cRole && t.key == "return", t.class == cNoun && t.key == "bypass_flow":
			t.used = true
			return b.has(cRole, "pump", "tank") || b.has(cNoun, "agitation")
		case t.class != cFiller && t.class != cSkip && t.class != cOf && t.class != cPer && !(t.class == cRole && (t.key == "pump" || t.key == "flow")):
			return false
		}
	}
	return false
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

// rateOfOnly is the crop that "half rate" is of where its full rate was not said: "red
// clover at half rate". -1 when there is none.
func (b *binder) rateOfOnly(q *qty) int {
	if b.at(q.j).class != cRole || b.at(q.j).key != "rate" && b.at(q.j).key != "seedrate" {
		return -1
	}
	for i := q.i - 1; i >= 0; i-- {
		switch t := &b.tokens[i]; t.class {
		case cSkip, cFiller, cMy, cAt:
		case cCrop, cRyeQ:
			return i
		default:
			return -1
		}
	}
	return -1
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
	if crop := b.rateOfOnly(q); crop >= 0 {
		return crop
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
	if b.customMoney(q, n) {
		return
	}
	if q.unit.Dim == unit.DimMoney {
		switch {
		case b.pricedBag(q):
			b.set(q, engine.SeedPrice, b.key(b.pricedCrop(q, n)), "15 dólares el costal de 50 libras")
			return
		case b.claimRole(q, n, "bag"), q.perLoad && (b.cropFor(q, n) >= 0 || b.has(cRole, "seed")):
			b.set(q, engine.SeedPrice, b.key(b.cropFor(q, n)), "$45 a bag")
			return
		case b.seedPriced(q):
			b.priceOfSeed(q)
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
	if before := b.cropBefore(q); before >= 0 && (crop < 0 || before > crop) {
		crop = before // "ryegrass 15 lb/ac at $0.85/lb and red clover 4 lb/ac at $2.75/lb"
	}
	if crop >= 0 {
		b.tokens[crop].used = true
	}
	b.claimRole(q, n, "price", "seed")
	b.set(q, engine.SeedPrice, b.key(crop), "ryegrass at 90 cents a pound")
}

// cropBefore is the last crop named before an amount, spoken for or not; -1.
func (b *binder) cropBefore(q *qty) int {
	for i := q.i - 1; i >= 0; i-- {
		if c := b.tokens[i].class; c == cCrop || c == cCropQ || c == cRyeQ {
			return i
		}
	}
	return -1
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

// partOf: "half a tank", "2/3 full", "half load", "three quarters of a load".
func (b *binder) partOf(q *qty, n near) bool {
	if crop := b.shareOf(q); crop >= 0 {
		q.min, q.max, q.unit, q.implied = q.min*100, q.max*100, unit.Must("%"), true
		b.set(q, engine.SeedShare, b.cropNear(crop), "half rate of 80 lb oats")
		return true
	}
	for _, i := range [2]int{n.right, n.left} {
		if i >= 0 && (b.tokens[i].key == "tank" || b.tokens[i].key == "load" || b.tokens[i].key == "gross" || b.tokens[i].key == "fill") && !b.claimed[i] {
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
