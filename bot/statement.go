package bot

import (
	"slices"
	"time"

	"tankside/engine"
)

// statement: facts and no question. What they answer by themselves is answered;
// else they are remembered, and what follows from the chat with them is said too.
func (t *turn) statement() bool {
	if len(t.said) == 0 {
		return t.cropAlone()
	}
	t.flowOfMark()
	if topics := t.follows(t.said); len(topics) > 0 {
		t.topics = topics
		t.reckon(t.merged(t.said))
		t.remember()
		t.keepLast(t.said)
		return true
	}
	if t.whetherSo() || t.justLoads() {
		return true
	}
	return t.setFacts()
}

// justLoads: "3 loads" and no more may be what was done or what is planned; it is asked
// about, so that no load gets lost.
func (t *turn) justLoads() bool {
	f := &t.said[0]
	if len(t.said) != 1 || f.Slot != engine.LoadCount || t.whatIf || t.req.Problem != nil || !t.knows(engine.TankVolume) || f.Min > mostLoads || f.Min <= 0 {
		return false
	}
	t.topic(engine.TopicLog)
	t.out.Subject = engine.LoadCount
	return t.ask(engine.ConfirmLoads, Pending{Slot: engine.LoadCount, Facts: t.said, Act: "log"})
}

// whetherSo: "is my tank 4000" sets nothing: what is known is shown, else what is asked
// is asked about.
func (t *turn) whetherSo() bool {
	if !t.req.YesNo || t.req.Correct {
		return false
	}
	t.topic(engine.TopicSetup)
	f := &t.said[0]
	if known := t.latest(f.Slot); known != nil && len(t.said) == 1 {
		shown := *known
		shown.Origin, shown.At = engine.Remembered, [2]int{}
		t.out.Status, t.out.Act, t.out.Subject = engine.Answered, engine.ActSetupShown, f.Slot
		t.out.Given = engine.Facts{shown}
		t.out.Unread = append(t.out.Unread, engine.Span{Text: t.msg.Text[f.At[0]:f.At[1]], At: f.At})
		t.said = nil
		return true
	}
	t.out.Words = []string{t.msg.Text[f.At[0]:f.At[1]]}
	return t.ask(engine.WhatAsked, Pending{Facts: t.said})
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
	if topics := engine.Follows(merged); len(topics) > 0 && len(t.m.Facts) > 0 {
		t.topics = topics[:1]
		notes := t.out.Notes
		t.reckon(merged)
		if t.out.Status != engine.Answered && !cropDoubted(t.m.Pending) { // 20 lb of either rye: so much a load
			t.out.Results, t.out.Missing, t.out.MissingOf, t.out.Problem, t.out.Notes = nil, nil, nil, "", notes
			t.m.Pending = nil
		}
	}
	if t.req.Problem != nil {
		if t.said.First(engine.TankVolume) != nil || t.said.First(engine.LoadVolume) != nil {
			t.topic(engine.TopicLoad)
		}
		if t.req.Problem.Code == engine.LabUnit {
			t.topic(engine.TopicNutrients)
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
