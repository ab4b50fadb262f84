package engine

// following is a topic that facts alone can call for.
type following struct {
	topic Topic
	when  func(w *work) bool
}

// followings in order of what a person most likely means: the first one that
// holds is the message's topic.
var followings = []following{
	{TopicField, func(w *work) bool { return w.all(Area, LoadVolume, ApplicationRate) }},
	{TopicFlow, func(w *work) bool { return w.all(ApplicationRate, Width, Speed) && w.drawn(ApplicationRate, Width, Speed) }},
	{TopicRate, func(w *work) bool { return !w.is(ApplicationRate) && (w.is(Flow, Width, Speed) || w.strip()) }},
	{TopicSpeed, func(w *work) bool {
		return !w.is(Speed) && (w.is(ApplicationRate, Width, Flow) || w.is(Distance, Duration))
	}},
	{TopicPartLoad, func(w *work) bool {
		return w.all(LoadVolume, ApplicationRate) && (w.is(LoadFraction, TankVolume) || w.is(LoadVolume, TankVolume))
	}},
	{TopicLoad, func(w *work) bool { return w.all(LoadVolume, ApplicationRate) && !w.partSaid() || w.heelOnly() }},
	{TopicAgitation, func(w *work) bool { return w.all(LoadVolume, PumpFlow, Flow) }},
	{TopicSeedForArea, func(w *work) bool { return w.is(Area) && w.facts.First(SeedRate) != nil && !w.all(LoadVolume, ApplicationRate) }},
}

// Follows lists the topics that facts answer without a question being asked: a
// tank and a rate ask for acres per load. What was said must have a part in it;
// remembered values alone ask for nothing.
func Follows(facts Facts) []Topic {
	var out []Topic
	w := &work{c: &Context{}, facts: facts, used: make([]bool, len(facts))}
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

// drawn says whether at most one of these follows from others; the rest is given.
func (w *work) drawn(slots ...Slot) bool {
	derived := 0
	for _, s := range slots {
		if w.find(s, "") < 0 {
			derived++
		}
	}
	return derived == 0
}

// heelOnly is a full tank on an undrained heel.
func (w *work) heelOnly() bool {
	return w.all(LoadVolume, ApplicationRate) && !w.is(LoadFraction) && (w.is(HeelVolume) || w.is(LoadVolume)) && !w.is(LoadVolume, TankVolume)
}

// strip is a volume put down on a measured strip, and nothing that makes it
// another sort of message.
func (w *work) strip() bool {
	return w.all(LoadVolume) && !w.is(Duration) && w.is(Width, Distance)
}

// fresh says whether a topic rests on anything said in this message. A set of
// facts that holds nothing said at all is taken as a message of its own.
func (w *work) fresh(t Topic) bool {
	anySaid := false
	for i := range w.facts {
		anySaid = anySaid || w.facts[i].Origin == Said
		w.used[i] = false
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
