package engine

// Answer works out what was asked from the facts there are. It never guesses: what
// is missing is named, what contradicts is named, and a default is used only
// where it is then listed in Assumed.
//
// A fact that is a range is followed to both its ends: the questions are answered
// at every corner, and each result runs from its least to its greatest value.
func Answer(topics []Topic, facts Facts, c *Context) Reckoning {
	if c == nil {
		c = &Context{}
	}
	facts = withFullRates(facts)
	w := &work{c: c, facts: facts}
	w.unused()
	w.out.Topics = topics
	w.out.Results = make([]Value, 0, 10)
	w.setDensity()
	for i := range facts {
		if facts[i].Range() {
			w.ranged = append(w.ranged, i)
		}
	}
	if w.check() {
		for i := range facts {
			w.used[i] = w.used[i] || facts[i].Origin == Said
		}
	} else {
		w.runAll()
	}
	w.collectUsed()
	return w.out
}

// runAll answers at every corner and merges.
func (w *work) runAll() {
	w.runTopics()
	if len(w.ranged) == 0 {
		return
	}
	corners := 1 << min(len(w.ranged), maxRanged)
	seen := make([]int, 0, 32)
	for range w.out.Results {
		seen = append(seen, 1)
	}
	for corner := 1; corner < corners; corner++ {
		v := &work{c: w.c, facts: w.facts, used: w.used, ranged: w.ranged, corner: corner, heavy: w.heavy}
		v.out.Topics = w.out.Topics
		v.runTopics()
		seen = w.merge(&v.out, seen)
	}
	w.keepSound(seen, corners)
	w.judgeAgain()
}

func (w *work) runTopics() {
	for _, t := range w.out.Topics {
		if k := kindOf(t); k != nil {
			w.run(k)
			w.hidden = NoSlot
		}
	}
}

// merge widens the results by those of another corner.
func (w *work) merge(o *Reckoning, seen []int) []int {
next:
	for _, v := range o.Results {
		for i := range w.out.Results {
			r := &w.out.Results[i]
			if r.Slot == v.Slot && r.Of == v.Of && r.Limit == v.Limit {
				r.Min, r.Max = min(r.Min, v.Min), max(r.Max, v.Max)
				seen[i]++
				continue next
			}
		}
		w.out.Results, seen = append(w.out.Results, v), append(seen, 1)
	}
	for _, n := range o.Notes {
		w.note(n)
	}
	for i, s := range o.Missing {
		w.miss(s, o.MissingOf[i])
	}
	if o.Problem != "" && w.out.Problem == "" {
		w.out.Problem, w.out.Slot, w.out.Of, w.out.Words = o.Problem, o.Slot, o.Of, o.Words
		w.out.Value, w.out.Limit, w.out.Choices, w.out.Conflict = o.Value, o.Limit, o.Choices, o.Conflict
	}
	return seen
}

// keepSound drops what does not hold all over the range: a bypass that is gone at
// one end, a last load that jumps when another full load fits. Limits stay.
func (w *work) keepSound(seen []int, corners int) {
	jumps := false
	for _, r := range w.out.Results {
		jumps = jumps || r.Slot == FullLoads && r.Min != r.Max
	}
	kept := w.out.Results[:0]
	for i, r := range w.out.Results {
		last := r.Slot == LastLoadVolume || r.Slot == LastLoadSeed
		if r.Limit || seen[i] == corners && !(last && jumps) {
			kept = append(kept, r)
		}
	}
	w.out.Results = kept
}

// withFullRates adds the published rate of each crop that was given as a share of
// its full rate without that rate. It is a range, and assumed, so it is shown.
func withFullRates(facts Facts) Facts {
	out := facts
	for i := range facts {
		f := &facts[i]
		c := CropNamed(f.Of)
		if f.Slot != SeedShare || c == nil || facts.Find(SeedRate, f.Of) != nil {
			continue
		}
		out = append(out[:len(out):len(out)], Fact{Slot: SeedRate, Of: f.Of, Min: c.Drilled.Lo, Max: c.Drilled.Hi, Unit: lbAcre, Origin: Assumed})
	}
	return out
}

// collectUsed lists the facts that were read; what had been assumed goes to the
// assumptions.
func (w *work) collectUsed() {
	w.out.Used = make(Facts, 0, len(w.facts))
	for i, u := range w.used {
		switch {
		case !u:
		case w.facts[i].Origin == Assumed:
			w.out.Assumed = append(w.out.Assumed, w.facts[i])
		default:
			w.out.Used = append(w.out.Used, w.facts[i])
		}
	}
}

// setDensity settles what lab values by weight are turned into volume with.
func (w *work) setDensity() {
	w.heavy = float64(DefaultDensity)
	if f := w.facts.Find(Density, ""); f != nil && Plausible(f) != NotPos {
		w.heavy, _ = f.Base()
	}
}
