package bot

import (
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
)

// PictureOf is the picture that belongs to an answer, or nil. today are the day's
// loads that stand, for a picture of the day; without them there is none.
func PictureOf(o *engine.Outcome, m *Memory, b *Book, today []Load) *engine.Picture {
	if o.Status != engine.Answered && o.Status != engine.Done || len(o.Topics) == 0 {
		return nil
	}
	switch o.Topics[0] {
	case engine.TopicSamples:
		return jarsPicture(o.Given)
	case engine.TopicAgitation:
		return tankPicture(o.Given, o.Results)
	case engine.TopicGate:
		return gatePicture(o, m)
	case engine.TopicLog:
		return logPicture(o, m, b, today)
	}
	return nil
}

// Tell is the answer to what nobody said, such as the question that the day's summary
// answers: nothing of it is kept.
func Tell(tx Tx, msg Message, m Memory, b Book) (*Reply, error) {
	d := Decide(msg, m, b)
	return d.reply(msg, b, func(r Recall) ([]Load, error) { return tx.Past(msg.Chat, r) })
}

// drawsDay says whether the picture of an answer is the day's, for which it takes the
// day's loads.
func drawsDay(o *engine.Outcome) bool {
	return o.Act == engine.ActTotals && o.Log != nil && o.Log.Scope == "today"
}

// logPicture shows the day, or how far the fields are.
func logPicture(o *engine.Outcome, m *Memory, b *Book, today []Load) *engine.Picture {
	switch {
	case o.Log == nil:
		return nil
	case o.Act == engine.ActFieldsListed:
		return FieldsPicture(m, b)
	case o.Act != engine.ActTotals:
		return nil
	case o.Log.Scope == "today":
		return DayPicture(today, "", TargetPace(m))
	case o.Log.Scope == "field" && o.Log.FieldArea > 0:
		return fieldPicture(o)
	}
	return nil
}

// fieldPicture shows how far the field of an answer is.
func fieldPicture(o *engine.Outcome) *engine.Picture {
	part := engine.FieldPart{Name: o.Log.Field, Area: unit.Area(o.Log.FieldArea)}
	for _, v := range o.Results {
		switch v.Slot {
		case engine.AreaDone:
			part.Done = unit.Area(v.Min)
		case engine.LoadCount:
			part.Loads = v.Min
		}
	}
	return &engine.Picture{Fields: []engine.FieldPart{part}}
}

// DayPicture shows loads of one day and the pace that was wanted; field is the one
// that they are of, empty for several.
func DayPicture(loads []Load, field string, target unit.Frequency) *engine.Picture {
	if len(loads) == 0 {
		return nil
	}
	d := &engine.DaySeries{Field: field, Target: target}
	for _, l := range loads {
		d.Loads = append(d.Loads, engine.LoadMark{At: l.When, Loads: l.Fraction})
	}
	return &engine.Picture{Day: d}
}

// TargetPace is the loads an hour that the chat's own times of the haul cycle allow;
// zero when they are not known.
func TargetPace(m *Memory) unit.Frequency {
	reckoned := engine.Answer([]engine.Topic{engine.TopicCycle}, factsOf(m), &engine.Context{Units: m.Units})
	for _, v := range reckoned.Results {
		if v.Slot == engine.LoadsPerHour && !v.Limit && len(reckoned.Missing) == 0 {
			return unit.Frequency(v.Min)
		}
	}
	return 0
}

func factsOf(m *Memory) engine.Facts {
	var facts engine.Facts
	for _, r := range m.Facts {
		f := r.Fact
		f.Origin = engine.Remembered
		facts = append(facts, f)
	}
	return facts
}

// FieldsPicture shows how far the open fields are, in the order they were opened.
func FieldsPicture(m *Memory, b *Book) *engine.Picture {
	var parts []engine.FieldPart
	for _, f := range m.Fields {
		if t := b.ByField[f.ID]; f.Closed.IsZero() {
			parts = append(parts, engine.FieldPart{Name: f.Name, Done: unit.Area(t.Area), Area: unit.Area(f.Area), Loads: t.Loads})
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return &engine.Picture{Fields: parts}
}

// gatePicture shows the runs of the outlet in use and the point of the answer.
func gatePicture(o *engine.Outcome, m *Memory) *engine.Picture {
	g := &engine.GateSeries{}
	for _, v := range o.Results {
		switch {
		case v.Slot == engine.GateOpening && v.Min == v.Max:
			g.Opening = v.Min
			if v.Unit != nil {
				g.Opening = v.Unit.FromBase(v.Min)
			}
		case v.Slot == engine.Flow && v.Min == v.Max:
			g.Flow = v.Min
		}
	}
	if f := o.Given.First(engine.GateOpening); f != nil && g.Opening == 0 {
		g.Opening = f.Min
	}
	if f := o.Given.First(engine.Flow); f != nil && g.Flow == 0 {
		g.Flow, _ = f.Base()
	}
	return GatePicture(m, g.Opening, g.Flow)
}

// GatePicture shows a chat's runs, and a chosen point unless its flow is zero.
func GatePicture(m *Memory, opening, flow float64) *engine.Picture {
	runs := slices.DeleteFunc(slices.Clone(m.Runs), func(r engine.Run) bool { return r.Outlet != m.Outlet })
	if len(runs) == 0 {
		return nil
	}
	if opening == 0 {
		flow = 0
	}
	return &engine.Picture{Gate: &engine.GateSeries{Runs: engine.SameMarks(runs), Opening: opening, Flow: flow}}
}

// jarsPicture shows the counts in the order in which they were said.
func jarsPicture(given engine.Facts) *engine.Picture {
	var counts []float64
	for i := range given {
		if given[i].Slot == engine.SampleCount {
			counts = append(counts, given[i].Min)
		}
	}
	return JarsPicture(counts)
}

// JarsPicture shows jar counts; fewer than three say nothing.
func JarsPicture(counts []float64) *engine.Picture {
	if _, err := engine.SpreadOf(counts); err != nil {
		return nil
	}
	return &engine.Picture{Jars: &engine.JarSeries{Counts: counts}}
}

// tankPicture shows the mixing that an answer about stirring rests on.
func tankPicture(given engine.Facts, results []engine.Value) *engine.Picture {
	tank, pump := given.First(engine.TankVolume), given.First(engine.PumpFlow)
	if tank == nil || pump == nil || tank.Range() || pump.Range() {
		return nil
	}
	t := &engine.TankSeries{}
	v, _ := tank.Base()
	p, _ := pump.Base()
	t.Tank, t.Pump = unit.Volume(v), unit.Flow(p)
	for _, r := range results {
		switch {
		case r.Limit || r.Min != r.Max:
		case r.Slot == engine.BypassFlow:
			t.Flow = t.Pump - unit.Flow(r.Min)
		case r.Slot == engine.MixingTime:
			t.First = unit.Time(r.Min)
		}
	}
	if _, err := t.Through(t.First, 1); err != nil {
		return nil
	}
	return &engine.Picture{Tank: t}
}

// TankPicture shows mixing through a load of the remembered tank.
func TankPicture(m *Memory) *engine.Picture {
	facts := factsOf(m)
	return tankPicture(facts, engine.Answer([]engine.Topic{engine.TopicAgitation}, facts, &engine.Context{Units: m.Units}).Results)
}
