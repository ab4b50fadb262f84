package engine

import "tankside/engine/unit"

var (
	byPails     = &Formula{"seed volume ÷ (pail_volume × 0.4), rounded up", "PRACTICE"}
	byWater     = &Formula{"pails × pail_volume − seed volume", "PRACTICE"}
	byConc      = &Formula{"seed_rate ÷ application_rate × 1000", "EXACT"}
	byOnGround  = &Formula{"seed_rate × seeds_per_weight ÷ 43560", "WVU5302"}
	byInTank    = &Formula{"seed_per_load × seeds_per_weight ÷ load_volume", "EXACT"}
	byInSlurry  = &Formula{"seed_rate × seeds_per_weight ÷ application_rate", "EXACT"}
	byShareRate = &Formula{"seed_rate × seed_share", "PRACTICE"}
)

// nextSeed is the next fact after i that gives a crop's rate, or -1.
func (w *work) nextSeed(i int) int {
	for i++; i < len(w.facts); i++ {
		if w.facts[i].Slot == SeedRate {
			w.used[i] = true
			return i
		}
	}
	return -1
}

// seedRate is the rate of the crop of fact i as it goes into the tank: its share
// in a mix, and as weighed where the lot was given and the rate is pure live
// seed.
func (w *work) seedRate(i int) unit.MassPerArea {
	r, of := unit.MassPerArea(w.at(i)), w.facts[i].Of
	if share, ok := w.said(SeedShare, of); ok {
		got, err := ShareOfRate(r, unit.Fraction(share))
		if w.fail(err) {
			return r
		}
		r = got
	}
	if w.facts[i].Live || w.about(TopicSeedLot) { // the rate is pure live seed
		if live, ok := w.lot(of); ok {
			if got, err := BulkRate(r, live); err == nil {
				return got
			}
		}
	}
	return r
}

// readCrops marks the crops that were named, notes how they handle, and misses
// the rates a question cannot do without.
func (w *work) readCrops(s seeded) {
	if s == noSeed {
		return
	}
	if s == someSeed && !w.any(SeedRate) && (w.is(SeedPerLoad, AreaPerLoad) || w.any(TotalSeed) && w.is(Area)) {
		s = cropsOnly // the rate is what is asked for
	}
	rates := 0
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		rates++
		w.readCrop(&w.facts[i])
	}
	named := 0
	for i := range w.facts {
		f := &w.facts[i]
		if f.Slot != CropSaid && f.Slot != SeedShare {
			continue
		}
		w.used[i] = true
		named++
		if f.Slot == CropSaid {
			w.readCrop(f)
		}
		if s != cropsOnly && w.find(SeedRate, f.Of) < 0 && !(f.Of == "" && rates > 0) {
			w.miss(SeedRate, f.Of)
		}
	}
	if rates+named == 0 && (s == someSeed || s == anySeed && w.focused(SeedPerLoad, TotalSeed, LastLoadSeed)) {
		w.miss(SeedRate, "")
	}
	w.together()
}

// focused says whether one of these was asked for by name.
func (w *work) focused(slots ...Slot) bool {
	for _, f := range w.c.Focus {
		for _, s := range slots {
			if f == s {
				return true
			}
		}
	}
	return false
}

// readCrop notes how a crop's seed handles, and what was made of bushels.
func (w *work) readCrop(f *Fact) {
	c := CropNamed(f.Of)
	if c == nil {
		return
	}
	w.crop(f.Of)
	w.handling(c)
	if f.Slot != SeedRate {
		return
	}
	if inBushels(f) && c.Bushel > 0 {
		w.note(Note{ID: "test_weight", Level: Advice, Of: f.Of, Slot: TotalSeed, Value: c.Bushel, Source: c.TestWeight.Source})
	}
	w.farFromUsual(f, c)
}

// handling notes what the kind of seed asks for in the tank.
func (w *work) handling(c *Crop) {
	n := Note{Level: Advice, Of: c.Name, Source: c.KindBy.Source}
	switch c.Kind {
	case Floats:
		n.ID = "presoak"
	case Mixes:
		n.ID = "straight_in"
	case Large:
		n.ID = "check_passage"
	case PoorFit:
		n.ID, n.Level = "poor_fit", Caution
	}
	w.note(n)
	for _, caution := range c.Cautions {
		if caution == "gels" {
			w.note(Note{ID: "no_presoak", Level: Caution, Of: c.Name, Source: c.KindBy.Source})
		}
	}
}

// farFromUsual notes a rate that is possible but not what is published: a tenth
// of a stand, or rye's rate for ryegrass. A share in a mix may be low.
func (w *work) farFromUsual(f *Fact, c *Crop) {
	lo, hi := value(f)
	mixed := w.facts.Find(SeedShare, f.Of) != nil || w.otherSeed(f.Of)
	band, _, _ := Usual(SeedRate, f.Of)
	_, top, _ := Usual(SeedRate, f.Of)
	switch {
	case lo < band || hi > top: // unusual_value says it
	case hi > c.HighestRate():
		w.note(Note{ID: "unusual_seed_rate", Level: Caution, Slot: SeedRate, Of: f.Of, Value: hi, Limit: c.HighestRate(), Source: c.Drilled.Source})
	case lo < c.Drilled.Lo/2 && !mixed:
		w.note(Note{ID: "unusual_seed_rate", Level: Caution, Slot: SeedRate, Of: f.Of, Value: lo, Limit: c.Drilled.Lo, Source: c.Drilled.Source})
	case w.about(TopicCrop) && lo >= c.Drilled.Lo && hi <= c.Drilled.Hi:
		w.note(Note{ID: "usual_seed_rate", Level: Advice, Slot: SeedRate, Of: f.Of, Value: lo, Source: c.Drilled.Source})
	case w.about(TopicCrop) && lo < c.Drilled.Lo:
		w.note(Note{ID: "low_seed_rate", Level: Advice, Slot: SeedRate, Of: f.Of, Value: lo, Limit: c.Drilled.Lo, Source: c.Drilled.Source})
	case w.about(TopicCrop) && hi > c.Drilled.Hi:
		w.note(Note{ID: "high_seed_rate", Level: Advice, Slot: SeedRate, Of: f.Of, Value: hi, Limit: c.Drilled.Hi, Source: c.Drilled.Source})
	}
}

func (w *work) otherSeed(of string) bool {
	for i := range w.facts {
		if (w.facts[i].Slot == SeedRate || w.facts[i].Slot == CropSaid) && w.facts[i].Of != of {
			return true
		}
	}
	return false
}

// together notes when a floating and a settling seed share a tank.
func (w *work) together() {
	floats, sinks := false, false
	for _, name := range w.out.Crops {
		c := CropNamed(name)
		floats = floats || c.Kind == Floats
		sinks = sinks || c.Kind == Mixes || c.Kind == Large
	}
	if floats && sinks {
		w.note(Note{ID: "ride_together", Level: Advice, Source: "PRACTICE"})
	}
}

// soakLoad puts pails and water for the crops of this load that float.
func (w *work) soakLoad(a unit.Area) {
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		c := CropNamed(w.facts[i].Of)
		if c == nil || !c.Wet() {
			continue
		}
		if m, err := SeedFor(a, w.seedRate(i)); err == nil {
			w.pails(c, m)
		}
	}
}

// pails puts the pails that hold a weight of seed, and their water. Several crops
// each get their own: they are wetted apart.
func (w *work) pails(c *Crop, m unit.Mass) {
	if c.Bushel == 0 {
		return
	}
	seed, err := SeedVolume(m, unit.Mass(c.Bushel))
	if w.fail(err) {
		return
	}
	pail, ok := w.said(PailVolume, "")
	if !ok {
		pail = w.assume(PailVolume, float64(DefaultPail), gal)
	}
	n, err := PailsFor(seed, unit.Volume(pail), DefaultPailFill)
	if w.fail(err) {
		return
	}
	water, err := WaterFor(n, unit.Volume(pail), seed)
	if w.fail(err) {
		return
	}
	of := ""
	if w.floating() > 1 {
		of = c.Name
	}
	w.put(Pails, of, n, byPails)
	w.put(SoakWater, of, float64(water), byWater)
}

// floating counts the crops at hand whose seed is wetted first.
func (w *work) floating() int {
	n := 0
	for _, name := range w.out.Crops {
		if CropNamed(name).Wet() {
			n++
		}
	}
	return n
}

// densities puts how thick the seed is in the slurry and on the ground.
func (w *work) densities(a unit.Area, v unit.Volume, r unit.VolumePerArea) {
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		of, rate := w.facts[i].Of, w.seedRate(i)
		if s, err := SeedInSlurry(rate, r); err == nil {
			w.put(SeedPerVolume, of, float64(s), byConc)
		}
		c := CropNamed(of)
		m, err := SeedFor(a, rate)
		if c == nil || err != nil {
			continue
		}
		n := w.seedsOf(c)
		lo, err1 := SeedsInSlurry(m, unit.CountPerMass(n.Lo), v)
		hi, err2 := SeedsInSlurry(m, unit.CountPerMass(n.Hi), v)
		if err1 == nil && err2 == nil {
			w.add(Value{Slot: SeedsPerVolume, Of: of, Min: float64(lo), Max: float64(hi), By: byInTank})
		}
	}
	w.groundDensities()
}

// groundDensities puts the seeds on a square foot for each crop.
func (w *work) groundDensities() {
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		c := CropNamed(w.facts[i].Of)
		if c == nil {
			continue
		}
		w.onGround(c, w.seedRate(i))
	}
}

func (w *work) onGround(c *Crop, r unit.MassPerArea) {
	n := w.seedsOf(c)
	lo, err1 := SeedsOnGround(r, unit.CountPerMass(n.Lo))
	hi, err2 := SeedsOnGround(r, unit.CountPerMass(n.Hi))
	if err1 == nil && err2 == nil {
		w.add(Value{Slot: SeedsPerArea, Of: c.Name, Min: float64(lo), Max: float64(hi), By: byOnGround})
	}
}

// lot is the pure live seed of a crop's lot as it was given.
func (w *work) lot(of string) (unit.Fraction, bool) {
	p, ok1 := w.ofOrAny(Purity, of)
	g, ok2 := w.ofOrAny(Germination, of)
	if !ok1 || !ok2 {
		return 0, false
	}
	hard, _ := w.ofOrAny(HardSeed, of)
	live, err := LiveShare(unit.Fraction(p), unit.Fraction(g), unit.Fraction(hard))
	if w.fail(err) {
		return 0, false
	}
	coat, ok := w.ofOrAny(Coating, of)
	// A purity no higher than the uncoated share counts the coat already.
	if ok && p > 1-coat+tolerance {
		bare, err := Uncoated(unit.Fraction(coat))
		if w.fail(err) {
			return 0, false
		}
		live *= bare
	}
	return live, true
}
