package engine

import "tankside/engine/unit"

var (
	byLive = &Formula{"purity × (germination + hard_seed)", "TXDOT-PLS"}
	byBulk = &Formula{"seed_rate ÷ pure_live_seed", "TXDOT-PLS"}
)

// answerSeedLot answers what a tag makes of a rate wanted as pure live seed.
func answerSeedLot(w *work, _ int) {
	rates := 0
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		rates++
		w.lotOf(w.facts[i].Of, unit.MassPerArea(w.at(i)))
	}
	if rates > 0 {
		return
	}
	asked := 0
	for i := range w.facts {
		if w.facts[i].Slot == CropSaid {
			asked++
			w.lotOf(w.facts[i].Of, 0)
			w.miss(SeedRate, w.facts[i].Of)
		}
	}
	if asked > 0 {
		return
	}
	of := ""
	if f := w.facts.First(Purity); f != nil {
		of = f.Of
	}
	w.lotOf(of, 0)
}

// lotOf puts one lot's pure live seed, and with a rate what to weigh out.
func (w *work) lotOf(of string, wanted unit.MassPerArea) {
	if c := CropNamed(of); c != nil && wanted > 0 && w.focused(SeedsPerVolume) && !w.is(Purity) {
		w.seedsCounted(c, wanted)
		return
	}
	for _, s := range [...]Slot{Purity, Germination} {
		if _, ok := w.ofOrAny(s, of); !ok {
			w.miss(s, of)
		}
	}
	live, ok := w.lot(of)
	if !ok {
		if c := CropNamed(of); c != nil && wanted > 0 {
			w.onGround(c, wanted) // seeds on the ground need no tag
		}
		return
	}
	w.put(PureLiveSeed, of, float64(live), byLive)
	if wanted == 0 {
		return
	}
	bulk, err := BulkRate(wanted, live)
	if w.fail(err) {
		return
	}
	w.put(BulkSeedRate, of, float64(bulk), byBulk)
	if c := CropNamed(of); c != nil {
		w.onGround(c, wanted)
	}
	if area, ok := w.said(Area, ""); ok {
		if m, err := SeedFor(unit.Area(area), bulk); !w.fail(err) {
			w.put(TotalSeed, of, float64(m), byFieldSeed)
			w.stock(of, float64(m))
		}
	}
}

// answerMix answers what several crops in one tank come to, per load and for the
// field.
func answerMix(w *work, _ int) {
	w.shareRates()
	a, loaded := w.groundOfLoad()
	if loaded {
		w.loadSeeds(a)
		load, _ := w.loadKnown()
		r, _ := w.get(ApplicationRate)
		w.densities(a, load, unit.VolumePerArea(r))
	}
	area, field := w.said(Area, "")
	if field {
		w.fieldSeeds(unit.Area(area), 0)
	}
	if !loaded && !field {
		w.readWay(&mixWay)
	}
}

// mixWay is what a mix asks for when neither a load nor a field is known.
var mixWay = way{needs: slotNeeds(LoadVolume, ApplicationRate)}

// shareRates puts each crop's own rate where shares were said, and notes shares
// that add up to more than the whole.
func (w *work) shareRates() {
	sum := 0.0
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		of := w.facts[i].Of
		share, ok := w.said(SeedShare, of)
		if !ok {
			continue
		}
		sum += share
		w.put(SeedRate, of, float64(w.seedRate(i)), byShareRate)
	}
	if sum > 1+tolerance {
		w.note(Note{ID: "shares_over_100", Level: Advice, Slot: SeedShare, Value: sum, Limit: 1})
	}
	if len(w.out.Crops) > 1 {
		w.note(Note{ID: "seed_just_before", Level: Advice, Source: "PRACTICE"})
	}
}

// answerSoak answers how a crop's seed is wetted, and the pails it takes when the
// seed is known.
func answerSoak(w *work, _ int) {
	if len(w.out.Crops) == 0 {
		w.fail(&Problem{Code: CropNeeded, Slot: CropSaid})
		return
	}
	w.note(Note{ID: "seed_just_before", Level: Advice, Source: "PRACTICE"})
	for _, name := range w.out.Crops {
		c := CropNamed(name)
		w.whetherFloats(c)
		w.soakCrop(c)
	}
}

// whetherFloats notes what becomes of a seed that is not wetted first, where its kind
// does not say so itself.
func (w *work) whetherFloats(c *Crop) {
	switch {
	case c.Kind == Floats || c.Kind == PoorFit:
	case c.Hull:
		w.note(Note{ID: "hull_floats", Level: Advice, Of: c.Name, Source: c.KindBy.Source})
	default:
		w.note(Note{ID: "sinks", Level: Advice, Of: c.Name, Source: c.KindBy.Source})
	}
}

// soakCrop puts the pails for one crop. It asks for the load only when part of it
// was said or pails were asked for: how to wet a seed does not hang on it.
func (w *work) soakCrop(c *Crop) {
	wet := c.Wet() || c.Hull && c.Kind == Large
	if m, ok := w.said(TotalSeed, c.Name); ok && wet && w.find(SeedRate, c.Name) < 0 {
		w.pails(c, unit.Mass(m))
		return
	}
	rate := w.find(SeedRate, c.Name)
	if rate >= 0 && w.all(LoadVolume, ApplicationRate) {
		w.used[rate] = true
		a, ok := w.groundOfLoad()
		if !ok {
			return
		}
		m, err := SeedFor(a, w.seedRate(rate))
		if !w.fail(err) {
			w.put(SeedPerLoad, c.Name, float64(m), byLoadSeed)
			if wet {
				w.pails(c, m)
			}
		}
		return
	}
	if wet && w.focused(Pails, SoakWater, SeedPerLoad) || w.partOfLoadSaid() {
		w.readWay(&mixWay)
		if rate < 0 {
			w.miss(SeedRate, c.Name)
		}
	}
}

func (w *work) partOfLoadSaid() bool {
	for i := range w.facts {
		f := &w.facts[i]
		if f.Origin != Said {
			continue
		}
		switch f.Slot {
		case TankVolume, LoadVolume, ApplicationRate, SeedRate:
			return true
		}
	}
	return false
}

// answerCrop answers what the table says of a crop.
func answerCrop(w *work, _ int) {
	if len(w.out.Crops) == 0 {
		w.fail(&Problem{Code: CropNeeded, Slot: CropSaid})
		return
	}
	for _, name := range w.out.Crops {
		c := CropNamed(name)
		w.timing(c)
		w.table(UsualRate, c, c.Drilled, lbAcre)
		w.table(SeedingDepth, c, c.SeedDepth, inch)
		w.table(SeedsPerWeight, c, c.Seeds, perPound)
		w.table(DaysToEmerge, c, c.Emergence, bare)
		if c.Inoculant != "" {
			w.note(Note{ID: "no_inoculant_promise", Level: Advice, Of: c.Name, Source: "PRACTICE"})
		}
		if t, ok := w.said(SoilTemperature, ""); ok && c.TooCold(t) {
			w.note(Note{ID: "cold_soil", Level: Caution, Of: c.Name, Slot: SoilTemperature, Value: t, Limit: c.MinSoil.Lo, Source: c.MinSoil.Source})
		}
	}
}

var inch, perPound = unit.Must("in"), unit.Must("seeds/lb")

// table puts a published band.
func (w *work) table(s Slot, c *Crop, b Band, u *unit.Unit) {
	if b.Known() {
		w.add(Value{Slot: s, Of: c.Name, Min: u.ToBase(b.Lo), Max: u.ToBase(b.Hi), By: published[b.Source]})
	}
}

// published is the formula of a value that was only looked up, by source.
var published = func() map[string]*Formula {
	m := make(map[string]*Formula, len(allSources))
	for _, s := range allSources {
		m[s.Key] = &Formula{"as published", s.Key}
	}
	return m
}()

// seedsCounted puts the seeds in the slurry and on the ground, of seed as it is weighed:
// the same acre's seed in the same acre's slurry, whatever the load.
func (w *work) seedsCounted(c *Crop, wanted unit.MassPerArea) {
	w.onGround(c, wanted)
	rate, ok := w.get(ApplicationRate)
	if !ok {
		w.miss(ApplicationRate, "")
		return
	}
	n := w.seedsOf(c)
	lo, err1 := SeedsInSlurry(unit.Mass(wanted), unit.CountPerMass(n.Lo), unit.Volume(rate))
	hi, err2 := SeedsInSlurry(unit.Mass(wanted), unit.CountPerMass(n.Hi), unit.Volume(rate))
	if err1 == nil && err2 == nil {
		w.add(Value{Slot: SeedsPerVolume, Of: c.Name, Min: float64(lo), Max: float64(hi), By: byInSlurry})
	}
}
