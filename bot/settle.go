package bot

import (
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
)

// settle gives the outcome its status from the reckoning and the parser's doubts.
func (t *turn) settle(r *engine.Reckoning) {
	o := t.out
	switch {
	case t.req.Problem != nil && (r.Problem == engine.CropNeeded || r.Problem == engine.WhatValue):
		t.problem(t.req.Problem) // which clover; which ton
	case r.Problem != "":
		o.Problem, o.Words, o.Choices = r.Problem, r.Words, r.Choices
		t.setProblemValue(r)
		if asksBack[r.Problem] {
			t.ask(r.Problem, Pending{Slot: r.Slot, Of: r.Of, Topics: t.topics, Facts: t.said})
		} else {
			o.Status = engine.Refused
		}
	case t.req.Problem != nil:
		t.withoutDoubtful()
		t.problem(t.req.Problem)
	case t.seedUnknown():
		o.Missing, o.MissingOf = append(slices.Clone(r.Missing), engine.SeedRate), append(slices.Clone(r.MissingOf), "")
		t.ask("", Pending{Slot: o.Missing[0], Of: o.MissingOf[0], Topics: t.topics, Facts: t.said, Focus: o.Focus})
	case len(r.Missing) > 0 && t.answeredFocus():
		o.Missing, o.MissingOf = nil, nil
	case len(r.Missing) > 0:
		t.ask("", Pending{Slot: r.Missing[0], Of: r.MissingOf[0], Topics: t.topics, Facts: t.said, Focus: o.Focus})
	case t.availableUnknown():
	case t.oddResult():
	case t.stale(o.Given):
	}
}

// withoutDoubtful drops the results that hang on what is being asked about: seed of
// no known crop, and everything when an amount was negated.
func (t *turn) withoutDoubtful() {
	if t.req.Problem.Code == engine.Negated {
		t.out.Results = nil
	}
	if rate := t.said.First(engine.SeedRate); rate != nil && !rate.Implied && rate.Unit.Dim == unit.DimMassPerArea {
		return // 15 lb to the acre on 40 acres is 600 lb of whatever seed
	}
	if p := t.req.Problem; (p.Code == engine.WhichCrop || p.Code == engine.RyeOrRyegrass) && len(t.req.Choices) > 0 {
		t.out.Results = slices.DeleteFunc(t.out.Results, func(v engine.Value) bool { return v.Of == "" && v.Slot == engine.SeedPerVolume })
		return // so much of any clover or rye: only its handling waits for which one
	}
	t.out.Results = slices.DeleteFunc(t.out.Results, func(v engine.Value) bool { return v.Of == "" && seedResult[v.Slot] })
}

var seedResult = map[engine.Slot]bool{engine.SeedPerLoad: true, engine.TotalSeed: true, engine.LastLoadSeed: true, engine.SeedPerVolume: true, engine.BulkSeedRate: true}

// oddResult asks when the answer itself cannot be right: 44 mph means that a number
// was heard wrong, however plausible each was by itself.
func (t *turn) oddResult() bool {
	for _, v := range t.out.Results {
		if s := v.Slot; v.Limit || s != engine.Speed && s != engine.Flow && s != engine.ApplicationRate {
			continue
		}
		lo, hi, ok := engine.Usual(v.Slot, v.Of)
		if ok && (v.Max > 2*hi || v.Min < lo/2) && v.Min > 0 {
			t.out.Subject, t.out.Results = v.Slot, nil
			t.out.Words = nil
			return t.ask(engine.OddResult, Pending{Topics: t.topics, Facts: t.said})
		}
	}
	return false
}

// availableUnknown: available nitrogen was asked for, and the lab's ammonium is what
// it needs.
func (t *turn) availableUnknown() bool {
	if !slices.Contains(t.out.Focus, engine.AvailableN) || slices.ContainsFunc(t.out.Results, func(v engine.Value) bool { return v.Slot == engine.AvailableN }) {
		return false
	}
	if slices.ContainsFunc(t.out.Notes, func(n engine.Note) bool { return n.ID == "no_share" || n.ID == "kind_needed" }) {
		return false // the note says what stands in the way
	}
	missing, of := engine.AnalysisAmmoniumN, ""
	if t.merged(t.said).First(missing) != nil { // then it is how soon it is worked in
		missing, of = engine.Duration, "incorporation"
	}
	t.out.Missing, t.out.MissingOf = []engine.Slot{missing}, []string{of}
	return t.ask("", Pending{Slot: missing, Of: of, Topics: t.topics, Facts: t.said, Focus: t.out.Focus})
}

// seedUnknown: seed was asked about, and no crop or rate is known.
func (t *turn) seedUnknown() bool {
	if !slices.Contains(t.out.Focus, engine.SeedPerLoad) {
		return false
	}
	return !slices.ContainsFunc(t.out.Results, func(v engine.Value) bool { return v.Slot == engine.SeedPerLoad }) && !slices.Contains(t.out.Missing, engine.SeedRate)
}

// answeredFocus says whether everything that was asked for by name has its answer,
// so that what a wider answer would need is not asked for.
func (t *turn) answeredFocus() bool {
	for _, s := range t.out.Focus {
		if !slices.ContainsFunc(t.out.Results, func(v engine.Value) bool { return v.Slot == s }) {
			return false
		}
	}
	return len(t.out.Focus) > 0
}

// asksBack are the engine's problems that one short answer settles; the others
// are refusals.
var asksBack = map[string]bool{engine.ConflictCode: true, engine.PLSOrBulk: true, engine.POrP2O5: true, engine.KOrK2O: true, engine.PKOrOxides: true, engine.WhichCrop: true,
	engine.CropNeeded: true, engine.FrostNeeded: true, engine.NoRuns: true, engine.NoCurve: true, engine.WhatUnit: true, engine.TooFewSamples: true,
	engine.RyeOrRyegrass: true, engine.Ambiguous: true, engine.UnknownCrop: true, engine.AmbiguousUnit: true}

// setProblemValue hands the wording the value that a refusal is about.
func (t *turn) setProblemValue(r *engine.Reckoning) {
	if r.Slot != engine.NoSlot {
		t.out.Subject, t.out.SubjectOf = r.Slot, r.Of
	}
}

// stale asks about remembered values older than a day before they are used.
func (t *turn) stale(given engine.Facts) bool {
	for i := range given {
		if f := &given[i]; f.Origin == engine.Remembered && f.AgeDays >= 1 && stays[f.Slot] {
			t.out.Subject, t.out.SubjectOf = f.Slot, f.Of
			return t.ask(engine.OldFact, Pending{Slot: f.Slot, Topics: t.topics, Facts: t.said})
		}
	}
	return false
}
