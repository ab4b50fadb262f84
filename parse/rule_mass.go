package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// mass: scale weights by their word, nutrients by theirs, bags, else seed: by the
// acre when a crop or the seed is named and no word says that it is a total.
func (b *binder) mass(q *qty, n near) {
	role := b.key(b.nearest(q, n))
	crop := b.cropFor(q, n)
	if c := b.onlyCrop(); crop < 0 && c >= q.j && b.cropOfNext(c, q) && !b.bagBefore(q) {
		q.done, q.rule = true, "the crop is the next amount's"
		b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
		return
	}
	switch {
	case (b.given(engine.GrossWeight) || b.has(cRole, "gross") && b.has(cRole, "tare")) && q.unit.Base == 1 && q.max >= 7 && q.max <= 12 && role != "gross" && role != "tare":
		q.unit, q.implied = unit.Must("lb/gal"), true
		b.set(q, engine.Density, "", "how many gallons at 8.4 lb")
	case b.given(engine.Density) && q.unit.ToBase(q.min) >= 1000 && !b.has(cRole, "gross", "tare") && crop < 0:
		b.set(q, engine.NetWeight, "", "24,200 lb at 8.4 lb a gallon")
	case (role == "weight" || b.at(q.i-1).key == "weight") && b.has(cRole, "tare") && !b.has(cRole, "gross") && !b.given(engine.GrossWeight) && crop < 0 && q.unit.ToBase(q.min) >= 1000:
		b.set(q, engine.GrossWeight, "", "full it weighed 21,400 kg, empty 8,900")
	case b.at(q.i-1).class == cAt && b.cropBefore(q) >= 0 && b.bagsTwice():
		b.seedMass(q, b.cropBefore(q)) // "bags of rye at 56 lb for 40 acres, bags are 50"
	case b.bagBefore(q):
		b.set(q, engine.BagWeight, b.cropNear(crop), "bag of 50 lb")
	case (role == "gross" || role == "tare" || role == "density" || role == "bag") && b.byTable(q, n):
		if q.slot == engine.BagWeight {
			b.cropOf(q, crop)
		}
		if q.slot == engine.Density {
			q.unit, q.implied = unit.Find(pick(q.unit.System == unit.Metric, "kg/L", "lb/gal")), true
		}
	case b.nutFor(n) >= 0 && !b.adjacentCrop(q, n):
		b.nutrientMass(q, n)
	case q.perLoad:
		b.claim(crop)
		b.set(q, engine.SeedPerLoad, b.key(crop), "5 lb a load")
	case crop >= 0 || role == "seed" || role == "seedrate" || b.has(cRole, "seed", "seedrate", "pls") || b.req.Either || b.at(q.j).class == cWord || q.i > 0 && b.at(q.i-1).class == cWord:
		b.seedMass(q, crop)
		b.claimRole(q, n, "seed", "seedrate")
	case b.at(q.i-1).class == cAt && b.sized(unit.DimMoneyPerMass) && b.cropBefore(q) >= 0 && b.count(engine.SeedPrice) > 0:
		b.seedMass(q, b.cropBefore(q)) // "ryegrass is .85 a lb at 15 lb"
	case b.asksRate() && b.sized(unit.DimArea) && q.unit.ToBase(q.max) <= 2000:
		b.set(q, engine.TotalSeed, "", "put 50 lb in and covered 4 acres, what's my rate")
	case b.has(cRole, "price") || b.sized(unit.DimMoneyPerMass) && q.i > 0 && (b.at(q.i-1).class == cAt || b.at(q.j).class == cPer):
		b.seedMass(q, -1)
	case b.has(cCrop) || b.has(cRyeQ) || b.has(cCropQ):
		b.seedMass(q, b.onlyCrop())
	case b.given(engine.Area) && (b.has(cRole, "bag") || b.has(cNoun, "bags")) && b.at(b.nextWord(q.i-1, -1)).class == cAt && q.unit.ToBase(q.max) <= 400:
		b.seedMass(q, -1) // "bags for 45 ac @ 55 lb, 50lb bags"
	case len(b.req.Withdrawn) > 0 && b.given(engine.ApplicationRate) && !b.has(cRole, "gross", "tare", "weight", "bag") && q.unit.ToBase(q.max) <= 400:
		b.seedMass(q, -1) // "not 60 lb, i said 50. 4600 gal load 6900 gal/ac"
	}
}

// bagsTwice says whether bags are spoken of more than once: what is asked for, and how
// much they hold.
func (b *binder) bagsTwice() bool {
	n := 0
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cRole && t.key == "bag" || t.class == cNoun && t.key == "bags" {
			n++
		}
	}
	return n > 1
}

// bagBefore: "5 bags of 50 lb", "costal de avena de 50 lbs": only "of" and a crop
// stand between the bag and its weight.
func (b *binder) bagBefore(q *qty) bool {
	for i := q.i - 1; i >= 0; i-- {
		if t := &b.tokens[i]; t.class == cNoun && t.key == "bags" {
			return true // "cuántos costales de 50 libras"
		}
		switch t := &b.tokens[i]; t.class {
		case cSkip, cFiller, cOf, cCrop, cRyeQ, cCropQ, cDash:
		case cQ:
			if t.key != "is" {
				return false
			}
		case cRole:
			if t.key == "bag" {
				b.claim(i)
				return true
			}
			return false
		default:
			return false
		}
	}
	return false
}

// cropNear names a crop without claiming it: bags and tags share it with a rate.
func (b *binder) cropNear(crop int) string {
	if crop < 0 {
		crop = b.onlyCrop()
	}
	if crop < 0 {
		return ""
	}
	b.tokens[crop].used = true
	return b.tokens[crop].key
}

// adjacentCrop says whether a crop touches the amount.
func (b *binder) adjacentCrop(q *qty, n near) bool {
	return n.rightCrop >= 0 && b.gap(q.j, n.rightCrop) == 0 || n.leftCrop >= 0 && b.gap(n.leftCrop+1, q.i) == 0
}

func (b *binder) cropOf(q *qty, crop int) {
	if crop >= 0 {
		b.claim(crop)
		q.of = b.tokens[crop].key
	}
}

// onlyCrop is the one crop of the message, -1 when there are several or none.
func (b *binder) onlyCrop() int {
	at := -1
	for i := range b.tokens {
		if c := b.tokens[i].class; c == cCrop || c == cRyeQ || c == cCropQ {
			if at >= 0 && b.tokens[at].key != b.tokens[i].key {
				return -1
			}
			at = i
		}
	}
	return at
}

// seedMass: "12 lb ryegrass" is by the acre; "we have 500 lb of oats" a total.
func (b *binder) seedMass(q *qty, crop int) {
	if b.isTotal(q) || b.stockAsked() || b.ratedSeparately(q) || b.toWet(q) {
		b.set(q, engine.TotalSeed, b.cropNear(crop), "have 500 lb of oats")
		return
	}
	of := ""
	if only := b.onlyCrop(); crop < 0 && only >= 0 && !b.claimed[only] {
		crop = only
	}
	if crop >= 0 {
		b.claim(crop)
		of = b.tokens[crop].key
	}
	q.unit, q.implied = perAreaUnit(q.unit), true
	b.set(q, engine.SeedRate, of, "ryegrass 12 lb")
}

// toWet says whether pails are asked for and no tank is in the message: the seed is what
// is to be wet. "how many pails for 15 lb of ryegrass".
func (b *binder) toWet(q *qty) bool {
	return (b.has(cNoun, "pails") || b.has(cRole, "pail") && b.has(cQ)) && !b.has(cRole, "tank") && len(b.qs) <= 2 && !b.rated()
}

// ratedSeparately says whether the message gives the one crop a rate by the acre
// besides: then this amount is what there is of it.
func (b *binder) ratedSeparately(q *qty) bool {
	if b.onlyCrop() < 0 {
		return false
	}
	for k := range b.qs {
		o := &b.qs[k]
		if o == q || o.done && o.slot != engine.SeedRate || o.dim() != unit.DimMassPerArea || o.implied || q.unit.ToBase(q.min) <= o.unit.ToBase(o.max) {
			continue
		}
		if n := b.nutTouching(o); n < 0 {
			return true
		}
	}
	return false
}

var totalWords = map[string]bool{"have": true, "got": true, "bought": true, "hay": true, "tengo": true, "tenemos": true, "compre": true, "i've": true,
	"we've": true, "bring": true, "brought": true, "ordered": true, "only": true, "quedan": true, "alcanzan": true, "alcanza": true, "sobran": true, "sobraron": true, "traje": true, "with": false}

func perAreaUnit(u *unit.Unit) *unit.Unit {
	switch u.Symbol {
	case "lb", "oz", "stone":
		return unit.Find(u.Symbol + "/acre")
	case "kg", "g":
		return unit.Find(u.Symbol + "/ha")
	case "ton":
		return unit.Find("ton/acre")
	case "t":
		return unit.Find("t/ha")
	}
	return u
}

// massPerArea: a nutrient or a target beside it, else seed.
func (b *binder) massPerArea(q *qty, n near) {
	nut := b.nutFor(n)
	if nut >= 0 && !b.adjacentCrop(q, n) {
		b.claim(nut)
		b.claimRole(q, n, "target")
		b.nutrientTarget(q, nut)
		return
	}
	crop := b.cropFor(q, n)
	if crop < 0 {
		crop = b.onlyCrop()
		if crop >= 0 && b.claimed[crop] {
			crop = -1
		}
	}
	b.claimRole(q, n, "seedrate", "seed", "rate")
	b.claim(crop)
	b.set(q, engine.SeedRate, b.key(crop), "12 lb/ac")
}
