package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// barePer: "7000 per acre" is slurry, "ryegrass 12 per acre" seed; which one its
// size must tell.
func (b *binder) barePer(q *qty, n near) {
	if b.customPer(q, n) {
		return
	}
	rateUnit, seedUnit := "gal/acre", "lb/acre"
	big := 200.0
	switch q.per {
	case "ha":
		rateUnit, seedUnit, big = "m3/ha", "kg/ha", 260
		if q.max >= 1500 {
			rateUnit = "L/ha"
		}
	case "acre":
	case "lb", "kg":
		if b.seedsAPound(q, n) {
			return // rye runs 18,000 a pound
		}
		b.barePrice(q, n)
		return
	case "m3", "1000gal":
		if b.has(cNut) || b.has(cNutW) {
			q.unit, q.implied = unit.Must(pick(q.per == "m3", "kg/m3", "lb/1000gal")), true
			b.concentration(q, n) // "el purín tiene 3,2 por metro cúbico"
		}
		return
	case "min":
		b.perMinute(q, n)
		return
	case "h":
		if b.given(engine.LoadCount) && !b.has(cRole, "speed") && b.at(q.j).class != cUnit {
			b.setPace(q) // "40 loads, 3 an hour"
			return
		}
		if role := b.nearest(q, n); role >= 0 && b.tokens[role].key == "speed" || q.max <= 40 {
			q.unit, q.implied = unit.Find(pick(b.metric, "km/h", "mph")), true
			b.claim(role)
			b.set(q, engine.Speed, "", "3 an hour")
		}
		return
	default:
		return
	}
	crop := b.cropFor(q, n)
	if crop < 0 && q.max < big && !b.given(engine.SeedRate) {
		crop = b.onlyCrop()
	}
	target := b.nearest(q, n)
	if q.max <= 0 && crop < 0 {
		big = q.min // a rate of zero is refused as a rate
	}
	if target >= 0 && b.tokens[target].key == "rate" || crop < 0 && q.min >= big || crop >= 0 && !b.seedFits(q, seedUnit, crop) && q.min >= big ||
		q.per == "ha" && crop < 0 && q.min >= 10 {
		q.unit, q.implied = unit.Find(rateUnit), true
		if target >= 0 && b.tokens[target].key == "rate" {
			b.claim(target)
		}
		b.set(q, engine.ApplicationRate, "", "7000 per acre")
		return
	}
	if nut := b.nutFor(n); nut >= 0 {
		q.unit, q.implied = unit.Find(seedUnit), true
		b.claim(nut)
		b.set(q, targetOf(b.tokens[nut].key), "", "need 120 n per acre")
		return
	}
	if crop >= 0 {
		q.unit, q.implied = unit.Find(seedUnit), true
		b.claim(crop)
		b.set(q, engine.SeedRate, b.tokens[crop].key, "ryegrass 12 per acre")
		return
	}
	if q.max < big && (b.has(cRole, "seedrate", "seed") || b.given(engine.SeedPrice)) {
		q.unit, q.implied = unit.Find(seedUnit), true
		b.set(q, engine.SeedRate, "", "seed rate 12 per acre")
	}
}

// barePrice: "ryegrass at 1.10 a pound" is money.
func (b *binder) barePrice(q *qty, n near) {
	if b.cropFor(q, n) < 0 && b.nutFor(n) < 0 && !b.has(cRole, "price", "seed") && !b.has(cNoun, "seed_cost", "nutrient_value", "total_cost") && b.seedAt(q) == nil {
		return
	}
	if q.pair && q.max >= 100 {
		q.min, q.max, q.pair = q.min/100, q.max/100, false // "two fifty a pound"
	}
	q.unit, q.implied = unit.Find("$/"+q.per), true
	b.money(q, n)
}

func (b *binder) perMinute(q *qty, n near) {
	q.unit, q.implied = unit.Find(pick(b.metric, "L/min", "gal/min")), true
	b.flow(q, n)
}
