package bot

import (
	"slices"
	"time"

	"tankside/engine"
	"tankside/engine/unit"
)

// Plus is the totals with one more load.
func (a Totals) Plus(l Load) Totals { return a.add(l, 1) }

// Minus is the totals without a load.
func (a Totals) Minus(l Load) Totals { return a.add(l, -1) }

func (a Totals) add(l Load, sign float64) Totals {
	a.Loads += sign * l.Fraction
	a.Count += int(sign)
	a.Volume += sign * l.Volume
	a.Area += sign * l.Area
	if a.Count == 0 { // no crumbs of what was taken back
		a.Loads, a.Volume, a.Area, a.Seeds = 0, 0, 0, nil
		return a
	}
	a.Seeds = slices.Clone(a.Seeds)
	for _, s := range l.Seeds {
		i := slices.IndexFunc(a.Seeds, func(o Seed) bool { return o.Crop == s.Crop })
		if i < 0 {
			a.Seeds = append(a.Seeds, Seed{Crop: s.Crop})
			i = len(a.Seeds) - 1
		}
		a.Seeds[i].Weight += sign * s.Weight
	}
	return a
}

// fieldTotals are the sums of the field in hand.
func (t *turn) fieldTotals() Totals {
	if tot, ok := t.book.ByField[t.m.Field]; ok {
		return tot
	}
	return t.emptyField()
}

// emptyField is the sum of a field that the book does not list: nothing yet, unless
// it is the one the book was opened at.
func (t *turn) emptyField() Totals {
	if t.book.At == t.m.Field {
		return t.book.Field
	}
	return Totals{}
}

// tellLog puts sums into the outcome: what is done, and what is left when the
// field's area is known.
func (t *turn) tellLog(scope string, tot Totals) {
	t.out.Log = &engine.Summary{Scope: scope}
	t.put(engine.LoadCount, "", tot.Loads)
	if tot.Area > 0 || tot.Loads == 0 {
		t.put(engine.AreaDone, "", tot.Area)
	}
	if tot.Volume > 0 || tot.Loads == 0 { // what is not known is not nothing
		t.put(engine.VolumeUsed, "", tot.Volume)
	}
	t.unmeasured(tot)
	for _, s := range tot.Seeds {
		if s.Weight > 1e-9 {
			t.put(engine.SeedUsed, s.Crop, s.Weight)
		}
	}
	t.bagsUsed(tot)
	if scope != "field" {
		return
	}
	f := t.fieldInHand()
	if f == nil {
		t.out.Log.Scope = "all"
		return
	}
	t.out.Log.Field, t.out.Log.FieldArea = f.Name, f.Area
	if f.Area > 0 {
		t.putLeft(f.Area, tot)
		t.bagsLeft(max(f.Area-tot.Area, 0))
	}
}

// bagOf is what a bag of a crop weighs, where bags are spoken of and their weight is known.
func (t *turn) bagOf(crop string) (unit.Mass, bool) {
	if !t.req.Named(engine.BagCount) && t.said.First(engine.BagWeight) == nil {
		return 0, false
	}
	facts := t.merged(t.said)
	f := facts.Find(engine.BagWeight, crop)
	if f == nil {
		f = facts.Find(engine.BagWeight, "")
	}
	if f == nil {
		return 0, false
	}
	lb, _ := f.Base()
	return unit.Mass(lb), true
}

// bagsUsed puts the seed used so far in bags: "how many 50 lb bags have we burned".
func (t *turn) bagsUsed(tot Totals) {
	for i := range t.said {
		if f := t.said[i]; f.Slot == engine.BagWeight && engine.Plausible(&f) == engine.Fine && !t.whatIf {
			t.keep(f)
		}
	}
	for _, s := range tot.Seeds {
		if bag, ok := t.bagOf(s.Crop); ok {
			if n, err := engine.BagsOf(unit.Mass(s.Weight), bag); err == nil {
				t.put(engine.BagsUsed, s.Crop, n)
			}
		}
	}
}

// bagsLeft puts the bags that the rest of the field takes.
func (t *turn) bagsLeft(acres float64) {
	facts := t.merged(nil)
	for i := range facts {
		f := &facts[i]
		bag, ok := t.bagOf(f.Of)
		if f.Slot != engine.SeedRate || !ok {
			continue
		}
		rate, _ := f.Base()
		m, err := engine.SeedFor(unit.Area(acres), unit.MassPerArea(rate))
		if n, err2 := engine.BagsOf(m, bag); err == nil && err2 == nil {
			t.put(engine.BagsLeft, f.Of, n)
		}
	}
}

// unmeasured says so when loads of unknown gallons are in a sum that has gallons.
func (t *turn) unmeasured(tot Totals) {
	n := 0
	for i := range t.book.Recent {
		if l := &t.book.Recent[i]; l.Volume == 0 && !l.When.Before(tot.First) {
			n++
		}
	}
	if n > 0 && tot.Volume > 0 {
		t.note(engine.Note{ID: "sum_unmeasured", Level: engine.Caution, Slot: engine.LoadCount, Value: float64(n)})
	}
}

// putLeft works out what is left of the field, in ground and in loads.
func (t *turn) putLeft(area float64, tot Totals) {
	rate, volume := t.rateAndTank()
	left := max(area-tot.Area, 0)
	t.put(engine.AreaLeft, "", left)
	if loads := t.loadsLeft(area, tot); loads > 0 {
		t.put(engine.LoadsLeft, "", loads)
	} else if left == 0 && rate > 0 && volume > 0 {
		t.put(engine.LoadsLeft, "", 0)
	}
}

// rateAndTank are the gallons an acre and in a tank that are known; 0 where not.
func (t *turn) rateAndTank() (rate, volume float64) {
	facts := t.merged(t.said)
	if r := facts.First(engine.ApplicationRate); r != nil {
		rate, _ = r.Base()
	}
	if v := facts.First(engine.TankVolume); v != nil {
		volume, _ = v.Base()
	}
	return rate, volume
}

// loadsLeft is what is left of a field in loads; 0 where nothing is or it is not known.
func (t *turn) loadsLeft(area float64, tot Totals) float64 {
	rate, volume := t.rateAndTank()
	_, loads, err := engine.Left(unit.Area(area), unit.Area(tot.Area), unit.VolumePerArea(rate), unit.Volume(volume))
	if err != nil {
		return 0
	}
	return loads
}

func (t *turn) put(s engine.Slot, of string, v float64) {
	t.out.Results = append(t.out.Results, engine.Value{Slot: s, Of: of, Min: v, Max: v})
}

// totals reads the sums back: of today, the field or the season.
func (t *turn) totals() bool {
	t.topic(engine.TopicLog)
	t.out.Status, t.out.Act = engine.Answered, engine.ActTotals
	scope := t.req.Scope
	if f := t.findField(t.req.Field); f != nil && scope == "today" {
		y, m, d := t.msg.At.Date()
		from := time.Date(y, m, d, 0, 0, 0, 0, t.msg.At.Location())
		r, _ := RecallOf(&t.m, f.Name, from, from.AddDate(0, 0, 1))
		t.past = &r // the book's day is of every field
		return true
	} else if f != nil {
		scope = "" // "totals for creek this season" are the field's
	}
	switch scope {
	case "today":
		t.tellLog("today", t.book.Today)
		for _, l := range t.todays(t.book.Recent) {
			t.out.Log.Lines = append(t.out.Log.Lines, lineOf(l))
		}
	case "season":
		t.tellLog("season", t.book.Season)
	default:
		if t.req.All && t.req.Field == "" && t.book.Today.Count > t.fieldTotals().Count {
			t.tellLog("today", t.book.Today) // "how much rye did we use in total": on all fields
			break
		}
		inHand := t.m.Field
		defer func() { t.m.Field = inHand }() // a question about another field moves nobody there
		t.selectField()
		if t.fieldInHand() == nil && len(t.m.Fields) > 0 {
			t.tellLog("season", t.book.Season) // between fields: the loads of no field are not all
			break
		}
		t.tellLog("field", t.fieldTotals())
	}
	return true
}

// left tells what is left of the field; it asks for the area when that is unknown.
func (t *turn) left() bool {
	t.topic(engine.TopicLog)
	inHand := t.m.Field
	t.selectField()
	if f := t.said.First(engine.Area); f != nil {
		t.setFieldArea(*f)
	}
	f := t.fieldInHand()
	if f == nil || f.Area == 0 {
		t.out.Missing, t.out.MissingOf = []engine.Slot{engine.Area}, []string{""}
		return t.ask("", Pending{Slot: engine.Area, Act: "left"})
	}
	tot := t.fieldTotals()
	if n := t.said.First(engine.LoadCount); n != nil { // "I have done 10 loads, what is left?"
		one := t.loadOf(t.merged(t.said))
		tot = Totals{Loads: n.Min, Volume: n.Min * one.Volume, Area: n.Min * one.Area, Seeds: scaleSeeds(one.Seeds, n.Min)}
	}
	t.tellLog("field", tot)
	t.out.Status, t.out.Act = engine.Answered, engine.ActTotals
	t.out.Focus = []engine.Slot{engine.AreaLeft, engine.LoadsLeft}
	if len(t.req.Info) > 0 && t.req.Question { // "what's left, and does a half inch of rain matter"
		t.out.Info = t.req.Info
	}
	t.m.Field = inHand // a question about another field moves nobody there
	t.usedGiven(t.merged(t.said))
	return true
}
