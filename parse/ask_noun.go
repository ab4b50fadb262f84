package parse

import (
	"strings"

	"tankside/engine"
)

// howLong: to mix, to soak, to empty, for the round, for the field.
func (a *asker) howLong(i int) {
	switch {
	case a.has(cNoun, "soak"):
		a.add(engine.TopicSoak, engine.NoSlot, i)
	case a.has(cNoun, "mixing_time", "agitation") || a.has(cRole, "mix"):
		a.add(engine.TopicAgitation, engine.MixingTime, i)
	case a.has(cNoun, "turnover_time"):
		a.add(engine.TopicAgitation, engine.TurnoverTime, i)
	case a.has(cNoun, "run_length"):
		a.add(engine.TopicLoad, engine.RunLength, i)
	case a.has(cNoun, "germ_days"):
		a.add(engine.TopicCrop, engine.DaysToEmerge, i)
	case a.hasPart("fill", "drive", "return"):
		if a.given(engine.Area) || a.has(cRole, "field") {
			a.add(engine.TopicCycle, engine.TotalTime, i)
		} else {
			a.add(engine.TopicCycle, engine.CycleTime, i)
		}
	case a.given(engine.CycleTime), a.given(engine.LoadsPerHour), a.given(engine.Tankers):
		a.add(engine.TopicCycle, engine.TotalTime, i)
	case a.has(cNoun, "unload_time") || a.has(cRole, "spread", "tank", "load") || a.given(engine.Flow):
		a.add(engine.TopicFlow, engine.UnloadTime, i)
	case a.given(engine.Area) || a.has(cRole, "field"):
		a.add(engine.TopicCycle, engine.TotalTime, i)
	case a.has(cNoun, "cycle_time"):
	case a.has(cNoun, "total_time"):
		a.add(engine.TopicCycle, engine.TotalTime, i) // "how long to finish"
	default:
		a.add(engine.TopicFlow, engine.UnloadTime, i)
	}
}

// weighWord asks for a weight: of seed, or of the slurry itself.
var weighWord = map[string]bool{"weigh": true, "weighs": true, "peso": true, "pesa": true, "pesar": true, "pesan": true}

func (a *asker) hasPart(parts ...string) bool {
	for k := range a.qs {
		for _, p := range parts {
			if a.qs[k].slot == engine.Duration && a.qs[k].of == p {
				return true
			}
		}
	}
	return false
}

// noun: acres per load, turnover, soak …
func (a *asker) noun(i int, marked bool) {
	t := &a.tokens[i]
	ask, ok := nounAsk[t.key]
	if !ok || a.claimed[i] || a.jar && (t.key == "seeds_per_volume" || t.key == "seeds_per_weight" || t.key == "seed_per_load") {
		return
	}
	asked := a.clauseQ >= 0 || marked || t.key == "soak" && (a.has(cCrop) || a.has(cCropQ) || a.has(cRyeQ)) || t.key == "nutrient_value" && a.labSheet()
	asked = asked || (t.key == "window" || t.key == "frost") && (a.has(cCrop) || a.has(cCropQ) || a.has(cRyeQ))
	if ask.weak && !asked && !strings.HasPrefix(t.text, "how ") && !strings.HasPrefix(t.text, "cuant") {
		return
	}
	if a.enough(i) {
		return
	}
	if k := a.nextWord(i-1, -1); t.key == "soak" && k >= 0 && a.tokens[k].class == cNot {
		t.used = true // don't soak it
		return
	}
	switch t.key {
	case "total_time", "tankers":
		if !a.hasPart("fill", "drive", "return", "spread") && !a.req.Question {
			return
		}
	case "agitation":
		if a.sampled() || a.isMix() {
			return
		}
		if len(a.qs) == 0 && (a.has(cCrop) || a.has(cCropQ)) && mixWord[t.text] { // can i mix oats in
			a.add(engine.TopicCrop, engine.NoSlot, i)
			return
		}
		if a.clauseQ >= 0 && a.tokens[a.clauseQ].key == "howlong" {
			return
		}
	case "handle":
		if !a.has(cCrop) && !a.has(cRyeQ) && !a.has(cCropQ) {
			return
		}
	case "total_volume":
		return
	case "soak", "unload_time", "mixing_time", "run_length", "germ_days":
		if a.clauseQ >= 0 && a.tokens[a.clauseQ].key == "howlong" || t.key == "unload_time" && a.asked(engine.TopicLoad) {
			t.used = true
			return
		}
	case "seed_per_load":
		if a.given(engine.Purity) || a.given(engine.Germination) {
			ask.topic, ask.slot = engine.TopicSeedLot, engine.BulkSeedRate
		} else if weighWord[t.text] && a.volumes() > 0 && !a.has(cCrop) && !a.has(cRole, "seed") && !a.given(engine.ApplicationRate) {
			ask.topic, ask.slot = engine.TopicWeigh, engine.NetWeight // "how much does the load weigh, 4000 gal"
		} else if a.labSheet() {
			return // "how much nitrogen in each load" is not about seed
		}
	case "percent_off":
		if a.given(engine.GrossWeight) {
			ask.topic = engine.TopicWeigh
		}
	case "total_cost":
		if strings.HasPrefix(t.text, "all") && (a.clauseQ < 0 || a.tokens[a.clauseQ].key == "is") && !marked && !a.given(engine.CustomCost) && !a.given(engine.SeedPrice) {
			return // "they are all in"
		}
	case "seed_cost":
		if a.given(engine.CustomCost) && !strings.Contains(t.text, "se") { // not of the seed by name
			ask.slot = a.costAsked()
		}
		if a.has(cNut) && !a.has(cCrop) {
			ask.slot = engine.NutrientValue
		}
	case "acres_per_load":
		if a.given(engine.AreaPerLoad) || a.asked(engine.TopicSeedForArea) || a.stockAsked() || a.hasPart("mix") && a.asked(engine.TopicAgitation) { // "¿alcanzan 10 minutos mezclando?"
			return
		}
		if t.text == "cover" || t.text == "covers" || t.text == "coverage" {
			if !asked {
				return
			}
		}
	}
	a.add(ask.topic, ask.slot, i)
	if t.key == "window" || t.key == "frost" {
		a.req.Asks[len(a.req.Asks)-1].Timing = true
	}
}

// target: a role, unit, crop or nutrient that no amount took, behind a question
// word or in a marked clause: "what speed", "how many acres", "speed?".
func (a *asker) target(i int, marked bool) {
	t := &a.tokens[i]
	if a.jar && (t.class == cCrop || t.class == cRyeQ || t.class == cCropQ || t.class == cRole && (t.key == "seed" || t.key == "jar" || t.key == "out")) {
		return // how many rye seeds in a quart jar at the outlet
	}
	q := ""
	if a.clauseQ >= 0 {
		q = a.tokens[a.clauseQ].key
	}
	if (t.class == cNut || t.class == cNutW) && a.claimed[i] && (q == "howmuch" || q == "howmany") && a.gap(a.clauseQ+1, i) == 0 && len(a.req.Asks) == 0 {
		a.nutAsked(i) // "how much phosphate in 7500 gallons at 12 per thousand"
		return
	}
	named := (q == "howmuch" || q == "howmany") && (t.class == cCrop || t.class == cRyeQ || t.class == cCropQ) && a.gap(a.clauseQ+1, i) == 0
	if t.class == cRole && t.key == "gate" && a.claimed[i] && a.given(engine.GateOpening) && (q == "what" || q == "howmuch") {
		if !a.again(i) { // "what rate at mark 2" asks for the rate
			a.add(engine.TopicGate, engine.Flow, i)
		}
		return
	}
	strong := t.class == cUnit && a.opens(i) && len(a.qs) > 0 || t.class == cRole && a.opens(i) && len(a.qs) > 0 && (t.key == "flow" || t.key == "speed" || t.key == "rate") && !a.weak(i) && !a.at(i+1).opens() || a.lastLoads(i) || t.class == cRole && (t.key == "depth" || t.key == "gate" && len(a.qs) == 1 && !a.given(engine.GateOpening) && a.qs[0].slot == engine.Flow) ||
		t.class == cNut && a.labSheet() && len(a.qs) > 0 && !a.wanted()
	strong = strong || t.class == cNut && t.key == "available_n" && len(a.qs) == 0 // "N yr 1"
	if a.again(i) && (!marked || t.class == cRole && a.verb(i)) {
		return
	}
	strong = strong || a.seedPerTank(i)
	if a.claimed[i] && !named || a.tokenInAmount(i) || a.clauseQ < 0 && !marked && !strong {
		return
	}
	switch t.class {
	case cUnit:
		if a.clauseQ < 0 && !strong && !a.behindComma(i) && a.at(i+1).class != cQuestion {
			return // "… per 1000 gal in pounds, how many …?"
		}
		a.unitAsked(i, q)
	case cRole:
		a.roleAsked(i, q)
	case cCrop, cCropQ, cRyeQ:
		if (q == "howmuch" || q == "howmany") && !a.asked(engine.TopicCrop) && !a.stockAsked() {
			a.seedAsked(i)
		}
	case cNut, cNutW, cNutQ:
		if (q == "howmuch" || q == "howmany" || q == "what" || q == "") && !a.asked(engine.TopicCost) && !a.has(cNoun, "nutrient_value") && !a.has(cRole, "price") {
			a.nutAsked(i)
		}
	}
}

// again says whether this clause's question word has its target already, with no
// "and" since: "how many gallons per acre" asks once.
func (a *asker) again(i int) bool {
	if a.clauseQ < 0 || a.lastAsk < a.clauseQ {
		return false
	}
	for k := a.lastAsk + 1; k < i; k++ {
		if a.tokens[k].class == cComma || a.tokens[k].class == cQ {
			return false
		}
	}
	return true
}

// lastLoads: "field 14 4k tank 8k gpa loads": loads at the very end ask.
func (a *asker) lastLoads(i int) bool {
	t := &a.tokens[i]
	if t.class != cRole || t.key != "load" || !t.plural() || len(a.qs) == 0 {
		return false
	}
	for k := i + 1; k < len(a.tokens); k++ {
		if c := a.tokens[k].class; c != cSkip && c != cFiller && c != cQuestion {
			return false
		}
	}
	return true
}
