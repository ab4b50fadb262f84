package phrases

import (
	"math"
	"slices"

	"tankside/engine"
)

// compose writes the whole reply. The order is the same for every outcome and
// every language: what was asked for, in the first line; what it rests on; how
// the message was read where that is in doubt; steps and sources when asked for;
// advice; cautions last.
func (p *page) compose() {
	p.heard()
	said := len(p.buf)
	p.namesLater = p.gallonsGiven()
	switch o := p.o; {
	case o.Problem != "":
		p.problem()
	case o.Act != "":
		p.act()
	default:
		p.lead()
		p.inAll()
		p.finishTime()
		p.answer()
		p.question()
	}
	p.infos()
	p.used()
	p.reading()
	p.explain()
	p.notes()
	if len(p.buf) == said {
		p.say(p.text("problem", engine.NotUnderstoodCode), &params{})
	}
	p.finish()
}

// heard says back what a voice note was heard to say, before the answer and apart
// from it: the first line of the answer is still the answer's.
func (p *page) heard() {
	if p.o.Heard == "" {
		return
	}
	p.say(p.text("heard", "is"), &params{word: p.o.Heard})
	if p.form == spoken {
		p.sentence()
	} else {
		p.buf = append(p.buf, '\n')
	}
	p.start = len(p.buf)
}

// leads are the notes that are the answer itself to a question of their topic: does
// it float, is that enough to keep it moving.
var leads = map[engine.Topic][]string{
	engine.TopicSamples:   {"count_fits", "count_small", "count_low", "count_high"},
	engine.TopicSoak:      {"sinks", "hull_floats", "presoak", "straight_in", "check_passage", "poor_fit", "no_presoak"},
	engine.TopicAgitation: {"mixing_ok", "poor_mixing", "stir_short", "stir_enough"},
	engine.TopicCrop:      {"usual_seed_rate", "low_seed_rate", "high_seed_rate"},
	engine.TopicDepth:     {"depth_under_limit", "depth_near_limit", "depth_over_limit"},
	engine.TopicNutrients: {"nutrient_over_limit", "nutrient_within_limit", "nutrient_short", "nutrient_maybe", "nutrient_enough"},
}

// lead writes those notes first.
func (p *page) lead() {
	if len(p.o.Topics) == 0 {
		return
	}
	ids := leads[p.o.Topics[0]]
	if p.about(engine.TopicDepth) && len(p.o.Focus) > 0 || len(p.o.Timings) > 0 {
		return // how deep was asked, not whether it is too much; when, not how to soak
	}
	for _, id := range ids {
		for i := range p.o.Notes {
			if n := &p.o.Notes[i]; n.ID == id && !p.noted(i) {
				p.note(n)
				p.led = true
			}
		}
	}
}

// answer writes the results: the ones asked for in the first line, the others
// below.
func (p *page) answer() {
	o := p.o
	if len(o.Timings) > 0 && p.about(engine.TopicCrop) {
		p.timings() // when, and no more: the crop's other figures were not asked for
		return
	}
	if len(o.Results) == 0 {
		return
	}
	done := make([]bool, len(o.Results))
	if len(o.Crops) > 1 && p.about(engine.TopicCrop) {
		p.cropByCrop(done)
		p.otherResults(done)
		return
	}
	if len(o.Crops) > 0 && p.about(engine.TopicCrop) {
		p.item()
		p.crop(o.Crops[0])
		p.colon()
	}
	for _, s := range o.Focus {
		if s == engine.TotalSeed {
			p.slotResults(engine.BagCount, done) // seed is bought by the bag
		}
		if s == engine.BagCount {
			p.slotResults(engine.BagCount, done)
			p.slotResults(engine.TotalSeed, done)
		}
		if s == engine.TotalCost {
			p.slotResults(engine.TotalFieldCost, done) // a bill is for the field
		}
		p.slotResults(s, done)
	}
	if p.items == 0 || len(o.Focus) == 0 {
		for _, topic := range o.Topics {
			for _, s := range headline[topic] {
				if p.items > perLine {
					p.end()
				}
				p.slotResults(s, done)
			}
		}
	}
	p.end()
	p.wholeLoads(done)
	p.otherResults(done)
	if p.about(engine.TopicCrop) && len(o.Crops) > 0 {
		p.cropDetails(o.Crops[0])
	}
}

// perLine is how many results fit a line of a phone.
const perLine = 3

func (p *page) otherResults(done []bool) {
	for i := range p.o.Results {
		if done[i] || p.quiet(p.o.Results[i].Slot) {
			continue
		}
		done[i] = true
		if p.o.Results[i].Slot == engine.Pails && p.soak(&p.o.Results[i], done) {
			continue
		}
		p.oneResult(&p.o.Results[i])
		if p.items == perLine {
			p.end()
		}
	}
	p.end()
}

// quiet says whether a result is left to those who ask for it: it follows from the
// facts, but nobody weighs or sets anything by it.
func (p *page) quiet(s engine.Slot) bool {
	switch s {
	case engine.CustomCost, engine.TotalCustomCost:
		return p.find(engine.TotalCost) != nil && p.find(engine.SeedCost) == nil && p.o.Given.First(engine.SeedCost) == nil // it is all there is
	case engine.SampleDispersion, engine.SampleK:
		return !slices.Contains(p.o.Focus, s) // the notes say what they mean
	case engine.SampleMean:
		return p.find(engine.ExpectedCount) != nil && p.find(engine.PercentOff) != nil // said beside what was expected
	case engine.LoadCount, engine.AreaDone, engine.VolumeUsed, engine.SeedUsed:
		return p.o.Act == engine.ActFieldStarted
	case engine.SeedsPerArea, engine.SeedsPerVolume, engine.SeedPerVolume:
		return p.about(engine.TopicSamples) || !slices.Contains(p.o.Focus, s) && !p.about(engine.TopicSeedLot) && !p.about(engine.TopicSoak) && !p.about(engine.TopicCrop) && len(p.o.Results) > 1 && p.o.Problem == ""
	}
	return false
}

// soak writes pails and their water as one item; false: there is no water.
func (p *page) soak(pails *engine.Value, done []bool) bool {
	for i := range p.o.Results {
		if w := &p.o.Results[i]; w.Slot == engine.SoakWater && w.Of == pails.Of && !done[i] {
			done[i] = true
			p.item()
			p.say(p.text("word", "soak_in"), &params{a: p.result(pails), b: p.result(w), crop: p.soaked(pails.Of)})
			return true
		}
	}
	return false
}

// soaked names the crop that the pails are for: theirs, or the one that floats.
func (p *page) soaked(of string) string {
	for i := range p.o.Notes {
		if n := &p.o.Notes[i]; of == "" && n.ID == "presoak" {
			of = n.Of
		}
	}
	return of
}

// slotResults writes every result of a slot that has not been written.
func (p *page) slotResults(s engine.Slot, done []bool) {
	for i := range p.o.Results {
		if p.o.Results[i].Slot == s && !done[i] {
			if done[i] = true; p.quiet(s) {
				continue
			}
			if s == engine.Pails && p.soak(&p.o.Results[i], done) {
				continue
			}
			p.oneResult(&p.o.Results[i])
		}
	}
}

// oneResult writes one result as an item of the line.
func (p *page) oneResult(v *engine.Value) {
	x := params{a: p.result(v), crop: v.Of, slot: v.Slot}
	p.item()
	switch t := p.special(v, &x); {
	case t != nil:
		p.say(t, &x)
	case v.Slot == engine.Converted:
		p.converted(&x)
	case v.Limit:
		t := p.text("limit", v.Slot.String())
		if t == nil {
			t = p.text("limit", "default")
		}
		p.say(t, &x)
	case p.lang.result[v.Slot] != nil:
		p.say(p.lang.result[v.Slot], &x)
	default:
		p.say(p.text("default", "result"), &x)
	}
}

// special finds the text for a result that reads differently in its company: part
// of a load is no longer "a load", counts are judged, chance is a percentage.
func (p *page) special(v *engine.Value, x *params) *text {
	switch {
	case v.Slot == engine.AreaPerLoad && (p.about(engine.TopicPartLoad) || p.o.Given.First(engine.LoadFraction) != nil):
		return p.text("part", "area")
	case v.Slot == engine.SampleCV && p.hasNote("uneven"):
		return p.text("verdict", "uneven")
	case v.Slot == engine.SampleCV && (p.hasNote("even") || p.hasNote("even_off") || p.hasNote("few_seeds")):
		return p.text("verdict", "even")
	case v.Slot == engine.BagCount && x.a.max != math.Ceil(x.a.max): // nobody sells 0.6 of a bag
		x.b = amount{min: math.Ceil(x.a.min), max: math.Ceil(x.a.max), unit: x.a.unit}
		return p.text("part", "bags")
	case v.Slot == engine.PercentOff && p.about(engine.TopicSamples):
		return p.countOff(v, x)
	case v.Limit && v.Slot == engine.ApplicationRate && (p.about(engine.TopicNutrients) || p.about(engine.TopicNeed)):
		return p.text("part", "rate_allowed")
	case v.Slot == engine.BagsLeft && x.a.max != math.Ceil(x.a.max):
		x.b = amount{min: math.Ceil(x.a.min), max: math.Ceil(x.a.max), unit: x.a.unit}
		return p.text("part", "bags_left")
	case v.Slot == engine.SampleP:
		x.a = p.base(engine.PercentOff, nil, v.Max)
	}
	return nil
}

// countOff finds the text for how far counts are from what was expected, and gives it
// the count, or of several their mean: "14 counted, 64% below".
func (p *page) countOff(v *engine.Value, x *params) *text {
	group := "jar"
	if mean := p.find(engine.SampleMean); mean != nil {
		x.b, group = p.result(mean), "jars"
	} else if f := p.o.Given.First(engine.SampleCount); f != nil {
		x.b = factAmount(f)
	}
	x.n = x.b.max
	side := "around"
	switch {
	case v.Max < 0:
		side = "below"
	case v.Min > 0:
		side = "above"
	case v.Min == 0 && v.Max == 0:
		return p.text(group, "equal")
	}
	if side == "below" { // said without its sign
		x.a = p.result(&engine.Value{Slot: v.Slot, Min: -v.Max, Max: -v.Min})
	} else if side == "around" {
		return p.text(group, "around")
	}
	return p.text(group, side)
}

func (p *page) about(t engine.Topic) bool { return len(p.o.Topics) > 0 && p.o.Topics[0] == t }

func (p *page) hasNote(id string) bool {
	for i := range p.o.Notes {
		if p.o.Notes[i].ID == id {
			return true
		}
	}
	return false
}

// converted writes both sides of a conversion.
func (p *page) converted(x *params) {
	if len(p.o.Given) == 0 {
		p.amount(&x.a)
		return
	}
	x.b = x.a
	x.a = factAmount(&p.o.Given[0])
	p.say(p.text("word", "converted"), x)
}

// wholeLoads writes how a field comes out in loads: so many full ones, then a
// last one and what goes into it.
func (p *page) wholeLoads(done []bool) {
	full := p.take(engine.FullLoads, done)
	if full == nil {
		return
	}
	x := params{n: p.result(full).max}
	last := p.take(engine.LastLoadVolume, done)
	p.item()
	switch {
	case last == nil && (p.about(engine.TopicCycle) || p.about(engine.TopicLoad)): // what the time allows
		p.say(p.lang.result[engine.FullLoads], &params{a: p.result(full)})
	case last == nil:
		p.say(p.text("loads", "even"), &x)
	case x.n == 0:
		x.a = p.result(last)
		p.say(p.text("loads", "one_part"), &x)
	default:
		x.a = p.result(last)
		p.say(p.text("loads", "rest"), &x)
	}
	for seed := p.take(engine.LastLoadSeed, done); seed != nil; seed = p.take(engine.LastLoadSeed, done) {
		p.item()
		p.say(p.lang.result[engine.LastLoadSeed], &params{a: p.result(seed), crop: seed.Of})
	}
	p.end()
}

// take gives the first result of a slot that has not been written, and marks it.
func (p *page) take(s engine.Slot, done []bool) *engine.Value {
	for i := range p.o.Results {
		if p.o.Results[i].Slot == s && !done[i] {
			done[i] = true
			return &p.o.Results[i]
		}
	}
	return nil
}

// find gives the first result of a slot, or nil.
func (p *page) find(s engine.Slot) *engine.Value {
	for i := range p.o.Results {
		if p.o.Results[i].Slot == s {
			return &p.o.Results[i]
		}
	}
	return nil
}

// headline lists what a topic was asked for: the results of the first line.
var headline = map[engine.Topic][]engine.Slot{
	engine.TopicLoad:        {engine.AreaPerLoad, engine.SeedPerLoad},
	engine.TopicPartLoad:    {engine.LoadVolume, engine.AreaPerLoad, engine.SeedPerLoad},
	engine.TopicSeedForArea: {engine.BagCount, engine.TotalSeed},
	engine.TopicRate:        {engine.ApplicationRate, engine.PercentOff},
	engine.TopicFlow:        {engine.Flow},
	engine.TopicSpeed:       {engine.Speed},
	engine.TopicAgitation:   {engine.TurnoverTime, engine.BypassFlow, engine.MixingTime},
	engine.TopicField:       {engine.Loads, engine.TotalVolume, engine.TotalSeed},
	engine.TopicCycle:       {engine.CycleTime, engine.LoadsPerHour, engine.AreaPerHour, engine.TotalTime},
	engine.TopicSoak:        {engine.SeedPerLoad, engine.Pails, engine.SoakWater},
	engine.TopicSeedLot:     {engine.BulkSeedRate, engine.PureLiveSeed},
	engine.TopicMix:         {engine.SeedPerLoad, engine.TotalSeed},
	engine.TopicNutrients:   {engine.AvailableN, engine.TotalN, engine.Phosphate, engine.Potash},
	engine.TopicNeed:        {engine.ApplicationRate},
	engine.TopicDepth:       {engine.Depth, engine.SoilRoom},
	engine.TopicGate:        {engine.GateOpening, engine.Flow},
	engine.TopicWeigh:       {engine.LoadVolume, engine.ApplicationRate, engine.NetWeight},
	engine.TopicSamples:     {engine.ExpectedCount, engine.PercentOff, engine.SampleCV, engine.SampleMean},
	engine.TopicConvert:     {engine.Converted},
	engine.TopicCost:        {engine.TotalCost, engine.SeedCost, engine.CustomCost, engine.NutrientValue, engine.NutrientValuePerVolume},
	engine.TopicLog:         {engine.LoadCount, engine.AreaDone, engine.AreaLeft, engine.LoadsLeft},
	engine.TopicCrop:        {engine.UsualRate, engine.SeedingDepth, engine.SeedsPerWeight},
}
