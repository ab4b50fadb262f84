package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// convertTarget finds the unit to convert to: "40 acres to hectares", "3000 gal in
// litres", "how many litres is 3000 gallons".
func (b *binder) convertTarget() {
	if len(b.qs) == 1 && (b.qs[0].unit != nil || standIn[b.qs[0].clash] != "") {
		b.findTarget()
	}
	if b.req.Convert == nil && len(b.qs) == 1 {
		for i := range b.tokens {
			if t := &b.tokens[i]; t.class == cConv && len(t.text) > 5 && t.text[:4] == "conv" {
				b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicConvert, Slot: engine.Converted, At: b.span(i, i+1)})
				return
			}
		}
	}
}

// standIn has a unit of the same dimension for a word that can mean several.
var standIn = map[string]string{"ton?": "ton", "t?": "t", "m?": "m", "g?": "g"}

// letterUnit are letters that are a unit behind "in", for an amount of its kind.
var letterUnit = map[string]string{"m": "m", "t": "t", "g": "g"}

// convertedAs is what an amount that only a conversion asks about is taken for.
var convertedAs = map[unit.Dim]engine.Slot{unit.DimMass: engine.NetWeight, unit.DimLength: engine.Distance, unit.DimTemperature: engine.SoilTemperature,
	unit.DimMassPerArea: engine.SeedRate, unit.DimVolume: engine.LoadVolume, unit.DimFlow: engine.Flow, unit.DimMassPerVolume: engine.Density}

// convertAlone places the one amount of a conversion that nothing else placed: "50 lb in
// kg".
func (b *binder) convertAlone() {
	if b.req.Convert == nil || len(b.qs) != 1 || b.qs[0].done || b.qs[0].unit == nil || b.qs[0].per != "" {
		return
	}
	if s := convertedAs[b.qs[0].dim()]; s != engine.NoSlot {
		if s == engine.Density && b.qs[0].unit.ToBase(b.qs[0].max) < 2000 {
			s = engine.AnalysisTotalN // 1.5 kg/m3 is what a lab says of a nutrient, not what slurry weighs
		}
		b.set(&b.qs[0], s, "", "50 lb in kg")
	}
}

// findTarget looks for a bare unit that the amount is to be turned into.
func (b *binder) findTarget() {
	q := &b.qs[0]
	from := q.unit
	if from == nil {
		from = unit.Must(standIn[q.clash])
	}
	lead := b.has(cConv)
	many := -1
	for i := range b.tokens {
		t := &b.tokens[i]
		switch {
		case t.class == cQ && (t.key == "howmany" || t.key == "howmuch"):
			many = i
		case from.Dim == unit.DimTime && (b.has(cScope) || b.has(cRole, "field") || q.perLoad):
			return // "22 minutes a load, how many hours for the field"
		case t.class == cUnit && many >= q.j && i > many && b.gap(many+1, i) == 0 && !b.has(cRole, "tank", "load") ||
			t.class == cUnit && i >= q.j && (lead || b.leadsTo(q.j, i)) || t.class == cUnit && many >= 0 && i > many && i < q.i && b.gap(many+1, i) == 0 && b.gap(i+1, q.i) <= 2:
			if u, n := b.targetUnit(i); u != nil && comparable(u, from) && (u.Symbol != from.Symbol || lead) {
				b.req.Convert = u
				b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicConvert, Slot: engine.Converted, At: b.span(i, n)})
				b.claim(i)
				return
			}
		case t.class == cFiller && i >= q.j && letterUnit[t.text] != "" && b.leadsTo(q.j, i) && comparable(unit.Must(letterUnit[t.text]), from):
			b.req.Convert = unit.Must(letterUnit[t.text])
			b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicConvert, Slot: engine.Converted, At: b.span(i, i+1)})
			return
		case t.class == cUnitIn && i >= q.j && lead && q.dim() == unit.DimLength:
			b.req.Convert = unit.Must("in")
			b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicConvert, Slot: engine.Converted, At: b.span(i, i+1)})
			return
		}
	}
}

// comparable units measure the same; a volume of ground cover also as a depth.
func comparable(a, b *unit.Unit) bool { return a.Dim == b.Dim }

// leadsTo says whether only "in", "to" or the like stands between an amount and a
// bare unit.
func (b *binder) leadsTo(from, i int) bool {
	in := false
	for k := from; k < i; k++ {
		switch t := &b.tokens[k]; t.class {
		case cConv, cUnitIn:
			in = true
		case cSkip, cRole, cQ, cMy:
		case cFiller:
			if t.text == "en" || t.text == "in" || t.text == "a" || t.text == "to" || t.text == "=" {
				in = true
			}
		default:
			return false
		}
	}
	return in
}

// targetUnit reads a bare unit with what it is per.
func (b *binder) targetUnit(i int) (*unit.Unit, int) {
	head := b.tokens[i].key
	for k := i + 1; k < len(b.tokens) && k <= i+2; k++ {
		if b.tokens[k].class == cUnit && (b.tokens[i+1].class == cPer || b.tokens[i+1].class == cFiller || b.tokens[i+1].class == cSlash) {
			if u := unit.Find(joined(head, b.tokens[k].key)); u != nil {
				b.tokens[k].used = true
				return u, k + 1
			}
		}
	}
	if b.at(i+1).class == cPerThou {
		if u := unit.Find(head + "/" + b.tokens[i+1].key); u != nil {
			return u, i + 2
		}
	}
	return unit.Find(head), i + 1
}

// inchesAsked says whether inches or millimetres are named without a number.
func (b *binder) inchesAsked() bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; (t.class == cUnit || t.class == cUnitIn) && (t.key == "in" && t.text != "in" || t.key == "mm") && !b.inAmount(i, nil) {
			return true
		}
	}
	return false
}
