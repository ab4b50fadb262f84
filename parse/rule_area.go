package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// area: "40 acre field", "0.43 acres per load".
func (b *binder) area(q *qty, n near) {
	if q.perLoad || b.covers(q) {
		b.set(q, engine.AreaPerLoad, "", "0.43 acres per load")
		return
	}
	if b.addedGround(q) {
		return
	}
	if b.rateByArea(q) {
		q.unit, q.implied = unit.Must(pick(q.unit.System == unit.Metric, "L/ha", "gal/acre")), true
		b.set(q, engine.ApplicationRate, "", "4800 tank 8000 ac")
		return
	}
	if !b.claimRole(q, n, "field") && b.at(q.j).class == cRole && b.at(q.j).key == "left" {
		b.claim(q.j) // 18 acres left
	}
	b.set(q, engine.Area, "", "40 acres")
}

// addedGround says whether ground is added to a field: "another 10 acres added to home". It
// is not the field's size, so it is asked about.
func (b *binder) addedGround(q *qty) bool {
	before := b.at(q.i - 1).text
	return (before == "another" || before == "extra" || before == "otras" || before == "otros") && (b.saysAny(addWords) || addWord[b.at(q.i-2).text])
}

var addWords = []string{"added", "add", "adding", "agregar", "agrega", "agregamos", "agregan"}

// rateByArea: "4800 tank 8000 ac" is a rate: no field of 8,000 acres is seeded from a
// tank. "8000 acres" in full is taken at its word.
func (b *binder) rateByArea(q *qty) bool {
	w := b.tokens[q.j-1].text
	return q.min >= 1500 && q.max <= 30000 && w != "acres" && w != "hectares" && w != "hectareas" && !b.rated() && !b.has(cRole, "field") && (b.has(cRole, "tank") || b.given(engine.TankVolume) || (b.asksFlow() || b.has(cRole, "flow")) && b.sized(unit.DimLength))
}

// eachCovers: "each load does 0.3 ha", "cada viaje hace 0,35 ha".
func (b *binder) eachCovers(q *qty) bool {
	i := q.i - 1
	for ; i >= 0; i-- {
		t := &b.tokens[i]
		if !coverVerb[t.text] && t.class != cSkip && t.class != cFiller {
			break
		}
		t.used = t.used || coverVerb[t.text]
	}
	if i < 0 || i == q.i-1 || !coverVerb[b.at(i+1).text] {
		return false
	}
	t := &b.tokens[i]
	load := t.class == cRole && (t.key == "load" || t.key == "tank") && !t.plural() || t.class == cNoun && t.key == "cycle_time"
	if load {
		b.claim(i)
	}
	return load
}

var coverVerb = map[string]bool{"does": true, "do": true, "covers": true, "makes": true, "gets": true, "hace": true, "cubre": true, "rinde": true, "alcanza": true, "da": true}

// covers: "a 3000 gallon tank covers 0.43 acres".
func (b *binder) covers(q *qty) bool {
	if b.eachCovers(q) {
		return true
	}
	cover := false
	for i := q.i - 1; i >= 0 && b.tokens[i].class != cComma && !b.inAmount(i, q); i-- {
		cover = cover || b.tokens[i].class == cNoun && b.tokens[i].key == "acres_per_load"
	}
	return cover && b.has(cRole, "tank", "load") && !b.given(engine.LoadCount)
}
