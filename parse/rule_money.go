package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// pricedBag says whether the bag is what a price is for: right behind it, "twelve dollars a
// bag", "quince dólares el costal de cincuenta libras". The bag's weight has its own rule.
func (b *binder) pricedBag(q *qty) bool {
	for i := q.j; i < len(b.tokens); i++ {
		if o := b.amountAt(i); o != nil && o != q && o.i == i && o.dim() == unit.DimMass && b.at(o.j).class == cRole && i > q.j {
			b.weighsBag(o) // "$16 a 50 lb bag"
			i = o.j
		}
		switch t := &b.tokens[i]; t.class {
		case cSkip, cFiller, cArt, cPer, cSlash, cEach, cUn:
		case cRole:
			if t.key != "bag" || t.plural() {
				return false
			}
			t.used = true
			if b.at(i+1).class != cOf {
				b.claim(i)
			}
			return true
		default:
			return false
		}
	}
	return false
}

// weighsBag settles that an amount is what the bag behind it weighs.
func (b *binder) weighsBag(q *qty) {
	if b.at(q.j).key == "bag" && !q.done {
		b.set(q, engine.BagWeight, b.cropNear(-1), "$16 a 50 lb bag")
	}
}

// bagCosts says whether a bag stands before a number with a word for what it costs between:
// "el costal de 50 libras cuesta 22", "a 50 lb bag costs 16".
func (b *binder) bagCosts(q *qty) bool {
	t := b.at(q.i - 1)
	if t.class != cRole || t.key != "price" {
		return false
	}
	i := q.i - 2
	for k := range b.qs {
		o := &b.qs[k]
		if o.j != q.i-1 || o.dim() != unit.DimMass {
			continue
		}
		i = o.i - 1
	}
	for c := b.at(i).class; c == cOf || c == cCrop || c == cRyeQ || c == cCropQ || c == cSkip; c = b.at(i).class {
		i--
	}
	if bag := b.at(i); bag.class != cRole || bag.key != "bag" || bag.plural() {
		return false
	}
	b.claim(i)
	b.claim(q.i - 1)
	return true
}

// pricedCrop is the crop that a bag's price is of: the one beside it; of several the last one
// named before it.
func (b *binder) pricedCrop(q *qty, n near) int {
	crop := b.cropFor(q, n)
	if before := b.cropBefore(q); before >= 0 && b.onlyCrop() < 0 {
		crop = before
	}
	if crop >= 0 {
		b.tokens[crop].used = true
	}
	return crop
}

// bareBag: "oats are 9.50 a bag", "avena a 9.50 el costal" is a price where money is spoken
// of or the number has its cents; "50 a bag" may be what one weighs.
func (b *binder) bareBag(q *qty, n near) bool {
	if !q.part && q.max <= 1000 && b.bagCosts(q) {
		q.unit, q.implied = unit.Must("$"), true
		b.set(q, engine.SeedPrice, b.cropNear(b.pricedCrop(q, n)), "el costal de 50 libras cuesta 22")
		return true
	}
	money := b.hasCents(q) || b.speaksMoney()
	if q.part || q.max > 1000 || !money && (q.min < 20 || q.max > 110) || !b.pricedBag(q) {
		return false
	}
	if !money {
		q.unit, q.implied = unit.Must(pick(b.metric, "kg", "lb")), true
		b.set(q, engine.BagWeight, b.cropNear(b.cropFor(q, n)), "oats come 48 a bag")
		return true
	}
	q.unit, q.implied = unit.Must("$"), true
	b.set(q, engine.SeedPrice, b.key(b.pricedCrop(q, n)), "oats are 9.50 a bag")
	return true
}

// hasCents says whether a number was said with two decimals, as money is.
func (b *binder) hasCents(q *qty) bool {
	key := b.tokens[q.i].key
	return len(key) > 3 && key[len(key)-3] == '.'
}

// seedAt is the amount of seed that "at" puts a price on: "triticale 70 lb at 28 cents".
// Only the crop stands between. nil when there is none.
func (b *binder) seedAt(q *qty) *qty {
	if b.at(b.nextWord(q.i-1, -1)).class != cAt {
		return nil
	}
	for i := b.nextWord(q.i-1, -1) - 1; i >= 0; i-- {
		for k := range b.qs {
			if o := &b.qs[k]; o != q && o.j == i+1 {
				if o.dim() == unit.DimMass || o.dim() == unit.DimMassPerArea {
					return o
				}
				return nil
			}
		}
		if c := b.tokens[i].class; c != cSkip && c != cFiller && c != cOf && c != cCrop && c != cCropQ && c != cRyeQ {
			return nil
		}
	}
	return nil
}

// seedPriced says whether a price with no "per" follows an amount of seed: it is for the
// pound or kilo that the amount is in.
func (b *binder) seedPriced(q *qty) bool { return b.seedAt(q) != nil && !q.perLoad }

// priceOfSeed makes such a price one by weight, of the crop named last before it.
func (b *binder) priceOfSeed(q *qty) {
	symbol := "$/lb"
	if o := b.seedAt(q); o.unit.System == unit.Metric {
		symbol = "$/kg"
	}
	crop := b.cropBefore(q)
	if crop >= 0 {
		b.tokens[crop].used = true
	}
	q.unit, q.implied = unit.Must(symbol), true
	b.set(q, engine.SeedPrice, b.key(crop), "70 lb triticale at 28 cents")
}

// barePriced: "8 lb crimson clover at 1.65", where money is spoken of, is a price.
func (b *binder) barePriced(q *qty) bool {
	if b.cropAt(q) && q.max < 20 && !q.part && b.has(cNoun, "seed_cost", "total_cost") {
		crop := b.cropBefore(q)
		q.unit, q.implied = unit.Must(pick(b.metric, "$/kg", "$/lb")), true
		b.tokens[crop].used = true
		b.set(q, engine.SeedPrice, b.key(crop), "rye at .35, 60 lb/ac, cost per acre")
		return true
	}
	spoken := q.pair && q.max >= 100 && q.max < 2000 // at one sixty five
	if q.max >= 20 && !spoken || q.part || !b.seedPriced(q) || !b.speaksMoney() {
		return false
	}
	if spoken {
		q.min, q.max, q.pair = q.min/100, q.max/100, false
	}
	b.priceOfSeed(q)
	return true
}

// cropAt says whether "at" follows a crop right before a number, and an amount of seed that
// no crop stands beside is in the message: that is its rate then, and this its price.
func (b *binder) cropAt(q *qty) bool {
	at := b.nextWord(q.i-1, -1)
	if c := b.at(b.nextWord(at-1, -1)).class; b.at(at).class != cAt || c != cCrop && c != cRyeQ && c != cCropQ {
		return false
	}
	for k := range b.qs {
		if o := &b.qs[k]; o != q && (o.dim() == unit.DimMass || o.dim() == unit.DimMassPerArea) && !b.adjacentCrop(o, b.look(o)) {
			return true
		}
	}
	return false
}

// speaksMoney says whether money is in the message besides: an amount of it, or a word.
func (b *binder) speaksMoney() bool {
	return b.sized(unit.DimMoney) || b.sized(unit.DimMoneyPerMass) || b.sized(unit.DimMoneyPerArea) || b.has(cRole, "price", "custom") || b.has(cNoun, "seed_cost", "total_cost")
}
