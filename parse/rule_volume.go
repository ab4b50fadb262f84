package parse

import (
	"slices"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// leftOfTank: in "quarter tank left of 4000" the part is what is left, and the
// number the tank.
func (b *binder) leftOfTank(q *qty, role string) {
	if role == "left" && b.given(engine.LoadFraction) && !b.given(engine.TankVolume) {
		b.set(q, engine.TankVolume, "", "quarter tank left of 4000")
	}
}

// largeMetric: "tank 11" in a metric chat is cubic metres, "tank 11000" litres.
func (b *binder) largeMetric(q *qty, s engine.Slot) {
	if !b.metric {
		return
	}
	switch {
	case s == engine.TankVolume && q.max <= 100:
		q.unit = unit.Find("m3")
	case s == engine.ApplicationRate && q.max >= 1500:
		q.unit = unit.Find("L/ha")
	}
}

// volume: "3000 gallon tank", "1800 gallons left", "emptied 1500 gallons in 4
// minutes", "4000 gal over 20 ft by 1452 ft", else the tank.
func (b *binder) volume(q *qty, n near) {
	role := b.key(b.nearest(q, n))
	switch {
	case b.bushels(q, n):
	case smallUnit(q.unit.Symbol):
		if b.req.Convert != nil {
			b.set(q, engine.JarVolume, "", "5 quarts in gallons") // no tank is told in quarts
			return
		}
		q.done, q.rule = true, "no jar"
		b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
	case b.saysAny(daysTotal) && !b.rated():
		q.done, q.rule = true, "what a day came to"
		b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
	case b.judgedRate(q):
	case b.strip() && role != "tank" && role != "heel" && !b.given(engine.LoadVolume):
		b.claimRole(q, n, "load")
		b.set(q, engine.LoadVolume, "", "put 2,900 gallons on a strip 15 ft by 1,250 ft")
	case q.perLoad || role == "load" && b.claimRole(q, n, "load"):
		b.set(q, engine.LoadVolume, "", "load of 2500 gallons")
	case role != "tank" && b.claimRole(q, n, "left"):
		b.set(q, engine.LoadVolume, "", "1,800 gallons left")
		b.leftOfTank(q, "left")
	case role == "rate" && !b.given(engine.ApplicationRate) && q.min >= 200 && !b.strip() && n.left >= 0 && b.tokens[n.left].text == "rate":
		b.claimRole(q, n, "rate")
		q.unit, q.implied = unit.Find(q.unit.Symbol+"/"+pick(q.unit.System == unit.Metric, "ha", "acre")), true
		b.set(q, engine.ApplicationRate, "", "rate 7000 gallons")
	case q.unit.System == unit.Metric && role == "rate" && b.at(q.i-1).key == "rate" && !b.rated() && q.unit.ToBase(q.max) < 150*264 && !b.strip() && (!b.verb(q.i-1) || !b.ground()):
		b.claimRole(q, n, "rate")
		q.unit, q.implied = unit.Find(q.unit.Symbol+"/ha"), true
		b.set(q, engine.ApplicationRate, "", "tiro 40 m3, dosis 20 m3")
	case role == "heel" && b.byTable(q, n), role == "pail" && b.byTable(q, n):
	case role == "" && b.rateByVolume(q, n):
		q.unit, q.implied = unit.Find(q.unit.Symbol+"/"+pick(q.unit.System == unit.Metric, "ha", "acre")), true
		b.set(q, engine.ApplicationRate, "", "12 cube at 40 cube")
	case role == "pump" && q.max >= 20 && b.claimRole(q, n, "pump"):
		q.unit, q.implied = unit.Find(q.unit.Symbol+"/min"), true
		b.set(q, engine.PumpFlow, "", "pump 1600 gallons")
	case role == "tank" && b.claimRole(q, n, "tank") && !b.spentBefore(q):
		b.set(q, engine.TankVolume, "", "3000 gallon tank")
	case n.at && role == "" && q.unit.Symbol == "m3" && q.min >= 15 && !b.given(engine.ApplicationRate) && b.req.Convert == nil:
		q.unit, q.implied = unit.Find("m3/ha"), true
		b.set(q, engine.ApplicationRate, "", "at 35 cube")
	case n.at && role == "" && q.min >= 200 && !b.given(engine.ApplicationRate) && (b.has(cRole, "tank") || b.labSheet() || b.given(engine.Area)):
		q.unit, q.implied = unit.Find(q.unit.Symbol+"/"+pick(q.unit.System == unit.Metric, "ha", "acre")), true
		b.set(q, engine.ApplicationRate, "", "at 8500 gallons")
	case role == "" && b.onTheGround(q):
		q.unit, q.implied = unit.Find(q.unit.Symbol+"/"+pick(q.unit.System == unit.Metric, "ha", "acre")), true
		b.set(q, engine.ApplicationRate, "", "dairy slurry 7000 gal, how much n")
	case role != "tank" && role != "load" && q.min >= 1000 && !b.rated() && b.sized(unit.DimSpeed) && b.sized(unit.DimLength) && b.asksFlow():
		q.unit, q.implied = unit.Find(q.unit.Symbol+"/"+pick(q.unit.System == unit.Metric, "ha", "acre")), true
		b.set(q, engine.ApplicationRate, "", "6800 gallons on 25 foot at 4.5 mph, how many gpm")
	case role == "" && b.acresCounted() && !b.rated() && b.volumes() == 1 && !b.given(engine.LoadFraction) && !b.parted() && !b.given(engine.LoadCount) && !b.given(engine.AreaPerLoad):
		return // "7000 gal ryegrass 12 lb how many acres": the tank or an acre's
	case role == "" && b.nutrientIn(q):
		b.set(q, engine.LoadVolume, "", "nitrogen in 7000 gallons")
	case role == "" && !b.given(engine.TankVolume) && b.at(q.j).class == cAt && b.amountAt2(q.j+1) != nil && b.amountAt2(q.j+1).bare() && !b.rated() && q.unit.System == unit.Metric:
		b.set(q, engine.TankVolume, "", "12 m3 at 40")
	case role == "" && len(b.qs) == 1 && b.judges():
		return // "is 3000 gallons ok": of what, only the person can tell
	case role == "" && !b.rated() && !b.has(cQ) && !b.has(cAct) && !b.has(cNoun) && !b.has(cQuestion) && b.req.Convert == nil && !b.timed() && !b.strip() && !b.given(engine.Area):
		return // "7000 gallons" alone: of what, only the chat can tell
	case role != "tank" && role != "load" && b.ground() && q.unit.ToBase(q.min) > 10*mostInATank && !b.given(engine.TotalVolume):
		b.set(q, engine.TotalVolume, "", "280000 gallons on 40 acres")
	case b.spent(q) || b.given(engine.TankVolume):
		b.set(q, engine.LoadVolume, "", "put 4000 gallons on 20 ft by 1452 ft")
	default:
		b.set(q, engine.TankVolume, "", "3000 gallons")
	}
}

// daysTotal are words for what a day came to: its loads are told of, not its gallons.
var daysTotal = []string{"total for the day", "total for today", "total del dia", "total de hoy"}

// mostInATank is the largest tank there is, in gallons. Ten times that beside ground is
// what the field gets; anything below can be what was spread.
const mostInATank = 20000

// ground says whether an area was said.
func (b *binder) ground() bool {
	for k := range b.qs {
		if b.qs[k].dim() == unit.DimArea {
			return true
		}
	}
	return false
}

// onTheGround says whether the only volume of a question about nutrients or seeds in the
// slurry is what goes on the ground.
func (b *binder) onTheGround(q *qty) bool {
	about := b.has(cManure) && (b.has(cNut) || b.has(cQ, "what") && !b.has(cCrop) || b.has(cNutW) || b.has(cNoun, "nutrients")) || b.has(cNoun, "seeds_per_volume")
	in := b.before(q.i).text
	return about && q.min >= 1000 && !b.rated() && !b.has(cRole, "tank", "load") && in != "in" && in != "en" && b.volumes() == 1
}

// volumes counts the amounts that are volumes.
func (b *binder) volumes() int {
	n := 0
	for k := range b.qs {
		if b.qs[k].dim() == unit.DimVolume {
			n++
		}
	}
	return n
}

// nutrientIn says whether the message asks what is in a volume: "how much nitrogen in
// 7000 gallons".
func (b *binder) nutrientIn(q *qty) bool {
	amounts := b.before(q.i).class == cQ && b.before(q.i).key == "is" && b.has(cQ, "howmuch", "howmany", "what") && b.volumes() == 1 // how much N is 6000 gal
	return (amounts || holding[b.before(q.i).text]) && (b.has(cNut) || b.has(cNutW) || b.has(cNoun, "nutrients"))
}

// parted says whether a part of a tank was said.
func (b *binder) parted() bool {
	return slices.ContainsFunc(b.qs, func(o qty) bool { return o.part })
}

// sized says whether an amount of a dimension was said.
func (b *binder) sized(d unit.Dim) bool {
	return slices.ContainsFunc(b.qs, func(o qty) bool { return o.dim() == d })
}

// asksFlow says whether gallons a minute are named without a number.
func (b *binder) asksFlow() bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cUnit && !b.inAmount(i, nil) {
			if u := unit.Find(t.key); u != nil && u.Dim == unit.DimFlow {
				return true
			}
		}
	}
	return b.has(cNoun, "flow")
}

// holding are words between a nutrient and the gallons that have it.
var holding = map[string]bool{"in": true, "from": true, "en": true, "traen": true, "tienen": true, "llevan": true, "dan": true}

// bushels measure seed, never slurry: with a crop in the message they are its rate.
func (b *binder) bushels(q *qty, n near) bool {
	if q.unit.Symbol != "bu" || b.given(engine.SeedRate) {
		return false
	}
	crop := b.cropFor(q, n)
	for i := range b.tokens {
		if c := b.tokens[i].class; crop < 0 && (c == cCrop || c == cRyeQ || c == cCropQ) {
			crop = i
		}
	}
	if crop < 0 {
		return false
	}
	q.unit, q.implied = unit.Must("bu/acre"), true
	b.claim(crop)
	b.set(q, engine.SeedRate, b.cropNear(crop), "oats at 2 bu")
	return true
}

// rateByVolume: a second volume behind "at", or one bigger than the tank, is what
// goes on a hectare: "12 cube at 40 cube", "14 m3 tank, 35 cube".
func (b *binder) rateByVolume(q *qty, n near) bool {
	if b.given(engine.ApplicationRate) || unit.Find(q.unit.Symbol+"/"+pick(q.unit.System == unit.Metric, "ha", "acre")) == nil {
		return false
	}
	for k := range b.qs {
		o := &b.qs[k]
		if o == q || o.dim() != unit.DimVolume || o.slot == engine.HeelVolume {
			continue
		}
		if n.at && o.i < q.i || o.slot == engine.TankVolume && q.unit.ToBase(q.min) > o.unit.ToBase(o.max) && q.unit.System == unit.Metric {
			return true
		}
	}
	return false
}

// spentBefore says whether a word for emptying stands before the amount.
func (b *binder) spentBefore(q *qty) bool {
	for i := q.i - 1; i >= 0 && i >= q.i-3; i-- {
		if t := &b.tokens[i]; t.class == cRole && (t.key == "spread" || t.key == "total") {
			return true
		}
	}
	return false
}

// spent says whether the message is about a volume that was put down or run out:
// a strip, a timed run, a load to log.
func (b *binder) spent(q *qty) bool {
	strip, timed, rated := false, false, false
	for k := range b.qs {
		switch o := &b.qs[k]; {
		case o == q:
		case o.dim() == unit.DimLength && o.max > 80, o.dim() == unit.DimArea:
			strip = true
		case o.dim() == unit.DimTime:
			timed = true
		case o.dim() == unit.DimVolumePerArea, o.per == "acre", o.per == "ha":
			rated = true
		}
	}
	verb := b.has(cRole, "total", "spread") || b.has(cAct, "log") || b.has(cAct, "correct") || b.asksPast()
	return !rated && (strip && (verb || !b.has(cRole, "tank")) || timed && b.has(cRole, "gate", "spread")) || verb && !rated
}

// asksPast: "¿cuánto fue por acre?" asks about what was spread.
func (b *binder) asksPast() bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cQ && strings.HasSuffix(t.text, " fue") {
			return true
		}
	}
	return false
}

// rated says whether a rate of slurry was said.
func (b *binder) rated() bool {
	for k := range b.qs {
		if q := &b.qs[k]; q.slot == engine.ApplicationRate || q.dim() == unit.DimVolumePerArea || q.per == "acre" && q.max >= 200 || q.per == "ha" {
			return true
		}
	}
	return false
}

// flow: "1600 gpm pump", "600 gpm out the back"; with a pump named and one flow
// bound to it the other leaves the tank.
func (b *binder) flow(q *qty, n near) {
	switch role := b.key(b.nearest(q, n)); {
	case role == "pump" && b.claimRole(q, n, "pump"), role == "out" && b.pumpBefore(q), role == "" && b.pumpBefore(q), role == "target" && b.pumpBefore(q):
		b.set(q, engine.PumpFlow, "", "1600 gpm pump")
	case role == "fill":
		b.set(q, engine.Flow, "", "600 gpm")
	default:
		b.claimRole(q, n, "flow")
		b.set(q, engine.Flow, "", "600 gpm")
	}
}

// pumpBefore claims a pump named earlier in the same clause: "the pump puts out
// 1600 gpm".
func (b *binder) pumpBefore(q *qty) bool {
	for i := q.i - 1; i >= 0 && b.tokens[i].class != cComma && !b.inAmount(i, q); i-- {
		if t := &b.tokens[i]; t.class == cRole && t.key == "pump" && !b.claimed[i] {
			b.claim(i)
			return true
		}
	}
	return false
}

// returns: "is 500 back enough", "700 gpm going back to the tank", "regresan 500" is
// what the pump sends back, too much for minutes on the road.
func (b *binder) returns(q *qty) bool {
	if q.unit != nil && q.dim() != unit.DimFlow || q.unit == nil && (q.min < 100 || !flowBand(q.min)) || q.per != "" || b.given(engine.BypassFlow) {
		return false
	}
	behind, before := b.nextWord(q.j, 1), b.nextWord(q.i-1, -1)
	if b.at(behind).class == cRole && (b.at(behind).key == "flow" || b.at(behind).key == "out") {
		return false
	}
	for _, i := range [2]int{behind, before} {
		if t := b.at(i); t.class == cRole && t.key == "return" || t.class == cNoun && t.key == "bypass_flow" {
			if t.class = cRole; q.unit == nil {
				q.unit, q.implied = unit.Find(pick(b.metric, "L/min", "gal/min")), true
			}
			b.claim(i)
			b.set(q, engine.BypassFlow, "", "500 going back")
			return true
		}
	}
	return false
}

// nextWord is the token that means something, from i on in steps of step.
func (b *binder) nextWord(i, step int) int {
	for i >= 0 && i < len(b.tokens) && (b.tokens[i].class == cSkip || b.tokens[i].class == cFiller || b.tokens[i].class == cOf || b.tokens[i].class == cMy || b.tokens[i].class == cQ && b.tokens[i].key == "is") {
		i += step
	}
	return i
}

// flowBand is where a bare number can be a flow.
func flowBand(v float64) bool { return v >= 20 && v <= 10000 }
