package engine

import (
	"slices"

	"tankside/engine/unit"
)

// DoneLoad is what one load put down, as far as it is known; zero is not known.
// Base units: gallons, acres, gallons an acre, pounds.
type DoneLoad struct {
	Volume, Area, Rate float64
	Seeds              []SeedDone
}

// SeedDone is the seed of one crop in a load.
type SeedDone struct {
	Crop         string
	Rate, Weight float64 // pounds an acre, pounds
}

// LoadDone works out a load from the facts of a chat: its gallons (said, a part of
// the tank, or the full tank less its heel), the ground at the rate, and the seed
// of each crop that has a rate. What cannot be known is zero, never a guess.
//
// Ranges count at their lower end. Source: EXACT.
func LoadDone(facts Facts) DoneLoad {
	w := &work{c: noContext, facts: facts}
	w.unused()
	w.setDensity()
	var d DoneLoad
	d.Volume, _ = w.get(LoadVolume)
	d.Rate, _ = w.get(ApplicationRate)
	if area, err := AreaOfLoad(unit.Volume(d.Volume), unit.VolumePerArea(d.Rate)); err == nil {
		d.Area = float64(area)
	}
	for i := range facts {
		if f := &facts[i]; f.Slot == SeedRate && f.Of != "" {
			rate := float64(w.seedRate(i))
			d.Seeds = append(d.Seeds, SeedDone{Crop: f.Of, Rate: rate, Weight: rate * d.Area})
		}
	}
	return d
}

// RunsIn reads gate runs from facts in the order they were said: each opening with
// the flow that follows it, or with the volume and time of a timed run. It names
// the quantity that is not above zero, if any.
func RunsIn(facts Facts) ([]Run, Slot) {
	var runs []Run
	var flows []float64
	var openings []*Fact
	var volume, minutes float64
	for i := range facts {
		f := &facts[i]
		lo, _ := f.Base()
		switch f.Slot {
		case GateOpening:
			openings = append(openings, f)
		case Flow:
			flows = append(flows, lo)
		case LoadVolume, TankVolume:
			volume = lo
		case Duration, UnloadTime:
			minutes = lo
		default:
			continue
		}
		if lo <= 0 && f.Slot != GateOpening {
			return nil, f.Slot
		}
	}
	if len(flows) == 0 && len(openings) == 1 && volume > 0 && minutes > 0 {
		flows = append(flows, volume/minutes)
	}
	if runs, rest := SplitRuns(facts); len(runs) == len(openings) && len(runs) > 1 && !slices.ContainsFunc(rest, ofRun) {
		return runs, NoSlot
	}
	if len(flows) != len(openings) {
		return nil, NoSlot
	}
	for i := range openings {
		runs = append(runs, runAt(openings[i], flows[i]))
	}
	return runs, NoSlot
}

// ofRun says whether a fact that was said may be part of a gate run.
func ofRun(f Fact) bool {
	return f.Origin == Said && (f.Slot == GateOpening || f.Slot == Flow || f.Slot == LoadVolume || f.Slot == Duration || f.Slot == UnloadTime)
}

// SplitRuns takes the gate runs out of facts that also ask: an opening and a flow
// that stand next to each other are a run; what is left over is the question. The volume of
// a run holds for those behind it that only tell their time.
func SplitRuns(facts Facts) (runs []Run, rest Facts) {
	volume := 0.0
	for i := 0; i < len(facts); {
		if flow, n := flowBeside(facts[i:], &volume); n > 0 {
			runs = append(runs, runAt(&facts[i], flow))
			i += n
			continue
		}
		rest = append(rest, facts[i])
		i++
	}
	return runs, rest
}

// flowBeside is the flow that goes with a gate opening at the head of facts, and of how
// many facts the two are made: the flow itself, or a volume and the time it took. volume is
// that of the run before, and becomes that of this one.
func flowBeside(facts Facts, volume *float64) (flow float64, n int) {
	if len(facts) < 2 || facts[0].Slot != GateOpening {
		return 0, 0
	}
	if v, _ := facts[1].Base(); facts[1].Slot == Flow {
		return v, 2
	}
	if t, _ := facts[1].Base(); *volume > 0 && t > 0 && (facts[1].Slot == Duration || facts[1].Slot == UnloadTime) {
		return *volume / t, 2
	}
	if len(facts) < 3 || facts[1].Slot != LoadVolume && facts[1].Slot != TankVolume || facts[2].Slot != Duration && facts[2].Slot != UnloadTime {
		return 0, 0
	}
	v, _ := facts[1].Base()
	t, _ := facts[2].Base()
	if t <= 0 {
		return 0, 0
	}
	*volume = v
	return v / t, 3
}

// Contradiction finds two runs of one outlet that cannot both be true: the wider
// opening gave no more.
func Contradiction(runs []Run) (a, b Run, found bool) {
	same := SameMarks(runs)
	for i := range same {
		for j := range same {
			a, b := same[i], same[j]
			if a.Outlet == b.Outlet && a.Opening < b.Opening && a.Flow >= b.Flow {
				return runs[i], runs[j], true
			}
		}
	}
	return Run{}, Run{}, false
}
