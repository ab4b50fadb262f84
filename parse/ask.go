package parse

import (
	"tankside/engine"
)

// nounAsk says which topic and quantity a question noun is about. A weak noun is a
// question only with a question word or mark; a strong one by itself.
var nounAsk = map[string]struct {
	topic engine.Topic
	slot  engine.Slot
	weak  bool
}{
	"acres_per_load":   {engine.TopicLoad, engine.AreaPerLoad, false},
	"seed_per_load":    {engine.TopicLoad, engine.SeedPerLoad, false},
	"loads":            {engine.TopicField, engine.Loads, false},
	"loads_per_hour":   {engine.TopicCycle, engine.LoadsPerHour, false},
	"area_per_hour":    {engine.TopicCycle, engine.AreaPerHour, false},
	"total_time":       {engine.TopicCycle, engine.TotalTime, true},
	"cycle_time":       {engine.TopicCycle, engine.CycleTime, false},
	"turnover_time":    {engine.TopicAgitation, engine.TurnoverTime, false},
	"bypass_flow":      {engine.TopicAgitation, engine.BypassFlow, false},
	"agitation":        {engine.TopicAgitation, engine.BypassFlow, true},
	"mixing_time":      {engine.TopicAgitation, engine.MixingTime, false},
	"unload_time":      {engine.TopicFlow, engine.UnloadTime, false},
	"run_length":       {engine.TopicLoad, engine.RunLength, false},
	"flow":             {engine.TopicFlow, engine.Flow, false},
	"soak":             {engine.TopicSoak, engine.NoSlot, true},
	"pails":            {engine.TopicSoak, engine.Pails, true},
	"depth":            {engine.TopicDepth, engine.Depth, false},
	"bags":             {engine.TopicSeedForArea, engine.BagCount, true},
	"usual_rate":       {engine.TopicCrop, engine.UsualRate, false},
	"seeding_depth":    {engine.TopicCrop, engine.SeedingDepth, false},
	"seeds_per_weight": {engine.TopicCrop, engine.SeedsPerWeight, true},
	"seeds_per_area":   {engine.TopicSeedLot, engine.SeedsPerArea, false},
	"seeds_per_volume": {engine.TopicSeedLot, engine.SeedsPerVolume, false},
	"bulk_seed_rate":   {engine.TopicSeedLot, engine.BulkSeedRate, true},
	"pure_live_seed":   {engine.TopicSeedLot, engine.PureLiveSeed, false},
	"seed_cost":        {engine.TopicCost, engine.SeedCost, false},
	"bags_per_load":    {engine.TopicLoad, engine.BagsPerLoad, false},
	"total_cost":       {engine.TopicCost, engine.TotalCost, false},
	"nutrient_value":   {engine.TopicCost, engine.NutrientValuePerVolume, true},
	"tankers":          {engine.TopicCycle, engine.Tankers, true},
	"sample_cv":        {engine.TopicSamples, engine.SampleCV, true},
	"nutrients":        {engine.TopicNutrients, engine.NoSlot, false},
	"gate_opening":     {engine.TopicGate, engine.GateOpening, false},
	"percent_off":      {engine.TopicRate, engine.PercentOff, false},
	"net_weight":       {engine.TopicWeigh, engine.NetWeight, true},
	"germ_days":        {engine.TopicCrop, engine.DaysToEmerge, true},
	"window":           {engine.TopicCrop, engine.NoSlot, true},
	"frost":            {engine.TopicCrop, engine.NoSlot, true},
	"winter":           {engine.TopicCrop, engine.NoSlot, true},
	"handle":           {engine.TopicCrop, engine.NoSlot, true},
}

// asker collects what a message asks.
type asker struct {
	*binder
	clauseQ int  // token of the open question word, -1
	lastAsk int  // token of the last thing asked, -1
	jar     bool // the seeds of a jar are asked for
}

// asks reads the questions of a message, clause by clause.
func (b *binder) asks() {
	a := asker{binder: b, clauseQ: -1, lastAsk: -1}
	marked := b.clauseMarks()
	a.jar = a.jarAsked()
	if b.bareWord() {
		for i := range marked {
			marked[i] = true // "velocidad", "loads": a word alone asks
		}
	}
	for i := range b.tokens {
		t := &b.tokens[i]
		switch t.class {
		case cComma:
			if t.text != "and" && t.text != "y" && t.text != "e" && t.text != "(" && t.text != ")" {
				a.clauseQ = -1
			}
		case cQuestion:
			a.clauseQ = -1
			b.req.Question = true
			b.req.Marked = true
		case cAbout:
			if t.text == "como" && b.startsClause(i) && !b.at(i+1).opens() && a.clauseQ < 0 {
				a.clauseQ, b.req.Question = i, true
			}
		case cQ:
			if t.key == "is" && (a.clauseQ >= 0 || b.tells(i) || !b.startsClause(i) && !marked[i]) {
				continue // "what gate is", "the gate is at 4"
			}
			if a.clauseQ >= 0 && (t.key == "what" || t.key == "how") {
				continue // "tell me how many": the later, narrower word leads
			}
			a.clauseQ, b.req.Question = i, true
			a.alone(i)
		case cEach:
			a.ofEach(i)
		case cFull:
			a.fullLoad(i)
		case cNoun:
			a.noun(i, marked[i])
		case cRole, cUnit, cCrop, cCropQ, cRyeQ, cNut, cNutW, cNutQ, cManure:
			a.target(i, marked[i])
		}
	}
}

// ofEach: "how much of each", "cuánto de cada una" are of the seeds of a mix.
func (a *asker) ofEach(i int) {
	if a.clauseQ < 0 || a.gap(a.clauseQ+1, i) > 0 || a.labSheet() || a.has(cNut) || a.has(cNutW) || a.has(cRole, "price") || a.has(cCrop) {
		return
	}
	if q := a.tokens[a.clauseQ].key; q == "howmuch" || q == "howmany" || q == "what" {
		a.seedAsked(i)
	}
}

// fullLoad: "what's a full load then" asks what one comes to.
func (a *asker) fullLoad(i int) {
	if a.clauseQ >= 0 && a.tokens[a.clauseQ].key == "what" && a.gap(a.clauseQ+1, i) == 0 && !a.claimed[i] {
		a.add(engine.TopicLoad, engine.AreaPerLoad, i)
	}
}

// seedPerTank: "seed per tanker now".
func (a *asker) seedPerTank(i int) bool {
	per, of := a.at(i+1), a.at(i+2)
	if a.tokens[i].class != cRole || a.tokens[i].key != "seed" || a.claimed[i] || per.class != cPer && per.key != "per" && per.text != "a" && per.text != "each" && per.class != cEach {
		return false
	}
	return of.class == cRole && (of.key == "tank" || of.key == "load") && !a.claimed[i+2]
}

// bareWord says whether the message is one role or question noun and nothing else.
func (b *binder) bareWord() bool {
	n := 0
	for i := range b.tokens {
		switch t := &b.tokens[i]; t.class {
		case cSkip, cFiller, cMy, cOf:
		case cRole:
			if t.key != "speed" && t.key != "flow" && !(t.key == "load" && t.plural()) && t.key != "depth" || b.verb(i) && t.key == "speed" {
				return false
			}
			n++
		case cNoun:
			n++
		default:
			return false
		}
	}
	return n == 1
}

// startsClause says whether only fillers stand between token i and the last comma.
func (b *binder) startsClause(i int) bool {
	for i--; i >= 0; i-- {
		switch b.tokens[i].class {
		case cSkip, cFiller:
		case cComma, cQuestion:
			return true
		default:
			return b.amountEnds(i + 1) // "… 400 gpm out the back is it mixing enough"
		}
	}
	return true
}

// amountEnds says whether an amount, with the word that placed it, ends before token i.
func (b *binder) amountEnds(i int) bool {
	for k := range b.qs {
		if q := &b.qs[k]; (q.j == i || q.hi == i) && i < len(b.tokens) && !b.at(i+1).opens() && b.at(i+1).class != cOf {
			return true
		}
	}
	return false
}

// behindComma says whether only fillers stand between token i and a comma or the start.
func (b *binder) behindComma(i int) bool {
	for i--; i >= 0; i-- {
		if c := b.tokens[i].class; c == cComma || c == cQuestion {
			return true
		} else if c != cSkip && c != cFiller && c != cMy {
			return false
		}
	}
	return true
}

// clauseMarks says for each token whether its clause ends in a question mark.
func (b *binder) clauseMarks() []bool {
	out := make([]bool, len(b.tokens))
	marked := false
	for i := len(b.tokens) - 1; i >= 0; i-- {
		switch t := &b.tokens[i]; {
		case t.class == cQuestion:
			marked = true
		case t.class == cComma && (t.text == "." || t.text == ";"):
			marked = false
		}
		out[i] = marked
	}
	return out
}

func (a *asker) add(topic engine.Topic, slot engine.Slot, i int) {
	for _, x := range a.req.Asks {
		if x.Topic == topic && x.Slot == slot {
			return
		}
	}
	a.tokens[i].used, a.lastAsk = true, i
	a.req.Asks = append(a.req.Asks, Ask{Topic: topic, Slot: slot, At: a.span(i, i+1)})
}

// alone: a question word that needs no noun: how fast, how far, how deep.
func (a *asker) alone(i int) {
	switch a.tokens[i].key {
	case "howfast":
		a.add(engine.TopicSpeed, engine.Speed, i)
	case "howfar":
		if a.hasUnit("acre") || a.hasUnit("ha") {
			a.add(engine.TopicLoad, engine.AreaPerLoad, i)
			return
		}
		a.add(engine.TopicLoad, engine.RunLength, i)
	case "howdeep":
		liquid := a.given(engine.ApplicationRate) || a.has(cRole, "rate") || a.has(cNoun, "depth", "total_volume") || a.saysAny(liesWords) || a.has(cInfo, "safety_runoff")
		if a.has(cCrop) || a.has(cCropQ) || a.has(cRyeQ) || !liquid {
			a.add(engine.TopicCrop, engine.SeedingDepth, i)
		} else {
			a.add(engine.TopicDepth, engine.Depth, i)
		}
	case "howheavy":
		if a.has(cCrop) && len(a.qs) == 0 {
			a.add(engine.TopicCrop, engine.UsualRate, i)
		} else {
			a.rateAsked(i)
		}
	case "howwide":
		a.add(engine.TopicFlow, engine.Width, i)
	case "howlong":
		a.howLong(i)
	}
}

// liesWords are of what was put on the ground: "how deep does that lay".
var liesWords = []string{"lay", "lays", "lie", "lies", "sit", "sits", "on the ground", "queda", "quedaria", "se hace"}

func (a *asker) asked(topic engine.Topic) bool {
	for _, x := range a.req.Asks {
		if x.Topic == topic {
			return true
		}
	}
	return false
}

func (a *asker) tokenInAmount(i int) bool {
	for k := range a.qs {
		if i >= a.qs[k].i && i < a.qs[k].j {
			return true
		}
	}
	return false
}

// perAfter says what a unit word is per: "gallons per minute", "acres an hour".
func (a *asker) perAfter(i int) string {
	n, u := a.at(i+1), a.at(i+2)
	if n.class == cPer || n.class == cFiller && (n.key == "per" || n.text == "a" || n.text == "an") {
		if u.class == cUnit {
			return u.key
		}
	}
	if n.class == cPerLoad {
		return "load"
	}
	return ""
}
