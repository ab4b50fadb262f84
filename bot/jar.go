package bot

import (
	"math"
	"slices"

	"tankside/engine"
	"tankside/parse"
)

// mostCounted is the largest number that is taken for a count of seeds where nothing but
// the talk says so.
const mostCounted = 1000

// jarsLast says whether jars were spoken of last, with nothing else asked about since.
func (m *Memory) jarsLast() bool {
	if p := m.Pending; p != nil {
		return p.Slot == engine.SampleCount
	}
	return m.Last != nil && len(m.Last.Topics) > 0 && m.Last.Topics[0] == engine.TopicSamples
}

// jarTalk says whether a bare number can only be a count: jars were talked of last, either
// several are listed or a first count is what comes next, it is whole, and nothing of the
// message is about anything else.
func (t *turn) jarTalk(l parse.Loose) bool {
	last := t.m.Last
	if last == nil || len(last.Topics) == 0 || last.Topics[0] != engine.TopicSamples || t.req.WhatIf || t.req.Correct || t.req.Same {
		return false
	}
	if t.req.Problem != nil || len(t.req.Loose) < 3 && !t.jarsCounted() && (last.Facts.First(engine.SampleCount) != nil || !t.knows(engine.JarVolume) || !t.knows(engine.ApplicationRate) || !t.knows(engine.SeedRate)) {
		return false // "7000" may be what was asked for
	}
	if l.Unit != nil || l.Behind != "" || l.Part || l.Min != l.Max || l.Min != math.Trunc(l.Min) || l.Min < 0 || l.Min > mostCounted || len(t.req.Acts) > 0 {
		return false
	}
	return len(t.said) == 0 || t.jarsCounted()
}

// seedOfJar takes counts that name no seed for those of the crop that the jar was just
// asked about: "how many rye seeds in a quart jar", "i counted 14".
func (t *turn) seedOfJar() {
	last := t.m.Last
	if !t.jarsCounted() || len(t.req.Crops) > 0 || saysSeed(t.said) || last == nil || len(last.Topics) == 0 || last.Topics[0] != engine.TopicSamples || len(last.Crops) != 1 {
		return
	}
	t.req.Crops = []parse.Crop{{Name: last.Crops[0]}}
}

// jarAbout says whether the message is about the seeds in a jar.
func (t *turn) jarAbout() bool {
	return t.jarsCounted() || t.said.First(engine.JarVolume) != nil || slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool { return a.Slot == engine.ExpectedCount })
}

// jarsCounted says whether seeds counted in jars were said.
func (t *turn) jarsCounted() bool { return t.said.First(engine.SampleCount) != nil }
