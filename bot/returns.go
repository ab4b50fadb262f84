package bot

import (
	"cmp"
	"slices"

	"tankside/engine"
)

// returns lists what goes back to the tank at each mark that was timed: "pump measured 1350
// with the gate shut, what's the return at each mark".
func (t *turn) returns() bool {
	t.topic(engine.TopicAgitation)
	for i := range t.said {
		if f := &t.said[i]; f.Slot == engine.PumpFlow && engine.Plausible(f) == engine.Fine {
			t.keep(*f)
		}
	}
	runs := t.outletRuns()
	if len(runs) == 0 {
		return t.ask(engine.NoRuns, Pending{Act: "returns"})
	}
	pump := t.latest(engine.PumpFlow)
	if pump == nil {
		t.out.Missing, t.out.MissingOf = []engine.Slot{engine.PumpFlow}, []string{""}
		return t.ask("", Pending{Slot: engine.PumpFlow, Act: "returns"})
	}
	lo, _ := pump.Base()
	back, err := engine.Returns(runs, lo)
	if known := *pump; t.said.First(engine.PumpFlow) == nil {
		known.Origin, known.At = engine.Remembered, [2]int{}
		t.out.Given = append(t.out.Given, known)
	}
	if err != nil { // more was timed at a mark than the pump is said to give
		most := slices.MaxFunc(runs, func(a, b engine.Run) int { return cmp.Compare(a.Flow, b.Flow) })
		u := t.out.Units.UnitFor(engine.Flow)
		flow := u.FromBase(most.Flow)
		t.out.Given = append(t.out.Given, engine.Fact{Slot: engine.Flow, Min: flow, Max: flow, Unit: u, Origin: engine.Remembered})
		t.out.Conflict = []engine.Slot{engine.PumpFlow, engine.Flow}
		return t.ask(engine.ConflictCode, Pending{Slot: engine.PumpFlow, Act: "returns"})
	}
	t.out.Runs = back
	t.put(engine.BypassFlow, "", back[0].Flow)
	t.out.Status, t.out.Act = engine.Answered, engine.ActReturnsListed
	return true
}
