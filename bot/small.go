package bot

import (
	"slices"

	"tankside/engine"
	"tankside/parse"
)

// blank: nothing in it, or nothing of the job.
func (t *turn) blank() bool {
	if !t.req.Off || t.req.Problem != nil || t.pending != nil || t.recalls() || t.namesUnit() {
		return false
	}
	t.out.Status, t.out.Problem = engine.NotUnderstood, engine.NotUnderstoodCode
	if isBlank(t.msg.Text) {
		t.out.Problem = engine.Empty
	} else if t.req.Question || len(t.msg.Text) > 20 {
		t.out.Problem = engine.OffTopic
	}
	return true
}

// recalls says whether a question only names what the chat knows: "what's my tank?".
func (t *turn) recalls() bool {
	return t.req.Question && slices.ContainsFunc(t.req.Mentions, func(m parse.Mention) bool { return m.Slot != engine.NoSlot && t.knows(m.Slot) })
}

// namesUnit says whether a unit is all that a message names, in a chat that knows
// something: "and in hectares".
func (t *turn) namesUnit() bool {
	return len(t.m.Facts) > 0 && len(t.req.Mentions) == 1 && t.req.Mentions[0].Unit != nil
}

func isBlank(s string) bool {
	for _, r := range s {
		if r > ' ' && r != '\u00a0' && r != 0xfffd {
			return false
		}
	}
	return true
}

// small: greetings, thanks, help, "how did you get that", "never mind".
func (t *turn) small() bool {
	only := len(t.said) == 0 && len(t.req.Asks) == 0 && len(t.req.Loose) == 0
	switch {
	case t.act("never_mind") != nil && only:
		t.m.Pending = nil
		t.out.Status, t.out.Act = engine.Done, engine.ActDropped
	case t.act("help") != nil && only:
		t.out.Status, t.out.Info = engine.Answered, []string{"help"}
		t.topic(engine.TopicHelp)
	case t.act("how") != nil && only, t.act("source") != nil && only:
		return t.explain()
	case t.act("greet") != nil && only && len(t.req.Acts) == 1:
		t.out.Status, t.out.Act = engine.Answered, engine.ActGreeting
		t.topic(engine.TopicHelp)
	case t.act("thanks") != nil && only && len(t.req.Acts) == 1:
		t.out.Status, t.out.Act = engine.Done, engine.ActThanks
	case (t.act("yes") != nil || t.act("no") != nil) && only && len(t.req.Acts) == 1 && len(t.req.Crops) == 0:
		t.out.Status, t.out.Problem = engine.NotUnderstood, engine.NothingPending
	default:
		return false
	}
	return true
}

// explain answers "how?" and "says who?" about the last answer.
func (t *turn) explain() bool {
	if t.m.Last == nil || len(t.m.Last.Topics) == 0 {
		t.out.Status, t.out.Info = engine.Answered, []string{"help"}
		t.topic(engine.TopicHelp)
		return true
	}
	t.out.Source = t.act("source") != nil
	t.out.Show = !t.out.Source
	t.topics = t.m.Last.Topics
	facts := slices.Clone(t.m.Last.Facts)
	for _, c := range t.m.Last.Crops {
		facts = append(facts, engine.Fact{Slot: engine.CropSaid, Of: c, Unit: noUnit, Origin: engine.Remembered})
	}
	t.reckon(t.merged(facts))
	t.out.Status = engine.Answered
	return true
}
