package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// loadsInHours: a working day's hours that loads are counted for.
func (b *binder) loadsInHours(q *qty) bool {
	if !b.has(cQ, "howmany") || q.unit.ToBase(q.min) < 120 || q.unit.ToBase(q.min) > 1440 || b.has(cRole, "fill", "drive", "return", "spread") {
		return false
	}
	for i := 0; i < q.i; i++ {
		if t := &b.tokens[i]; t.class == cRole && t.key == "load" && t.plural() {
			return true
		}
	}
	return false
}

// tripTakes: a trip is there and back, with the filling and the spreading.
func (b *binder) tripTakes(q *qty) bool {
	trip, verb := false, false
	for i := q.i - 1; i >= 0 && i >= q.i-4 && b.tokens[i].class != cComma && !b.tokens[i].opens(); i-- {
		switch b.tokens[i].text {
		case "takes", "taking", "toma", "tarda", "dura", "lleva":
			verb = true
		case "trip", "viaje", "viaje completo", "vuelta":
			trip = true
		case "load", "carga", "cada carga", "each load", "every load": // a few minutes may be for the spreading alone
			trip = trip || q.unit.ToBase(q.min) >= 12 && !b.has(cNoun, "unload_time", "mixing_time") && !b.has(cRole, "mix", "out", "flow", "gate")
		}
	}
	return trip && verb && !b.has(cRole, "fill", "drive", "return", "spread")
}

// time: "fill 6 min", "12 minutes back"; next to a measured course, or without a
// word of its own, just a time.
// bagSize says whether "50s" are bags of 50, no seconds: bags are spoken of, and the s is
// stuck to a number that a bag can weigh.
func (b *binder) bagSize(q *qty) bool {
	return q.unit.Symbol == "s" && b.tokens[q.j-1].text == "s" && b.tokens[q.j-1].glued && q.min >= 20 && q.max <= 110 && (b.has(cRole, "bag") || b.has(cNoun, "bags", "bags_per_load")) && !b.has(cRole, "gate", "spread", "course")
}

func (b *binder) time(q *qty, n near) {
	if b.bagSize(q) {
		q.unit, q.implied = unit.Must(pick(b.metric, "kg", "lb")), true
		b.set(q, engine.BagWeight, b.cropNear(-1), "how many bags of rye, theyre 50s")
		return
	}
	if b.loadsInHours(q) {
		b.set(q, engine.Duration, "", "how many loads in a 9 hour day")
		return
	}
	if b.tripTakes(q) || b.everyTrip(q) {
		b.set(q, engine.CycleTime, "", "trip takes 30 minutes")
		return
	}
	if b.byTable(q, n) {
		return
	}
	if (q.perLoad || eachWord[b.at(q.j).text] && (b.given(engine.LoadCount) || b.has(cAct, "left") || b.has(cQ, "howmany") || b.unitsNamed("h"))) && !b.has(cRole, "fill", "drive", "return", "spread") {
		b.set(q, engine.CycleTime, "", "25 minutes a load")
		return
	}
	if of := b.before(q.i); of.class == cOf && q.i >= 2 && b.at(q.i-2).class == cRole && b.at(q.i-2).key == "load" && b.at(q.i-2).plural() && b.has(cQ, "howlong") {
		b.set(q, engine.CycleTime, "", "14 cargas de 20 minutos")
		return
	}
	if b.roundTrip(q) {
		b.set(q, engine.CycleTime, "", "a round trip takes 18 minutes")
		return
	}
	if i := q.i - 1; i >= 0 && b.tokens[i].text == "viaje" {
		b.tokens[i].used = true
		b.set(q, engine.Duration, "drive", "viaje 12 min")
		return
	}
	if q.unit.ToBase(q.min) > 1440 { // the tractor's hours, not a haul's
		q.done, q.rule = true, "too long for anything of the job"
		b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
		return
	}
	b.set(q, engine.Duration, "", "in 45 seconds")
}

// everyTrip says whether a time stands behind a load and "every": "a load every 25 min",
// "un viaje cada 25 min".
func (b *binder) everyTrip(q *qty) bool {
	t, load := b.at(q.i-1), b.at(q.i-2)
	return (t.text == "every" || t.text == "cada") && (load.class == cRole && load.key == "load" || load.text == "viaje" || load.text == "trip")
}

// unitsNamed says whether a unit is named without a number: "how many hours is that".
func (b *binder) unitsNamed(key string) bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cUnit && t.key == key && !b.inAmount(i, nil) {
			return true
		}
	}
	return false
}

// eachWord says that the time before it is that of one load.
var eachWord = map[string]bool{"each": true, "apiece": true, "cada una": true, "cada uno": true, "c/u": true}

// sizedMore says whether another time than this one was said.
func (b *binder) sizedMore(q *qty) bool {
	for k := range b.qs {
		if o := &b.qs[k]; o != q && o.dim() == unit.DimTime {
			return true
		}
	}
	return false
}

// roundTrip: the round is named beside the time, and no part of it.
func (b *binder) roundTrip(q *qty) bool {
	if b.sizedMore(q) && b.has(cRole, "fill", "drive", "return") {
		return false
	}
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cNoun && t.key == "cycle_time" && (i < q.i && b.gap(i+1, q.i) <= 1 || i >= q.j && b.gap(q.j, i) == 0) {
			b.claim(i)
			return true
		}
	}
	return false
}
