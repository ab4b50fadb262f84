package parse

import (
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
)

// unloadTime: the time a tank takes to empty, unless the message is about a whole
// haul cycle.
func (b *binder) unloadTime(q *qty) {
	if q.slot == engine.Duration && q.of == "spread" && !b.has(cRole, "fill", "drive", "return") && !b.has(cNoun, "cycle_time", "loads_per_hour", "area_per_hour") {
		b.set(q, engine.UnloadTime, "", "empties in 5 minutes")
	}
}

// emptiedIn: "3000 gallons out in 4 minutes", "emptied 3000 in 5 min": the time that
// so much took to leave the tank, unless a course or a whole cycle was timed.
func (b *binder) emptiedIn(q *qty) {
	b.caughtIn(q)
	if q.slot != engine.Duration || q.of != "" && q.of != "drive" || b.given(engine.GateOpening) || b.has(cRole, "fill", "return") || b.has(cNoun, "cycle_time", "loads_per_hour") {
		return
	}
	for k := range b.qs {
		switch p := &b.qs[k]; {
		case p.dim() == unit.DimLength:
			return
		case (p.slot == engine.TankVolume || p.slot == engine.LoadVolume) && p.j <= q.i && b.gap(p.j, q.i) <= 3 && b.emptied(p.i-2, q.i):
			b.set(q, engine.UnloadTime, "", "3000 gallons out in 4 minutes")
			return
		}
	}
}

// setback says whether a length is a distance that is kept: "a 100 foot setback".
func (b *binder) setback(q *qty) bool {
	for i := q.j; i < len(b.tokens) && i < q.j+2; i++ {
		if t := b.at(i).text; t == "setback" || t == "setbacks" || t == "buffer" || t == "retiro" || t == "franja" {
			return true
		}
	}
	return false
}

// caughtIn: in "caught 42 gallons in 5 seconds" they are no tank.
func (b *binder) caughtIn(q *qty) {
	if q.slot != engine.Duration || q.of != "" || b.given(engine.GateOpening) || !b.catches() {
		return
	}
	for k := range b.qs {
		if p := &b.qs[k]; (p.slot == engine.TankVolume && p.lo == p.i && p.hi == p.j || p.slot == engine.LoadVolume) && p.j < q.i && b.gap(p.j, q.i) <= 1 {
			b.set(p, engine.LoadVolume, "", "caught 42 gallons in 5 seconds")
			if p.unit.ToBase(p.min) >= 200 { // less is a bucket, and empties no tank
				b.set(q, engine.UnloadTime, "", "gate run 8 m3 in 3 min 12 s")
			}
		}
	}
}

// catches says whether the message tells of a flow that was caught or run through a gate.
func (b *binder) catches() bool {
	return b.has(cRole, "gate") || slices.ContainsFunc(b.tokens, func(t token) bool { return catchWords[t.text] })
}

var catchWords = words("caught", "catch", "collected", "bucket", "junte", "juntamos", "cubeta", "salieron", "recogi")

// emptied says whether tokens i..j tell that a tank was emptied.
func (b *binder) emptied(i, j int) bool {
	for i = max(i, 0); i < j; i++ {
		if t := &b.tokens[i]; t.class == cRole && (t.key == "out" || t.key == "flow" || t.key == "tare" || t.key == "spread") || t.class == cAct && t.key == "done" {
			return true
		}
	}
	return false
}

// cycleOut: a bare number by "out" is minutes where the other parts of a haul cycle
// are named, else a flow.
func (b *binder) cycleOut(q *qty, role string) {
	if role == "out" && q.implied && b.has(cRole, "fill", "return") {
		q.unit = unit.Must("min")
		b.set(q, engine.Duration, "drive", "10 out")
	}
}

// length: "12 ft tool" is the width; a long stretch or a measured course the
// distance; inches behind "gate" its mark.
func (b *binder) length(q *qty, n near) {
	feet := q.unit.ToBase(q.max)
	switch role := b.key(b.nearest(q, n)); {
	case b.setback(q):
		q.done, q.rule = true, "a distance to keep"
		b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
	case b.toWater(q):
		q.done, q.rule = true, "how far off water is"
		b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
	case b.drivenAt(q):
		q.unit, q.implied = unit.Must(pick(q.unit.Symbol == "km", "km/h", "mph")), true
		b.set(q, engine.Speed, "", "doing 4 miles, 15 foot, 6000 an acre, flow?")
	case b.gatePair(q):
	case feet < 1 && b.liquidBehind(q):
		b.set(q, engine.Depth, "", "half an inch of manure")
	case role == "gate" && feet < 2.5 && b.claimRole(q, n, "gate"):
		b.set(q, engine.GateOpening, "", "gate 4 in")
	case feet < 2.5 && b.has(cRole, "gate") && role != "width" && !b.given(engine.GateOpening) && (b.timed() || b.sized(unit.DimFlow)):
		b.set(q, engine.GateOpening, "", "gate run: 6500 L in 2 min 30 s at 12 cm")
	case role == "width" && b.claimRole(q, n, "width"):
		b.set(q, engine.Width, "", "12 ft tool")
	case role == "course" && (feet > 60 || b.timed()) && b.claimRole(q, n, "course"):
		b.set(q, engine.Distance, "", "ran 400 ft")
	case n.at && q.max <= 15 && (q.unit.Symbol == "mi" || q.unit.Symbol == "km") && !b.timed():
		q.unit, q.implied = unit.Must(pick(q.unit.Symbol == "km", "km/h", "mph")), true
		b.set(q, engine.Speed, "", "at 3 miles")
	case feet < 2 && (b.asksRate() || b.asksFlow() || b.has(cNoun, "verdict", "depth") || b.rateNamed()):
		b.set(q, engine.Depth, "", "permit caps at 0.25 inch, what's the most gpa")
	case feet < 2 && b.has(cInfo): // ground froze 2 inches
		q.done, q.rule = true, "nothing of the job"
		b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
	case feet > 80 || b.given(engine.Width):
		b.set(q, engine.Distance, "", "200 ft in 45 seconds")
	case b.timedOnly():
		b.set(q, engine.Distance, "", "88 ft in 12 seconds")
	default:
		b.set(q, engine.Width, "", "12 ft")
	}
}

// drivenAt says whether a few miles or kilometres are an hour's: no tool is that wide, and
// no course that long is measured for a flow. "Voy a 4 millas ancho 15 pies", "12 ft wide
// 7000/ac 3.5 miles what flow".
func (b *binder) drivenAt(q *qty) bool {
	if q.unit.Symbol != "mi" && q.unit.Symbol != "km" || q.min < 0.5 || q.max > 15 || b.timed() || b.sized(unit.DimSpeed) || b.has(cRole, "course", "drive") {
		return false
	}
	for i := q.i - 1; i >= 0 && i >= q.i-2; i-- {
		if drivenWords[b.tokens[i].text] {
			return true
		}
	}
	return (b.asksFlow() || b.has(cRole, "flow")) && b.rated() && (b.has(cRole, "width") || b.given(engine.Width))
}

var drivenWords = words("doing", "going", "driving", "running", "voy", "vamos", "ando", "andamos")

// toWater says whether a length is how far off something is, and nothing of the tool or a
// course: "thats 40 ft away", "40 pies de la zanja", "the ditch is 40 ft off".
func (b *binder) toWater(q *qty) bool {
	for i, n := q.j, 0; i < len(b.tokens) && n < 5; i, n = i+1, n+1 {
		t := &b.tokens[i]
		if t.class == cInfo && nearWater[t.key] && n > 0 || n == 0 && t.text == "away" {
			return true
		}
		if t.class != cSkip && t.class != cFiller && t.class != cOf && t.class != cMy && t.class != cArt && t.class != cPer && t.class != cARange && t.class != cHom && t.class != cConv {
			break
		}
	}
	for i := q.i - 1; i >= 0; i-- {
		t := &b.tokens[i]
		if t.class == cInfo {
			return nearWater[t.key]
		}
		if t.class != cSkip && t.class != cFiller && t.class != cOf && t.class != cAt && t.class != cAbout && !(t.class == cQ && t.key == "is") {
			return false
		}
	}
	return false
}

// nearWater are the texts about what slurry is kept away from.
var nearWater = map[string]bool{"safety_runoff": true, "setbacks": true}

// rateNamed says whether gallons an acre are named without a number.
func (b *binder) rateNamed() bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cUnit && !b.inAmount(i, nil) {
			if u := unit.Find(t.key); u != nil && u.Dim == unit.DimVolumePerArea {
				return true
			}
		}
	}
	return false
}

// liquids are what stands on the ground after the tool. Rain is weather.
var liquids = map[string]bool{"manure": true, "slurry": true, "liquid": true, "water": true, "muck": true, "estiercol": true, "purin": true, "liquido": true, "agua": true, "lamina": true}

// liquidBehind says whether a length is one of liquid: "half an inch of manure".
func (b *binder) liquidBehind(q *qty) bool {
	t := b.at(q.j)
	if t.class == cOf {
		t = b.after(q.j)
	}
	return liquids[t.text] || t.class == cManure
}

// timed says whether a time was said.
func (b *binder) timed() bool {
	for k := range b.qs {
		if b.qs[k].dim() == unit.DimTime {
			return true
		}
	}
	return false
}

// byFeet: the second side of a measured strip is in the unit of the first: "300 ft by
// 12", "400 pies por 15".
func (b *binder) byFeet() {
	for k := 1; k < len(b.qs); k++ {
		p, q := &b.qs[k-1], &b.qs[k]
		if by := b.at(q.i - 1); q.bare() && q.i-1 == p.j && p.dim() == unit.DimLength && (by.text == "by" || by.text == "x" || by.text == "por") {
			q.unit, q.implied = p.unit, true
		} else if p.bare() && q.i-1 == p.j && q.dim() == unit.DimLength && q.unit.Base >= 1 && (by.text == "by" || by.text == "x" || by.text == "por") {
			p.unit, p.implied = q.unit, true // 400 by 15 ft
		}
	}
}

// strip says whether two lengths were said.
func (b *binder) strip() bool {
	n := 0
	for k := range b.qs {
		if b.qs[k].dim() == unit.DimLength {
			n++
		}
	}
	return n > 1
}

// timedOnly says whether the message is a length and a time and nothing else that
// makes it a width.
func (b *binder) timedOnly() bool {
	return len(b.qs) == 2 && b.timed() && !b.has(cRole, "width")
}

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
	if (q.perLoad || eachWord[b.at(q.j).text] && (b.given(engine.LoadCount) || b.has(cAct, "left") || b.unitsNamed("h"))) && !b.has(cRole, "fill", "drive", "return", "spread") {
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
