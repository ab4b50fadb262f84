package parse

import (
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// roleSlots says what a role word makes of an amount of each dimension: the
// written table of binding. The first fitting row of a role wins; None is a bare
// number, taken in the unit named.
var roleSlots = map[string][]roleRow{
	"tank":     {{unit.DimVolume, engine.TankVolume, "", ""}, {unit.None, engine.TankVolume, "gal", "L"}, {unit.DimFraction, engine.LoadFraction, "", ""}},
	"load":     {{unit.DimVolume, engine.LoadVolume, "", ""}, {unit.DimTime, engine.Duration, "", ""}, {unit.None, engine.LoadCount, "", ""}},
	"rate":     {{unit.DimVolumePerArea, engine.ApplicationRate, "", ""}, {unit.DimMassPerArea, engine.SeedRate, "", ""}, {unit.DimVolume, engine.ApplicationRate, "", ""}, {unit.None, engine.ApplicationRate, "gal/acre", "m3/ha"}},
	"seedrate": {{unit.DimMassPerArea, engine.SeedRate, "", ""}, {unit.DimMass, engine.SeedRate, "", ""}, {unit.None, engine.SeedRate, "lb/acre", "kg/ha"}},
	"width":    {{unit.DimLength, engine.Width, "", ""}, {unit.None, engine.Width, "ft", "m"}},
	"speed":    {{unit.DimSpeed, engine.Speed, "", ""}, {unit.None, engine.Speed, "mph", "km/h"}},
	"pump":     {{unit.DimFlow, engine.PumpFlow, "", ""}, {unit.DimVolume, engine.PumpFlow, "", ""}, {unit.None, engine.PumpFlow, "gal/min", "L/min"}},
	"flow":     {{unit.DimFlow, engine.Flow, "", ""}, {unit.None, engine.Flow, "gal/min", "L/min"}},
	"field":    {{unit.DimArea, engine.Area, "", ""}, {unit.None, engine.Area, "acre", "ha"}},
	"gate":     {{unit.DimFlow, engine.Flow, "", ""}, {unit.DimLength, engine.GateOpening, "", ""}, {unit.DimFraction, engine.GateOpening, "", ""}, {unit.None, engine.GateOpening, "", ""}},
	"out":      {{unit.DimTime, engine.Duration, "", ""}, {unit.DimFlow, engine.Flow, "", ""}, {unit.None, engine.Flow, "gal/min", "L/min"}},
	"fill":     {{unit.DimFraction, engine.LoadFraction, "", ""}, {unit.DimTime, engine.Duration, "", ""}, {unit.DimFlow, engine.PumpFlow, "", ""}, {unit.None, engine.Duration, "min", "min"}},
	"drive":    {{unit.DimTime, engine.Duration, "", ""}, {unit.None, engine.Duration, "min", "min"}},
	"return":   {{unit.DimTime, engine.Duration, "", ""}, {unit.None, engine.Duration, "min", "min"}},
	"spread":   {{unit.DimTime, engine.Duration, "", ""}, {unit.None, engine.Duration, "min", "min"}},
	"mix":      {{unit.DimTime, engine.Duration, "", ""}},
	"course":   {{unit.DimLength, engine.Distance, "", ""}},
	"gross":    {{unit.DimTime, engine.Duration, "", ""}, {unit.DimMass, engine.GrossWeight, "", ""}, {unit.DimFraction, engine.LoadFraction, "", ""}, {unit.None, engine.GrossWeight, "lb", "kg"}},
	"tare":     {{unit.DimMass, engine.TareWeight, "", ""}, {unit.None, engine.TareWeight, "lb", "kg"}},
	"purity":   {{unit.DimFraction, engine.Purity, "", ""}, {unit.None, engine.Purity, "%", "%"}},
	"germ":     {{unit.DimFraction, engine.Germination, "", ""}, {unit.None, engine.Germination, "%", "%"}},
	"hard":     {{unit.DimFraction, engine.HardSeed, "", ""}, {unit.None, engine.HardSeed, "%", "%"}},
	"coat":     {{unit.DimFraction, engine.Coating, "", ""}, {unit.None, engine.Coating, "%", "%"}},
	"pls":      {{unit.DimFraction, engine.PureLiveSeed, "", ""}},
	"share":    {{unit.DimFraction, engine.SeedShare, "", ""}},
	"heel":     {{unit.DimVolume, engine.HeelVolume, "", ""}, {unit.None, engine.HeelVolume, "gal", "L"}},
	"bag":      {{unit.DimMass, engine.BagWeight, "", ""}, {unit.DimMoney, engine.SeedPrice, "", ""}, {unit.None, engine.BagCount, "", ""}},
	"pail":     {{unit.DimVolume, engine.PailVolume, "", ""}},
	"slope":    {{unit.DimFraction, engine.Slope, "", ""}},
	"soiltemp": {{unit.DimTemperature, engine.SoilTemperature, "", ""}, {unit.None, engine.SoilTemperature, "°F", "°C"}},
	"density":  {{unit.DimMassPerVolume, engine.Density, "", ""}, {unit.DimMass, engine.Density, "", ""}, {unit.None, engine.Density, "lb/gal", "kg/L"}},
	"jar":      {{unit.None, engine.SampleCount, "", ""}},
	"inc":      {{unit.DimTime, engine.Duration, "", ""}},
	"left":     {{unit.DimVolume, engine.LoadVolume, "", ""}, {unit.None, engine.LoadVolume, "gal", "L"}},
	"total":    {{unit.DimVolume, engine.TotalVolume, "", ""}},
	"seed":     {{unit.DimMassPerArea, engine.SeedRate, "", ""}, {unit.DimMass, engine.SeedRate, "", ""}},
	"pto":      {{unit.None, engine.PTOSpeed, "", ""}},
	"rated":    {{unit.None, engine.RatedPTOSpeed, "", ""}},
}

type roleRow struct {
	dim        unit.Dim
	slot       engine.Slot
	us, metric string // the unit of a bare number
}

func roleTakes(role string, d unit.Dim) bool {
	for _, row := range roleSlots[role] {
		if row.dim == d {
			return true
		}
	}
	return false
}

// durationPart is the part of the haul cycle that a role word names.
var durationPart = map[string]string{"fill": "fill", "drive": "drive", "out": "drive", "load": "fill", "gross": "fill", "return": "return", "spread": "spread", "mix": "mix", "inc": "incorporation"}

// byUnit binds an amount whose unit was said.
func (b *binder) byUnit(q *qty, n near) {
	switch q.unit.Dim {
	case unit.DimVolumePerArea:
		if i := b.nearest(q, n); i >= 0 && b.tokens[i].key == "rate" {
			b.claim(i)
		}
		b.set(q, engine.ApplicationRate, "", "7000 gal/ac")
	case unit.DimMassPerArea:
		b.massPerArea(q, n)
	case unit.DimVolume:
		b.volume(q, n)
	case unit.DimFlow:
		b.flow(q, n)
	case unit.DimSpeed:
		b.claimRole(q, n, "speed")
		b.set(q, engine.Speed, "", "3 mph")
	case unit.DimLength:
		b.length(q, n)
	case unit.DimTime:
		b.time(q, n)
	case unit.DimArea:
		b.area(q, n)
	case unit.DimMass:
		b.mass(q, n)
	case unit.DimFraction:
		b.percent(q, n)
	case unit.DimMassPerVolume, unit.DimMassPerMass:
		b.concentration(q, n)
	case unit.DimMoney, unit.DimMoneyPerMass, unit.DimMoneyPerArea, unit.DimMoneyPerVolume:
		b.money(q, n)
	case unit.DimTemperature:
		if !b.claimRole(q, n, "soiltemp") && !b.has(cRole, "soiltemp") {
			q.done, q.rule = true, "no soil temperature"
			b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
			return
		}
		b.set(q, engine.SoilTemperature, "", "soil 55 degrees")
	case unit.DimFrequency, unit.DimAreaPerTime:
	}
}

// claimRole marks the role word as spoken for when it is the one expected.
func (b *binder) claimRole(q *qty, n near, keys ...string) bool {
	for _, i := range [2]int{b.nearest(q, n), n.left} {
		for _, k := range keys {
			if i >= 0 && b.tokens[i].key == k {
				b.claim(i)
				return true
			}
		}
	}
	for _, k := range keys {
		if n.right >= 0 && b.tokens[n.right].key == k && !b.ownedAhead(n.right, q) {
			b.claim(n.right)
			return true
		}
	}
	return false
}

// byTable binds by the role word nearest to the amount, when the table has a row
// for its dimension.
func (b *binder) byTable(q *qty, n near) bool {
	for _, i := range [3]int{b.nearest(q, n), n.left, n.right} {
		if i < 0 || b.claimed[i] {
			continue
		}
		role := b.tokens[i].key
		if role == "tank" && i == n.right && b.at(i+1).class == cOf && b.ownedAhead(i, q) {
			continue // "rabano a cuatro tanque de cinco mil"
		}
		if role == "gate" && q.dim() == unit.None && q.max > 48 {
			if b.gateFlow(q, i) {
				return true
			}
			continue // "gate for 600": asked for
		}
		if role == "out" && q.unit == nil && flowBand(q.min) && b.pumpBefore(q) {
			b.claim(i)
			q.unit, q.implied = unit.Find(pick(b.metric, "L/min", "gal/min")), true
			b.set(q, engine.PumpFlow, "", "the pump puts out 1600")
			return true
		}
		if role == "tank" && q.dim() == unit.None && (q.max <= 60 && b.has(cAct, "log", "done") || q.max <= 3 && b.rated()) {
			role = "load" // "log 2 tanks"
		}
		for _, row := range roleSlots[role] {
			if row.dim == q.dim() && q.per == "" {
				row = b.reread(q, role, i, row)
				if q.unit == nil && b.hopeless(q, role, row) {
					break
				}
				b.claim(i)
				if q.unit == nil {
					q.unit, q.implied = unit.Find(pick(b.metric, row.metric, row.us)), row.us != ""
					b.largeMetric(q, row.slot)
				}
				of := ""
				if row.slot == engine.Duration {
					if of = durationPart[role]; role == "rate" {
						of = "spread"
					}
				}
				b.set(q, row.slot, of, role+" 12")
				b.unloadTime(q)
				b.leftOfTank(q, role)
				b.cycleOut(q, role)
				return true
			}
		}
	}
	return false
}

// gateFlow: "gate lets out 600" is a flow, too large for a mark, unless a gate for it is
// asked for.
func (b *binder) gateFlow(q *qty, i int) bool {
	if i > q.i || len(b.qs) < 2 || !flowBand(q.min) || b.at(i-1).class == cQ {
		return false
	}
	for k := i + 1; k < q.i; k++ {
		if t := &b.tokens[k]; t.text == "for" || t.text == "para" || t.class == cComma {
			return false
		}
	}
	b.claim(i)
	q.unit, q.implied = unit.Find(pick(b.metric, "L/min", "gal/min")), true
	b.set(q, engine.Flow, "", "gate lets out 600")
	return true
}

// reread turns a row for a bare number into what its size or company makes of it:
// "load 3000" is gallons, "fill her to 2800" too, "lleno a 3600" with a tank named no
// scale weight, "tiro en seis" in a haul cycle minutes.
func (b *binder) reread(q *qty, role string, i int, row roleRow) roleRow {
	volume := roleRow{unit.None, engine.LoadVolume, "gal", "L"}
	switch {
	case q.unit != nil:
	case row.slot == engine.LoadCount && q.max > 60 && !(i >= q.j && b.tokens[i].plural()): // "500 loads" are counted
		return volume
	case role == "fill" && q.min >= 150:
		return volume
	case role == "gross" && q.min >= 150 && !b.has(cRole, "tare") && (b.has(cRole, "tank") || b.given(engine.TankVolume) || b.given(engine.LoadVolume)):
		return volume
	case role == "rate" && b.verb(i) && q.max < 60 && b.has(cRole, "fill", "drive", "return", "gross"):
		return roleRow{unit.None, engine.Duration, "min", "min"}
	}
	return row
}

// hopeless says whether a bare number is far outside what its role word could mean:
// "running a four thousand tank" is no speed.
func (b *binder) hopeless(q *qty, role string, row roleRow) bool {
	f := engine.Fact{Slot: row.slot, Of: durationPart[role], Min: q.min, Max: q.max, Unit: unit.Find(pick(b.metric, row.metric, row.us))}
	return row.us != "" && q.min > 0 && engine.Plausible(&f) == engine.TooFar && row.slot != engine.TankVolume && row.slot != engine.ApplicationRate
}

// leftOfTank: in "quarter tank left of 4000" the part is what is left, and the
// number the tank.
func (b *binder) leftOfTank(q *qty, role string) {
	if role == "left" && b.given(engine.LoadFraction) && !b.given(engine.TankVolume) {
		b.set(q, engine.TankVolume, "", "quarter tank left of 4000")
	}
}

// unloadTime: the time a tank takes to empty, unless the message is about a whole
// haul cycle.
func (b *binder) unloadTime(q *qty) {
	if q.slot == engine.Duration && q.of == "spread" && !b.has(cRole, "fill", "drive", "return") && !b.has(cNoun, "cycle_time", "loads_per_hour", "area_per_hour") {
		b.set(q, engine.UnloadTime, "", "empties in 5 minutes")
	}
}

// cycleOut: a bare number by "out" is minutes where the other parts of a haul cycle
// are named, else a flow.
func (b *binder) cycleOut(q *qty, role string) {
	if role == "out" && q.implied && b.has(cRole, "fill", "return") {
		q.unit = unit.Must("min")
		b.set(q, engine.Duration, "drive", "10 out")
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
	case q.perLoad || role == "load" && b.claimRole(q, n, "load"):
		b.set(q, engine.LoadVolume, "", "load of 2500 gallons")
	case role != "tank" && b.claimRole(q, n, "left"):
		b.set(q, engine.LoadVolume, "", "1,800 gallons left")
		b.leftOfTank(q, "left")
	case role == "rate" && !b.given(engine.ApplicationRate) && q.min >= 200 && n.left >= 0 && b.tokens[n.left].text == "rate":
		b.claimRole(q, n, "rate")
		q.unit, q.implied = unit.Find(q.unit.Symbol+"/"+pick(q.unit.System == unit.Metric, "ha", "acre")), true
		b.set(q, engine.ApplicationRate, "", "rate 7000 gallons")
	case role == "heel" && b.byTable(q, n), role == "pail" && b.byTable(q, n):
	case role == "" && b.rateByVolume(q, n):
		q.unit, q.implied = unit.Find(q.unit.Symbol+"/"+pick(q.unit.System == unit.Metric, "ha", "acre")), true
		b.set(q, engine.ApplicationRate, "", "12 cube at 40 cube")
	case role == "pump" && q.max >= 20 && b.claimRole(q, n, "pump"):
		q.unit, q.implied = unit.Find(q.unit.Symbol+"/min"), true
		b.set(q, engine.PumpFlow, "", "pump 1600 gallons")
	case role == "tank" && b.claimRole(q, n, "tank") && !b.spentBefore(q):
		b.set(q, engine.TankVolume, "", "3000 gallon tank")
	case n.at && role == "" && q.min >= 200 && !b.given(engine.ApplicationRate) && (b.has(cRole, "tank") || b.labSheet() || b.given(engine.Area)):
		q.unit, q.implied = unit.Find(q.unit.Symbol+"/"+pick(q.unit.System == unit.Metric, "ha", "acre")), true
		b.set(q, engine.ApplicationRate, "", "at 8500 gallons")
	case role == "" && !b.rated() && !b.has(cQ) && !b.has(cAct) && !b.has(cNoun) && !b.has(cQuestion) && b.req.Convert == nil && !b.timed() && !b.strip() && !b.given(engine.Area):
		return // "7000 gallons" alone: of what, only the chat can tell
	case b.spent(q) || b.given(engine.TankVolume):
		b.set(q, engine.LoadVolume, "", "put 4000 gallons on 20 ft by 1452 ft")
	default:
		b.set(q, engine.TankVolume, "", "3000 gallons")
	}
}

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
	verb := b.has(cRole, "total", "spread") || b.has(cAct, "log") || b.has(cAct, "correct")
	return !rated && (strip && (verb || !b.has(cRole, "tank")) || timed && b.has(cRole, "gate", "spread")) || verb && !rated
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
	case role == "pump" && b.claimRole(q, n, "pump"), role == "out" && b.pumpBefore(q), role == "" && b.pumpBefore(q):
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

// length: "12 ft tool" is the width; a long stretch or a measured course the
// distance; inches behind "gate" its mark.
func (b *binder) length(q *qty, n near) {
	feet := q.unit.ToBase(q.max)
	switch role := b.key(b.nearest(q, n)); {
	case role == "gate" && b.claimRole(q, n, "gate"):
		b.set(q, engine.GateOpening, "", "gate 4 in")
	case role == "width" && b.claimRole(q, n, "width"):
		b.set(q, engine.Width, "", "12 ft tool")
	case role == "course" && (feet > 60 || b.timed()) && b.claimRole(q, n, "course"):
		b.set(q, engine.Distance, "", "ran 400 ft")
	case n.at && q.max <= 15 && (q.unit.Symbol == "mi" || q.unit.Symbol == "km") && !b.timed():
		q.unit, q.implied = unit.Must(pick(q.unit.Symbol == "km", "km/h", "mph")), true
		b.set(q, engine.Speed, "", "at 3 miles")
	case feet > 80 || b.given(engine.Width):
		b.set(q, engine.Distance, "", "200 ft in 45 seconds")
	case b.timedOnly():
		b.set(q, engine.Distance, "", "88 ft in 12 seconds")
	default:
		b.set(q, engine.Width, "", "12 ft")
	}
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

// time: "fill 6 min", "12 minutes back"; next to a measured course, or without a
// word of its own, just a time.
func (b *binder) time(q *qty, n near) {
	if b.byTable(q, n) {
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

// roundTrip: the round is named beside the time, and no part of it.
func (b *binder) roundTrip(q *qty) bool {
	if b.has(cRole, "fill", "drive", "return") {
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

// rateByArea: "4800 tank 8000 ac" is a rate: no field of 8,000 acres is seeded from a
// tank. "8000 acres" in full is taken at its word.
func (b *binder) rateByArea(q *qty) bool {
	w := b.tokens[q.j-1].text
	return q.min >= 1500 && q.max <= 30000 && w != "acres" && w != "hectares" && w != "hectareas" && !b.rated() && !b.has(cRole, "field") && (b.has(cRole, "tank") || b.given(engine.TankVolume))
}

// covers: "a 3000 gallon tank covers 0.43 acres".
func (b *binder) covers(q *qty) bool {
	cover := false
	for i := q.i - 1; i >= 0 && b.tokens[i].class != cComma && !b.inAmount(i, q); i-- {
		cover = cover || b.tokens[i].class == cNoun && b.tokens[i].key == "acres_per_load"
	}
	return cover && b.has(cRole, "tank", "load") && !b.given(engine.LoadCount)
}

// mass: scale weights by their word, nutrients by theirs, bags, else seed: by the
// acre when a crop or the seed is named and no word says that it is a total.
func (b *binder) mass(q *qty, n near) {
	role := b.key(b.nearest(q, n))
	crop := b.cropFor(q, n)
	switch {
	case (b.given(engine.GrossWeight) || b.has(cRole, "gross") && b.has(cRole, "tare")) && q.unit.Base == 1 && q.max >= 7 && q.max <= 12 && role != "gross" && role != "tare":
		q.unit, q.implied = unit.Must("lb/gal"), true
		b.set(q, engine.Density, "", "how many gallons at 8.4 lb")
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
	case b.has(cCrop) || b.has(cRyeQ) || b.has(cCropQ):
		b.seedMass(q, b.onlyCrop())
	}
}

// bagBefore: "5 bags of 50 lb", "costal de avena de 50 lbs": only "of" and a crop
// stand between the bag and its weight.
func (b *binder) bagBefore(q *qty) bool {
	for i := q.i - 1; i >= 0; i-- {
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
	if b.isTotal(q) || b.ratedSeparately(q) {
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

// isTotal says whether a word for owning stands before the amount, or "left" behind it.
func (b *binder) isTotal(q *qty) bool {
	for i := q.j; i < q.j+3 && !b.inAmount(i, q) && b.at(i).class != cComma; i++ {
		if t := b.at(i); t.class == cRole && strings.HasPrefix(t.text, "left") && !b.at(i+1).opens() { // 20 lb of ryegrass left
			b.claim(i)
			return true
		}
	}
	for i := q.i - 1; i >= 0 && i >= q.i-4; i-- {
		if totalWords[b.tokens[i].text] {
			return true
		}
		if b.tokens[i].class == cComma || b.inAmount(i, q) {
			return false
		}
	}
	return false
}

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

// flowBand is where a bare number can be a flow.
func flowBand(v float64) bool { return v >= 20 && v <= 10000 }
