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
