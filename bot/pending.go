package bot

import (
	"slices"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
	"tankside/parse"
)

// answersPending takes a message as the answer to the question that was asked
// back. A message that is plainly something else drops the question and is dealt
// with as itself.
func (t *turn) answersPending() bool {
	p := t.m.Pending
	if t.act("never_mind") != nil {
		t.m.Pending = nil
		t.out.Status, t.out.Act = engine.Done, engine.ActDropped
		return true
	}
	if t.act("help") != nil {
		return false
	}
	if p.Of == "incorporation" && (t.req.Method != "" || t.req.WorkedIn > 0) && len(t.said)+len(t.req.Loose)+len(t.req.Asks) == 0 {
		t.m.Pending = nil
		t.topics, t.out.Focus = p.Topics, p.Focus // "the same day", "we inject it"
		t.reckon(t.overlay(t.merged(nil), p.Facts))
		return true
	}
	var fact *engine.Fact
	switch {
	case formsOf[p.Problem] != nil && len(t.said)+len(t.req.Loose) == 0 && t.asksNutrients():
		t.out.Status, t.out.Problem, t.out.Topics = engine.Asks, p.Problem, p.Topics // "how much P": that hangs on it
		return true
	case len(t.req.Asks) > 0 || t.newActs():
		return false
	case t.act("yes") != nil && len(t.said) == 0 && len(t.req.Loose) == 0:
		return t.confirmed(p)
	case t.act("no") != nil && len(t.said) == 0 && len(t.req.Loose) == 0:
		t.m.Pending = nil
		t.out.Status, t.out.Act = engine.Done, engine.ActDropped
		return true
	case p.Problem == engine.Ambiguous && p.Slot == engine.SeedPrice:
		fact = t.pricedBy(p)
	case len(p.Choices) > 0:
		fact = t.chosen(p)
	}
	if fact == nil && len(p.Choices) > 0 {
		fact = t.byKind(p)
	}
	if fact == nil && p.Slot != engine.NoSlot {
		fact = t.filled(p)
	}
	if fact == nil {
		fact = t.cropNamed(p)
	}
	if fact == nil {
		return t.stillPending(p)
	}
	return t.goOn(p, *fact)
}

// loadsOpen is the question about loads to be logged that this message did not answer: it is
// named once more behind what was answered, so that no load is lost in silence.
func (t *turn) loadsOpen() *Pending {
	p := t.loadsAsked()
	if p == nil || p.Again || p == t.asked && t.pending != nil || t.act("log") != nil || t.out.Act == engine.ActDropped || t.out.Act == engine.ActLogged || t.out.Act == engine.ActForgotAll {
		return nil
	}
	n := p.Facts.First(engine.LoadCount)
	if n == nil {
		return nil
	}
	again := *p
	again.Again = true
	t.note(engine.Note{ID: "loads_open", Level: engine.Caution, Slot: engine.LoadCount, Value: n.Min})
	return &again
}

// loadsAsked is the question about loads to be logged that was open, or that waits behind
// the one that was.
func (t *turn) loadsAsked() *Pending {
	p := t.asked
	if p != nil && p.Problem != engine.ConfirmHeard && p.Problem != engine.ConfirmLoads {
		p = p.Behind
	}
	if p == nil || p.Problem != engine.ConfirmLoads {
		return nil
	}
	return p
}

// loadsWait lets that question wait behind one that is asked first: "3 loads", "how fast do
// I go", "12 ft", and then it is named again.
func (t *turn) loadsWait() {
	if p, now := t.loadsAsked(), t.m.Pending; p != nil && !p.Again && now != nil && now != p && now.Behind == nil && now.Problem != engine.ConfirmLoads && now.Problem != engine.ConfirmHeard && !(p == t.asked && t.pending != nil) {
		waits := *now
		waits.Behind = p
		t.m.Pending = &waits
	}
}

// newActs says whether the message does something of its own.
func (t *turn) newActs() bool {
	return slices.ContainsFunc(t.req.Acts, func(a parse.Act) bool {
		return a.Name != "yes" && a.Name != "no" && a.Name != "same" && a.Name != "done"
	})
}

// chosen finds the offered reading that the answer names: by its number, its
// quantity's word, its unit, or its crop.
func (t *turn) chosen(p *Pending) *engine.Fact {
	var hit *engine.Choice
	for i := range p.Choices {
		if t.names(&p.Choices[i]) {
			if hit != nil {
				return nil
			}
			hit = &p.Choices[i]
		}
	}
	if hit == nil {
		return nil
	}
	f := engine.Fact{Slot: hit.Slot, Of: hit.Of, Min: hit.Min, Max: hit.Max, Unit: hit.Unit, Origin: engine.Said}
	if f.Unit == nil {
		f.Unit = noUnit
	}
	t.consume()
	return &f
}

// byKind finds a crop by the word that tells it from the others offered: "red" to
// "which clover?".
func (t *turn) byKind(p *Pending) *engine.Fact {
	text := strings.TrimSpace(t.msg.Text)
	if len(text) > 30 {
		return nil
	}
	for _, form := range [...]string{"%s clover", "trébol %s", "%s rye", "%s ryegrass", "%s fescue", "ballico %s"} {
		name := strings.Replace(form, "%s", text, 1)
		r := parse.Parse(name, parse.Context{Lang: t.m.Lang})
		if len(r.Crops) != 1 || r.Crops[0].At != [2]int{0, len(name)} { // "a few gallons ryegrass" is more than a name
			continue
		}
		for i := range p.Choices {
			if c := &p.Choices[i]; c.Slot == engine.CropSaid && c.Of == r.Crops[0].Name {
				t.consume()
				return &engine.Fact{Slot: engine.CropSaid, Of: c.Of, Unit: noUnit}
			}
		}
	}
	return nil
}

// cropNamed takes a crop said alone as the answer to which crop the seed is of: "oats".
func (t *turn) cropNamed(p *Pending) *engine.Fact {
	if p.Problem != engine.WhichCrop || len(p.Choices) > 0 || len(t.req.Crops) != 1 || len(t.said)+len(t.req.Loose) > 0 || t.req.Question {
		return nil
	}
	name := t.req.Crops[0].Name // a bare "rye" or "clover" is settled by the rate it then has
	f := &engine.Fact{Slot: engine.CropSaid, Of: name, Unit: noUnit, At: t.req.Crops[0].At}
	t.consume()
	return f
}

// names says whether the message names a choice.
func (t *turn) names(c *engine.Choice) bool {
	for _, l := range t.req.Loose {
		if l.Min == c.Min && c.Unit != nil {
			return true
		}
	}
	if t.req.Kind != "" && t.req.Kind == c.Of {
		return true // "the white one"
	}
	for _, cr := range t.req.Crops {
		if cr.Name == c.Of && c.Of != "" || cr.Name == ryeWord && c.Of == "cereal rye" || cr.Name == "grass" && strings.HasSuffix(c.Of, "grass") {
			return true
		}
	}
	for i := range t.said {
		f := &t.said[i]
		sameValue := f.Min == c.Min && f.Max == c.Max // "no, the tank is 4000" is no answer to "7,000 gal tank or …?"
		if f.Slot == c.Slot && f.Slot != engine.NoSlot && c.Slot != engine.CropSaid && sameValue || f.Of != "" && f.Of == c.Of {
			return true
		}
	}
	for _, m := range t.req.Mentions {
		if m.Slot == c.Slot && c.Slot != engine.NoSlot || m.Unit != nil && c.Unit != nil && m.Unit.Symbol == c.Unit.Symbol {
			return true
		}
	}
	return false
}

// consume takes the answer's own words out of the reading: they have been used.
func (t *turn) consume() {
	t.req.Loose, t.req.Crops, t.said, t.req.Problem = nil, nil, nil, nil
	t.out.Unread = nil
}

// filled reads the answer as the missing quantity: a bare number in the unit asked
// for, or an amount with a unit that fits.
func (t *turn) filled(p *Pending) *engine.Fact {
	if p.Problem != "" && !valueAsked[p.Problem] {
		return nil
	}
	for i := range t.said {
		f := t.said[i]
		if f.Slot == p.Slot && (f.Of == p.Of || p.Of == "" || f.Of == "") {
			t.said = slices.Delete(slices.Clone(t.said), i, i+1)
			if f.Of == "" {
				f.Of = p.Of
			}
			return &f
		}
	}
	if p.Slot == engine.CropSaid && len(t.req.Crops) == 1 && len(t.said) == 0 {
		f := engine.Fact{Slot: engine.CropSaid, Of: t.req.Crops[0].Name, Unit: noUnit, At: t.req.Crops[0].At}
		return &f
	}
	if len(t.req.Loose) == 1 && len(t.said) == 0 {
		l := t.req.Loose[0]
		if p.Problem == engine.ConfirmLoads && slices.ContainsFunc(t.req.Mentions, func(m parse.Mention) bool { return m.Slot != engine.LoadCount }) {
			return nil // "cut the water to 12" counts no loads
		}
		if l.Unit == nil && p.Of == "incorporation" {
			l.Unit = unit.Must("h") // it was asked for in hours
		}
		if l.Unit == nil || l.Unit.Dim == p.Slot.Dim() || l.Unit.Dim == unit.DimMass && p.Slot.Dim() == unit.DimMassPerArea || l.Unit.Dim == unit.DimVolume && p.Slot == engine.ApplicationRate {
			f := t.factOf(l, p.Slot)
			f.Of = p.Of
			if t.whatIf && engine.Plausible(&f) != engine.Fine {
				return nil // "le voy a dar a 3.5" is no flow
			}
			t.req.Loose = nil
			return &f
		}
	}
	if len(t.said) == 1 && len(t.req.Loose) == 0 {
		return t.inTheLight(p, t.said[0])
	}
	return nil
}

// valueAsked are the problems that a new value of their quantity settles.
var valueAsked = map[string]bool{engine.ConflictCode: true, engine.OldFact: true, engine.ConfirmUnusual: true, engine.NumberForm: true, engine.Vague: true, engine.OverFull: true, engine.ConfirmLoads: true}

// inTheLight takes an amount whose unit fits the question less than exactly:
// "7000 gallons" to "how many gallons an acre", "12 pounds" to the seed rate.
func (t *turn) inTheLight(p *Pending, f engine.Fact) *engine.Fact {
	if f.Slot != p.Slot && t.req.Named(f.Slot) {
		return nil // "tank is four thousand" answers no question about the flow
	}
	if f.Unit.Dim == p.Slot.Dim() {
		f.Slot, f.Of = p.Slot, p.Of
		t.said = nil
		return &f
	}
	per := "/acre"
	if f.Unit.System == unit.Metric {
		per = "/ha"
	}
	u := unit.Find(f.Unit.Symbol + per)
	if f.Slot == engine.SeedRate || u == nil || u.Dim != p.Slot.Dim() {
		if u = unit.Find(f.Unit.Symbol + "/min"); u == nil || u.Dim != p.Slot.Dim() {
			return nil
		}
	}
	f.Slot, f.Of, f.Unit, f.Implied = p.Slot, p.Of, u, true
	t.said = nil
	return &f
}

// stillPending: nothing of the message answers the question. Facts that were said
// join what had been said; an unrelated message drops it.
func (t *turn) stillPending(p *Pending) bool {
	if slices.Contains(p.Topics, engine.TopicAgitation) && !t.knows(engine.PumpFlow) && p.Facts.First(engine.PumpFlow) == nil && t.said.First(engine.PumpFlow) == nil {
		for i := range t.said {
			if t.said[i].Slot == engine.Flow {
				t.said[i].Slot = engine.PumpFlow // "will the pump do that" – "1100 gpm"
			}
		}
	}
	if len(t.said) > 0 && len(p.Topics) > 0 && !t.whatIf && len(engine.Follows(t.said)) == 0 && p.Problem == "" {
		t.said = joinFacts(p.Facts, t.said)
		t.topics, t.out.Focus = p.Topics, p.Focus
		return false
	}
	t.m.Pending = nil
	return false
}

// joinFacts is what is said now over what had been said, which is remembered.
func joinFacts(old, now engine.Facts) engine.Facts {
	out := slices.Clone(now)
	for _, f := range old {
		if out.Find(f.Slot, f.Of) == nil && !(f.Slot == engine.SeedRate && f.Of == "" && out.First(engine.SeedRate) != nil) {
			f.At, f.Origin = [2]int{}, engine.Remembered
			out = append(out, f)
		}
	}
	return out
}

// goOn answers the question that was waiting, with the fact that it lacked.
func (t *turn) goOn(p *Pending, f engine.Fact) bool {
	facts := slices.Clone(p.Facts)
	if f.Slot == engine.CropSaid && f.Of != "" {
		named := false
		for i := range facts {
			if facts[i].Of == "" && (facts[i].Slot == engine.SeedRate || facts[i].Slot == engine.SeedShare || facts[i].Slot == engine.SeedPrice ||
				facts[i].Slot == engine.Purity || facts[i].Slot == engine.Germination || facts[i].Slot == engine.TotalSeed) {
				facts[i].Of, named = f.Of, true
			}
		}
		if !named {
			t.req.Crops = append(t.req.Crops, parse.Crop{Name: f.Of, At: f.At})
		}
	} else {
		facts, t.said = without2(facts, f), append(slices.Clone(t.said), f)
	}
	t.said = joinFacts(facts, t.said)
	t.pending, t.m.Pending = p, nil
	t.topics = p.Topics
	t.out.Focus = p.Focus
	t.req.Problem = nil
	for _, name := range p.Crops {
		if !hasOf(t.said, name) && !slices.ContainsFunc(t.req.Crops, func(c parse.Crop) bool { return c.Name == name }) {
			t.req.Crops = append(t.req.Crops, parse.Crop{Name: name})
		}
	}
	if fit := engine.Plausible(&f); fit == engine.TooFar || fit == engine.NotPos {
		t.m.Pending = p
	}
	switch p.Act {
	case "log":
		return t.logLoad(p.Load)
	case "returns":
		return t.returns()
	}
	return false
}

// without2 takes out the values that a new one replaces.
func without2(fs engine.Facts, f engine.Fact) engine.Facts {
	return slices.DeleteFunc(slices.Clone(fs), func(o engine.Fact) bool { return o.Slot == f.Slot && o.Of == f.Of })
}

// confirmed: "yes" to a question that a yes answers.
func (t *turn) confirmed(p *Pending) bool {
	t.pending, t.m.Pending = p, nil
	switch {
	case p.Problem == engine.CountBefore:
		return t.takenIn()
	case p.Act == "log" && p.Problem == engine.ConfirmUnusual:
		return t.logLoad(p.Load)
	case p.Problem == engine.ConfirmLoads:
		t.said = p.Facts
		return t.logLoad(nil)
	case p.Problem == engine.OldFact:
		for i := range t.m.Facts {
			t.m.Facts[i].When = t.msg.At // all of them were on the table
		}
		t.said, t.topics = p.Facts, p.Topics
		return t.question()
	case p.Problem == engine.ConfirmUnusual:
		for _, f := range p.Facts {
			if kept(&f) {
				t.keep(f)
			}
		}
		t.out.Status, t.out.Act = engine.Done, engine.ActConfirmed
		t.said = p.Facts
		t.topic(engine.TopicSetup)
		return true
	case len(p.Choices) == 1:
		c := p.Choices[0]
		f := engine.Fact{Slot: c.Slot, Of: c.Of, Min: c.Min, Max: c.Max, Unit: c.Unit}
		if f.Unit == nil {
			f.Unit = noUnit
		}
		return t.goOn(p, f)
	}
	t.m.Pending = p
	t.out.Status, t.out.Problem, t.out.Choices, t.out.Words = engine.Asks, p.Problem, p.Choices, p.Words
	t.out.Topics = p.Topics
	if p.Problem == "" && p.Slot != engine.NoSlot {
		t.out.Missing, t.out.MissingOf = []engine.Slot{p.Slot}, []string{p.Of}
	}
	return true
}

// isName says whether two field names are the same to a reader.
func isName(a, b string) bool { return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b)) }
