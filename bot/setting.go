package bot

import (
	"slices"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
	"tankside/parse"
)

// setting does what is about the chat itself: language, units, what is remembered.
func (t *turn) setting() bool {
	switch {
	case t.act("language") != nil:
		return t.setLanguage(t.act("language").Text)
	case t.act("units") != nil && len(t.said) == 0 && t.req.Convert == nil:
		return t.setUnits(t.act("units").Text)
	case t.act("shares") != nil && len(t.said) == 0, t.req.Scheme != "" && len(t.said)+len(t.req.Asks)+len(t.req.Loose)+len(t.req.Crops) == 0 && !t.req.Timing && !t.req.Question:
		t.m.Scheme, t.out.Words = t.req.Scheme, []string{t.req.Scheme}
		return t.doneSetup(engine.ActSchemeSet)
	case t.act("speak") != nil && len(t.said) == 0:
		return t.setSpeak(t.act("speak"))
	case t.act("forget_all") != nil:
		t.m.Facts, t.m.Last, t.m.Runs = nil, nil, nil
		return t.doneSetup(engine.ActForgotAll)
	case t.act("runs_forget") != nil:
		t.m.Runs = nil
		return t.doneSetup(engine.ActRunsForgotten)
	case t.act("runs_list") != nil && len(t.said) == 0:
		t.out.Runs = t.m.Runs
		t.out.Status, t.out.Act = engine.Answered, engine.ActRunsListed
		t.topic(engine.TopicGate)
		return true
	case t.act("returns") != nil:
		return t.returns()
	case t.act("forget") != nil && len(t.req.Info) == 0:
		return t.forget()
	case t.act("setup_show") != nil && len(t.said) == 0:
		return t.showSetup()
	}
	return t.recall()
}

func (t *turn) doneSetup(act string) bool {
	t.out.Status, t.out.Act = engine.Done, act
	t.topic(engine.TopicSetup)
	return true
}

func (t *turn) setLanguage(word string) bool {
	t.m.Lang, t.m.LangSet = "en", true
	if strings.Contains(word, "span") || strings.Contains(word, "espan") || strings.Contains(word, "castell") {
		t.m.Lang = "es"
	}
	t.lang = t.m.Lang
	return t.doneSetup(engine.ActLanguageSet)
}

// setSpeak turns spoken answers on, where there is a voice, or off.
func (t *turn) setSpeak(a *parse.Act) bool {
	t.m.Speak = false
	off := func(word string) bool { return strings.Contains(a.Text, word) }
	switch {
	case a.Not, slices.ContainsFunc([]string{"off", "desactiva", "apaga", "sin "}, off):
		return t.doneSetup(engine.ActSpeakOff)
	case !t.msg.Speaks:
		t.topic(engine.TopicSetup)
		return t.refuse(engine.NoVoice)
	}
	t.m.Speak = true
	return t.doneSetup(engine.ActSpeakOn)
}

func (t *turn) setUnits(word string) bool {
	u := engine.Units{System: systemNamed(word)}
	t.m.Units, t.m.UnitsSet, t.out.Units = u, true, u
	return t.doneSetup(engine.ActUnitsSet)
}

// systemNamed is the system of units that a word of the act for them names.
func systemNamed(word string) unit.System {
	switch {
	case strings.Contains(word, "metri"):
		return unit.Metric
	case strings.Contains(word, "imperial"), strings.Contains(word, "ingles"):
		return unit.Imperial
	}
	return unit.US
}

// forget drops what is remembered of the quantities that are named.
func (t *turn) forget() bool {
	t.topic(engine.TopicSetup)
	drop := func(r Remembered) bool {
		for _, m := range t.req.Mentions {
			if m.Slot == r.Fact.Slot || m.Slot == engine.SeedRate && ofSeed(r.Fact) {
				return true
			}
		}
		return slices.ContainsFunc(t.req.Crops, func(c parse.Crop) bool { return c.Name == r.Fact.Of })
	}
	if slices.ContainsFunc(t.req.Mentions, func(m parse.Mention) bool { return m.Slot == engine.GateOpening }) {
		t.m.Runs = nil
		return t.doneSetup(engine.ActRunsForgotten)
	}
	before := len(t.m.Facts)
	if len(t.req.Mentions)+len(t.req.Crops) == 0 {
		t.out.Words = []string{t.act("forget").Text}
		return t.ask(engine.NotKnown, Pending{Act: "forget"})
	}
	t.out.Words = []string{strings.TrimSpace(t.msg.Text)}
	t.m.Facts = slices.DeleteFunc(slices.Clone(t.m.Facts), drop)
	if len(t.req.Mentions) > 0 {
		t.out.Subject = t.req.Mentions[0].Slot
	} else {
		t.out.Subject, t.out.SubjectOf = engine.SeedRate, t.req.Crops[0].Name
	}
	if len(t.m.Facts) == before && t.out.Subject == engine.Area && t.fieldInHand() != nil {
		t.fieldInHand().Area = 0
	}
	t.m.Last = nil
	return t.doneSetup(engine.ActForgot)
}

// showSetup lists what the chat remembers.
func (t *turn) showSetup() bool {
	t.topic(engine.TopicSetup)
	t.out.Status, t.out.Act = engine.Answered, engine.ActSetupShown
	t.out.Given = append(t.out.Given, t.merged(nil)...)
	return true
}

// recall answers "what's my tank?" from memory.
func (t *turn) recall() bool {
	if !t.req.Question || len(t.said) > 0 || len(t.req.Asks) > 0 || len(t.req.Acts) > 0 || len(t.req.Loose) > 0 || len(t.req.Mentions) == 0 || t.whatIf || len(t.req.Info) > 0 || len(t.req.Crops) > 0 {
		return false
	}
	m := t.req.Mentions[0]
	for _, o := range t.req.Mentions {
		if m.Slot == engine.NoSlot && o.Slot != engine.NoSlot && m.Unit != nil && m.Unit.Dim == o.Slot.Dim() {
			t.req.Convert, m = m.Unit, o // "how many litres is the tank?"
		}
	}
	if m.Slot == engine.NoSlot || m.Slot == engine.LoadVolume || t.req.Problem != nil {
		return false
	}
	t.topic(engine.TopicSetup)
	for _, f := range t.merged(nil) {
		if f.Slot == m.Slot {
			t.out.Given = append(t.out.Given, f)
		}
	}
	t.out.Subject = m.Slot
	if len(t.out.Given) == 0 {
		t.out.Missing, t.out.MissingOf = []engine.Slot{m.Slot}, []string{""}
		return t.ask("", Pending{Slot: m.Slot})
	}
	if t.req.Convert != nil && len(t.out.Given) == 1 {
		t.out.Topics, t.topics = nil, []engine.Topic{engine.TopicConvert}
		t.reckon(t.out.Given)
		return true
	}
	t.out.Status, t.out.Act = engine.Answered, engine.ActSetupShown
	return true
}

// cropAlone: a crop with nothing else is a question about the crop.
func (t *turn) cropAlone() bool {
	if len(t.req.Crops) == 0 || t.req.Problem != nil {
		return false
	}
	t.topics = []engine.Topic{engine.TopicCrop}
	t.reckon(t.merged(nil))
	t.keepLast(nil)
	return true
}

// gateRuns takes the runs out of a question that brings its own: "gate 3 gives 450,
// gate 5 gives 750, what gate for 600".
func (t *turn) gateRuns() {
	if !slices.Contains(t.topics, engine.TopicGate) {
		return
	}
	runs, rest := engine.SplitRuns(t.said)
	if len(runs) == 0 {
		return
	}
	for _, r := range runs {
		r.Outlet = t.m.Outlet
		t.m.Runs = append(slices.Clone(t.m.Runs), r)
	}
	t.aside, t.said = t.said, rest
}

// flowOfMark: "ok mark 4 then, speed?" is the flow that was timed at that mark, where
// anything but the gate itself is asked for or it is only told.
func (t *turn) flowOfMark() {
	mark := t.said.First(engine.GateOpening)
	if mark == nil || t.said.First(engine.Flow) != nil || slices.Contains(t.topics, engine.TopicGate) {
		return
	}
	flow, ok := engine.FlowOfMark(t.outletRuns(), mark)
	if !ok {
		return
	}
	u := t.out.Units.UnitFor(engine.Flow)
	flow = u.FromBase(flow)
	t.said = append(t.said[:len(t.said):len(t.said)], engine.Fact{Slot: engine.Flow, Min: flow, Max: flow, Unit: u, Origin: engine.Remembered})
	t.ofMark = true
}

// outletRuns are the runs of the outlet in hand.
func (t *turn) outletRuns() []engine.Run {
	var runs []engine.Run
	for _, r := range t.m.Runs {
		if r.Outlet == t.m.Outlet {
			runs = append(runs, r)
		}
	}
	return runs
}

// timedRun says whether a run at a mark was timed and nothing but its flow is asked: "1800
// gallons in 3:30 at 4 inches, what's that a minute".
func (t *turn) timedRun() bool {
	if t.said.First(engine.LoadVolume) == nil || t.said.First(engine.Duration) == nil && t.said.First(engine.UnloadTime) == nil || len(t.said) != 3 {
		return false
	}
	return len(t.req.Asks) == 0 || len(t.req.Asks) == 1 && t.req.Asks[0].Topic == engine.TopicFlow
}

// besideRun are the quantities that are kept where they are said beside runs.
var besideRun = map[engine.Slot]bool{engine.PumpFlow: true, engine.Width: true, engine.Speed: true, engine.ApplicationRate: true}

// gateWaits answers the question for a gate's mark that waited for the runs which have just
// been told.
func (t *turn) gateWaits(runs []engine.Run) bool {
	p := t.asked
	if p == nil || !slices.Contains(p.Topics, engine.TopicGate) || len(t.req.Asks) > 0 || p.Problem != engine.NoRuns && p.Problem != engine.NoCurve && p.Problem != "" {
		return false
	}
	out, before := *t.out, t.said
	_, rest := engine.SplitRuns(t.said)
	t.said, t.topics, t.aside = joinFacts(p.Facts, rest), p.Topics, before
	t.out.Focus, t.m.Pending = p.Focus, nil
	if t.question() && t.out.Status == engine.Answered {
		t.out.Act, t.out.Runs = engine.ActRunRecorded, runs
		return true
	}
	*t.out, t.said, t.topics, t.aside, t.m.Pending = out, before, nil, nil, nil
	return false
}

// gateRun records a timed run: "gate 4, 620 gpm", "gate 3 emptied 1,500 gallons in 4
// minutes". A question about the gate is none.
func (t *turn) gateRun() bool {
	if t.whatIf || t.said.First(engine.GateOpening) == nil || (t.req.Question || len(t.req.Asks) > 0) && !t.timedRun() {
		return false
	}
	runs, slot := engine.RunsIn(t.said)
	if tank := t.latest(engine.TankVolume); len(runs) == 0 && slot == engine.NoSlot && tank != nil && len(t.m.Runs) > 0 && len(t.said) == 2 && t.said.First(engine.Duration) != nil {
		load := *tank // the next run of the kind: "gate 5 in 4 min"
		load.Slot, load.Origin, load.At = engine.LoadVolume, engine.Remembered, [2]int{}
		runs, slot = engine.RunsIn(append(slices.Clone(t.said), load))
	}
	if slot != engine.NoSlot {
		t.topic(engine.TopicGate)
		t.out.Subject = slot
		return t.refuse(engine.NotPositive)
	}
	if len(runs) == 0 {
		return false
	}
	all := slices.Clone(t.m.Runs)
	for _, r := range runs {
		r.Outlet = t.m.Outlet
		all = append(all, r)
	}
	if a, b, ok := engine.Contradiction(all); ok {
		t.topic(engine.TopicGate)
		t.out.Runs = []engine.Run{a, b}
		t.out.Status, t.out.Problem = engine.Refused, engine.RunsContradict
		return true
	}
	for i := range t.said {
		if f := &t.said[i]; besideRun[f.Slot] && f.Origin == engine.Said && engine.Plausible(f) == engine.Fine {
			t.keep(*f) // "pump 900, gate 4 gives 450"
		}
	}
	if t.m.Runs = all; t.gateWaits(runs) {
		return true
	}
	t.topic(engine.TopicGate)
	t.out.Runs = runs
	t.put(engine.GateOpening, "", runs[0].Opening)
	t.put(engine.Flow, "", runs[0].Flow)
	t.out.Status, t.out.Act = engine.Done, engine.ActRunRecorded
	return true
}
