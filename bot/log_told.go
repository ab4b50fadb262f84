package bot

import (
	"slices"
	"tankside/engine"
	"tankside/engine/unit"
	"tankside/parse"
)

// logTold logs loads that were told of in several clauses, each in its own field, of its
// own size or at its own time: "5 on home and 2 on ridge", "first load 4000 at 8, second
// 3600 at 8:40". One that is more than the tank holds stops them all.
func (t *turn) logTold() bool {
	t.otherSeed()
	facts := t.merged(t.said)
	for i := range t.req.Told {
		if full := facts.First(engine.TankVolume); full != nil && t.volumeTold(&t.req.Told[i]) > 1.02*most(full) {
			t.out.Subject = engine.LoadVolume
			t.out.Given = append(t.out.Given, *full)
			return t.ask(engine.OverFull, Pending{})
		}
	}
	t.remember()
	before, said := t.m.Field, t.said
	var parts []engine.Summary
	fields := map[int64]bool{}
	for i := range t.req.Told {
		told := &t.req.Told[i]
		t.m.Field = before
		if told.Field != "" {
			t.goTo(told.Field)
		} else if i > 0 && t.req.Told[i-1].Field != "" && (told.Volume > 0 || told.Ordinal > 0 || told.Who != "" || told.Part > 0) {
			t.goTo(t.req.Told[i-1].Field) // "first one on ridge at 8, second at 9"
		}
		if t.said = said; told.Part > 0 {
			t.said = append(said[:len(said):len(said)], engine.Fact{Slot: engine.LoadFraction, Min: told.Part, Max: told.Part, Unit: noUnit, Origin: engine.Derived})
		}
		if told.Volume > 0 {
			t.said = append(said[:len(said):len(said)], engine.Fact{Slot: engine.LoadVolume, Min: t.volumeTold(told), Max: t.volumeTold(told), Unit: unit.Must("gal"), Origin: engine.Derived})
		}
		if part, ok := t.logOne(told); ok {
			parts = append(parts, part)
			fields[t.m.Field] = true
		}
	}
	t.said = said
	t.out.Results, t.out.Status, t.out.Act = nil, engine.Done, engine.ActLogged
	if len(fields) == 1 {
		t.tellLog("field", t.fieldTotals())
	} else {
		t.m.Field = before
		t.tellLog("today", t.book.Today)
	}
	t.out.Log.Parts = parts
	t.sizesTold()
	t.usedGiven(facts)
	return true
}

// logOne logs the loads of one clause in the field in hand.
func (t *turn) logOne(told *parse.Told) (engine.Summary, bool) {
	count := float64(told.Count)
	if told.Reached {
		count -= float64(int(t.fieldTotals().Loads + 0.5))
	}
	if count <= 0 {
		return engine.Summary{}, false
	}
	l := t.loadOf(t.merged(t.said))
	l.When, l.Said, l.Who, l.ID = t.msg.At, t.msg.At, t.msg.Person, t.msg.ID
	if told.Who != "" {
		l.Who.Name = told.Who
	}
	if told.Clock >= 0 || told.Days > 0 {
		t.req.When = &parse.When{Clock: told.Clock, Days: told.Days}
		l.When, _ = t.at()
	} else if w := t.req.When; w != nil && w.Clock < 0 {
		l.When, _ = t.at()
	}
	t.req.Ordinal = told.Ordinal
	t.addLoads(l, count)
	part := *t.out.Log
	if part.Lines = []engine.LogLine{lineOf(*l)}; told.Clock < 0 {
		part.At = ""
	}
	part.Lines[0].Area, part.Lines[0].Volume = l.Area*count, l.Volume*count
	return part, true
}

// otherSeed: "had 3 loads with oats before that", where the chat has no rate of oats now: the
// seed that it has went into other loads, so none is counted for these.
func (t *turn) otherSeed() {
	if !t.req.Telling || saysSeed(t.said) || t.m.Facts == nil {
		return
	}
	for _, c := range t.req.Crops {
		other := engine.CropNamed(c.Name) != nil && !slices.ContainsFunc(t.m.Facts, func(r Remembered) bool { return ofSeed(r.Fact) && r.Fact.Of == c.Name })
		if !other || !slices.ContainsFunc(t.m.Facts, func(r Remembered) bool { return ofSeed(r.Fact) }) {
			continue
		}
		t.noSeed = true
		t.note(engine.Note{ID: "seed_untold", Level: engine.Caution, Of: c.Name})
		return
	}
}

// dayHere is how many of today's loads the log has in the field that the message is about.
func (t *turn) dayHere() (n int) {
	inHand := t.m.Field
	if f := t.findField(t.req.Field); f != nil {
		inHand = f.ID
	}
	for _, l := range t.todays(t.book.Recent) {
		if l.Field == inHand {
			n++
		}
	}
	return n
}

// totalsMeant are the sums of the field that the message names, else of the one in hand.
func (t *turn) totalsMeant() Totals {
	name := t.req.Field
	if name == "" {
		name = t.req.FieldSaid
	}
	if name == "" {
		return t.fieldTotals()
	}
	if f := t.findField(name); f != nil {
		return t.book.ByField[f.ID]
	}
	return Totals{}
}

// volumeTold is the size of a load in gallons, 0 when it was not said.
func (t *turn) volumeTold(told *parse.Told) float64 {
	u := told.Unit
	if u == nil {
		u = t.out.Units.UnitFor(engine.LoadVolume)
	}
	return u.ToBase(told.Volume)
}

// goTo takes the field of that name in hand, or starts it.
func (t *turn) goTo(name string) {
	if f := t.findField(name); f != nil {
		t.m.Field = f.ID
		return
	}
	if len(t.m.Fields) > 0 {
		t.note(engine.Note{ID: "field_is_new", Level: engine.Caution})
	}
	t.openField(name, 0)
}

// sizesTold sets the size of the ground that was said with the loads.
func (t *turn) sizesTold() {
	if f := t.said.First(engine.Area); f != nil && t.fieldInHand() != nil && t.fieldInHand().Area == 0 {
		t.setFieldArea(*f)
	}
}
