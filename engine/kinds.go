package engine

// kind is one sort of question, as data: what it needs, in asking order, and what
// answers it.
type kind struct {
	topic   Topic
	ways    []way  // the first is the usual way; others are taken when their key was said
	solves  Slot   // the slot asked for, worked out even where an older value is known
	seeds   seeded // how it takes crops
	answer  func(w *work, way int)
	partial func(w *work) // answers what it can while something is missing; nil: nothing
}

// way is one set of slots that settles a question.
type way struct {
	needs []need
	key   Slot // what makes this way the one meant; NoSlot for the usual way
}

// need is a slot that must be had. ask is what to ask for instead of it when it
// only follows from that (the tank rather than the load).
type need struct {
	slot, ask Slot
	fact      bool   // a fact of its own; deriving it would answer something else
	any       []Slot // one of these does, or typical values by kind of manure
}

// seeded says what a kind does about crops.
type seeded uint8

const (
	noSeed    seeded = iota
	anySeed          // crops that were named need a rate
	someSeed         // at least one crop with a rate
	cropsOnly        // crops are read, rates are not needed
)

func slotNeeds(slots ...Slot) []need {
	out := make([]need, len(slots))
	for i, s := range slots {
		out[i] = need{slot: s, ask: s}
		if s == LoadVolume {
			out[i].ask = TankVolume
		}
	}
	return out
}

// labNeeds are needs that begin with any of the lab's values.
func labNeeds(slots ...Slot) []need {
	return append([]need{{slot: AnalysisTotalN, ask: AnalysisTotalN, any: labSaid}}, slotNeeds(slots...)...)
}

// phosphateNeed is the one lab value that a phosphate target hangs on.
var phosphateNeed = need{slot: AnalysisPhosphate, ask: AnalysisPhosphate, any: []Slot{AnalysisPhosphate, AnalysisPhosphorus}}

func fact(s Slot) need { return need{slot: s, ask: s, fact: true} }

// kinds lists every question that the engine answers.
var kinds = []kind{
	{topic: TopicLoad, ways: oneWay(LoadVolume, ApplicationRate), seeds: anySeed, answer: answerLoad},
	{topic: TopicPartLoad, seeds: anySeed, answer: answerLoad, ways: []way{
		{needs: append([]need{fact(LoadFraction)}, slotNeeds(TankVolume, ApplicationRate)...)},
		{needs: append([]need{fact(LoadVolume)}, slotNeeds(ApplicationRate)...), key: LoadVolume}}},
	{topic: TopicSeedForArea, seeds: someSeed, answer: answerSeedForArea, ways: []way{
		{needs: slotNeeds(Area)},
		{needs: []need{fact(TotalSeed)}, key: TotalSeed},
		{needs: []need{fact(BagWeight), fact(BagCount)}, key: BagCount},
		{needs: slotNeeds(Width, Distance), key: Distance},
		{needs: []need{fact(SeedPerLoad), fact(AreaPerLoad)}, key: SeedPerLoad}}},
	{topic: TopicRate, solves: ApplicationRate, answer: answerRate, ways: []way{
		{needs: slotNeeds(Flow, Width, Speed)},
		{needs: slotNeeds(LoadVolume, Area), key: Area},
		{needs: slotNeeds(LoadVolume, Width, Distance), key: Distance},
		{needs: slotNeeds(LoadVolume, AreaPerLoad), key: AreaPerLoad},
		{needs: slotNeeds(LoadVolume, Area), key: LoadVolume},
		{needs: []need{fact(Depth)}, key: Depth},
		{needs: []need{fact(TotalVolume), fact(Area)}, key: TotalVolume}}},
	{topic: TopicFlow, solves: Flow, answer: answerFlow, ways: []way{
		{needs: slotNeeds(ApplicationRate, Width, Speed)},
		{needs: []need{fact(TubeVolume), fact(Duration), fact(Tubes)}, key: TubeVolume},
		{needs: slotNeeds(LoadVolume, UnloadTime), key: UnloadTime},
		{needs: slotNeeds(LoadVolume, Duration), key: Duration},
		{needs: []need{fact(PumpFlow), fact(BypassFlow)}, key: BypassFlow}}},
	{topic: TopicSpeed, solves: Speed, answer: answerSpeed, ways: []way{
		{needs: slotNeeds(ApplicationRate, Width, Flow)},
		{needs: slotNeeds(Distance, Duration), key: Distance},
		{needs: slotNeeds(Distance, Duration), key: Duration}}},
	{topic: TopicAgitation, answer: answerAgitation, partial: partAgitation, ways: []way{
		{needs: slotNeeds(LoadVolume, PumpFlow, Flow)},
		{needs: append([]need{fact(BypassFlow)}, slotNeeds(LoadVolume)...), key: BypassFlow}}},
	{topic: TopicField, seeds: anySeed, answer: answerField, partial: partField, ways: []way{
		{needs: slotNeeds(Area, LoadVolume, ApplicationRate)},
		{needs: append([]need{fact(LoadCount)}, slotNeeds(LoadVolume)...), key: LoadCount},
		{needs: []need{fact(Area), fact(AreaPerLoad)}, key: AreaPerLoad},
		{needs: []need{fact(SeedPerLoad)}, key: SeedPerLoad}}},
	{topic: TopicCycle, answer: answerCycle},
	{topic: TopicSoak, seeds: cropsOnly, answer: answerSoak},
	{topic: TopicSeedLot, seeds: cropsOnly, answer: answerSeedLot},
	{topic: TopicMix, seeds: someSeed, answer: answerMix},
	{topic: TopicNutrients, answer: answerNutrients, ways: []way{
		{needs: labNeeds(ApplicationRate)},
		{needs: labNeeds(LoadVolume), key: LoadVolume}}},
	{topic: TopicNeed, solves: ApplicationRate, answer: answerNeed, ways: []way{
		{needs: labNeeds(TargetN), key: TargetN},
		{needs: append([]need{phosphateNeed}, slotNeeds(TargetPhosphate)...), key: TargetPhosphate},
		{needs: append([]need{phosphateNeed}, slotNeeds(TargetPhosphate)...), key: TargetPhosphorus},
		{needs: labNeeds(LimitN), key: LimitN},
		{needs: append([]need{phosphateNeed}, slotNeeds(LimitPhosphate)...), key: LimitPhosphate},
		{needs: append([]need{phosphateNeed}, slotNeeds(LimitPhosphate)...), key: LimitPhosphorus}}},
	{topic: TopicDepth, ways: oneWay(ApplicationRate), answer: answerDepth, partial: partDepth},
	{topic: TopicGate, answer: answerGate},
	{topic: TopicWeigh, answer: answerWeigh, ways: []way{
		{needs: slotNeeds(GrossWeight, TareWeight)},
		{needs: []need{fact(NetWeight)}, key: NetWeight},
		{needs: slotNeeds(LoadVolume), key: TankVolume},
		{needs: slotNeeds(LoadVolume), key: LoadVolume}}},
	{topic: TopicSamples, answer: answerSamples},
	{topic: TopicConvert, answer: answerConvert},
	{topic: TopicCost, answer: answerCost},
	{topic: TopicCrop, seeds: cropsOnly, answer: answerCrop},
}

func oneWay(slots ...Slot) []way { return []way{{needs: slotNeeds(slots...)}} }

// kindOf is the kind of a topic; nil for topics that are not calculations.
func kindOf(t Topic) *kind {
	for i := range kinds {
		if kinds[i].topic == t {
			return &kinds[i]
		}
	}
	return nil
}

// run answers one kind as far as the facts go and names what is missing.
func (w *work) run(k *kind) {
	if k.topic == TopicAgitation && w.c.Shut {
		answerShut(w)
		return
	}
	w.hidden = k.solves
	at, missing := w.pickWay(k)
	if missing > 0 && k.solves != NoSlot && w.facts.Find(k.solves, "") != nil && !w.compares() {
		w.hidden, missing = NoSlot, 0 // it was said: what follows from it follows
	}
	if len(k.ways) > 0 && missing > 0 {
		w.readWay(&k.ways[at])
	}
	w.readCrops(k.seeds)
	switch {
	case missing == 0:
		k.answer(w, at)
	case k.partial != nil:
		k.partial(w)
	}
}

// pickWay chooses the way that is complete, or lacks least.
func (w *work) pickWay(k *kind) (at, missing int) {
	for i := range k.ways {
		wy := &k.ways[i]
		if i > 0 && w.facts.First(wy.key) == nil {
			continue
		}
		n := 0
		for _, nd := range wy.needs {
			if !w.hasNeed(nd) {
				n++
			}
		}
		unsaid := at == 0 && k.ways[0].key != NoSlot && w.facts.First(k.ways[0].key) == nil // a phosphate target asks for phosphate
		if i == 0 || n < missing || n == missing && unsaid {
			at, missing = i, n
		}
	}
	return at, missing
}

func (w *work) hasNeed(n need) bool {
	if n.any != nil {
		return w.anyOf(n.any) || !w.tested() && w.typical() != nil
	}
	if n.fact {
		return w.facts.First(n.slot) != nil
	}
	return w.has(n.slot)
}

// readWay marks what an unfinished way has, and misses what it lacks.
func (w *work) readWay(wy *way) {
	for _, n := range wy.needs {
		if !w.hasNeed(n) {
			w.miss(n.ask, "")
			continue
		}
		for _, s := range n.any {
			w.said(s, "")
		}
		w.mark(n.slot)
	}
}

// mark reads a slot, or what it would follow from, without working it out.
func (w *work) mark(s Slot) {
	if _, ok := w.said(s, ""); ok {
		return
	}
	if r := w.ruleFor(s); r != nil {
		w.busy[s] = true
		for _, from := range r.from {
			w.mark(from)
		}
		w.busy[s] = false
	}
}
