package bot

import (
	"slices"
	"strings"
	"time"

	"tankside/engine"
	"tankside/engine/unit"
)

// stays are the quantities that a chat keeps when they are said; all others hold
// for the one message: a part load, a strip, a timed run, scale weights, counts.
var stays = map[engine.Slot]bool{engine.TankVolume: true, engine.ApplicationRate: true, engine.SeedRate: true, engine.PumpFlow: true, engine.Flow: true,
	engine.Width: true, engine.Speed: true, engine.Area: true, engine.Purity: true, engine.Germination: true, engine.HardSeed: true, engine.Coating: true,
	engine.AnalysisTotalN: true, engine.AnalysisAmmoniumN: true, engine.AnalysisOrganicN: true, engine.AnalysisPhosphate: true, engine.AnalysisPotash: true,
	engine.AnalysisPhosphorus: true, engine.AnalysisPotassium: true, engine.LimitN: true, engine.LimitPhosphate: true, engine.LimitPhosphorus: true, engine.TargetPhosphorus: true, engine.TargetN: true, engine.TargetPhosphate: true, engine.SeedPrice: true, engine.NPrice: true, engine.PhosphatePrice: true, engine.PotashPrice: true, engine.BagWeight: true, engine.Density: true, engine.HeelVolume: true, engine.Duration: true, engine.CycleTime: true, engine.TareWeight: true, engine.PailVolume: true, engine.JarVolume: true, engine.SeedsPerWeight: true, engine.SeedShare: true, engine.PTOSpeed: true, engine.BypassShare: true, engine.Tubes: true, engine.RatedPTOSpeed: true, engine.PureLiveSeed: true, engine.TotalSeed: true, engine.CustomCost: true, engine.AreaPerHour: true}

// kept says whether a fact is remembered: a plain time is not, the parts of the
// haul cycle are.
func kept(f *engine.Fact) bool {
	if f.Slot == engine.Area && f.Origin != engine.Said {
		return false // what is left of a field, or several in all, is not the field
	}
	return stays[f.Slot] && !(f.Slot == engine.Duration && (f.Of == "" || f.Of == "incorporation")) && !f.Range()
}

// merged is what was said over what the chat remembers. A value that was said
// hides the remembered one; a crop that was said hides the remembered crops.
func (t *turn) merged(said engine.Facts) engine.Facts {
	if len(t.m.Facts) == 0 {
		return t.fieldArea(said[:len(said):len(said)])
	}
	facts := slices.Clone(said)
	crops := (saysSeed(said) || len(t.req.Crops) > 0 && !t.req.Telling) && !t.keepsMix()
	for i := range t.m.Facts {
		r := &t.m.Facts[i]
		f := r.Fact
		switch {
		case said.Find(f.Slot, f.Of) != nil, f.Slot != engine.Duration && f.Of == "" && said.First(f.Slot) != nil:
			continue
		case f.Slot == engine.Duration && f.Of == dayPart && t.req.DayLong:
			continue // another day's hours were just said
		case f.Slot == engine.CycleTime && said.First(engine.Duration) != nil && partOfHaul(said):
			continue // said anew, by its parts
		case crops && f.Of != "" && f.Slot != engine.Duration && !t.named(f.Of) && !hasOf(said, f.Of), t.dropped(f.Of):
			continue
		}
		f.Origin, f.At, f.AgeDays = engine.Remembered, [2]int{}, age(t.msg.At, r.When)
		facts = append(facts, f)
	}
	return t.fieldArea(facts)
}

// dayPart marks the time that is a working day's length.
const dayPart = "day"

// partOfHaul says whether a part of the haul was said: filling, the drive, spreading.
func partOfHaul(said engine.Facts) bool {
	return slices.ContainsFunc(said, ofHaul)
}

func ofHaul(f engine.Fact) bool {
	return f.Slot == engine.Duration && f.Of != "" && f.Of != "incorporation" && f.Of != dayPart
}

// fieldArea gives the area of the field that is named, else of the one in hand.
func (t *turn) fieldArea(facts engine.Facts) engine.Facts {
	if facts.First(engine.Area) != nil {
		return facts
	}
	f := t.findField(t.req.Field) // "how many loads for field 1"
	if f == nil {
		f = t.fieldInHand()
	}
	if f != nil && f.Area > 0 {
		ground := f.Ground
		if ground.Unit == nil {
			ground = engine.Fact{Min: f.Area, Max: f.Area, Unit: unit.Must("acre")}
		}
		ground.Slot, ground.Origin, ground.At = engine.Area, engine.Remembered, [2]int{}
		facts = append(facts, ground)
	}
	return facts
}

func saysSeed(fs engine.Facts) bool {
	return fs.First(engine.SeedRate) != nil || fs.First(engine.SeedShare) != nil
}

// dropped says whether this message takes the crop, or its kind, back: "no ryegrass".
func (t *turn) dropped(crop string) bool {
	return crop != "" && slices.ContainsFunc(t.req.Dropped, func(d string) bool {
		return d == crop || strings.HasSuffix(crop, " "+d) && !t.named(crop)
	})
}

// dropCrop forgets a crop of the chat where that is all that was said: "skip the clover".
func (t *turn) dropCrop() bool {
	if p := t.req.Problem; p == nil || p.Code != engine.Negated || len(t.req.Dropped) == 0 || len(t.said)+len(t.req.Asks)+len(t.req.Acts) > 0 || t.whatIf {
		return false
	}
	i := slices.IndexFunc(t.m.Facts, func(r Remembered) bool { return ofSeed(r.Fact) && t.dropped(r.Fact.Of) })
	if i < 0 {
		return false
	}
	t.topic(engine.TopicSetup)
	t.out.Withdrawn = nil // it was used
	t.out.Subject, t.out.SubjectOf = engine.SeedRate, t.m.Facts[i].Fact.Of
	first := t.out.SubjectOf
	t.takeOut()
	t.out.Notes = slices.DeleteFunc(t.out.Notes, func(n engine.Note) bool { return n.ID == "left_out" && n.Of == first })
	return t.doneSetup(engine.ActForgot)
}

// named says whether this message names the crop.
func (t *turn) named(crop string) bool {
	for _, c := range t.req.Crops {
		if c.Name == crop {
			return true
		}
	}
	for i := range t.said {
		if t.said[i].Of == crop {
			return true
		}
	}
	return false
}

// withCrops adds the crops that were named without a rate, so that the engine asks
// for the rate or tells about the crop.
func (t *turn) withCrops(facts engine.Facts) engine.Facts {
	for _, c := range t.req.Crops {
		if c.Name == "" || engine.CropNamed(c.Name) == nil || facts.Find(engine.SeedRate, c.Name) != nil {
			continue
		}
		facts = append(facts, engine.Fact{Slot: engine.CropSaid, Of: c.Name, Unit: noUnit, At: c.At})
	}
	return facts
}

// solves is the quantity that a topic solves for: a remembered value of it gives
// way to the answer.
var solves = map[engine.Topic]engine.Slot{engine.TopicRate: engine.ApplicationRate, engine.TopicFlow: engine.Flow, engine.TopicSpeed: engine.Speed,
	engine.TopicNeed: engine.ApplicationRate}

// four are the quantities of one equation: any three give the fourth.
var four = [...]engine.Slot{engine.Flow, engine.Speed, engine.Width, engine.ApplicationRate}

// dropOverdetermined takes out remembered values that the question solves for, and
// one of the four of the flow equation when all four are there and one is only
// remembered: what was just said counts.
func dropOverdetermined(facts engine.Facts, topics []engine.Topic, focus []engine.Slot) engine.Facts {
	facts = flowOfUnload(facts, topics, focus)
	for _, topic := range topics {
		if s := solves[topic]; s == engine.Flow && emptying(focus) && facts.First(engine.Speed) == nil {
			continue
		}
		if s := solves[topic]; s != engine.NoSlot {
			facts = dropRemembered(facts, s)
		}
	}
	facts = preferSaid(facts, topics)
	for _, s := range four {
		if facts.First(s) == nil {
			return facts
		}
	}
	for i := range facts { // remembered ones stand in the order they were told: the oldest gives way
		if f := &facts[i]; f.Origin == engine.Remembered && slices.Contains(four[:], f.Slot) {
			return dropRemembered(facts, f.Slot)
		}
	}
	return facts
}

// emptying says whether only the time to empty was asked for, which a known flow gives.
func emptying(focus []engine.Slot) bool {
	return len(focus) > 0 && !slices.ContainsFunc(focus, func(s engine.Slot) bool { return s != engine.UnloadTime && !seedResult[s] && s != engine.AreaPerLoad })
}

// flowOfUnload: "how long to empty it" goes by the flow that was told, and by the speed only
// where that was told later.
func flowOfUnload(facts engine.Facts, topics []engine.Topic, focus []engine.Slot) engine.Facts {
	if !slices.Contains(topics, engine.TopicFlow) || !emptying(focus) {
		return facts
	}
	for i := range facts { // what the chat has, in the order told
		if s := facts[i].Slot; facts[i].Origin == engine.Remembered && (s == engine.Flow || s == engine.Speed) {
			for k := i + 1; k < len(facts); k++ {
				if o := facts[k].Slot; facts[k].Origin == engine.Remembered && s == engine.Speed && o == engine.Flow {
					return dropRemembered(facts, engine.Speed)
				}
			}
		}
	}
	return facts
}

// preferSaid takes out remembered values that would answer a question in place of
// what was just said: a timed unload, a strip, a measured course.
func preferSaid(facts engine.Facts, topics []engine.Topic) engine.Facts {
	said := func(slots ...engine.Slot) bool {
		return slices.ContainsFunc(facts, func(f engine.Fact) bool { return f.Origin == engine.Said && slices.Contains(slots, f.Slot) })
	}
	if slices.Contains(topics, engine.TopicRate) && !said(engine.Area, engine.LoadVolume, engine.TankVolume, engine.LoadCount, engine.AreaPerLoad, engine.TotalVolume) {
		facts = dropRemembered(facts, engine.Area) // one tank over the whole field is no rate
	}
	for _, topic := range topics {
		switch {
		case topic == engine.TopicFlow && said(engine.UnloadTime, engine.Duration) && !said(engine.Speed),
			topic == engine.TopicRate && said(engine.Area, engine.Distance, engine.AreaPerLoad) && !said(engine.Flow, engine.Speed):
			facts = dropRemembered(dropRemembered(facts, engine.Speed), engine.Flow)
		case topic == engine.TopicNutrients && said(engine.LoadVolume) && !said(engine.ApplicationRate, engine.Flow, engine.AreaPerLoad):
			facts = dropRemembered(facts, engine.ApplicationRate) // what is in 6000 gallons
		case topic == engine.TopicSpeed && said(engine.Distance, engine.Duration):
			facts = dropRemembered(facts, engine.Flow)
		}
	}
	return facts
}

func dropRemembered(facts engine.Facts, s engine.Slot) engine.Facts {
	return slices.DeleteFunc(facts, func(f engine.Fact) bool { return f.Slot == s && f.Origin == engine.Remembered })
}

// realFacts leaves out the marks for crops without a rate, which finish adds.
func realFacts(fs engine.Facts) engine.Facts {
	return slices.DeleteFunc(fs, func(f engine.Fact) bool { return f.Slot == engine.CropSaid })
}

// keepsMix says whether the other crops stay when a seed rate is said: one goes out for
// another, "no more radish, turnip at 2 lb", the rate of one is put right, "no, 3", or
// that of one in the mix is changed, "radish at 4". "Only vetch at 20" keeps none.
func (t *turn) keepsMix() bool {
	if t.req.Only {
		return false
	}
	if t.req.Correct && len(t.req.Crops) == 0 || t.req.Edits {
		return true
	}
	mixed := func(f engine.Fact) bool {
		return slices.ContainsFunc(t.m.Facts, func(r Remembered) bool { return r.Fact.Slot == f.Slot && r.Fact.Of == f.Of })
	}
	rates := 0
	for i := range t.said {
		if f := t.said[i]; ofSeed(f) {
			if rates++; rates > 1 || !mixed(f) {
				rates = 2
				break
			}
		}
	}
	return rates == 1 && (!t.req.Question || len(t.req.Dropped) > 0) || t.addsToMix() || slices.ContainsFunc(t.m.Facts, func(r Remembered) bool { return ofSeed(r.Fact) && t.dropped(r.Fact.Of) })
}

// addsToMix: "no es trébol, es veza a 20 libras" after "mezcla con trébol": what was being
// added is put right, and what it was added to stays.
func (t *turn) addsToMix() bool {
	p := t.asked
	return p != nil && slices.ContainsFunc(p.Crops, t.dropped) || p != nil && slices.ContainsFunc(p.Words, t.dropped)
}

// remember keeps the facts of a statement. A what-if, a refusal and a value out of
// its usual band that nobody confirmed are not kept.
func (t *turn) remember() {
	if t.whatIf {
		t.keepNew()
		return
	}
	if t.out.Status == engine.Refused || t.out.Status == engine.NotUnderstood {
		return
	}
	keeps := t.keepsMix()
	t.takeOut()
	if saysSeed(t.said) && !keeps {
		t.m.Facts = slices.DeleteFunc(t.m.Facts, func(r Remembered) bool { return ofSeed(r.Fact) && !t.named(r.Fact.Of) })
	}
	for i := range t.said {
		if f := t.said[i]; t.req.Refill && (f.Slot == engine.HeelVolume || f.Slot == engine.TankVolume && t.knows(f.Slot)) {
			continue // left this once, and filled up this far
		} else if kept(&f) && !(f.Of == "mix" && t.context.Shut) && engine.Plausible(&f) == engine.Fine && (f.Slot != engine.SeedRate || engine.CropNamed(f.Of) != nil) {
			t.keep(f)
		}
	}
	t.keepDay()
	t.keepMeasured()
	if slices.Contains(t.topics, engine.TopicSeedLot) && t.out.Status == engine.Answered {
		t.weighLive()
	}
}

// takeOut forgets the crops that the message takes out of the mix, and says so: "boss says
// drop the radish to 2 and forget the rape".
func (t *turn) takeOut() {
	if len(t.req.Dropped) == 0 {
		return
	}
	t.m.Facts = slices.DeleteFunc(t.m.Facts, func(r Remembered) bool {
		out := ofSeed(r.Fact) && t.dropped(r.Fact.Of)
		if out && t.out.Status != engine.Asks {
			t.note(engine.Note{ID: "left_out", Level: engine.Advice, Of: r.Fact.Of})
			t.out.Withdrawn = slices.DeleteFunc(slices.Clone(t.out.Withdrawn), func(s engine.Span) bool { return slices.Contains(t.req.DroppedAt, s.At) })
		}
		return out
	})
}

// keepNew keeps what a question says of quantities that the chat does not have yet: "con 3
// metros de ancho y a 6 km/h, ¿en qué marca va?" tries nothing out where no width is known.
func (t *turn) keepNew() {
	if t.req.Foreign || t.out.Status == engine.Refused || t.out.Status == engine.NotUnderstood {
		return
	}
	had := t.m.Facts
	for i := range t.said {
		f := t.said[i]
		known := slices.ContainsFunc(had, func(r Remembered) bool { return r.Fact.Slot == f.Slot }) || f.Slot == engine.Area && t.merged(nil).First(engine.Area) != nil
		if !known && kept(&f) && f.Origin == engine.Said && engine.Plausible(&f) == engine.Fine && (f.Slot != engine.SeedRate || engine.CropNamed(f.Of) != nil) {
			t.keep(f)
			t.fresh = append(t.fresh, f.Slot)
		}
	}
}

// tellTried says that a what-if changed nothing; where it said something new beside what
// it tried, only of which that holds.
func (t *turn) tellTried() {
	if len(t.fresh) == 0 {
		t.note(engine.Note{ID: "what_if", Level: engine.Advice})
		return
	}
	for i := range t.said {
		if s := t.said[i].Slot; stays[s] && !slices.Contains(t.fresh, s) {
			t.note(engine.Note{ID: "what_if_of", Level: engine.Advice, Slot: s})
			return
		}
	}
}

// keepDay: after "how many loads in a 9 hour day" the chat knows how long its day is.
func (t *turn) keepDay() {
	if f := t.said.Find(engine.Duration, ""); f != nil && t.req.DayLong && !f.Range() {
		day := *f
		day.Of = dayPart
		t.keep(day)
	}
}

// keepMeasured: a flow that was measured by catching it, "42 gallons in 5 seconds", is the
// chat's from then on.
func (t *turn) keepMeasured() {
	if t.out.Status != engine.Answered {
		return
	}
	for i := range t.out.Results {
		if v := &t.out.Results[i]; engine.Measured(v) && v.Min == v.Max {
			u := t.out.Units.UnitFor(engine.Flow)
			t.keep(engine.Fact{Slot: engine.Flow, Min: u.FromBase(v.Min), Max: u.FromBase(v.Min), Unit: u})
		}
	}
}

// weighLive: who was told what to weigh by a lot's tag is told so for the loads as well.
func (t *turn) weighLive() {
	for _, v := range t.out.Results {
		for i := range t.m.Facts {
			if f := &t.m.Facts[i].Fact; v.Slot == engine.BulkSeedRate && f.Slot == engine.SeedRate && f.Of == v.Of {
				f.Live = true
			}
		}
	}
}

func ofSeed(f engine.Fact) bool { return f.Slot == engine.SeedRate || f.Slot == engine.SeedShare }

// keep replaces the remembered value of a quantity.
func (t *turn) keep(f engine.Fact) {
	f.At = [2]int{}
	if f.Slot == engine.Area {
		t.setFieldArea(f)
		return
	}
	if t.m.Facts == nil {
		t.m.Facts = make([]Remembered, 0, 8)
	}
	haul := ofHaul(f)
	t.m.Facts = slices.DeleteFunc(t.m.Facts, func(r Remembered) bool {
		return r.Fact.Slot == f.Slot && r.Fact.Of == f.Of || haul && r.Fact.Slot == engine.CycleTime
	})
	t.m.Facts = append(t.m.Facts, Remembered{Fact: f, When: t.msg.At, Who: t.msg.Person.Name})
}

// setFieldArea: the area belongs to the field in hand; without one it opens an
// unnamed field.
func (t *turn) setFieldArea(f engine.Fact) {
	acres, _ := f.Base()
	opened := t.fieldInHand() == nil
	if opened {
		t.openField("", 0)
	}
	cur := t.fieldInHand()
	if cur.Area, cur.Ground = acres, f; opened && !t.req.Next {
		t.takeIn() // the ground that the loads of today are on
	}
}

// openField starts a field with counts of its own and takes it in hand.
func (t *turn) openField(name string, acres float64) {
	t.m.Next++
	t.m.Fields = append(slices.Clone(t.m.Fields), Field{ID: t.m.Next, Name: name, Area: acres, Opened: t.msg.At})
	t.m.Field = t.m.Next
}

func (t *turn) fieldInHand() *Field {
	for i := range t.m.Fields {
		if t.m.Fields[i].ID == t.m.Field && t.m.Field != 0 {
			return &t.m.Fields[i]
		}
	}
	return nil
}

// at is the time a load was spread: as said, else the message's own.
func (t *turn) at() (time.Time, bool) {
	t.timed = true
	now, w := t.msg.At, t.req.When
	if w == nil {
		return now, true
	}
	if w.Ago > 0 {
		return now.Add(-w.Ago), true
	}
	day := now.AddDate(0, 0, -w.Days)
	if w.Clock < 0 {
		return day, true
	}
	at := time.Date(day.Year(), day.Month(), day.Day(), w.Clock/60, w.Clock%60, 0, 0, now.Location())
	if !w.Exact && w.Clock < 720 && w.Days == 0 && now.Hour() >= 12 {
		if pm := at.Add(12 * time.Hour); !pm.After(now) {
			return pm, true // "at 2:15" at three in the afternoon
		}
	}
	return at, !at.After(now.Add(5 * time.Minute))
}
