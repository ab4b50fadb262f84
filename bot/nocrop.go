package bot

import (
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
	"tankside/parse"
)

// weights are the results that come out the same for every crop of one rate.
var weights = map[engine.Slot]bool{engine.NoSlot: true, engine.SeedPerLoad: true, engine.TotalSeed: true, engine.BagCount: true, engine.BagsPerLoad: true, engine.LastLoadSeed: true, engine.AreaPerLoad: true,
	engine.Loads: true, engine.TotalVolume: true, engine.LoadVolume: true, engine.RunLength: true, engine.SeedCost: true, engine.NetWeight: true}

// weighed are the topics that come to weights, counts and money of whatever seed.
var weighed = map[engine.Topic]bool{engine.TopicLoad: true, engine.TopicPartLoad: true, engine.TopicSeedForArea: true, engine.TopicField: true, engine.TopicMix: true, engine.TopicCost: true}

// onlyWeights says whether nothing of what is asked hangs on which crop the seed is of:
// "how much seed do I weigh for each load at fifty pounds to the acre". Soaking, seeds on
// the ground and what is usual do.
func (t *turn) onlyWeights(named bool) bool {
	if len(t.req.Asks) == 0 {
		return !named && t.weighsBySaid()
	}
	return !slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool { return !weighed[a.Topic] || !weights[a.Slot] || a.Timing })
}

// weighsBySaid: "20 kg bags for 14 ha at 65 kg/ha" asks for nothing by name and comes to
// bags all the same.
func (t *turn) weighsBySaid() bool {
	topics := t.follows(t.merged(t.said))
	return len(topics) > 0 && !slices.ContainsFunc(topics, func(x engine.Topic) bool { return !weighed[x] })
}

// perGround says whether a seed rate was said per area, not only taken so: "50 lb to the
// acre" is sure, "seed 10 lb" is not.
func perGround(f *engine.Fact) bool {
	return f.Slot == engine.SeedRate && !f.Implied && f.Unit != nil && f.Unit.Dim == unit.DimMassPerArea
}

// withoutCrop answers for seed of no named crop where only its weight is asked for; that
// it may want soaking is told behind the answer.
func (t *turn) withoutCrop(f *engine.Fact) bool {
	inBags := t.said.First(engine.BagWeight) != nil && t.said.First(engine.Area) != nil // 45 ac @ 55 lb, 50 lb bags
	if !perGround(f) && !inBags || !t.onlyWeights(false) {
		return false
	}
	t.note(engine.Note{ID: "name_crop", Level: engine.Advice})
	return true
}

// withoutKind does the same for a crop named by its kind, "5 clover", where weights are
// asked for by name and it is the only kind in doubt.
func (t *turn) withoutKind(f *engine.Fact, kinds []string) bool {
	if f.Slot != engine.SeedRate || len(kinds) == 0 || len(t.req.Asks) == 0 || !t.onlyWeights(true) || !t.weightAsked() {
		return false
	}
	for i := range t.said {
		if o := &t.said[i]; o.Slot == engine.SeedRate && o.Of == "" {
			return false
		}
	}
	for i := range t.req.Crops {
		if c := &t.req.Crops[i]; c.Name == f.Of {
			c.Name = ""
		}
	}
	f.Of = ""
	t.note(engine.Note{ID: "name_kind", Level: engine.Advice, Of: kinds[0]})
	return true
}

// weightAsked says whether a weight of seed is asked for by name, "lbs each" of a mix
// among them.
func (t *turn) weightAsked() bool {
	return slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool {
		return a.Slot == engine.SeedPerLoad || a.Slot == engine.TotalSeed || a.Slot == engine.BagCount || a.Slot == engine.BagsPerLoad || a.Topic == engine.TopicMix && t.poundsNamed()
	})
}

// poundsNamed says whether a unit of weight stands without a number: "lbs each".
func (t *turn) poundsNamed() bool {
	return slices.ContainsFunc(t.req.Mentions, func(m parse.Mention) bool { return m.Unit != nil && m.Unit.Dim == unit.DimMass })
}

// cropForUnnamed: a crop said alone right behind an answer about seed of no crop is that
// seed's: "oats". What "rye" or "clover" is, its rate settles afterwards.
func (t *turn) cropForUnnamed() bool {
	last, r := t.m.Last, t.req
	if last == nil || len(r.Crops) != 1 || len(t.said)+len(r.Loose)+len(r.Asks)+len(r.Acts)+len(r.Info) > 0 || r.Question || r.Marked || len(last.Topics) == 0 || r.Crops[0].Name == "" {
		return false
	}
	at := slices.IndexFunc(last.Facts, func(f engine.Fact) bool { return f.Slot == engine.SeedRate && f.Of == "" })
	if at < 0 {
		return false
	}
	seed := last.Facts[at]
	seed.Of, seed.At = r.Crops[0].Name, r.Crops[0].At
	t.said = joinFacts(without(last.Facts, engine.SeedRate), engine.Facts{seed})
	for i := range last.Facts {
		if f := last.Facts[i]; f.Slot == engine.SeedRate && f.Of != "" { // the rest of a mix
			f.At, f.Origin = [2]int{}, engine.Remembered
			t.said = append(t.said, f)
		}
	}
	r.Crops, t.topics = nil, last.Topics // it has found its amount
	if t.topics[0] == engine.TopicSetup {
		t.topics = nil
	}
	return false
}
