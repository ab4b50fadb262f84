package bot

import (
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
)

// inOtherUnit answers "and in km/h?" with the last answer in that unit's system, or
// where that has nothing of the kind, what the chat knows in that unit.
func (t *turn) inOtherUnit() bool {
	r := t.req
	if len(t.topics)+len(r.Facts)+len(r.Loose)+len(r.Acts)+len(r.Asks)+len(r.Crops)+len(r.Info) > 0 || len(r.Mentions) != 1 || r.Mentions[0].Unit == nil {
		return false
	}
	if r.Problem != nil {
		return false
	}
	to := r.Mentions[0].Unit
	facts, topics := t.merged(nil), []engine.Topic(nil)
	if t.m.Last != nil {
		facts, topics = t.overlay(facts, t.m.Last.Facts), t.m.Last.Topics
	}
	if len(topics) == 0 {
		topics = t.follows(facts)
	}
	if len(topics) > 0 && t.tellsIn(to, topics, facts) {
		return true
	}
	for _, f := range facts {
		if f.Unit != nil && f.Unit != to && f.Unit.Dim == to.Dim {
			r.Convert, t.topics = to, []engine.Topic{engine.TopicConvert}
			t.reckon(engine.Facts{f})
			return true
		}
	}
	return false
}

// tellsIn answers topics in the system of a unit, if something in the answer is in
// that unit.
func (t *turn) tellsIn(to *unit.Unit, topics []engine.Topic, facts engine.Facts) bool {
	out, units := *t.out, engine.Units{System: to.System}
	t.out.Units, t.topics, t.whatIf = units, topics, true
	t.reckon(facts)
	for i := range t.out.Results {
		s := t.out.Results[i].Slot
		if u := units.UnitFor(s); u != nil && u.Dim == to.Dim && s != engine.SoakWater {
			return true
		}
	}
	*t.out, t.topics, t.whatIf = out, nil, false
	return false
}

// followUp is what a what-if asks about: the last question, or a part load when a
// part was said.
func (t *turn) followUp() []engine.Topic {
	if t.said.First(engine.LoadFraction) != nil || t.said.First(engine.LoadVolume) != nil {
		return []engine.Topic{engine.TopicPartLoad}
	}
	if len(t.said) == 1 && t.said[0].Slot == engine.Tankers {
		if slices.Contains(t.m.Last.Topics, engine.TopicCycle) {
			t.out.Focus = t.m.Last.Focus
		}
		return []engine.Topic{engine.TopicCycle} // "con dos pipas"
	}
	last := slices.Clone(t.m.Last.Topics)
	if now := t.follows(t.said); len(last) > 0 && last[0] == engine.TopicCrop && len(t.req.Crops) == 0 && len(now) > 0 {
		return now // after a word about a crop, "what about 7000 in a 3000 tank" is about a load
	}
	return t.wholeField(last)
}

// overlay adds facts of the last question that this message did not replace.
func (t *turn) overlay(facts, last engine.Facts) engine.Facts {
	counts := facts.First(engine.SampleCount) == nil && t.said.First(engine.JarVolume) == nil // of another jar they say nothing
	for _, f := range last {
		if f.Slot == engine.SampleCount && !counts {
			continue
		}
		if f.Slot == engine.SampleCount || facts.First(f.Slot) == nil || f.Slot == engine.Duration && facts.Find(f.Slot, f.Of) == nil {
			if f.Origin == engine.Said {
				f.Origin = engine.Remembered
			}
			facts = append(facts, f)
		}
	}
	return facts
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
	var crops []string
	for _, c := range t.req.Crops {
		if c.Name != "" {
			crops = append(crops, c.Name)
		}
	}
	topics := t.topics
	if len(topics) == 0 && t.m.Last != nil {
		topics = t.m.Last.Topics
	}
	t.m.Last = &Last{Topics: topics, Facts: t.said[:len(t.said):len(t.said)], Crops: crops, Slots: slots, Timing: t.req.Timing, Latest: latest,
		Method: t.context.Method, Worked: t.context.WorkedIn, All: t.all, Focus: t.out.Focus}
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
	last.Tried = t.said
	last.Slots = slices.Clone(last.Slots)
	for i := range t.said {
		s := t.said[i].Slot
		last.Slots = append([]engine.Slot{s}, slices.DeleteFunc(last.Slots, func(o engine.Slot) bool { return o == s })...)
	}
	t.m.Last = &last
}
