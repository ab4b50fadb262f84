package parse

import (
	"regexp"
	"slices"

	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// unitAsked: how many acres, pounds, gallons, minutes, gpm.
func (a *asker) unitAsked(i int, q string) {
	u := unit.Find(a.tokens[i].key)
	if u == nil || a.req.Convert != nil {
		return
	}
	per := a.perAfter(i)
	many := q == "howmany" || q == "howmuch" || q == "what" || q == ""
	switch {
	case !many && q != "how":
	case u.Dim == unit.DimArea && a.isPer(i):
		if (q == "howmany" || q == "howmuch" || q == "what") && len(a.req.Asks) == 0 {
			a.perAreaAsked(i)
		}
	case u.Dim == unit.DimArea && per == "h":
		a.add(engine.TopicCycle, engine.AreaPerHour, i)
	case u.Dim == unit.DimArea:
		if q == "howmany" || q == "howmuch" {
			a.acresAsked(i)
		}
	case u.Dim == unit.DimMass:
		for k := i + 1; k <= i+2; k++ {
			if c := a.at(k).class; c == cNut || c == cNutW || c == cNutQ {
				return // "how many pounds of p": the nutrient's turn
			}
		}
		a.seedAsked(i)
	case u.Dim == unit.DimFlow && a.given(engine.GateOpening):
		a.add(engine.TopicGate, engine.Flow, i)
	case u.Dim == unit.DimFlow, u.Dim == unit.DimVolume && (per == "min" || per == "h"):
		a.add(engine.TopicFlow, engine.Flow, i)
	case u.Dim == unit.DimVolumePerArea, u.Dim == unit.DimVolume && (per == "acre" || per == "ha"):
		a.rateAsked(i)
	case u.Dim == unit.DimVolume:
		a.volumeAsked(i)
	case u.Dim == unit.DimSpeed:
		a.add(engine.TopicSpeed, engine.Speed, i)
	case u.Dim == unit.DimLength && (q == "howmany") && u.Base < 1 && !a.has(cCrop):
		a.add(engine.TopicDepth, engine.Depth, i)
	case u.Dim == unit.DimLength && q == "howmany":
		a.add(engine.TopicLoad, engine.RunLength, i)
	case u.Dim == unit.DimTime && (q == "howmany" || q == "howmuch"):
		a.howLong(i)
	}
}

// isPer says whether a unit of ground is what something is per: "por acre".
func (a *asker) isPer(i int) bool {
	for i--; i >= 0; i-- {
		switch t := &a.tokens[i]; t.class {
		case cSkip, cMy:
		case cPer, cSlash:
			return true
		case cFiller:
			return t.key == "per" || t.text == "an" || t.text == "a" || t.text == "the" && i > 0 && a.tokens[i-1].text == "to"
		default:
			return false
		}
	}
	return false
}

// perAreaAsked: "how much an acre": seed of a crop without numbers, else slurry.
func (a *asker) perAreaAsked(i int) {
	if len(a.qs) == 0 && (a.has(cCrop) || a.has(cRole, "seed")) {
		a.add(engine.TopicCrop, engine.UsualRate, i)
		return
	}
	a.rateAsked(i)
}

// enough: "¿alcanza la bomba?" asks whether the pump gives the flow that is wanted.
func (a *asker) enough(i int) bool {
	if a.tokens[i].text != "alcanza" || !a.given(engine.PumpFlow) {
		return false
	}
	a.add(engine.TopicFlow, engine.Flow, i)
	return true
}

// acresAsked: what a load covers, unless a strip or what is done is meant.
func (a *asker) acresAsked(i int) {
	switch {
	case a.has(cAct, "left", "totals"):
	case a.asked(engine.TopicCycle) && a.given(engine.Duration) && !a.given(engine.Area):
		a.add(engine.TopicCycle, engine.Area, i) // "how many loads in a 9 hour day and how many acres is that"
	case a.given(engine.TotalSeed) || a.given(engine.BagCount):
		a.add(engine.TopicSeedForArea, engine.Area, i)
	case a.given(engine.LoadCount) && a.given(engine.ApplicationRate) && !a.given(engine.Area):
		a.add(engine.TopicField, engine.Area, i)
	default:
		a.add(engine.TopicLoad, engine.AreaPerLoad, i)
	}
}

// seedAsked: for a load by default; for the field when an area is named and no load.
func (a *asker) seedAsked(i int) {
	switch {
	case a.has(cAct, "totals", "left") && !a.has(cRole, "tank"):
		return
	case onTruck.MatchString(a.text), forAll.MatchString(a.text) && !bothSeeds.MatchString(a.text) && !a.aboutLoad():
		a.add(engine.TopicSeedForArea, engine.TotalSeed, i)
	case a.has(cNoun, "buy") || a.totalBehind(i) || a.has(cRole, "field", "total") && !a.aboutLoad():
		if a.given(engine.TankVolume) && a.given(engine.ApplicationRate) && a.given(engine.Area) {
			a.add(engine.TopicField, engine.TotalSeed, i)
		} else {
			a.add(engine.TopicSeedForArea, engine.TotalSeed, i)
		}
	case a.labSheet() && a.given(engine.AnalysisTotalN):
		a.add(engine.TopicNutrients, engine.TotalN, i)
	case len(a.qs) == 0 && (a.hasUnit("acre") || a.hasUnit("ha") || a.has(cNoun, "usual_rate")):
		a.add(engine.TopicCrop, engine.UsualRate, i)
	case a.given(engine.Area) && !a.aboutLoad():
		if a.given(engine.TankVolume) && a.given(engine.ApplicationRate) {
			a.add(engine.TopicField, engine.TotalSeed, i)
		} else {
			a.add(engine.TopicSeedForArea, engine.TotalSeed, i)
		}
	case a.has(cRole, "pls", "purity", "germ") && (a.given(engine.Purity) || a.given(engine.Germination) || a.given(engine.PureLiveSeed)):
		a.add(engine.TopicSeedLot, engine.BulkSeedRate, i)
	case a.given(engine.LoadFraction):
		a.add(engine.TopicPartLoad, engine.SeedPerLoad, i)
	default:
		a.add(engine.TopicLoad, engine.SeedPerLoad, i)
	}
}

// onTruck: seed that is to be brought along is that of the field, and no load's.
var onTruck = regexp.MustCompile(`\b(on|in|onto) the (truck|pickup|trailer|flatbed|ute)\b|\b(a|en|al|del) (la )?(troca|camioneta|pickup|remolque|camion)\b`)

// totalBehind: "cuánta semilla en total", "seed in total".
func (a *asker) totalBehind(i int) bool {
	for k := i + 1; k < len(a.tokens) && k <= i+3; k++ {
		switch t := &a.tokens[k]; {
		case t.class == cRole && t.key == "total":
			return a.given(engine.Area)
		case t.class == cComma || t.class == cRole:
			return false
		}
	}
	return false
}

// hasUnit says whether a unit word stands in the message without a number.
func (a *asker) hasUnit(key string) bool {
	for i := range a.tokens {
		if t := &a.tokens[i]; t.class == cUnit && t.key == key && !a.tokenInAmount(i) {
			return true
		}
	}
	return false
}

// aboutLoad says whether the question names a load or tank that no amount is about.
func (a *asker) aboutLoad() bool {
	for i := range a.tokens {
		t := &a.tokens[i]
		if t.class == cRole && (t.key == "load" || t.key == "tank") && !a.claimed[i] || t.class == cPerLoad || t.class == cNoun && t.key == "seed_per_load" {
			return true
		}
	}
	return false
}

// perHour says whether "an hour" stands without a number.
func (a *asker) perHour() bool { return a.hasUnit("h") && !a.has(cRole, "field") }

// rateAsked: gallons an acre, from a flow or a strip; for a target N the need; for
// a crop alone its usual rate.
func (a *asker) rateAsked(i int) {
	switch {
	case a.req.Soil != "" && !a.given(engine.ApplicationRate) && !a.given(engine.Flow):
		a.add(engine.TopicDepth, engine.SoilRoom, i)
	case a.given(engine.SeedPerLoad) && a.given(engine.AreaPerLoad), a.given(engine.TotalSeed) && a.given(engine.Area) && !a.given(engine.SeedRate):
		a.add(engine.TopicSeedForArea, engine.SeedRate, i) // 10 lb a load and 0.65 acres a load
	case a.given(engine.CustomCost) && a.given(engine.SeedPrice):
		a.add(engine.TopicCost, engine.TotalCost, i)
	case a.given(engine.CustomCost):
		a.add(engine.TopicCost, engine.CustomCost, i)
	case a.given(engine.SeedPrice):
		a.add(engine.TopicCost, engine.SeedCost, i)
	case (a.capsNutrient() || a.unformed) && !a.goesOn(i):
		a.add(engine.TopicNeed, engine.ApplicationRate, i) // the plan says 80 lb max, what rate gets us there
	case a.given(engine.ApplicationRate) && len(a.qs) == 1 && !a.given(engine.Flow) && !a.given(engine.Distance) && !a.given(engine.LoadVolume) && !a.given(engine.GrossWeight) && !a.wanted(),
		a.given(engine.ApplicationRate) && (a.given(engine.AnalysisTotalN) || a.given(engine.AnalysisPhosphate) || a.given(engine.AnalysisPotash)):
		a.add(engine.TopicNutrients, engine.TotalN, i)
	case a.goesOn(i) && a.sheetAlone():
		a.add(engine.TopicNutrients, engine.NoSlot, i) // a lab sheet, "what are we putting on per acre"
	case a.given(engine.GrossWeight):
		a.add(engine.TopicWeigh, engine.ApplicationRate, i)
	case a.wanted() || a.saysNeed() && (a.given(engine.AnalysisTotalN) || a.given(engine.AnalysisPhosphate)):
		a.add(engine.TopicNeed, engine.ApplicationRate, i)
	default:
		a.add(engine.TopicRate, engine.ApplicationRate, i)
		a.req.Asks[len(a.req.Asks)-1].GoesOn = a.goesOn(i)
	}
}

// capsNutrient says whether the most that is allowed of a nutrient was said.
func (a *asker) capsNutrient() bool {
	return a.given(engine.LimitN) || a.given(engine.LimitPhosphate) || a.given(engine.LimitPhosphorus)
}

// wanted says whether it was said what the ground is to get of a nutrient, at least or at
// most.
func (a *asker) wanted() bool {
	return a.given(engine.TargetN) || a.given(engine.TargetPhosphate) || a.given(engine.TargetPhosphorus) || a.capsNutrient()
}

// goesOn says whether token i asks for what goes on, and names no gallons and no rate:
// "how much per acre", "what are we putting on".
func (a *asker) goesOn(i int) bool {
	switch t := &a.tokens[i]; t.class {
	case cUnit:
		u := unit.Find(t.key)
		return u != nil && u.Dim == unit.DimArea
	case cRole:
		return a.verb(i)
	}
	return false
}

// sheetAlone says whether lab values, and at most the tank and the rate with them, are all
// that was said.
func (a *asker) sheetAlone() bool {
	sheet := false
	for k := range a.qs {
		switch s := a.qs[k].slot; {
		case labValue[s]:
			sheet = true
		case s != engine.NoSlot && s != engine.TankVolume && s != engine.ApplicationRate:
			return false
		}
	}
	return sheet
}

var labValue = map[engine.Slot]bool{engine.AnalysisTotalN: true, engine.AnalysisAmmoniumN: true, engine.AnalysisOrganicN: true, engine.AnalysisAvailableN: true,
	engine.AnalysisPhosphate: true, engine.AnalysisPotash: true, engine.AnalysisPhosphorus: true, engine.AnalysisPotassium: true}

// saysNeed says whether the message speaks of a need.
func (a *asker) saysNeed() bool {
	for i := range a.tokens {
		if t := &a.tokens[i]; t.class == cRole && t.key == "target" || t.class == cQ && strings.Contains(t.text, "need") {
			return true
		}
	}
	return false
}

// volumeAsked: gallons for the field, or in a part load.
func (a *asker) volumeAsked(i int) {
	switch {
	case a.has(cAct, "left", "totals"):
	case a.given(engine.LoadFraction):
		a.add(engine.TopicPartLoad, engine.LoadVolume, i)
	case a.given(engine.GrossWeight), a.given(engine.NetWeight):
		a.add(engine.TopicWeigh, engine.LoadVolume, i)
	case a.given(engine.Area) || a.has(cRole, "field"), a.given(engine.LoadCount) && (a.given(engine.TankVolume) || a.given(engine.LoadVolume)):
		a.add(engine.TopicField, engine.TotalVolume, i)
	}
}

// need says whether what is needed is asked for behind token i: "i'll close the gate some,
// what flow do i need at 3.5" is not of the gate.
func (a *asker) need(i int) bool {
	for k := i + 1; k < len(a.tokens) && k <= i+4; k++ {
		if t := a.tokens[k].text; t == "need" || t == "necesito" || t == "do i need" {
			return true
		}
	}
	return false
}

// roleAsked: what speed, what gate, how many loads, which rate.
func (a *asker) roleAsked(i int, q string) {
	count := q == "howmany" || q == "howmuch"
	switch t := &a.tokens[i]; t.key {
	case "speed":
		if q != "is" && !(thatWord[a.at(i-1).text] && len(a.req.Asks) > 0) { // "what rate at mark 4 and that speed"
			a.add(engine.TopicSpeed, engine.Speed, i)
		}
	case "flow":
		if a.verb(i) && (q == "howmuch" || q == "what") && (a.given(engine.CustomCost) || a.given(engine.SeedPrice)) {
			a.add(engine.TopicCost, a.costAsked(), i) // "cobro 95 por carga, cuánto sale por acre"
			return
		}
		if a.lastClause(i) || a.sampled() || a.verb(i) && a.at(i+1).opens() {
			return // "cuantos galones por acre salen"
		}
		if a.has(cRole, "gate") && !a.need(i) {
			a.add(engine.TopicGate, engine.Flow, i)
		} else {
			a.add(engine.TopicFlow, engine.Flow, i)
		}
	case "pump":
		if q == "is" && len(a.qs) == 0 {
			a.add(engine.TopicAgitation, engine.BypassFlow, i)
			return
		}
		if count || q == "what" && a.given(engine.Speed) {
			a.add(engine.TopicFlow, engine.Flow, i)
		}
	case "rate":
		if a.verb(i) && a.asked(engine.TopicSeedForArea) && onTruck.MatchString(a.text) {
			return // "how much seed do i put on the truck"
		}
		if a.verb(i) && count && !a.labSheet() && !a.hasUnit("acre") && !a.hasUnit("ha") && !(a.given(engine.Flow) && a.given(engine.Width)) && !a.given(engine.Distance) {
			if a.given(engine.LoadFraction) {
				a.add(engine.TopicPartLoad, engine.SeedPerLoad, i)
				return
			}
			if a.given(engine.SeedRate) || a.has(cCrop) || len(a.qs) == 0 || a.given(engine.TankVolume) && a.given(engine.ApplicationRate) {
				a.add(engine.TopicLoad, engine.SeedPerLoad, i) // "¿cuánto le pongo?"
				return
			}
		}
		if a.has(cCrop) && len(a.qs) == 0 {
			a.add(engine.TopicCrop, engine.UsualRate, i)
		} else if q == "what" || q == "" || count {
			a.rateAsked(i)
		}
	case "seedrate":
		if a.has(cRole, "pls") || a.given(engine.Purity) {
			a.add(engine.TopicSeedLot, engine.BulkSeedRate, i)
		} else {
			a.add(engine.TopicCrop, engine.UsualRate, i)
		}
	case "gate":
		if next := a.at(i + 1); q == "howmany" || q == "howlong" || q == "howmuch" && a.given(engine.GateOpening) || next.class == cRole && (next.key == "out" || next.key == "flow") && a.given(engine.Flow) {
			return // "gate out 550"
		}
		if a.req.Shut && a.hasPart("mix") {
			return // "is 10 minutes of stirring before I open the gate enough"
		}
		a.add(engine.TopicGate, engine.GateOpening, i)
	case "depth":
		a.alone(i)
		if a.has(cCrop) {
			a.add(engine.TopicCrop, engine.SeedingDepth, i)
		} else {
			a.add(engine.TopicDepth, engine.Depth, i)
		}
	case "load":
		if t.plural() && count && a.stockAsked() {
			a.add(engine.TopicLoad, engine.Loads, i)
			return
		}
		if t.plural() && a.perHour() {
			a.add(engine.TopicCycle, engine.LoadsPerHour, i)
			return
		}
		if q == "" && t.plural() && (a.lastLoads(i) || len(a.qs) == 0) && !a.acted("log") {
			a.add(engine.TopicField, engine.Loads, i)
			return
		}
		if count && !t.plural() && !a.has(cAct, "left", "totals") && (a.has(cCrop) || a.given(engine.SeedRate)) {
			a.seedAsked(i)
			return
		}
		if count && !a.has(cAct, "left", "totals") && t.plural() {
			if a.given(engine.Duration) && !a.given(engine.Area) && (a.given(engine.CycleTime) || a.inHours()) {
				a.add(engine.TopicCycle, engine.Loads, i) // "2 hours to dark, 22 min round trip, how many loads"
				return
			}
			a.add(engine.TopicField, engine.Loads, i)
		}
	case "tank":
		if count && t.plural() {
			a.add(engine.TopicField, engine.Loads, i)
		}
	case "seed":
		if count || a.seedPerTank(i) {
			a.seedAsked(i)
		}
	case "bag":
		if count && !a.stockAsked() {
			a.add(engine.TopicSeedForArea, engine.BagCount, i)
		}
	case "pail":
		if count {
			a.add(engine.TopicSoak, engine.Pails, i)
		}
	case "pls", "germ", "purity":
		if q == "what" {
			a.add(engine.TopicSeedLot, engine.PureLiveSeed, i)
		}
	case "width":
		if q == "what" && len(a.qs) >= 3 {
			a.add(engine.TopicFlow, engine.Width, i)
		}
	case "price":
		a.add(engine.TopicCost, a.costAsked(), i)
	case "weight":
		switch {
		case a.given(engine.Purity) || a.given(engine.Germination):
			a.add(engine.TopicSeedLot, engine.BulkSeedRate, i)
		case !a.given(engine.GrossWeight) && !a.given(engine.TareWeight) && (a.has(cCrop) || a.has(cRole, "seed") || a.given(engine.SeedRate)):
			a.seedAsked(i)
		default:
			a.add(engine.TopicWeigh, engine.NetWeight, i)
		}
	}
}

// costAsked is what a question about cost is after: all of it where the work was priced too.
func (a *asker) costAsked() engine.Slot {
	switch seed := a.given(engine.SeedPrice); {
	case a.given(engine.CustomCost) && seed:
		return engine.TotalCost
	case a.given(engine.CustomCost):
		return engine.CustomCost
	}
	return engine.SeedCost
}

// thatWord point back at what was said before.
var thatWord = map[string]bool{"that": true, "this": true, "same": true, "the same": true, "esa": true, "misma": true, "esta": true, "la misma": true}

// lastClause says whether the question word of this clause has its target already.
func (a *asker) lastClause(i int) bool {
	if a.clauseQ < 0 || len(a.req.Asks) == 0 {
		return false
	}
	return a.req.Asks[len(a.req.Asks)-1].At[0] >= a.origin(a.tokens[a.clauseQ].from)
}

// nutAsked: what a rate brings, or what rate brings it.
func (a *asker) nutAsked(i int) {
	a.add(engine.TopicNutrients, map[string]engine.Slot{"total_n": engine.TotalN, "ammonium_n": engine.AmmoniumN, "available_n": engine.AvailableN,
		"phosphate": engine.Phosphate, "potash": engine.Potash, "p": engine.Phosphate, "k": engine.Potash}[a.tokens[i].key], i)
}

// inHours says whether loads are counted for a day's hours.
func (a *asker) inHours() bool {
	return slices.ContainsFunc(a.qs, func(q qty) bool {
		return q.slot == engine.Duration && q.of == "" && q.unit != nil && q.unit.ToBase(q.min) >= 120
	})
}
