package engine

import "tankside/engine/unit"

var (
	byGateFlow = &Formula{"flow between the recorded runs at gate_opening", "PRACTICE"}
	byGateMark = &Formula{"gate_opening between the recorded runs at flow", "PRACTICE"}
	byWeighed  = &Formula{"net_weight ÷ density", "ISU-TANK03"}
	byHeavy    = &Formula{"load_volume × density", "ISU-TANK03"}
	byMean     = &Formula{"sum of the counts ÷ number of jars", "EXACT"}
	byCV       = &Formula{"standard deviation ÷ sample_mean", "EXACT"}
	byIndex    = &Formula{"sum of (count − sample_mean)² ÷ sample_mean", "EXACT"}
	byChance   = &Formula{"χ² of sample_dispersion with jars − 1 degrees of freedom", "EXACT"}
	byTrend    = &Formula{"1 + slope of ln(count) on ln(share of the load left)", "EXACT"}
)

// answerGate answers an opening for a flow or a flow for an opening, between the
// runs of the outlet set-up in use and those said in the message.
func answerGate(w *work, _ int) {
	var runs []Run
	for _, r := range w.c.Runs {
		if r.Outlet == w.c.Outlet {
			runs = append(runs, r)
		}
	}
	runs, asked := w.gateFacts(runs)
	if asked == NoSlot {
		if asked = Flow; !w.has(Flow) {
			w.miss(Flow, "")
			return
		}
	}
	c, err := NewCurve(runs)
	if w.fail(err) {
		if w.out.Problem == NoRuns && asked == GateOpening {
			w.miss(Flow, "")
		}
		w.offerContradiction(runs)
		return
	}
	w.readCurve(c, asked)
}

// gateFacts pairs openings and flows that stand beside each other into runs, and
// finds the one left over: what is asked about. It is found last, so that the
// pairs before it stay whole.
func (w *work) gateFacts(runs []Run) ([]Run, Slot) {
	asked, open := NoSlot, -1
	for i := range w.facts {
		s := w.facts[i].Slot
		if s != GateOpening && s != Flow {
			continue
		}
		w.used[i] = true
		if open < 0 || w.facts[open].Slot == s {
			open, asked = i, s
			continue
		}
		opening, flow := open, i
		if s == GateOpening {
			opening, flow = i, open
		}
		r := runAt(&w.facts[opening], w.at(flow))
		r.Outlet = w.c.Outlet
		runs, open, asked = append(runs, r), -1, NoSlot
	}
	switch asked {
	case Flow:
		w.loose = w.at(open)
	case GateOpening: // in the marks of the runs
		r := runAt(&w.facts[open], 0)
		r.Outlet = w.c.Outlet
		runs = SameMarks(append(runs, r))
		w.loose, runs = runs[len(runs)-1].Opening, runs[:len(runs)-1]
	}
	return SameMarks(runs), asked
}

// readCurve puts the answer for the opening or flow in hand.
func (w *work) readCurve(c *Curve, asked Slot) {
	var v float64
	var err error
	if asked == GateOpening {
		if v, err = c.FlowAt(w.loose); !w.fail(err) {
			w.put(Flow, "", v, byGateFlow)
			return
		}
		w.offerRange(c)
		return
	}
	q := w.loose
	if q == 0 {
		q, _ = w.get(Flow)
	}
	if v, err = c.OpeningFor(q); !w.fail(err) {
		mark := Value{Slot: GateOpening, Min: v, Max: v, By: byGateMark}
		if u := unit.Find(c.runs[0].Unit); u != bare {
			mark.Unit, mark.Min, mark.Max = u, u.ToBase(v), u.ToBase(v)
		}
		w.add(mark)
		w.note(Note{ID: "same_shaft", Level: Advice, Source: "PRACTICE"})
		return
	}
	w.offerRange(c)
}

// offerContradiction quotes the two runs that turn against each other: opening
// and flow of the one, then of the other.
func (w *work) offerContradiction(runs []Run) {
	if w.out.Problem != RunsContradict {
		return
	}
	for _, r := range averaged(runs) {
		if r.Opening == w.out.Value || r.Opening == w.out.Limit {
			w.out.Choices = append(w.out.Choices, Choice{Slot: GateOpening, Unit: unit.Find(r.Unit), Min: r.Opening, Max: r.Opening},
				Choice{Slot: Flow, Unit: gpm, Min: r.Flow, Max: r.Flow})
		}
	}
}

// offerRange quotes what the recorded runs span.
func (w *work) offerRange(c *Curve) {
	if w.out.Problem != Extrapolation && w.out.Problem != NoCurve {
		return
	}
	a, b := c.runs[0], c.runs[len(c.runs)-1]
	w.out.Choices = []Choice{{Slot: GateOpening, Unit: unit.Find(a.Unit), Min: a.Opening, Max: b.Opening},
		{Slot: Flow, Unit: gpm, Min: a.Flow, Max: b.Flow}}
}

// answerWeigh answers what a load weighed comes to, and with the ground it went
// on the rate.
func answerWeigh(w *work, way int) {
	if way >= 2 { // how heavy is so much
		v, _ := w.get(LoadVolume)
		w.put(NetWeight, "", v*float64(w.density())/1000, byHeavy)
		return
	}
	m, ok := w.get(NetWeight)
	if !ok {
		return
	}
	v, err := VolumeOf(unit.Mass(m), w.density())
	if w.fail(err) {
		return
	}
	if !w.is(NetWeight) {
		w.put(NetWeight, "", m, byNet)
	}
	w.put(LoadVolume, "", float64(v), byWeighed)
	a, by, ok := w.weighedGround()
	if !ok {
		return
	}
	r, err := RateOver(v, a)
	if w.fail(err) {
		return
	}
	w.put(ApplicationRate, "", float64(r), by)
	w.againstTarget(r)
}

// weighedGround is the area or strip that a weighed load went on.
func (w *work) weighedGround() (unit.Area, *Formula, bool) {
	if a, ok := w.said(Area, ""); ok {
		return unit.Area(a), byOver, true
	}
	if !w.is(Width, Distance) {
		return 0, nil, false
	}
	return w.measuredGround(2)
}

// unevenBelow is the chance below which counts are called uneven.
const unevenBelow = 0.05

// fewSeeds: with fewer in a jar, chance alone spreads counts by a fifth and more
// (Poisson: 1/√mean), and an uneven tank can hide behind it.
const fewSeeds = 25

// evenness answers how even three or more counts are.
func (w *work) evenness(counts []float64) {
	s, err := SpreadOf(counts)
	if w.fail(err) {
		return
	}
	w.put(SampleMean, "", s.Mean, byMean)
	w.put(SampleCV, "", float64(s.CV), byCV)
	w.put(SampleDispersion, "", s.Dispersion, byIndex)
	w.put(SampleP, "", s.P, byChance)
	if s.P >= unevenBelow {
		if w.noted("count_low", "count_high") { // they agree with one another, not with what goes in
			w.note(Note{ID: "even_off", Level: Advice, Slot: SampleP, Value: s.P, Limit: unevenBelow})
			return
		}
		if s.Mean < fewSeeds {
			w.note(Note{ID: "few_seeds", Level: Advice, Slot: SampleMean, Value: s.Mean, Limit: fewSeeds})
			return
		}
		w.note(Note{ID: "even", Level: Advice, Slot: SampleP, Value: s.P, Limit: unevenBelow})
		return
	}
	w.note(Note{ID: "uneven", Level: Caution, Slot: SampleP, Value: s.P, Limit: unevenBelow})
	w.trend(s.K)
}

// trend says which way the seed goes. What hangs back (k below 1) rides down on
// top and comes out last; what settles goes out first.
func (w *work) trend(k float64) {
	if k <= 0 {
		return
	}
	w.put(SampleK, "", k, byTrend)
	n := Note{ID: "floats_up", Level: Caution, Slot: SampleK, Value: k, Source: "PRACTICE"}
	if k > 1 {
		n.ID = "settles"
	}
	w.note(n)
}
