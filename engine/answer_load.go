package engine

import (
	"math"

	"tankside/engine/unit"
)

var (
	byLoadArea     = &Formula{"load_volume ÷ application_rate", "EXACT"}
	byLoadSeed     = &Formula{"load_volume ÷ application_rate × seed_rate", "EXACT"}
	byRun          = &Formula{"load_volume ÷ application_rate × 43560 ÷ width", "WAC173"}
	bySaid         = &Formula{"load_volume", "EXACT"}
	byTotal        = &Formula{"area × application_rate", "EXACT"}
	byGroundLoads  = &Formula{"area ÷ area_per_load", "EXACT"}
	byLoads        = &Formula{"area × application_rate ÷ load_volume", "EXACT"}
	byFull         = &Formula{"loads, rounded down", "EXACT"}
	byLast         = &Formula{"area × application_rate − full_loads × load_volume", "EXACT"}
	byLastSeed     = &Formula{"last_load_volume ÷ application_rate × seed_rate", "EXACT"}
	byFieldSeed    = &Formula{"area × seed_rate", "EXACT"}
	bySeedArea     = &Formula{"total_seed ÷ seed_rate", "EXACT"}
	byStrip        = &Formula{"width × distance ÷ 43560", "UMASS-CAL"}
	byCountVol     = &Formula{"load_count × load_volume", "EXACT"}
	byCountArea    = &Formula{"load_count × area_per_load", "EXACT"}
	byCountSeed    = &Formula{"load_count × seed_per_load", "EXACT"}
	byBags         = &Formula{"total_seed ÷ bag_weight", "EXACT"}
	byLoadBags     = &Formula{"seed_per_load ÷ bag_weight", "EXACT"}
	byLoadSeedRate = &Formula{"seed_per_load ÷ area_per_load", "EXACT"}
	bySeedOver     = &Formula{"total_seed ÷ area", "EXACT"}
	byStock        = &Formula{"total_seed ÷ seed_per_load", "EXACT"}
	byLeftOver     = &Formula{"bag_weight × bag_count − total_seed", "EXACT"}
)

// answerLoad answers load and part_load: ground and seed of this one load.
func answerLoad(w *work, _ int) {
	v, _ := w.get(LoadVolume)
	r, _ := w.get(ApplicationRate)
	w.said(TankVolume, "") // part of the answer's ground even beside a said load
	if w.find(LoadVolume, "") >= 0 && (w.find(TankVolume, "") >= 0 || w.about(TopicPartLoad)) {
		w.put(LoadVolume, "", v, bySaid)
	}
	a, err := AreaOfLoad(unit.Volume(v), unit.VolumePerArea(r))
	if w.fail(err) {
		return
	}
	if w.c.Refill { // the ground is of the whole tank, which is not what is worked out here
		w.loadSeeds(a)
		w.said(HeelVolume, "")
		w.note(Note{ID: "fresh_only", Level: Advice, Slot: LoadVolume, Value: v, Source: "PRACTICE"})
		return
	}
	w.put(AreaPerLoad, "", float64(a), byLoadArea)
	w.overOwn(r, false)
	w.loadSeeds(a)
	w.loadsOfBag(a)
	w.loadRun(a)
	w.loadTravel(unit.Volume(v), unit.VolumePerArea(r))
	w.manyLoads(v, a)
	w.soakLoad(a)
	w.densities(a, unit.Volume(v), unit.VolumePerArea(r))
	if f := w.facts.Find(Area, ""); f != nil && f.Origin == Said && !w.about(TopicField) {
		answerField(w, 0) // the field was said beside the load: what it takes follows
	}
	if _, ok := w.said(HeelVolume, ""); ok {
		w.note(Note{ID: "heel_counts", Level: Advice, Slot: HeelVolume, Source: "PRACTICE"})
	}
}

// loadSeeds puts the seed of one load for each crop with a rate.
func (w *work) loadSeeds(a unit.Area) {
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		m, err := SeedFor(a, w.seedRate(i))
		if w.fail(err) {
			return
		}
		of := w.facts[i].Of
		w.put(SeedPerLoad, of, float64(m), byLoadSeed)
		if w.focused(BagsPerLoad) {
			w.bags(BagsPerLoad, of, m, byLoadBags)
		}
	}
}

// loadRun puts how far the load lasts when a width is known.
func (w *work) loadRun(a unit.Area) {
	width, ok := w.said(Width, "")
	if !ok {
		return
	}
	d, err := RunOf(a, unit.Length(width))
	if !w.fail(err) {
		w.put(RunLength, "", float64(d), byRun)
	}
}

// loadTravel puts how long the load lasts, and how fast to drive, when the flow
// was given too.
func (w *work) loadTravel(v unit.Volume, r unit.VolumePerArea) {
	q, ok := w.said(Flow, "")
	if !ok {
		return
	}
	if t, err := TimeToUnload(v, unit.Flow(q)); !w.fail(err) {
		w.put(UnloadTime, "", float64(t), byUnload)
	}
	width, ok := w.said(Width, "")
	if !ok || w.is(Speed) {
		return
	}
	if s, err := SpeedFor(unit.Flow(q), r, unit.Length(width)); !w.fail(err) {
		w.put(Speed, "", float64(s), bySpeed)
	}
}

// manyLoads puts sums over a number of loads that was said.
func (w *work) manyLoads(v float64, a unit.Area) {
	n, ok := w.said(LoadCount, "")
	if !ok {
		return
	}
	w.put(TotalVolume, "", n*v, byCountVol)
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		if m, err := SeedFor(a, w.seedRate(i)); err == nil {
			w.put(TotalSeed, w.facts[i].Of, n*float64(m), byCountSeed)
		}
	}
}

// countedLoads answers what a number of loads comes to, and the ground it covers where
// the rate is known.
func (w *work) countedLoads() {
	load, _ := w.get(LoadVolume)
	rate, ok := w.get(ApplicationRate)
	if !ok {
		w.manyLoads(load, 0)
		return
	}
	a, err := AreaOfLoad(unit.Volume(load), unit.VolumePerArea(rate))
	if w.fail(err) {
		return
	}
	w.manyLoads(load, a)
	n, _ := w.said(LoadCount, "")
	w.put(Area, "", n*float64(a), byCountArea)
	w.put(AreaPerLoad, "", float64(a), byLoadArea)
}

// answerField answers how a field comes out in loads, or what a number of loads makes.
func answerField(w *work, way int) {
	switch way {
	case 1:
		w.countedLoads()
		return
	case 2:
		w.loadsOfGround()
		return
	case 3:
		w.loadsOfStock()
		return
	}
	area, _ := w.get(Area)
	load, _ := w.get(LoadVolume)
	rate, _ := w.get(ApplicationRate)
	v, r := unit.Volume(load), unit.VolumePerArea(rate)
	total, err := VolumeForArea(unit.Area(area), r)
	if w.fail(err) {
		return
	}
	n, err := LoadsFor(total, v)
	if w.fail(err) {
		return
	}
	full, part, err := WholeLoads(n)
	if w.fail(err) {
		return
	}
	w.overOwn(rate, false)
	w.put(Loads, "", n, byLoads)
	w.put(FullLoads, "", full, byFull)
	last := unit.Volume(float64(part) * load)
	if part > 0 {
		w.put(LastLoadVolume, "", float64(last), byLast)
	}
	w.put(TotalVolume, "", float64(total), byTotal)
	w.fieldSeeds(unit.Area(area), unit.Area(float64(last)/rate))
	if a, err := AreaOfLoad(v, r); err == nil {
		w.put(AreaPerLoad, "", float64(a), byLoadArea)
		w.loadSeeds(a)
	}
}

// loadsOfGround puts the loads that a field takes where only the ground of one load is
// known.
func (w *work) loadsOfGround() {
	area, _ := w.get(Area)
	one, _ := w.get(AreaPerLoad)
	n, err := LoadsOver(unit.Area(area), unit.Area(one))
	if w.fail(err) {
		return
	}
	w.put(Loads, "", n, byGroundLoads)
}

// loadsOfStock puts the loads that the seed at hand does.
func (w *work) loadsOfStock() {
	f := w.facts.First(SeedPerLoad)
	one, _ := w.said(SeedPerLoad, f.Of)
	have, ok := w.seedAtHand(f.Of)
	if !ok {
		w.miss(TotalSeed, f.Of)
		return
	}
	if one > 0 {
		w.put(Loads, "", have/one, byStock)
	}
}

// loadsOfBag puts the loads that the seed at hand does, of a ground each, where that was asked:
// "how many loads will 25 lb of radish do".
func (w *work) loadsOfBag(a unit.Area) {
	if !w.focused(Loads) || a <= 0 {
		return
	}
	at := w.facts.First(TotalSeed)
	if bags := w.facts.First(BagCount); bags != nil && (at == nil || at.Origin == Remembered) {
		at = bags // "that bag": not what there was to begin with
	}
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		of := w.facts[i].Of
		if at != nil && at.Of != "" && at.Of != of {
			continue // the seed at hand is of another crop
		}
		have, ok := w.stockOf(at, of)
		one, err := SeedFor(a, w.seedRate(i))
		switch {
		case !ok && at != nil && at.Slot == BagCount:
			w.miss(BagWeight, "") // how much is in a bag is asked, never assumed
			return
		case !ok:
			w.miss(TotalSeed, of)
			return
		case w.fail(err) || one <= 0:
			return
		}
		w.put(Loads, "", have/float64(one), byStock)
		w.put(FullLoads, "", math.Floor(have/float64(one)+snap), byStock)
		return
	}
	of := ""
	if at != nil {
		of = at.Of
	}
	w.miss(SeedRate, of)
}

// stockOf is the weight of a crop's seed at hand: of the bags where at counts them.
func (w *work) stockOf(at *Fact, of string) (float64, bool) {
	if at == nil || at.Slot != BagCount {
		return w.ofOrAny(TotalSeed, of)
	}
	n, _ := w.ofOrAny(BagCount, of)
	bag, ok := w.ofOrAny(BagWeight, of)
	return n * bag, ok
}

// fieldSeeds puts each crop's seed for the field and for its last part load.
func (w *work) fieldSeeds(field, last unit.Area) {
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		of, r := w.facts[i].Of, w.seedRate(i)
		m, err := SeedFor(field, r)
		if w.fail(err) {
			return
		}
		w.put(TotalSeed, of, float64(m), byFieldSeed)
		if last > 0 {
			w.put(LastLoadSeed, of, float64(last)*float64(r), byLastSeed)
		}
		w.stock(of, float64(m))
	}
}

// seedAtHand is the seed there is of a crop: said, or so many bags.
func (w *work) seedAtHand(of string) (float64, bool) {
	if m, ok := w.ofOrAny(TotalSeed, of); ok {
		return m, true
	}
	n, ok1 := w.ofOrAny(BagCount, of)
	bag, ok2 := w.ofOrAny(BagWeight, of)
	return n * bag, ok1 && ok2
}

// bags puts a weight of seed in bags; a bag's weight that is asked for by its bags and not
// known is missing.
func (w *work) bags(s Slot, of string, m unit.Mass, by *Formula) {
	bag, ok := w.ofOrAny(BagWeight, of)
	if !ok {
		if w.focused(s) {
			w.miss(BagWeight, of)
		}
		return
	}
	if n, err := BagsOf(m, unit.Mass(bag)); !w.fail(err) {
		w.put(s, of, n, by)
	}
}

// stock holds the seed at hand against what is needed, and counts bags.
func (w *work) stock(of string, needed float64) {
	have, known := w.seedAtHand(of)
	if !known && (w.focused(BagCount) || w.any(BagWeight)) {
		w.bags(BagCount, of, unit.Mass(needed), byBags)
	}
	switch {
	case !known:
	case have < needed*(1-snap):
		w.note(Note{ID: "seed_short", Level: Caution, Slot: SeedLeft, Of: of, Value: needed - have, Limit: have})
	default:
		w.put(SeedLeft, of, have-needed, byLeftOver)
	}
}

// answerSeedForArea answers seed for a field or strip, or the ground that the
// seed at hand does.
func answerSeedForArea(w *work, way int) {
	if w.seedRateOf() {
		return
	}
	switch way {
	case 1, 2:
		w.groundForSeed()
		return
	case 3:
		width, _ := w.get(Width)
		d, _ := w.get(Distance)
		a, err := StripArea(unit.Length(width), unit.Length(d))
		if w.fail(err) {
			return
		}
		w.put(Area, "", float64(a), byStrip)
		w.areaSeeds(a)
		return
	}
	area, _ := w.get(Area)
	w.areaSeeds(unit.Area(area))
}

// seedRateOf puts the rate that a weight of seed on known ground came to, where no
// rate was said.
func (w *work) seedRateOf() bool {
	if w.any(SeedRate) {
		return false
	}
	f, by := w.facts.First(SeedPerLoad), byLoadSeedRate
	area, ok := 0.0, false
	if f != nil {
		area, ok = w.said(AreaPerLoad, "")
	} else if f, by = w.facts.First(TotalSeed), bySeedOver; f != nil {
		area, ok = w.said(Area, "")
	}
	if !ok || area <= 0 {
		return false
	}
	m, _ := w.said(f.Slot, f.Of)
	w.put(SeedRate, f.Of, m/area, by)
	return true
}

func (w *work) areaSeeds(a unit.Area) {
	w.fieldSeeds(a, 0)
	w.groundDensities()
}

// groundForSeed puts the ground that a said weight of seed covers.
func (w *work) groundForSeed() {
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		of := w.facts[i].Of
		m, ok := w.seedAtHand(of)
		if !ok {
			continue
		}
		a, err := AreaForSeed(unit.Mass(m), w.seedRate(i))
		if !w.fail(err) {
			w.put(Area, of, float64(a), bySeedArea)
		}
	}
}
