package bot

import (
	"slices"

	"tankside/engine"
)

// limit keeps the rate that this chat never wants to pass: "my limit is 9000 an acre".
// It is no rate to work with; a question about a limit sets none.
func (t *turn) limit() bool {
	a := t.act("limit")
	if a == nil || a.Not || t.req.Question || len(t.req.Asks) > 0 || t.pending != nil {
		return false
	}
	if len(t.req.Loose) == 1 && len(t.said) == 0 {
		t.said, t.req.Loose = engine.Facts{t.factOf(t.req.Loose[0], engine.ApplicationRate)}, nil
	}
	if len(t.said) != 1 || t.said[0].Slot != engine.ApplicationRate {
		return false
	}
	f := &t.said[0]
	switch engine.Plausible(f) {
	case engine.NotPos:
		t.out.Subject = f.Slot
		return t.refuse(engine.NotPositive)
	case engine.TooFar:
		t.out.Subject = f.Slot
		return t.refuse(engine.Absurd)
	}
	_, most := f.Base()
	kept := slices.DeleteFunc(slices.Clone(t.m.Limits), func(l engine.Limit) bool { return l.Slot == engine.ApplicationRate })
	t.m.Limits = append(kept, engine.Limit{Slot: engine.ApplicationRate, Value: most})
	return t.doneSetup(engine.ActLimitSet)
}
