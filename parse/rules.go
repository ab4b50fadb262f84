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
	"eachway":  {{unit.DimTime, engine.Duration, "", ""}, {unit.None, engine.Duration, "min", "min"}},
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
	"pls":      {{unit.DimFraction, engine.PureLiveSeed, "", ""}, {unit.None, engine.SeedRate, "lb/acre", "kg/ha"}},
	"share":    {{unit.DimFraction, engine.SeedShare, "", ""}},
	"heel":     {{unit.DimVolume, engine.HeelVolume, "", ""}, {unit.None, engine.HeelVolume, "gal", "L"}},
	"bag":      {{unit.DimMass, engine.BagWeight, "", ""}, {unit.DimMoney, engine.SeedPrice, "", ""}, {unit.None, engine.BagCount, "", ""}},
	"custom":   {{unit.DimMoney, engine.CustomCost, "", ""}, {unit.DimMoneyPerArea, engine.CustomCost, "", ""}, {unit.DimMoneyPerTime, engine.CustomCost, "", ""}, {unit.DimMoneyPerVolume, engine.CustomCost, "", ""}},
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
var durationPart = map[string]string{"fill": "fill", "drive": "drive", "eachway": "drive", "out": "drive", "load": "fill", "gross": "fill", "return": "return", "spread": "spread", "mix": "mix", "inc": "incorporation"}

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
	case unit.DimMoney, unit.DimMoneyPerMass, unit.DimMoneyPerArea, unit.DimMoneyPerVolume, unit.DimMoneyPerTime:
		b.money(q, n)
	case unit.DimTemperature:
		if !b.claimRole(q, n, "soiltemp") && !b.has(cRole, "soiltemp") {
			q.done, q.rule = true, "no soil temperature"
			b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
			return
		}
		b.set(q, engine.SoilTemperature, "", "soil 55 degrees")
	case unit.DimAreaPerTime:
		b.set(q, engine.AreaPerHour, "", "3.6 acres per hour")
	case unit.DimFrequency:
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
		if next := b.at(i + 1); role == "tank" && i == n.right && (next.class == cOf || next.class == cQ && next.key == "is") && b.ownedAhead(i, q) {
			continue // "rabano a cuatro tanque de cinco mil", "using 600 tank is 3600"
		}
		if i == n.right && i != n.left && role == "flow" && b.verb(i) && q.unit == nil && !b.touching(q.j, i) && b.ownedAhead(i, q) {
			continue // "tirar 8000 si salen 700"
		}
		if role == "bag" && q.unit == nil && b.tokens[i].text == "saco" && i < q.i && (q.min >= 100 || b.has(cRole, "pump")) && flowBand(q.min) {
			b.claim(i)
			q.unit, q.implied = unit.Find(pick(b.metric, "L/min", "gal/min")), true
			b.set(q, engine.Flow, "", "le saco 500 por atrás")
			return true
		}
		if next := b.at(q.j); role == "tank" && q.unit == nil && next.class == cRole && (next.key == "gross" || next.key == "tare") && b.has(cRole, "weight") {
			continue // "weighed tanker 61,400 full 24,200 empty"
		}
		if role == "jar" && !b.isCount(q) {
			continue // "frasco de un cuarto": no quarter of a seed
		}
		if role == "field" && q.unit == nil && q.min >= 5000 {
			continue // "el otro rancho tira 10 mil"
		}
		if role == "field" && q.unit == nil && i >= q.j && b.tokens[i].plural() {
			continue // "two fields today"
		}
		if role == "field" && q.unit == nil && b.at(q.i-1).class == cAt && q.min >= 1000 {
			continue // "tank 5500 at 6600 field is 30 acres"
		}
		if role == "tank" && i < q.i && b.at(q.i-1).class == cAt && b.given(engine.LoadVolume) && q.unit == nil {
			continue // "quedan 1800 en el tanque a 7200"
		}
		if role == "pump" && i < q.i && q.per == "" && b.at(q.j).class == cRole && (strings.Contains(b.at(q.j).text, "out") || strings.Contains(b.at(q.j).text, "atras")) && !b.claimed[q.j] {
			continue // "the pump only gives 450 out the back"
		}
		if role == "rate" && q.bare() && q.max < 12 && !b.metric && b.gap(q.j, i) > 0 && i >= q.j {
			continue // "le voy a dar a 3.5, qué pasa con la dosis"
		}
		if role == "pls" && q.unit == nil && (i < q.i || b.gap(q.j, i) > 0) {
			continue // "15 lb pls of ryegrass 97 purity"
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
				q.back = role == "eachway"
				b.eachWayBehind(q)
				b.unloadTime(q)
				b.leftOfTank(q, role)
				b.cycleOut(q, role)
				return true
			}
		}
	}
	return false
}

// eachWayBehind: "haul 12 each way" is the way back too.
func (b *binder) eachWayBehind(q *qty) {
	if k := b.nextWord(q.j, 1); q.of == "drive" && b.at(k).class == cRole && b.at(k).key == "eachway" && !b.claimed[k] {
		b.claim(k)
		q.back = true
	}
}

// gatePair: behind one mark with its flow, "and 5 gave 780", "y en 5 me dio 780", "and 9 cm
// gives 3300" is another.
func (b *binder) gatePair(q *qty) bool {
	first := b.first(engine.GateOpening)
	if first == nil || first == q || q.i < first.j || b.count(engine.GateOpening) != b.count(engine.Flow) || q.max > 60 || q.bare() != (first.unit == nil || first.unit.Symbol == "") || !q.bare() && q.unit != first.unit {
		return false
	}
	for i := q.j; i < len(b.tokens); i++ {
		switch t := &b.tokens[i]; {
		case gaveWord[t.text]:
			next := b.amountAt2(i + 1)
			if next == nil || next.unit != nil && next.dim() != unit.DimFlow || next.done {
				return false
			}
			if next.unit == nil && b.first(engine.Flow) != nil {
				next.unit, next.implied = b.first(engine.Flow).unit, true
			}
			if q.unit == nil {
				q.unit = unit.Must("")
			}
			b.set(q, engine.GateOpening, "", "gate 3 gave 450 and 5 gave 780")
			b.set(next, engine.Flow, "", "gate 3 gave 450 and 5 gave 780")
			return true
		case t.class == cSkip, t.class == cFiller:
		default:
			return false
		}
	}
	return false
}

var gaveWord = map[string]bool{"gave": true, "gives": true, "got": true, "gets": true, "was": true, "is": true, "did": true, "makes": true, "made": true, "puts": true, "=": true, "dio": true, "da": true, "me dio": true, "daba": true, "fue": true, "salieron": true}

// first is the first amount of a quantity.
func (b *binder) first(s engine.Slot) *qty {
	for k := range b.qs {
		if b.qs[k].slot == s {
			return &b.qs[k]
		}
	}
	return nil
}

// shaftSpeed: 540 and 1000 are the speeds that shafts are rated at; beside a speed in
// turns a minute they are nothing else.
func (b *binder) shaftSpeed(q *qty, n near) bool {
	if role := b.key(b.nearest(q, n)); role == "pto" || role == "rated" || q.min != 540 && q.min != 1000 || q.min != q.max || b.given(engine.RatedPTOSpeed) || !b.has(cRole, "pto", "rated") {
		return false
	}
	q.unit = unit.Must("")
	b.set(q, engine.RatedPTOSpeed, "", "pump 1500 at 540, running 480 rpm")
	return true
}

// runsAt: with the shaft's rated speed said, a second number of that size is what it
// turns at: "pto 540 pump 1800, i run at 480".
func (b *binder) runsAt(q *qty) bool {
	if !b.has(cRole, "pto", "rated") || q.min < 200 || q.max > 1200 {
		return false
	}
	for k := range b.qs {
		o := &b.qs[k]
		if o.i >= q.i || o.slot != engine.PTOSpeed && o.slot != engine.RatedPTOSpeed || o.min != 540 && o.min != 1000 {
			continue
		}
		if o.slot == engine.RatedPTOSpeed && b.given(engine.PTOSpeed) || q.min > o.max*1.2 {
			return false
		}
		q.unit = unit.Must("")
		b.set(o, engine.RatedPTOSpeed, "", "pump 1500 at 540, running 480")
		b.set(q, engine.PTOSpeed, "", "pump 1500 at 540, running 480")
		return true
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
	case role == "pls" && q.max >= 50:
		return roleRow{unit.None, engine.PureLiveSeed, "%", "%"}
	case role == "fill" && q.min >= 150:
		return volume
	case role == "gross" && q.min >= 150 && !b.has(cRole, "tare") && (b.has(cRole, "tank") || b.given(engine.TankVolume) || b.given(engine.LoadVolume)):
		return volume
	case role == "tare" && b.timed() && !b.has(cRole, "gross", "weight"): // 4 minutes to empty 4200
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

// acresCounted says whether the question is how many acres.
func (b *binder) acresCounted() bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cQ && t.key == "howmany" && b.at(i+1).class == cUnit && (b.at(i+1).key == "acre" || b.at(i+1).key == "ha") {
			return true
		}
	}
	return false
}

// isTotal says whether a word for owning stands before the amount, or "left" behind it.
func (b *binder) isTotal(q *qty) bool {
	if b.asksRate() && b.sized(unit.DimArea) && !b.sized(unit.DimVolume) && q.per == "" {
		return true // "put 50 pounds in and covered 4 acres, what's my rate"
	}
	for i := q.j; i < q.j+3 && !b.inAmount(i, q) && b.at(i).class != cComma; i++ {
		if t := b.at(i); t.class == cRole && strings.HasPrefix(t.text, "left") && !b.at(i+1).opens() { // 20 lb of ryegrass left
			b.claim(i)
			return true
		}
	}
	for i := q.i - 1; i >= 0 && i >= q.i-4; i-- {
		if totalWords[b.tokens[i].text] || b.tokens[i].text == "will" && b.at(i+1) == b.at(q.i) && b.acresCounted() {
			return true
		}
		if b.tokens[i].class == cComma || b.inAmount(i, q) {
			return false
		}
	}
	return false
}
