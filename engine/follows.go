package engine

// following is a topic that facts alone can call for.
type following struct {
	topic Topic
	when  func(w *work) bool
}

// followings in order of what a person most likely means: the first one that
// holds is the message's topic.
var followings = []following{
	{TopicRate, func(w *work) bool { return w.strip() && w.is(ApplicationRate) && !w.is(Flow) && !w.is(Speed) }}, // measured against the wanted
	{TopicField, func(w *work) bool { return w.all(Area, LoadVolume, ApplicationRate) }},
	{TopicFlow, func(w *work) bool { return w.is(ApplicationRate, Width, Speed) }},
	{TopicRate, func(w *work) bool {
		return !w.is(ApplicationRate) && (w.is(Flow, Width, Speed) || w.strip() || w.patch() || w.is(TotalVolume, Area))
	}},
	{TopicSpeed, func(w *work) bool {
		return !w.is(Speed) && (w.is(ApplicationRate, Width, Flow) || w.is(Distance, Duration))
	}},
	{TopicPartLoad, func(w *work) bool { return w.all(LoadVolume, ApplicationRate) && w.partLoad() }},
	{TopicLoad, func(w *work) bool { return w.all(LoadVolume, ApplicationRate) && !w.partLoad() }},
	{TopicAgitation, func(w *work) bool { return w.all(LoadVolume, PumpFlow, Flow) || w.all(LoadVolume) && w.is(BypassFlow) }},
	{TopicSeedForArea, func(w *work) bool {
		return (w.is(Area) || w.any(TotalSeed)) && w.any(SeedRate) && !w.all(LoadVolume, ApplicationRate)
	}},
	{TopicSeedLot, func(w *work) bool { return w.any(Purity) && w.any(Germination) }},
	{TopicMix, func(w *work) bool { return w.any(SeedShare) && w.any(SeedRate) }},
	{TopicNeed, func(w *work) bool { return w.tested() && (w.is(TargetN) || w.has(TargetPhosphate)) }},
	{TopicNutrients, func(w *work) bool { return w.tested() && w.all(ApplicationRate) }},
	{TopicWeigh, func(w *work) bool { return w.is(GrossWeight, TareWeight) }},
	{TopicSamples, func(w *work) bool {
		return len(w.facts.Of(SampleCount)) >= fewestSamples || w.any(SampleCount) && w.any(JarVolume)
	}},
	{TopicCycle, func(w *work) bool {
		return w.round() || w.is(CycleTime) && (w.is(LoadCount) || w.is(LoadsLeft) || w.is(Tankers))
	}},
	{TopicFlow, func(w *work) bool {
		return w.is(UnloadTime) && !w.is(Flow) && !w.is(GateOpening) && w.all(LoadVolume) && !w.round()
	}},
	{TopicFlow, func(w *work) bool { // what returns
		return w.is(PumpFlow) && (w.is(Flow) || w.is(BypassShare)) && !w.all(LoadVolume)
	}},
	{TopicFlow, func(w *work) bool { return w.is(TubeVolume, Duration) }},
	{TopicFlow, func(w *work) bool { return w.is(LoadVolume, Duration) && w.caught() }},
	{TopicCost, func(w *work) bool {
		return w.any(SeedPrice) && w.any(SeedRate) || w.fertilizerPriced() && w.tested() || w.any(CustomCost) && (w.is(Area) || w.is(AreaPerHour))
	}},
}

// Follows lists the topics that facts answer without a question being asked: a
// tank and a rate ask for acres per load. What was said must have a part in it;
// remembered values alone ask for nothing.
func Follows(facts Facts) []Topic {
	var out []Topic
	w := &work{c: noContext, facts: facts}
	w.unused()
	w.setDensity()
	for i := range followings {
		f := &followings[i]
		if f.when(w) && w.fresh(f.topic) {
			out = append(out, f.topic)
		}
	}
	return out
}

// is says whether all of these were given as facts.
func (w *work) is(slots ...Slot) bool {
	for _, s := range slots {
		if w.find(s, "") < 0 {
			return false
		}
	}
	return true
}

// all says whether all of these are given or follow.
func (w *work) all(slots ...Slot) bool {
	for _, s := range slots {
		if !w.has(s) {
			return false
		}
	}
	return true
}

// any says whether this was given, whatever it is of.
func (w *work) any(s Slot) bool { return w.facts.First(s) != nil }

// partLoad is a tank that was said to be less than full.
func (w *work) partLoad() bool { return w.is(TankVolume, LoadFraction) || w.is(TankVolume, LoadVolume) }

// strip is a volume put down on a measured strip, and not a timed course.
func (w *work) strip() bool { return w.all(LoadVolume) && !w.is(Duration) && w.is(Width, Distance) }

// patchRates are the rates between which a volume and an area are taken to belong
// together, rather than to be a tank and a field.
const patchLow, patchHigh = 1000, 60000

// patch is a volume put down on a small measured area.
func (w *work) patch() bool {
	if !w.all(LoadVolume) || !w.is(Area) || w.any(SeedRate) {
		return false
	}
	v, _ := w.get(LoadVolume)
	a, _ := w.get(Area)
	return v >= patchLow*a && v <= patchHigh*a
}

// caught is a volume below that of any tank, caught in a time at the outlets.
func (w *work) caught() bool {
	v, _ := w.get(LoadVolume)
	return v < smallestTank && !w.is(Distance) && !w.is(Area)
}

// smallestTank is below the usual band of a tank, in gallons: a bucket or a barrel.
const smallestTank = 200

// round is a haul cycle with all its parts.
func (w *work) round() bool {
	if w.find(Duration, "fill") < 0 || w.find(Duration, "drive") < 0 || w.find(Duration, "return") < 0 {
		return false
	}
	return w.find(Duration, "spread") >= 0 || w.is(UnloadTime) || w.all(LoadVolume, Flow)
}

// fresh says whether a topic rests on anything said in this message. A set of
// facts that holds nothing said at all is taken as a message of its own.
func (w *work) fresh(t Topic) bool {
	anySaid, allSaid := false, true
	for i := range w.facts {
		said := w.facts[i].Origin == Said
		anySaid, allSaid = anySaid || said, allSaid && said
		w.used[i] = false
	}
	if allSaid {
		return true
	}
	k := kindOf(t)
	if !anySaid || k == nil {
		return true
	}
	v := &work{c: w.c, facts: w.facts, used: w.used, heavy: w.heavy}
	v.out.Topics = []Topic{t}
	v.run(k)
	for i := range w.facts {
		if w.used[i] && w.facts[i].Origin == Said {
			return true
		}
	}
	return false
}
