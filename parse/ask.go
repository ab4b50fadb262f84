package parse

import (
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
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
	"bags":             {engine.TopicSeedForArea, engine.TotalSeed, true},
	"usual_rate":       {engine.TopicCrop, engine.UsualRate, false},
	"seeding_depth":    {engine.TopicCrop, engine.SeedingDepth, false},
	"seeds_per_weight": {engine.TopicCrop, engine.SeedsPerWeight, true},
	"seeds_per_area":   {engine.TopicSeedLot, engine.SeedsPerArea, false},
	"seeds_per_volume": {engine.TopicSeedLot, engine.SeedsPerVolume, false},
	"bulk_seed_rate":   {engine.TopicSeedLot, engine.BulkSeedRate, true},
	"pure_live_seed":   {engine.TopicSeedLot, engine.PureLiveSeed, false},
	"seed_cost":        {engine.TopicCost, engine.SeedCost, false},
	"nutrient_value":   {engine.TopicCost, engine.NutrientValuePerVolume, true},
	"tankers":          {engine.TopicCycle, engine.Tankers, true},
	"sample_cv":        {engine.TopicSamples, engine.SampleCV, true},
	"nutrients":        {engine.TopicNutrients, engine.NoSlot, false},
	"gate_opening":     {engine.TopicGate, engine.GateOpening, false},
	"net_weight":       {engine.TopicWeigh, engine.NetWeight, true},
	"germ_days":        {engine.TopicCrop, engine.DaysToEmerge, true},
	"window":           {engine.TopicCrop, engine.NoSlot, true},
	"winter":           {engine.TopicCrop, engine.NoSlot, true},
	"handle":           {engine.TopicCrop, engine.NoSlot, true},
}

// asker collects what a message asks.
type asker struct {
	*binder
	clauseQ int // token of the open question word, -1
	lastAsk int // token of the last thing asked, -1
}

// asks reads the questions of a message, clause by clause.
func (b *binder) asks() {
	a := asker{binder: b, clauseQ: -1, lastAsk: -1}
	marked := b.clauseMarks()
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
			if t.key == "is" && (a.clauseQ >= 0 || !b.startsClause(i) && !marked[i]) {
				continue // "what gate is", "the gate is at 4"
			}
			if a.clauseQ >= 0 && (t.key == "what" || t.key == "how") {
				continue // "tell me how many": the later, narrower word leads
			}
			a.clauseQ, b.req.Question = i, true
			a.alone(i)
		case cNoun:
			a.noun(i, marked[i])
		case cRole, cUnit, cCrop, cCropQ, cRyeQ, cNut, cNutW, cNutQ, cManure:
			a.target(i, marked[i])
		}
	}
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
		liquid := a.given(engine.ApplicationRate) || a.has(cRole, "rate") || a.has(cNoun, "depth", "total_volume")
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
	case a.has(cNoun, "unload_time") || a.has(cRole, "spread", "tank", "load") || a.given(engine.Flow):
		a.add(engine.TopicFlow, engine.UnloadTime, i)
	case a.given(engine.Area) || a.has(cRole, "field"):
		a.add(engine.TopicCycle, engine.TotalTime, i)
	case a.has(cNoun, "cycle_time"):
	default:
		a.add(engine.TopicFlow, engine.UnloadTime, i)
	}
}

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
	if !ok || a.claimed[i] {
		return
	}
	asked := a.clauseQ >= 0 || marked || t.key == "soak" && (a.has(cCrop) || a.has(cCropQ) || a.has(cRyeQ)) || t.key == "nutrient_value" && a.labSheet()
	if ask.weak && !asked {
		return
	}
	if a.enough(i) {
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
		} else if a.labSheet() {
			return // "how much nitrogen in each load" is not about seed
		}
	case "seed_cost":
		if a.has(cNut) && !a.has(cCrop) {
			ask.slot = engine.NutrientValue
		}
	case "acres_per_load":
		if a.given(engine.AreaPerLoad) || a.asked(engine.TopicSeedForArea) {
			return
		}
		if t.text == "cover" || t.text == "covers" || t.text == "coverage" {
			if !asked {
				return
			}
		}
	}
	a.add(ask.topic, ask.slot, i)
}

// target: a role, unit, crop or nutrient that no amount took, behind a question
// word or in a marked clause: "what speed", "how many acres", "speed?".
func (a *asker) target(i int, marked bool) {
	t := &a.tokens[i]
	q := ""
	if a.clauseQ >= 0 {
		q = a.tokens[a.clauseQ].key
	}
	named := (q == "howmuch" || q == "howmany") && (t.class == cCrop || t.class == cRyeQ || t.class == cCropQ) && a.gap(a.clauseQ+1, i) == 0
	if t.class == cRole && t.key == "gate" && a.claimed[i] && a.given(engine.GateOpening) && (q == "what" || q == "howmuch") {
		a.add(engine.TopicGate, engine.Flow, i)
		return
	}
	strong := t.class == cUnit && a.opens(i) && len(a.qs) > 0 || t.class == cRole && a.opens(i) && len(a.qs) > 0 && (t.key == "flow" || t.key == "speed" || t.key == "rate") && !a.weak(i) && !a.at(i+1).opens() || a.lastLoads(i) || t.class == cRole && (t.key == "depth" || t.key == "gate" && len(a.qs) == 1 && !a.given(engine.GateOpening) && a.qs[0].slot == engine.Flow) ||
		t.class == cNut && a.labSheet() && len(a.qs) > 0 && !a.given(engine.TargetN) && !a.given(engine.TargetPhosphate)
	if a.again(i) && (!marked || t.class == cRole && a.verb(i)) {
		return
	}
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
		if (q == "howmuch" || q == "howmany") && !a.asked(engine.TopicCrop) {
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
	case a.given(engine.TotalSeed) || a.given(engine.BagCount):
		a.add(engine.TopicSeedForArea, engine.Area, i)
	default:
		a.add(engine.TopicLoad, engine.AreaPerLoad, i)
	}
}

// seedAsked: for a load by default; for the field when an area is named and no load.
func (a *asker) seedAsked(i int) {
	switch {
	case a.has(cAct, "totals", "left") && !a.has(cRole, "tank"):
		return
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
	case a.given(engine.SeedPrice):
		a.add(engine.TopicCost, engine.SeedCost, i)
	case a.given(engine.ApplicationRate) && len(a.qs) == 1 && !a.given(engine.Flow) && !a.given(engine.Distance) && !a.given(engine.LoadVolume) && !a.given(engine.GrossWeight) && !a.given(engine.TargetN) && !a.given(engine.TargetPhosphate),
		a.given(engine.ApplicationRate) && (a.given(engine.AnalysisTotalN) || a.given(engine.AnalysisPhosphate) || a.given(engine.AnalysisPotash)):
		a.add(engine.TopicNutrients, engine.TotalN, i)
	case a.given(engine.GrossWeight):
		a.add(engine.TopicWeigh, engine.ApplicationRate, i)
	case a.given(engine.TargetN) || a.given(engine.TargetPhosphate) || a.saysNeed() && (a.given(engine.AnalysisTotalN) || a.given(engine.AnalysisPhosphate)):
		a.add(engine.TopicNeed, engine.ApplicationRate, i)
	default:
		a.add(engine.TopicRate, engine.ApplicationRate, i)
	}
}

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
	case a.given(engine.GrossWeight):
		a.add(engine.TopicWeigh, engine.LoadVolume, i)
	case a.given(engine.Area) || a.has(cRole, "field"):
		a.add(engine.TopicField, engine.TotalVolume, i)
	}
}

// roleAsked: what speed, what gate, how many loads, which rate.
func (a *asker) roleAsked(i int, q string) {
	count := q == "howmany" || q == "howmuch"
	switch t := &a.tokens[i]; t.key {
	case "speed":
		if q != "is" {
			a.add(engine.TopicSpeed, engine.Speed, i)
		}
	case "flow":
		if a.lastClause(i) || a.sampled() || a.verb(i) && a.at(i+1).opens() {
			return // "cuantos galones por acre salen"
		}
		if a.has(cRole, "gate") {
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
		if q == "howmany" || q == "howlong" || q == "howmuch" && a.given(engine.GateOpening) {
			return
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
			a.add(engine.TopicField, engine.Loads, i)
		}
	case "tank":
		if count && t.plural() {
			a.add(engine.TopicField, engine.Loads, i)
		}
	case "seed":
		if count {
			a.seedAsked(i)
		}
	case "bag":
		if count {
			a.add(engine.TopicSeedForArea, engine.TotalSeed, i)
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
		a.add(engine.TopicCost, engine.SeedCost, i)
	case "weight":
		switch {
		case a.given(engine.Purity) || a.given(engine.Germination):
			a.add(engine.TopicSeedLot, engine.BulkSeedRate, i)
		case !a.given(engine.GrossWeight) && !a.given(engine.TareWeight) && (a.has(cCrop) || a.given(engine.SeedRate)):
			a.seedAsked(i)
		default:
			a.add(engine.TopicWeigh, engine.NetWeight, i)
		}
	}
}

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
		"phosphate": engine.Phosphate, "potash": engine.Potash}[a.tokens[i].key], i)
}
