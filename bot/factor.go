package bot

import (
	"tankside/engine"
	"tankside/parse"
)

// factor: "double the rate" sets twice the value that the chat knows; without one
// it asks for it.
func (t *turn) factor() bool {
	if t.req.Factor == 0 || len(t.said) > 0 {
		return false
	}
	var slot engine.Slot
	for _, m := range t.req.Mentions {
		if m.Slot != engine.NoSlot {
			slot = m.Slot
			break
		}
	}
	for _, f := range t.merged(nil) {
		if f.Slot != slot || slot == engine.NoSlot {
			continue
		}
		f.Min, f.Max, f.Origin, f.AgeDays = f.Min*t.req.Factor, f.Max*t.req.Factor, engine.Said, 0
		t.said, t.req.Crops = engine.Facts{f}, []parse.Crop{}
		return t.setFacts()
	}
	t.topic(engine.TopicSetup)
	t.out.Missing, t.out.MissingOf = []engine.Slot{slot}, []string{""}
	return t.ask("", Pending{Slot: slot})
}
