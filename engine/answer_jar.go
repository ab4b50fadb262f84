package engine

import "tankside/engine/unit"

var (
	byJar     = &Formula{"seeds_per_volume × jar_volume", "EXACT"}
	byCounted = &Formula{"sum of the counts ÷ (expected_count × jars) − 1", "EXACT"}
)

// answerSamples answers what jar counts say: how even they are from three on, and
// where the jar and both rates are known how they stand to what an even mix gives.
func answerSamples(w *work, _ int) {
	counts := w.jarCounts()
	few := len(counts) < fewestSamples
	var jars []jarSeeds
	if w.focused(ExpectedCount) || w.jarMeant(few) {
		jars = w.expectedCounts(len(counts) == 0 || few)
	}
	switch {
	case len(counts) == 0 && !w.focused(ExpectedCount):
		w.miss(SampleCount, "")
	case len(counts) == 0 || len(w.out.Missing) > 0:
	case few && len(jars) == 0:
		w.tooFew(counts)
	default:
		w.againstExpected(counts, jars)
		if !few {
			w.evenness(counts)
		}
	}
}

// jarCounts reads the counts in the order said.
func (w *work) jarCounts() []float64 {
	var counts []float64
	for i := range w.facts {
		if w.facts[i].Slot == SampleCount {
			w.used[i] = true
			counts = append(counts, w.at(i))
		}
	}
	return counts
}

// jarMeant says whether counts are to be held against an expected one: the jar's size
// is known, or with too few jars for evenness both rates are and only the jar lacks.
func (w *work) jarMeant(few bool) bool {
	return w.any(JarVolume) || few && w.has(ApplicationRate) && w.any(SeedRate)
}

// jarSeeds is what an even mix puts of one crop in the jar: a range where the table
// has one for the seeds in a pound.
type jarSeeds struct {
	of     string
	lo, hi float64
}

// expectedCounts puts the expected count of each crop. What lacks is asked for only
// where ask says that there is nothing to say without it.
func (w *work) expectedCounts(ask bool) []jarSeeds {
	jar, ok1 := w.get(JarVolume)
	rate, ok2 := w.get(ApplicationRate)
	crops := w.jarCrops()
	if ask {
		for _, need := range [...]struct {
			s  Slot
			ok bool
		}{{JarVolume, ok1}, {ApplicationRate, ok2}} {
			if !need.ok {
				w.miss(need.s, "")
			}
		}
		w.missSeed(crops)
	}
	if !ok1 || !ok2 {
		w.mark(JarVolume)
		return nil
	}
	var out []jarSeeds
	for _, i := range crops {
		c := CropNamed(w.facts[i].Of)
		n, ok := w.seedsIn(c)
		if !ok {
			continue
		}
		if e, ok := w.inJar(c, w.seedRate(i), n, unit.VolumePerArea(rate), unit.Volume(jar)); ok {
			out = append(out, e)
		}
	}
	return out
}

// jarCrops are the facts of the crops with a rate, in the order said.
func (w *work) jarCrops() []int {
	var out []int
	for i := w.nextSeed(-1); i >= 0; i = w.nextSeed(i) {
		if CropNamed(w.facts[i].Of) != nil {
			w.crop(w.facts[i].Of)
			out = append(out, i)
		}
	}
	return out
}

// missSeed asks for the rate of the crop that was named without one, or of any.
func (w *work) missSeed(crops []int) {
	named := false
	for i := range w.facts {
		if f := &w.facts[i]; f.Slot == CropSaid && f.Of != "" {
			named, w.used[i] = true, true
			if w.find(SeedRate, f.Of) < 0 {
				w.miss(SeedRate, f.Of)
			}
		}
	}
	switch {
	case len(crops) > 0 || named:
	case w.any(SeedRate):
		w.fail(&Problem{Code: CropNeeded, Slot: CropSaid}) // so many seeds a pound of what?
	default:
		w.miss(SeedRate, "")
	}
}

// inJar puts the seeds in the slurry and in one jar.
func (w *work) inJar(c *Crop, rate unit.MassPerArea, n Band, slurry unit.VolumePerArea, jar unit.Volume) (jarSeeds, bool) {
	out := jarSeeds{of: c.Name}
	var per [2]float64
	for k, seeds := range [2]float64{n.Lo, n.Hi} {
		s, err := SeedsInSlurry(unit.Mass(rate), unit.CountPerMass(seeds), unit.Volume(slurry))
		if w.fail(err) {
			return out, false
		}
		e, err := SeedsInJar(s, jar)
		if w.fail(err) {
			return out, false
		}
		if per[k] = float64(s); k == 0 {
			out.lo = e
		}
		out.hi = e
	}
	w.add(Value{Slot: ExpectedCount, Of: c.Name, Min: out.lo, Max: out.hi, By: byJar})
	w.add(Value{Slot: SeedsPerVolume, Of: c.Name, Min: per[0], Max: per[1], By: byInSlurry})
	return out, true
}

// seedsIn is the seeds in a pound of a crop: as said off the tag, else the table's,
// which is then listed as assumed and cited.
func (w *work) seedsIn(c *Crop) (Band, bool) {
	if n := w.seedsOf(c); !n.Known() && n.Lo > 0 {
		return n, true
	}
	if !c.Seeds.Known() {
		w.miss(SeedsPerWeight, c.Name)
		return Band{}, false
	}
	if w.out.Assumed.Find(SeedsPerWeight, c.Name) == nil {
		w.out.Assumed = append(w.out.Assumed, Fact{Slot: SeedsPerWeight, Of: c.Name, Min: c.Seeds.Lo, Max: c.Seeds.Hi, Unit: perPound, Origin: Assumed})
	}
	w.note(Note{ID: "seeds_from_table", Level: Advice, Of: c.Name, Source: c.Seeds.Source})
	return c.Seeds, true
}

// seedsOf is the seeds in a pound of a crop without more: as said, else the table's.
func (w *work) seedsOf(c *Crop) Band {
	if v, ok := w.ofOrAny(SeedsPerWeight, c.Name); ok {
		return Band{Lo: v, Hi: v}
	}
	return c.Seeds
}

// tooFew refuses to speak of evenness.
func (w *work) tooFew(counts []float64) {
	_, err := SpreadOf(counts)
	w.fail(err)
	w.miss(SampleCount, "")
}

// againstExpected holds the counts against what was expected, with what chance alone
// does taken off: together, for two jars are surer than one.
func (w *work) againstExpected(counts []float64, jars []jarSeeds) {
	if len(jars) == 0 {
		return
	}
	if len(jars) > 1 { // two crops in the tank: which one was counted?
		if len(counts) < fewestSamples {
			w.fail(&Problem{Code: CropNeeded, Slot: CropSaid})
		}
		return
	}
	e, n, sum := jars[0], float64(len(counts)), summed(counts)
	if n > 1 {
		w.put(SampleMean, "", sum/n, byMean)
	}
	few, err1 := CountAgainst(sum, n, e.hi)
	many, err2 := CountAgainst(sum, n, e.lo)
	if w.fail(err1) || w.fail(err2) {
		return
	}
	w.add(Value{Slot: PercentOff, Min: float64(few), Max: float64(many), By: byCounted})
	w.judgeCount(e, n, sum)
	if n < fewestSamples {
		w.note(Note{ID: "one_jar", Level: Advice, Source: "PRACTICE"})
	}
}

func summed(counts []float64) float64 {
	sum := 0.0
	for _, x := range counts {
		sum += x
	}
	return sum
}

// judgeCount says whether chance explains a count, and where it does not what to do.
// Of a range, low is below its lower end and high above its upper. The bounds go
// along, in seeds a jar.
func (w *work) judgeCount(e jarSeeds, n, sum float64) {
	lo, _, err1 := ChanceBounds(n * e.lo)
	_, hi, err2 := ChanceBounds(n * e.hi)
	if w.fail(err1) || w.fail(err2) {
		return
	}
	note := Note{ID: "count_fits", Level: Advice, Of: e.of, Slot: ExpectedCount, Value: lo / n, Limit: hi / n}
	switch {
	case sum < lo:
		note.ID, note.Level = "count_low", Caution
	case sum > hi:
		note.ID, note.Level = "count_high", Caution
	case lo == 0: // a jar of nothing would fit as well
		note.ID = "count_small"
	}
	w.note(note)
	if note.Level == Caution {
		w.note(Note{ID: "do_" + note.ID, Level: Advice, Of: e.of, Slot: ExpectedCount, Source: "PRACTICE"})
	}
}

// judgeAgain judges counts once more where a fact was said as a range: the corners
// each judged by their own end, and what holds for one of them may not for another.
func (w *work) judgeAgain() {
	if !w.noted("count_fits", "count_low", "count_high", "count_small") {
		return
	}
	kept := w.out.Notes[:0]
	for _, n := range w.out.Notes {
		if n.Slot != ExpectedCount && n.ID != "even_off" {
			kept = append(kept, n)
		}
	}
	w.out.Notes = kept
	counts := w.jarCounts()
	for _, v := range w.out.Results {
		if v.Slot == ExpectedCount {
			w.judgeCount(jarSeeds{of: v.Of, lo: v.Min, hi: v.Max}, float64(len(counts)), summed(counts))
		}
	}
	if len(counts) >= fewestSamples {
		w.evenness(counts)
	}
}
