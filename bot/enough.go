package bot

import (
	"slices"

	"tankside/engine"
	"tankside/parse"
)

// nutrientLimits are the most of a nutrient that a rule or plan allows.
var nutrientLimits = []engine.Slot{engine.LimitN, engine.LimitPhosphate, engine.LimitPhosphorus}

// enough answers whether the nutrients just told will do: "is that enough", "are we ok",
// or with the limit in the same breath, "limit here is 170 kg N per ha are we ok". What
// is tried out is judged as it was tried.
func (t *turn) enough() bool {
	if slot := t.limitAsked(); slot != engine.NoSlot {
		t.topics, t.out.Focus, t.out.Units = []engine.Topic{engine.TopicNutrients}, []engine.Slot{slot}, t.m.Units
		return t.question() // a limit in kilos is no wish for cubic metres
	}
	if t.req.Enough == "" || t.m.Last == nil || len(t.m.Last.Topics) == 0 || t.m.Last.Topics[0] != engine.TopicNutrients && t.m.Last.Topics[0] != engine.TopicNeed {
		return false
	}
	t.topics, t.out.Focus = []engine.Topic{engine.TopicNutrients}, []engine.Slot{engine.TargetN}
	if t.req.Enough == parse.EnoughLimit && slices.ContainsFunc(nutrientLimits, t.knows) {
		t.out.Focus = []engine.Slot{engine.LimitN}
	}
	t.req.Acts, t.req.Asks, t.req.Problem = nil, nil, nil
	if tried := t.m.Last.Tried; len(tried) > 0 {
		t.whatIf = true
		t.reckon(t.overlay(t.merged(tried), t.m.Last.Facts))
		return true
	}
	return t.question()
}

// limitAsked is the nutrient limit that a yes or no question names.
func (t *turn) limitAsked() engine.Slot {
	if len(t.req.Asks) > 0 || !t.req.Question {
		return engine.NoSlot
	}
	for _, s := range nutrientLimits {
		if t.said.First(s) != nil {
			return s
		}
	}
	return engine.NoSlot
}
