package bot

import (
	"slices"
	"time"

	"tankside/engine"
)

// question answers what was asked, with what was said and what is remembered.
func (t *turn) question() bool {
	if t.topics == nil {
		t.topics = t.askedTopics()
	}
	if len(t.topics) == 0 && t.whatIf && t.m.Last != nil && (len(t.said) > 0 || len(t.req.Crops) > 0) {
		t.topics = t.followUp()
	}
	if t.inOtherUnit() {
		return true
	}
	if len(t.topics) == 0 && t.req.Question && len(t.said) > 0 && t.req.Problem == nil {
		t.topics = t.openQuestion()
	}
	if len(t.topics) == 0 {
		return false
	}
	t.gateRuns()
	facts := t.merged(t.said)
	if t.topics[0] == engine.TopicGate && t.said.First(engine.GateOpening) != nil && t.said.First(engine.Flow) == nil {
		facts = without(facts, engine.Flow) // "what flow on gate 4": not the one that is known
	}
	if t.whatIf && t.m.Last != nil {
		facts = t.overlay(facts, t.m.Last.Facts)
	}
	t.reckon(facts)
	t.knownRate()
	t.remember()
	t.keepLast(facts)
	return true
}

// knownRate: "what am I putting on" is the rate that is known, where there is
// nothing to work it out from.
func (t *turn) knownRate() {
	rate := t.latest(engine.ApplicationRate)
	if rate == nil || len(t.said) > 0 || len(t.topics) != 1 || t.topics[0] != engine.TopicRate || t.out.Status != engine.Asks || len(t.out.Missing) == 0 {
		return
	}
	f := *rate
	f.Origin, f.At = engine.Remembered, [2]int{}
	t.out.Status, t.out.Act, t.out.Subject = engine.Answered, engine.ActSetupShown, engine.ApplicationRate
	t.out.Given, t.out.Results, t.out.Missing, t.out.MissingOf, t.m.Pending = engine.Facts{f}, nil, nil, nil, nil
}

// inOtherUnit answers "and in km/h?" with the last answer in that unit's system.
func (t *turn) inOtherUnit() bool {
	r := t.req
	if len(t.topics) > 0 || len(r.Facts)+len(r.Loose)+len(r.Acts)+len(r.Asks) > 0 || !r.Marked && !r.WhatIf || t.m.Last == nil || len(r.Mentions) != 1 || r.Mentions[0].Unit == nil {
		return false
	}
	t.out.Units = engine.Units{System: r.Mentions[0].Unit.System}
	t.topics, t.whatIf = t.m.Last.Topics, true
	t.reckon(t.overlay(t.merged(nil), t.m.Last.Facts))
	return true
}

// openQuestion is what a question with facts and no named target is about: what the
// chat answered last, else what follows now ("6000 gal/ac, what goes on").
func (t *turn) openQuestion() []engine.Topic {
	merged := t.merged(t.said)
	if t.m.Last != nil && len(t.m.Last.Topics) > 0 && t.m.Last.Topics[0] != engine.TopicSetup {
		return t.wholeField(t.partLoad(slices.Clone(t.m.Last.Topics)))
	}
	topics := t.follows(merged)
	if merged.First(engine.AnalysisTotalN) != nil && merged.First(engine.ApplicationRate) != nil && !slices.Contains(topics, engine.TopicNutrients) {
		topics = append([]engine.Topic{engine.TopicNutrients}, topics...)
	}
	return topics
}

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

// followUp is what a what-if asks about: the last question, or a part load when a
// part was said.
func (t *turn) followUp() []engine.Topic {
	if t.said.First(engine.LoadFraction) != nil || t.said.First(engine.LoadVolume) != nil {
		return []engine.Topic{engine.TopicPartLoad}
	}
	return t.wholeField(slices.Clone(t.m.Last.Topics))
}

// overlay adds facts of the last question that this message did not replace.
func (t *turn) overlay(facts, last engine.Facts) engine.Facts {
	for _, f := range last {
		if facts.First(f.Slot) == nil || f.Slot == engine.Duration && facts.Find(f.Slot, f.Of) == nil {
			if f.Origin == engine.Said {
				f.Origin = engine.Remembered
			}
			facts = append(facts, f)
		}
	}
	return facts
}

// reckon lets the engine answer and puts what it says into the outcome.
func (t *turn) reckon(facts engine.Facts) {
	t.context.Units, t.context.Runs, t.context.Outlet = t.out.Units, t.m.Runs, t.m.Outlet
	t.context.Scheme, t.context.Limits, t.context.Convert = t.m.Scheme, t.m.Limits, t.req.Convert
	t.context.Manure, t.context.Method, t.context.Soil, t.context.Focus = t.req.Manure, t.req.Method, t.req.Soil, t.out.Focus
	facts = t.withCrops(dropOverdetermined(facts, t.topics))
	r := engine.Answer(t.topics, facts, &t.context)
	o := t.out
	o.Topics, o.Results = t.topics, r.Results
	o.Given = append(append(o.Given, realFacts(r.Used)...), r.Assumed...)
	o.Missing, o.MissingOf, o.Conflict = r.Missing, r.MissingOf, r.Conflict
	for _, n := range r.Notes {
		t.note(n)
	}
	o.Crops, o.Info = r.Crops, append(o.Info, r.Info...)
	o.Status = engine.Answered
	t.settle(&r)
}

// settle gives the outcome its status from the reckoning and the parser's doubts.
func (t *turn) settle(r *engine.Reckoning) {
	o := t.out
	switch {
	case r.Problem != "":
		o.Problem, o.Words, o.Choices = r.Problem, r.Words, r.Choices
		t.setProblemValue(r)
		if asksBack[r.Problem] {
			t.ask(r.Problem, Pending{Slot: r.Slot, Of: r.Of, Topics: t.topics, Facts: t.said})
		} else {
			o.Status = engine.Refused
		}
	case t.req.Problem != nil:
		t.withoutDoubtful()
		t.problem(t.req.Problem)
	case t.seedUnknown():
		o.Missing, o.MissingOf = append(slices.Clone(r.Missing), engine.SeedRate), append(slices.Clone(r.MissingOf), "")
		t.ask("", Pending{Slot: o.Missing[0], Of: o.MissingOf[0], Topics: t.topics, Facts: t.said, Focus: o.Focus})
	case len(r.Missing) > 0 && t.answeredFocus():
		o.Missing, o.MissingOf = nil, nil
	case len(r.Missing) > 0:
		t.ask("", Pending{Slot: r.Missing[0], Of: r.MissingOf[0], Topics: t.topics, Facts: t.said, Focus: o.Focus})
	case t.availableUnknown():
	case t.oddResult():
	case t.stale(o.Given):
	}
}

// withoutDoubtful drops the results that hang on what is being asked about: seed of
// no known crop, and everything when an amount was negated.
func (t *turn) withoutDoubtful() {
	if t.req.Problem.Code == engine.Negated {
		t.out.Results = nil
	}
	t.out.Results = slices.DeleteFunc(t.out.Results, func(v engine.Value) bool { return v.Of == "" && seedResult[v.Slot] })
}

var seedResult = map[engine.Slot]bool{engine.SeedPerLoad: true, engine.TotalSeed: true, engine.LastLoadSeed: true, engine.SeedPerVolume: true, engine.BulkSeedRate: true}

// oddResult asks when the answer itself cannot be right: 44 mph means that a number
// was heard wrong, however plausible each was by itself.
func (t *turn) oddResult() bool {
	for _, v := range t.out.Results {
		if s := v.Slot; v.Limit || s != engine.Speed && s != engine.Flow && s != engine.ApplicationRate {
			continue
		}
		lo, hi, ok := engine.Usual(v.Slot, v.Of)
		if ok && (v.Max > 2*hi || v.Min < lo/2) && v.Min > 0 {
			t.out.Subject, t.out.Results = v.Slot, nil
			t.out.Words = nil
			return t.ask(engine.OddResult, Pending{Topics: t.topics, Facts: t.said})
		}
	}
	return false
}

// availableUnknown: available nitrogen was asked for, and the lab's ammonium is what
// it needs.
func (t *turn) availableUnknown() bool {
	if !slices.Contains(t.out.Focus, engine.AvailableN) || slices.ContainsFunc(t.out.Results, func(v engine.Value) bool { return v.Slot == engine.AvailableN }) {
		return false
	}
	t.out.Missing, t.out.MissingOf = []engine.Slot{engine.AnalysisAmmoniumN}, []string{""}
	return t.ask("", Pending{Slot: engine.AnalysisAmmoniumN, Topics: t.topics, Facts: t.said, Focus: t.out.Focus})
}

// seedUnknown: seed was asked about, and no crop or rate is known.
func (t *turn) seedUnknown() bool {
	if !slices.Contains(t.out.Focus, engine.SeedPerLoad) {
		return false
	}
	return !slices.ContainsFunc(t.out.Results, func(v engine.Value) bool { return v.Slot == engine.SeedPerLoad }) && !slices.Contains(t.out.Missing, engine.SeedRate)
}

// answeredFocus says whether everything that was asked for by name has its answer,
// so that what a wider answer would need is not asked for.
func (t *turn) answeredFocus() bool {
	for _, s := range t.out.Focus {
		if !slices.ContainsFunc(t.out.Results, func(v engine.Value) bool { return v.Slot == s }) {
			return false
		}
	}
	return len(t.out.Focus) > 0
}

// asksBack are the engine's problems that one short answer settles; the others
// are refusals.
var asksBack = map[string]bool{engine.ConflictCode: true, engine.PLSOrBulk: true, engine.POrP2O5: true, engine.KOrK2O: true, engine.WhichCrop: true,
	engine.CropNeeded: true, engine.FrostNeeded: true, engine.NoRuns: true, engine.NoCurve: true, engine.WhatUnit: true, engine.TooFewSamples: true,
	engine.RyeOrRyegrass: true, engine.Ambiguous: true, engine.UnknownCrop: true, engine.AmbiguousUnit: true}

// setProblemValue hands the wording the value that a refusal is about.
func (t *turn) setProblemValue(r *engine.Reckoning) {
	if r.Slot != engine.NoSlot {
		t.out.Subject, t.out.SubjectOf = r.Slot, r.Of
	}
}

// stale asks about remembered values older than a day before they are used.
func (t *turn) stale(given engine.Facts) bool {
	for i := range given {
		if f := &given[i]; f.Origin == engine.Remembered && f.AgeDays >= 1 && stays[f.Slot] {
			t.out.Subject, t.out.SubjectOf = f.Slot, f.Of
			return t.ask(engine.OldFact, Pending{Slot: f.Slot, Topics: t.topics, Facts: t.said})
		}
	}
	return false
}

// keepLast keeps the question for follow-ups.
func (t *turn) keepLast(facts engine.Facts) {
	if t.whatIf {
		t.variedLast()
		return
	}
	if t.out.Status == engine.Refused || t.out.Status == engine.NotUnderstood || t.partOnly() {
		return
	}
	latest := len(t.said)
	slots := make([]engine.Slot, 0, len(t.said)+4)
	for i := len(t.said) - 1; i >= 0; i-- {
		slots = append(slots, t.said[i].Slot)
	}
	if t.m.Last != nil {
		for _, s := range t.m.Last.Slots {
			if !slices.Contains(slots, s) && len(slots) < 8 {
				slots = append(slots, s)
			}
		}
	}
	topics := t.topics
	if len(topics) == 0 && t.m.Last != nil {
		topics = t.m.Last.Topics
	}
	t.m.Last = &Last{Topics: topics, Facts: t.said[:len(t.said):len(t.said)], Slots: slots, Latest: latest}
}

// partOnly says whether only a part of the tank was said: like a what-if it does not
// change what later follow-ups lean on.
func (t *turn) partOnly() bool {
	for i := range t.said {
		if s := t.said[i].Slot; s != engine.LoadFraction && s != engine.LoadVolume {
			return false
		}
	}
	return len(t.said) > 0 && t.m.Last != nil
}

// variedLast keeps which quantity a what-if varied: the next one likely varies it too.
func (t *turn) variedLast() {
	if t.m.Last == nil || len(t.said) == 0 {
		return
	}
	last := *t.m.Last
	last.Slots = slices.Clone(last.Slots)
	for i := range t.said {
		s := t.said[i].Slot
		last.Slots = append([]engine.Slot{s}, slices.DeleteFunc(last.Slots, func(o engine.Slot) bool { return o == s })...)
	}
	t.m.Last = &last
}

// statement: facts and no question. What they answer by themselves is answered;
// else they are remembered, and what follows from the chat with them is said too.
func (t *turn) statement() bool {
	if len(t.said) == 0 {
		return t.cropAlone()
	}
	if topics := t.follows(t.said); len(topics) > 0 {
		t.topics = topics
		t.reckon(t.withSetup(t.said))
		t.remember()
		t.keepLast(t.said)
		return true
	}
	return t.setFacts()
}

// follows are the topics that what was said answers by itself. A lab sheet with a
// rate is about nutrients; a part of a tank asks about that part.
func (t *turn) follows(said engine.Facts) []engine.Topic {
	topics := t.partLoad(engine.Follows(said))
	front := engine.TopicNutrients
	if said.First(engine.NPrice) != nil || said.First(engine.PhosphatePrice) != nil || said.First(engine.PotashPrice) != nil {
		front = engine.TopicCost
	}
	if i := slices.Index(topics, front); i > 0 {
		topics[0], topics[i] = topics[i], topics[0]
	}
	if len(topics) == 0 && said.First(engine.LoadFraction) != nil {
		return []engine.Topic{engine.TopicPartLoad}
	}
	if len(topics) == 0 && said.First(engine.SampleCount) != nil {
		return []engine.Topic{engine.TopicSamples}
	}
	return topics
}

// withSetup adds the remembered facts that go with what was said.
func (t *turn) withSetup(said engine.Facts) engine.Facts { return t.merged(said) }

// setFacts remembers what was said and answers what follows from it.
func (t *turn) setFacts() bool {
	for i := range t.said {
		switch fit := engine.Plausible(&t.said[i]); fit {
		case engine.TooFar, engine.NotPos:
			t.topic(engine.TopicSetup)
			t.out.Subject, t.out.SubjectOf = t.said[i].Slot, t.said[i].Of
			t.refusedLast(t.said[i].Slot)
			if fit == engine.NotPos {
				return t.refuse(engine.NotPositive)
			}
			return t.refuse(engine.Absurd)
		case engine.Unusual:
			lo, _ := t.said[i].Base()
			t.note(engine.Note{ID: "unusual_value", Level: engine.Caution, Slot: t.said[i].Slot, Of: t.said[i].Of, Value: lo})
		}
	}
	if t.twice() {
		return true
	}
	merged := t.merged(t.said)
	if topics := engine.Follows(merged); len(topics) > 0 && t.bears(topics[0]) {
		t.topics = topics[:1]
		notes := t.out.Notes
		t.reckon(merged)
		if t.out.Status != engine.Answered {
			t.out.Results, t.out.Missing, t.out.MissingOf, t.out.Problem, t.out.Notes = nil, nil, nil, "", notes
			t.m.Pending = nil
		}
	}
	if t.req.Problem != nil {
		if t.said.First(engine.TankVolume) != nil || t.said.First(engine.LoadVolume) != nil {
			t.topic(engine.TopicLoad)
		}
		t.topic(engine.TopicSetup)
		t.problem(t.req.Problem)
		t.remember()
		return true
	}
	t.out.Status, t.out.Act, t.out.Topics = engine.Done, engine.ActRemembered, []engine.Topic{engine.TopicSetup}
	t.remember()
	t.keepLast(t.said)
	return true
}

// refusedLast keeps which quantity was refused, so that "I mean 8 thousand" corrects it.
func (t *turn) refusedLast(s engine.Slot) {
	last := Last{Slots: []engine.Slot{s}, Latest: 1}
	if t.m.Last != nil {
		last.Topics, last.Facts = t.m.Last.Topics, t.m.Last.Facts
		last.Slots = append(last.Slots, t.m.Last.Slots...)
	}
	t.m.Last = &last
}

// bears says whether a topic may be added to a remembered statement.
func (t *turn) bears(engine.Topic) bool { return len(t.m.Facts) > 0 }

// twice asks when one quantity was said with two values.
func (t *turn) twice() bool {
	for i := range t.said {
		for j := i + 1; j < len(t.said); j++ {
			a, b := &t.said[i], &t.said[j]
			if a.Slot == b.Slot && a.Of == b.Of && !several[a.Slot] && (a.Min != b.Min || a.Unit != b.Unit) {
				t.topic(engine.TopicSetup)
				t.out.Conflict = []engine.Slot{a.Slot, b.Slot}
				return t.ask(engine.ConflictCode, Pending{Slot: a.Slot, Of: a.Of, Facts: without(t.said, a.Slot)})
			}
		}
	}
	return false
}

// several are the quantities that one message may name more than once.
var several = map[engine.Slot]bool{engine.SampleCount: true, engine.GateOpening: true, engine.Flow: true, engine.LoadCount: true}

func without(fs engine.Facts, s engine.Slot) engine.Facts {
	return slices.DeleteFunc(slices.Clone(fs), func(f engine.Fact) bool { return f.Slot == s })
}

// age is how many whole days ago something was said.
func age(now, then time.Time) int { return int(now.Sub(then) / (24 * time.Hour)) }
