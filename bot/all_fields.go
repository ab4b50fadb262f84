package bot

import (
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
	"tankside/parse"
)

// ofGround are the quantities that more ground makes more of.
var ofGround = []engine.Slot{engine.Loads, engine.TotalSeed, engine.TotalVolume, engine.TotalTime, engine.WorkDays, engine.TotalSeedCost, engine.SeedCost}

// allFields puts the ground of all open fields together where they are meant: "how many loads
// total", "how long to finish both", "cuánta semilla entre los dos". What each takes is listed.
// Of a time, what is left of each counts.
func (t *turn) allFields() bool {
	fields := t.openGround()
	if len(fields) < 2 || !t.meansAll() {
		return false
	}
	if t.act("left") != nil && len(t.req.Asks) == 0 {
		return t.listFields()
	}
	left := slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool { return a.Topic == engine.TopicCycle }) || len(t.req.Asks) == 0
	sum, whole := 0.0, 0.0
	for _, f := range fields {
		whole += f.Area
		if sum += f.Area; left {
			sum -= min(f.Area, t.book.ByField[f.ID].Area)
		}
	}
	u := t.out.Units.UnitFor(engine.Area)
	if g := fields[0].Ground; g.Unit != nil && g.Unit.Dim == unit.DimArea {
		u = g.Unit
	}
	if t.listFields(); t.out.Log != nil {
		t.out.Log.Scope = "fields"
		t.out.Log.Lines = slices.DeleteFunc(t.out.Log.Lines, func(l engine.LogLine) bool { return l.Total == 0 })
	}
	t.out.Status, t.out.Act, t.out.Topics = "", "", nil
	t.req.Acts = slices.DeleteFunc(slices.Clone(t.req.Acts), func(a parse.Act) bool { return a.Name == "left" || a.Name == "totals" })
	t.said = append(t.said[:len(t.said):len(t.said)], engine.Fact{Slot: engine.Area, Min: u.FromBase(sum), Max: u.FromBase(sum), Unit: u, Origin: engine.Derived})
	if t.all = true; sum < whole {
		t.leftToo = sum
	}
	return false
}

// openGround are the open fields whose size is known.
func (t *turn) openGround() (out []Field) {
	for _, f := range t.m.Fields {
		if f.Closed.IsZero() && f.Area > 0 {
			out = append(out, f)
		}
	}
	return out
}

// meansAll says whether a question is about all fields: by its words, or because the one
// that it tries a variation of was.
func (t *turn) meansAll() bool {
	if t.req.Field != "" || t.said.First(engine.Area) != nil || t.said.First(engine.LoadCount) != nil || t.logging() {
		return false
	}
	if t.whatIf && t.m.Last != nil && t.m.Last.All && len(t.req.Asks) == 0 {
		return true
	}
	asks := slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool { return slices.Contains(ofGround, a.Slot) })
	if t.req.All {
		return asks || t.act("left") != nil
	}
	// "how many days with one rig" before any load, of fields that were all told of
	return asks && t.unnamedTime()
}

// unnamedTime says whether the time for the work is asked for before any of it is done, so
// that no field is the one at work.
func (t *turn) unnamedTime() bool {
	if !slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool { return a.Slot == engine.WorkDays }) {
		return false
	}
	for _, f := range t.openGround() {
		if t.book.ByField[f.ID].Count > 0 || f.Name == "" {
			return false
		}
	}
	return true
}
