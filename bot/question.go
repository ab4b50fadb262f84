package bot

import (
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
	"tankside/parse"
)

// question answers what was asked, with what was said and what is remembered.
func (t *turn) question() bool {
	if t.topics == nil && len(t.req.Asks) == 0 && t.jarsCounted() {
		t.topics = []engine.Topic{engine.TopicSamples}
		t.seedOfJar()
	}
	if t.topics == nil {
		t.topics = t.askedTopics()
	}
	if len(t.topics) == 0 && t.whatIf && t.m.Last != nil && (len(t.said) > 0 || len(t.req.Crops) > 0) {
		t.topics = t.followUp()
	}
	if t.inOtherUnit() {
		return true
	}
	if len(t.topics) == 0 && t.req.Question && len(t.said) > 0 && t.req.Problem == nil && !(t.req.YesNo && len(t.said) == 1) {
		t.topics = t.openQuestion()
	}
	if len(t.topics) == 0 {
		return false
	}
	if t.topics[0] == engine.TopicRate && len(t.topics) == 1 && len(t.said) == 0 && !t.whatIf && t.req.Problem == nil && t.rateMeant() {
		return true
	}
	if t.topics[0] == engine.TopicSamples && t.said.First(engine.JarVolume) != nil && !t.jarsCounted() && len(t.out.Focus) == 0 {
		t.out.Focus = []engine.Slot{engine.ExpectedCount} // "how about a quart jar": that is the one in hand now
		t.whatIf = t.whatIf && len(t.said) > 1
	}
	t.gateRuns()
	t.flowOfMark()
	t.thatSpeed()
	facts := t.merged(t.said)
	if t.said.First(engine.GateOpening) != nil && !t.ofMark && !slices.Contains(t.topics, engine.TopicGate) {
		facts = dropRemembered(facts, engine.Flow) // of a mark that was not timed nothing is known
	}
	if t.topics[0] == engine.TopicGate && t.said.First(engine.GateOpening) != nil && t.said.First(engine.Flow) == nil {
		facts = without(facts, engine.Flow) // "what flow on gate 4": not the one that is known
	}
	if t.whatIf && t.m.Last != nil {
		facts = t.overlay(facts, t.m.Last.Facts)
	}
	if t.againstStrip() {
		facts = t.overlay(facts, t.m.Last.Facts)
	}
	facts = t.atPace(facts)
	before, pending := *t.out, t.m.Pending
	t.reckon(facts)
	t.finishTime()
	t.settles()
	if len(t.out.Missing) > 0 && len(t.said) == 0 && t.m.Last != nil && slices.Contains(t.m.Last.Topics, t.topics[0]) {
		*t.out, t.m.Pending = before, pending // "so what rate", right after the strip that gave it
		t.reckon(t.overlay(facts, t.m.Last.Facts))
		if t.out.Status == engine.Answered {
			return true
		}
	}
	t.knownRate()
	t.remember()
	t.keepLast(facts)
	return true
}

// thatSpeed: "what rate at mark 4 and that speed" right after a speed that was worked out
// is at that one, where the chat has none of its own.
func (t *turn) thatSpeed() {
	last := t.m.Last
	if t.topics[0] != engine.TopicRate || last == nil || len(last.Topics) == 0 || last.Topics[0] != engine.TopicSpeed || t.knows(engine.Speed) || t.said.First(engine.Speed) != nil ||
		!slices.ContainsFunc(t.req.Mentions, func(m parse.Mention) bool { return m.Slot == engine.Speed }) {
		return
	}
	facts := t.overlay(t.merged(nil), last.Facts)
	if flow := last.Facts.First(engine.Flow); flow != nil {
		facts = append(without(facts, engine.Flow), *flow)
	}
	r := engine.Answer(last.Topics, dropOverdetermined(facts, last.Topics, t.out.Focus), &t.context)
	for _, v := range r.Results {
		if u := t.out.Units.UnitFor(engine.Speed); v.Slot == engine.Speed && !v.Limit && v.Min == v.Max {
			t.said = append(t.said, engine.Fact{Slot: engine.Speed, Min: u.FromBase(v.Min), Max: u.FromBase(v.Min), Unit: u, Origin: engine.Remembered})
			return
		}
	}
}

// rateMeant: "what are we putting on per acre" right behind a lab sheet asks for what it
// brings; with nothing to work a rate out from but the chat's own, it is that one.
func (t *turn) rateMeant() bool {
	if t.m.Last != nil && len(t.m.Last.Topics) > 0 && t.m.Last.Topics[0] == engine.TopicCost && !t.req.Named(engine.ApplicationRate) && !t.gallonsNamed() {
		t.topics, t.out.Focus = []engine.Topic{engine.TopicCost}, nil // "what does it come to per acre", of the money just talked of
		return false
	}
	if t.m.Last != nil && (t.m.Last.Latest > 0 && analysis[t.m.Last.Slots[0]] || t.goesOn()) && t.knows(engine.ApplicationRate) {
		t.topics, t.out.Focus = []engine.Topic{engine.TopicNutrients}, nil
		return false
	}
	if t.m.Last != nil && len(t.m.Last.Topics) > 0 && t.m.Last.Topics[0] == engine.TopicRate || !t.knows(engine.ApplicationRate) || t.knows(engine.Flow) && t.knows(engine.Speed) {
		return false
	}
	t.out.Status = engine.Asks
	t.out.Missing = []engine.Slot{engine.Speed}
	t.knownRate()
	t.topic(engine.TopicRate)
	return true
}

// goesOn says whether what goes on an acre is asked for, without a word for gallons, right
// after nutrients: "cuánto va por hectárea".
func (t *turn) goesOn() bool {
	return len(t.req.Asks) == 1 && t.req.Asks[0].GoesOn && len(t.m.Last.Topics) > 0 && t.m.Last.Topics[0] == engine.TopicNutrients
}

var analysis = map[engine.Slot]bool{engine.AnalysisTotalN: true, engine.AnalysisAmmoniumN: true, engine.AnalysisOrganicN: true, engine.AnalysisPhosphate: true, engine.AnalysisPotash: true,
	engine.AnalysisPhosphorus: true, engine.AnalysisPotassium: true}

// settles tells what holds for any pump while the chat has none: "does the seed settle out".
func (t *turn) settles() {
	if t.topics[0] == engine.TopicAgitation && t.out.Status == engine.Asks && len(t.said) == 0 && !t.knows(engine.PumpFlow) && t.out.Problem == "" {
		t.out.Info = append(t.out.Info, "settling")
	}
}

// gallonsNamed says whether a unit of slurry stands without a number.
func (t *turn) gallonsNamed() bool {
	return slices.ContainsFunc(t.req.Mentions, func(m parse.Mention) bool {
		return m.Unit != nil && (m.Unit.Dim == unit.DimVolume || m.Unit.Dim == unit.DimVolumePerArea)
	})
}

// knownRate: "what am I putting on" is the rate that is known, where there is
// nothing to work it out from.
func (t *turn) knownRate() {
	rate := t.latest(engine.ApplicationRate)
	if rate == nil || len(t.said) > 0 || t.req.Problem != nil || len(t.topics) != 1 || t.topics[0] != engine.TopicRate || t.out.Status != engine.Asks || len(t.out.Missing) == 0 {
		return
	}
	f := *rate
	f.Origin, f.At = engine.Remembered, [2]int{}
	t.out.Status, t.out.Act, t.out.Subject = engine.Answered, engine.ActSetupShown, engine.ApplicationRate
	t.out.Given, t.out.Results, t.out.Missing, t.out.MissingOf, t.m.Pending = engine.Facts{f}, nil, nil, nil, nil
}

// openQuestion is what a question with facts and no named target is about: what the
// chat answered last, else what follows now ("6000 gal/ac, what goes on").
func (t *turn) openQuestion() []engine.Topic {
	merged := t.merged(t.said)
	if topics := t.freshTopic(merged); topics != nil {
		return topics
	}
	if t.m.Last != nil && len(t.m.Last.Topics) > 0 && t.m.Last.Topics[0] != engine.TopicSetup {
		return t.wholeField(t.partLoad(slices.Clone(t.m.Last.Topics)))
	}
	topics := t.follows(merged)
	if merged.First(engine.AnalysisTotalN) != nil && merged.First(engine.ApplicationRate) != nil && !slices.Contains(topics, engine.TopicNutrients) {
		topics = append([]engine.Topic{engine.TopicNutrients}, topics...)
	}
	return topics
}

// freshTopic is what a question is about by what was said in it alone, whatever was talked of
// before: "tank gauge says 3/4, what now" after a gate, "vetch 25 kg and rye 60 kg, what goes
// in" after a speed. nil where that tells nothing.
func (t *turn) freshTopic(merged engine.Facts) []engine.Topic {
	part, seed := true, true
	for i := range t.said {
		s := t.said[i].Slot
		part = part && (s == engine.LoadFraction || s == engine.LoadVolume)
		seed = seed && s == engine.SeedRate
	}
	full := merged.First(engine.ApplicationRate) != nil
	switch {
	case part && full && t.said.First(engine.LoadFraction) != nil && merged.First(engine.TankVolume) == nil, !full:
		return nil
	case part && (t.said.First(engine.LoadFraction) != nil || t.req.Left):
		return []engine.Topic{engine.TopicPartLoad}
	case seed && merged.First(engine.TankVolume) != nil && t.m.Last != nil && len(t.m.Last.Topics) > 0 && !ofSeeding[t.m.Last.Topics[0]]:
		t.out.Focus = []engine.Slot{engine.SeedPerLoad}
		return []engine.Topic{engine.TopicLoad}
	}
	return nil
}

// ofSeeding are the topics that a question with a seed rate goes on with.
var ofSeeding = map[engine.Topic]bool{engine.TopicLoad: true, engine.TopicPartLoad: true, engine.TopicField: true, engine.TopicMix: true, engine.TopicCost: true,
	engine.TopicSeedForArea: true, engine.TopicSeedLot: true, engine.TopicCrop: true, engine.TopicSoak: true, engine.TopicSamples: true, engine.TopicCycle: true}

// askedTopics are the topics of the questions, then those that what was said
// answers besides.
func (t *turn) askedTopics() []engine.Topic {
	var out []engine.Topic
	for _, a := range t.req.Asks {
		if !slices.Contains(out, a.Topic) {
			out = append(out, a.Topic)
		}
		if a.Slot != engine.NoSlot {
			t.out.Focus = append(t.out.Focus, a.Slot)
		}
	}
	if len(out) == 0 {
		return nil
	}
	return t.wholeField(t.partLoad(out))
}

// asksPerLoad says whether something was asked of one load.
func (t *turn) asksPerLoad() bool {
	return slices.ContainsFunc(t.out.Focus, func(s engine.Slot) bool {
		return s == engine.AreaPerLoad || s == engine.SeedPerLoad || s == engine.RunLength || s == engine.LoadVolume
	})
}

// againstStrip: "wanted 7000, am I over or under" right after a measured strip.
func (t *turn) againstStrip() bool {
	if len(t.said) != 1 || t.said[0].Slot != engine.ApplicationRate || !t.req.Question || t.m.Last == nil || t.topics[0] != engine.TopicRate {
		return false
	}
	last := t.m.Last.Facts
	return last.First(engine.LoadVolume) != nil && last.First(engine.Distance) != nil
}

// onRest: "how many bags for the rest" is of the ground of the field in hand that is not
// done yet.
func (t *turn) onRest() bool {
	if t.req.Scope != "rest" {
		return false
	}
	t.req.Scope = ""
	if f := t.fieldInHand(); (f == nil || f.Area == 0) && t.said.First(engine.Area) == nil && len(t.req.Asks) > 0 && t.req.Asks[0].Slot == engine.SeedPerLoad && !t.req.PerLoad {
		t.topics = []engine.Topic{engine.TopicSeedForArea} // "rest of the west 40 goes rye, how much rye do i need": of how many acres?
	}
	if f := t.fieldInHand(); f != nil && f.Area > 0 && t.said.First(engine.Area) == nil {
		if left := f.Area - t.fieldTotals().Area; left > 0 {
			u := t.out.Units.UnitFor(engine.Area)
			t.said = append(t.said, engine.Fact{Slot: engine.Area, Min: u.FromBase(left), Max: u.FromBase(left), Unit: u, Origin: engine.Remembered})
			if t.said.First(engine.BagWeight) != nil && len(t.req.Asks) == 0 {
				t.req.Asks = []parse.Ask{{Topic: engine.TopicSeedForArea, Slot: engine.TotalSeed}}
			}
			for i := range t.req.Asks {
				if a := &t.req.Asks[i]; a.Slot == engine.SeedPerLoad && !t.req.PerLoad {
					a.Topic, a.Slot = engine.TopicSeedForArea, engine.TotalSeed
				}
			}
		}
	}
	return false
}

// wholeField: loads over ground that was said are a field's; half a load is none.
func (t *turn) wholeField(topics []engine.Topic) []engine.Topic {
	ground, part := t.said.First(engine.Area) != nil, t.said.First(engine.LoadFraction) != nil
	switch {
	case topics[0] == engine.TopicLoad && ground && !t.asksPerLoad():
		topics = slices.Compact(append([]engine.Topic{engine.TopicField}, topics[1:]...))
	case topics[0] == engine.TopicField && part && !ground:
		topics[0] = engine.TopicPartLoad
	}
	return topics
}

// partLoad: a load of which only a part is in the tank is a part load.
func (t *turn) partLoad(topics []engine.Topic) []engine.Topic {
	part := t.said.First(engine.LoadFraction) != nil || t.said.First(engine.LoadVolume) != nil && (t.req.Left || t.said.First(engine.TankVolume) != nil)
	for i := range topics {
		if topics[i] == engine.TopicLoad && part {
			topics[i] = engine.TopicPartLoad
		}
	}
	return topics
}

// stirsShut says whether what is asked is how the tank is stirred before the gate is
// opened: a flow out of the back that is known has no part in that.
func (t *turn) stirsShut() bool {
	return slices.Contains(t.topics, engine.TopicAgitation) && t.said.First(engine.Flow) == nil && t.said.First(engine.BypassFlow) == nil && (t.req.Shut || t.said.Find(engine.Duration, "mix") != nil)
}

// inAskedUnit gives what was asked for in the unit that the question names: "m3 per hr?",
// "how many kilos of seed".
func (t *turn) inAskedUnit() {
	for _, m := range t.req.Mentions {
		if m.Unit == nil || t.req.Convert != nil || m.Unit.Symbol == "day" && slices.Contains(t.out.Focus, engine.WorkDays) {
			continue
		}
		for i := range t.out.Results {
			v := &t.out.Results[i]
			if u := t.out.Units.UnitFor(v.Slot); u != nil && u != m.Unit && u.Dim == m.Unit.Dim && v.Unit == nil && (len(t.out.Focus) == 0 || slices.Contains(t.out.Focus, v.Slot)) {
				v.Unit = m.Unit
			}
		}
	}
}

// reckon lets the engine answer and puts what it says into the outcome.
func (t *turn) reckon(facts engine.Facts) {
	t.context.Units, t.context.Runs, t.context.Outlet = t.out.Units, t.m.Runs, t.m.Outlet
	t.context.Scheme, t.context.Limits, t.context.Convert = t.m.Scheme, t.m.Limits, t.req.Convert
	t.context.Manure, t.context.Method, t.context.Soil, t.context.Focus = t.req.Manure, t.req.Method, t.req.Soil, t.out.Focus
	if t.req.Scheme != "" {
		t.context.Scheme = t.req.Scheme
	}
	t.context.Moisture, t.context.WorkedIn = t.req.Moisture, t.req.WorkedIn
	if last := t.m.Last; t.req.Method == "" && t.req.WorkedIn == 0 && last != nil && (t.whatIf || t.req.Enough != "" || t.pending != nil) {
		t.context.Method, t.context.WorkedIn = last.Method, last.Worked // "and at 6000?", placed as before
	}
	t.context.Refill = t.req.Refill
	t.context.Shut = t.stirsShut()
	t.inSeason()
	if t.ofMark && slices.Contains(t.topics, engine.TopicFlow) {
		facts = dropRemembered(facts, engine.Speed) // "how long to empty on 4": by what leaves there, at any speed
	} else if !slices.Contains(t.out.Focus, engine.PercentOff) || facts.First(engine.ApplicationRate) == nil || t.topics[0] != engine.TopicRate {
		facts = dropOverdetermined(facts, t.topics, t.out.Focus)
	}
	facts = t.withCrops(facts)
	r := engine.Answer(t.topics, facts, &t.context)
	o := t.out
	o.Topics, o.Results = t.topics, r.Results
	o.Given = append(append(o.Given, realFacts(r.Used)...), r.Assumed...)
	o.Missing, o.MissingOf, o.Conflict = r.Missing, r.MissingOf, r.Conflict
	for _, n := range r.Notes {
		t.note(n)
	}
	t.inAskedUnit()
	o.Timings = r.Timings
	o.Crops, o.Info = r.Crops, append(o.Info, r.Info...)
	o.Status = engine.Answered
	t.settle(&r)
}
