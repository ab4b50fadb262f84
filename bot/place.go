package bot

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"tankside/engine"
	"tankside/engine/unit"
	"tankside/parse"
)

// flowAsked: "gate for 420?", "speed for 400": the bare number that a gate or a speed
// is asked for is a flow, where it can be one and no rate.
func (t *turn) flowAsked() {
	if len(t.req.Loose) != 1 || len(t.req.Asks) != 1 || t.said.First(engine.Flow) != nil && t.req.Asks[0].Topic != engine.TopicGate {
		return
	}
	l, ask := t.req.Loose[0], t.req.Asks[0].Topic
	f := t.factOf(l, engine.Flow)
	lo, _ := f.Base()
	pump := t.said.First(engine.PumpFlow)
	behindPump := ask == engine.TopicAgitation && pump != nil && lo < most(pump) // "pump 900 gpm, using 600"
	if l.Unit == nil && (ask == engine.TopicGate || behindPump || ask == engine.TopicSpeed && t.knows(engine.ApplicationRate)) && lo >= 50 && lo < 1500 {
		t.said, t.req.Loose = append(t.said, f), nil
	}
}

func most(f *engine.Fact) float64 {
	_, hi := f.Base()
	return hi
}

// place gives numbers that the message itself could not place to the one quantity
// that the chat leaves open for them; else they are asked about.
func (t *turn) place() bool {
	t.flowAsked()
	for len(t.req.Loose) > 0 {
		l := t.req.Loose[0]
		if t.loadNumber(l) || t.putsLogRight(l) || t.markNamed(l) || t.speedMeant(l) {
			t.req.Loose = t.req.Loose[1:]
			continue
		}
		slots := t.openFor(l)
		if len(slots) != 1 {
			return t.looseNumber(l, slots)
		}
		t.req.Loose = t.req.Loose[1:]
		f := t.factOf(l, slots[0])
		if l.Behind == "at" && len(t.said) == 0 && len(t.req.Asks) > 0 && t.knows(f.Slot) {
			t.whatIf = true // "how far at 9600": what is known stays
		}
		t.said = append(t.said, f)
	}
	return false
}

// loadNumber takes a bare number where a load is logged or corrected as its gallons:
// "make the last one 2800", "log 2800".
func (t *turn) loadNumber(l parse.Loose) bool {
	if t.act("correct") == nil && t.act("log") == nil || l.Unit != nil && l.Unit.Dim != unit.DimVolume || t.said.First(engine.LoadVolume) != nil {
		return false
	}
	if whole := l.Min == math.Trunc(l.Min) && l.Min == l.Max; whole && l.Unit == nil && l.Min >= 1 && l.Min <= 12 && len(t.said) == 0 && len(t.req.Acts) == 1 && t.act("log") != nil && !t.act("log").Not {
		t.said, t.req.Acts = append(t.said, t.factOf(l, engine.LoadCount)), nil // "log 2" may be load 2: asked about
		return true
	}
	f := t.factOf(l, engine.LoadVolume)
	if f.Unit = t.out.Units.UnitFor(engine.LoadVolume); l.Unit != nil {
		f.Unit = l.Unit
	}
	if f.Implied = l.Unit == nil; l.Max < 100 && f.Unit.Base == 1 || strings.HasPrefix(l.Text, "0") { // 0630 is a time
		return false
	}
	t.said = append(t.said, f)
	return true
}

// markNamed takes a small bare number that is a mark of the chat's gate as that, where
// what it gives is asked: "me voy con la 2 entonces, ¿a qué velocidad?".
func (t *turn) markNamed(l parse.Loose) bool {
	asks := t.req.Asks
	if len(asks) == 0 && t.whatIf {
		asks = t.markAgain(l)
	}
	if len(asks) == 0 || l.Unit != nil || l.Min != l.Max || l.Min > 48 || t.said.First(engine.GateOpening) != nil || t.said.First(engine.Flow) != nil {
		return false
	}
	f := t.factOf(l, engine.GateOpening)
	f.Unit, f.Implied = noUnit, false
	behind := l.Behind
	if len(t.req.Asks) == 0 && asks != nil && asks[0].Topic == engine.TopicSpeed {
		behind = "on" // "and at 3?" after the speed at mark 2
	}
	if !t.timedAt(&f, behind) || !slices.ContainsFunc(asks, func(a parse.Ask) bool { return ofMark(a, behind) }) {
		return false
	}
	t.said, t.whatIf, t.req.Asks = append(t.said, f), false, asks
	for i := range t.req.Asks {
		if a := &t.req.Asks[i]; a.Topic == engine.TopicFlow && a.Slot == engine.Flow {
			a.Topic = engine.TopicGate // "cuánto sale en la 4"
		}
	}
	return true
}

// markAgain is what a number alone asks where it is one more mark: "and on 5?", or "and at
// 5?" right after an answer that was about a mark.
func (t *turn) markAgain(l parse.Loose) []parse.Ask {
	last := t.m.Last
	if last == nil || len(last.Topics) == 0 || len(t.said)+len(t.req.Acts)+len(t.req.Crops) > 0 || l.Behind != "on" && last.Facts.First(engine.GateOpening) == nil {
		return nil
	}
	if last.Topics[0] != engine.TopicSpeed && last.Facts.First(engine.Speed) == nil && !t.knows(engine.Speed) && l.Behind != "on" {
		return nil // the rate may as well be asked for at another speed
	}
	slot := engine.NoSlot
	if last.Topics[0] == engine.TopicFlow {
		slot = engine.UnloadTime
	}
	return []parse.Ask{{Topic: last.Topics[0], Slot: slot}}
}

// timedAt says whether the chat's gate has a run at a mark; where the words say that the
// gate is set there, any run of it will do: what leaves at a mark that was not timed is
// asked for.
func (t *turn) timedAt(mark *engine.Fact, behind string) bool {
	runs := t.outletRuns()
	if behind == "on" {
		return len(runs) > 0
	}
	return slices.ContainsFunc(runs, func(r engine.Run) bool { return r.Opening == mark.Min })
}

// ofMark says whether what is asked can follow from a mark of the gate. Behind "at" a
// number may as well be the speed that a rate is asked for.
func ofMark(a parse.Ask, behind string) bool {
	switch a.Topic {
	case engine.TopicSpeed:
		return true
	case engine.TopicRate, engine.TopicAgitation:
		return behind != "at"
	case engine.TopicFlow:
		return behind == "on" || a.Slot == engine.UnloadTime && behind != "at"
	case engine.TopicDepth, engine.TopicGate:
		return behind == "on"
	}
	return false
}

// speedMeant takes a small bare number as the speed where only that is open for it: "i like
// 3.5, what would the rate be then" right after a speed, "what flow do i need at 3.5".
func (t *turn) speedMeant(l parse.Loose) bool {
	f := t.factOf(l, engine.Speed)
	if t.paceTold(l, f) {
		return true
	}
	if l.Unit != nil || l.Min != l.Max || l.Part || t.said.First(engine.Speed) != nil || !t.knows(engine.Width) && t.said.First(engine.Width) == nil || engine.Plausible(&f) != engine.Fine {
		return false
	}
	if len(t.req.Asks) == 0 && t.whatIf && slices.ContainsFunc(t.req.Mentions, func(m parse.Mention) bool { return m.Slot == engine.ApplicationRate }) {
		t.req.Asks = []parse.Ask{{Topic: engine.TopicRate, Slot: engine.ApplicationRate}} // "le voy a dar a 3.5, ¿qué pasa con la dosis?"
	}
	needs := slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool {
		return a.Topic == engine.TopicRate || a.Topic == engine.TopicFlow || a.Topic == engine.TopicDepth
	})
	spoken := t.m.Last != nil && len(t.m.Last.Topics) > 0 && t.m.Last.Topics[0] == engine.TopicSpeed
	if !needs || !spoken && l.Behind != "at" || t.could(l, engine.ApplicationRate) && !spoken {
		return false
	}
	f.Implied = true
	t.said, t.whatIf = append(t.said, f), true
	return true
}

// paceTold takes a number that somebody goes by now as the speed, in a chat that has one it
// is near to: "slowed to 2 what now", "im doing 4 now". What leaves, or what goes on, at
// that speed is told. Right after a load the number may as well be the next one's.
func (t *turn) paceTold(l parse.Loose, f engine.Fact) bool {
	wide := len(t.said) == 1 && t.said[0].Slot == engine.Width // "ancho 4 metros voy a 5"
	if !l.Pace || t.said.First(engine.Speed) != nil || len(t.said) > 0 && !wide || len(t.req.Acts)+len(t.req.Crops) > 0 || engine.Plausible(&f) != engine.Fine || t.loggedLast() && !wide {
		return false
	}
	spoken := t.m.Last != nil && len(t.m.Last.Topics) > 0 && t.m.Last.Topics[0] == engine.TopicSpeed
	if t.knows(engine.Speed) && t.off(l, engine.Speed) > 3 || !t.knows(engine.Speed) && !spoken && !wide {
		return false
	}
	f.Implied = true
	t.said = append(t.said, f)
	if len(t.req.Asks) > 0 || !t.knows(engine.Width) && !wide {
		return true
	}
	switch {
	case t.knows(engine.Flow):
		t.req.Asks = []parse.Ask{{Topic: engine.TopicRate, Slot: engine.ApplicationRate}}
		t.note(engine.Note{ID: "rate_at_pace", Level: engine.Advice})
	case t.knows(engine.ApplicationRate):
		t.req.Asks = []parse.Ask{{Topic: engine.TopicFlow, Slot: engine.Flow}}
		t.note(engine.Note{ID: "flow_at_pace", Level: engine.Advice})
	}
	return true
}

// putsLogRight takes a bare number that corrects what was said before as the gallons, or
// the count, of the loads logged, where nothing was told since: "no wait it was 2600",
// "perdón, eran dos más".
func (t *turn) putsLogRight(l parse.Loose) bool {
	if !t.req.Correct || l.Unit != nil || l.Min != l.Max || len(t.said)+len(t.req.Crops)+len(t.req.Asks) > 0 || t.req.Question || len(t.book.Recent) == 0 {
		return false
	}
	if !t.loggedLast() {
		return false
	}
	last, f := t.book.Recent[0], t.factOf(l, engine.LoadCount)
	if l.Min >= 100 {
		f = t.factOf(l, engine.LoadVolume)
		f.Unit, f.Implied = t.out.Units.UnitFor(engine.LoadVolume), true
	}
	lo, _ := f.Base()
	count := f.Slot == engine.LoadCount && lo >= 1 && (lo <= 4 || t.wasReached() > 0) && last.Replaces == 0 // more, or after a load was put right: asked about
	gallons := f.Slot == engine.LoadVolume && lo > last.Volume/20 && lo < last.Volume*1.2                   // no tank takes more
	if !count && !gallons || t.msg.At.Sub(last.Said) > time.Hour {
		return false
	}
	t.said = append(t.said, f)
	return true
}

// loggedLast says whether nothing was told since the newest load was logged.
func (t *turn) loggedLast() bool {
	return len(t.book.Recent) > 0 && !slices.ContainsFunc(t.m.Facts, func(r Remembered) bool { return r.When.After(t.book.Recent[0].Said) })
}

// factOf makes a fact of a loose number.
func (t *turn) factOf(l parse.Loose, s engine.Slot) engine.Fact {
	f := engine.Fact{Slot: s, Min: l.Min, Max: l.Max, Unit: l.Unit, Origin: engine.Said, At: l.At, About: l.About}
	if f.Unit == nil || f.Unit.Dim != s.Dim() {
		f.Unit, f.Implied = t.unitOf(s, l), true
		if l.Unit != nil {
			if per := unit.Find(l.Unit.Symbol + "/acre"); per != nil && l.Unit.System != unit.Metric && per.Dim == s.Dim() {
				f.Unit = per
			} else if per := unit.Find(l.Unit.Symbol + "/ha"); per != nil && l.Unit.System == unit.Metric && per.Dim == s.Dim() {
				f.Unit = per
			}
		}
	}
	if s == engine.SeedRate {
		f.Of = t.oneCrop()
	}
	return f
}

// unitOf is the unit a bare number for this quantity is in: that of the remembered
// value, else the chat's.
func (t *turn) unitOf(s engine.Slot, l parse.Loose) *unit.Unit {
	for i := range t.m.Facts {
		if f := t.m.Facts[i].Fact; f.Slot == s {
			return f.Unit
		}
	}
	u := t.out.Units.UnitFor(s)
	if t.out.Units.System == unit.Metric {
		switch {
		case s == engine.TankVolume && l.Max <= 100:
			return unit.Must("m3")
		case s == engine.ApplicationRate && l.Max >= 1500:
			return unit.Must("L/ha")
		}
	}
	return u
}

func (t *turn) oneCrop() string {
	if len(t.req.Crops) == 1 {
		return t.req.Crops[0].Name
	}
	if t.req.Correct && t.m.Last != nil { // "turnip at 2", "no, 3"
		var of []string
		for _, f := range t.m.Last.Facts {
			if f.Slot == engine.SeedRate && f.Of != "" {
				of = append(of, f.Of)
			}
		}
		if len(of) == 1 {
			return of[0]
		}
	}
	crop := ""
	for i := range t.m.Facts {
		if f := t.m.Facts[i].Fact; f.Slot == engine.SeedRate {
			if crop != "" && crop != f.Of {
				return ""
			}
			crop = f.Of
		}
	}
	return t.kin(crop)
}

// openFor lists the quantities that a loose number can be. In a follow-up or a
// correction those are the ones said lately that it is plausible for and near to;
// else those that the chat still lacks.
func (t *turn) openFor(l parse.Loose) []engine.Slot {
	if slots := t.oncesKnown(l); len(slots) > 0 {
		t.req.Correct = true
		return slots // "its 12 not 15" in a chat that has 15 ft
	}
	var known []engine.Slot
	if t.m.Last != nil {
		known = t.m.Last.Slots
	}
	if t.jarTalk(l) {
		return []engine.Slot{engine.SampleCount} // "29, 41, 22 and 35" after a question about jars
	}
	if l.Part && (t.whatIf || t.knows(engine.TankVolume)) {
		return []engine.Slot{engine.LoadFraction}
	}
	if t.whatIf || t.req.Correct || t.req.Same {
		return t.varied(l, known)
	}
	if s := t.knownValue(l); s != engine.NoSlot {
		return []engine.Slot{s} // "n for the 6500"
	}
	if l.Unit == nil && l.Max < 8 && t.out.Units.System == unit.Metric {
		return nil // a few cubic metres, or a speed, or loads: "van 5", "5 now"
	}
	var out []engine.Slot
	for _, s := range [...]engine.Slot{engine.TankVolume, engine.ApplicationRate} {
		if t.could(l, s) && t.said.First(s) == nil {
			out = append(out, s)
		}
	}
	if len(out) == 2 && t.knows(out[0]) != t.knows(out[1]) && len(t.m.Facts) > 0 {
		if t.knows(out[0]) {
			return out[1:]
		}
		return out[:1]
	}
	return out
}

// oncesKnown lists the quantities that the chat has at the value that a loose number was
// said to replace.
func (t *turn) oncesKnown(l parse.Loose) []engine.Slot {
	if l.Instead == nil {
		return nil
	}
	var out []engine.Slot
	known := t.merged(t.said)
	for i := range known {
		f := &known[i]
		was := engine.Fact{Min: l.Instead.Min, Max: l.Instead.Max, Unit: l.Instead.Unit}
		if was.Unit == nil || was.Unit.Dim != f.Unit.Dim {
			was.Unit = f.Unit
		}
		if bareable[f.Slot] && !slices.Contains(out, f.Slot) && f.Origin == engine.Remembered && sameAmount(f, &was) && t.could(l, f.Slot) {
			out = append(out, f.Slot)
		}
	}
	return out
}

// knownValue is the one quantity that the chat has at just this value; NoSlot when there
// is none or more than one.
func (t *turn) knownValue(l parse.Loose) engine.Slot {
	found := engine.NoSlot
	for i := range t.m.Facts {
		f := &t.m.Facts[i].Fact
		if !bareable[f.Slot] || l.Min != f.Min || l.Max != f.Max || l.Min < 100 || t.said.First(f.Slot) != nil || !t.could(l, f.Slot) {
			continue
		}
		if found != engine.NoSlot {
			return engine.NoSlot
		}
		found = f.Slot
	}
	return found
}

// varied lists the quantities that a follow-up or a correction can mean. A
// correction is of what the last message said; a what-if of what the one before
// varied, else of the rate, which is what people vary; else of the one value that it
// is clearly nearest to.
func (t *turn) varied(l parse.Loose, known []engine.Slot) []engine.Slot {
	var fits []engine.Slot
	if t.req.Correct && l.Max <= 12 && t.loggedLast() {
		return nil // "no, 8" right after a load is not of the acres said before it
	}
	for _, s := range known {
		if s == engine.SeedRate && t.req.Correct && t.knows(s) && t.oneCrop() == "" {
			continue // of which crop of the mix?
		}
		if t.req.Correct && t.off(l, s) >= 3 && t.knows(s) {
			continue // 38 acres are not corrected to 3
		}
		if bareable[s] && t.could(l, s) && t.said.First(s) == nil && !slices.Contains(fits, s) {
			fits = append(fits, s)
		}
	}
	if len(fits) < 2 {
		return fits
	}
	if l.Behind == "at" && slices.Contains(fits, engine.ApplicationRate) && t.off(l, engine.ApplicationRate) < 2.6 {
		return []engine.Slot{engine.ApplicationRate}
	}
	if t.m.Last != nil && (t.req.Correct || t.m.Last.Latest == 1) && len(known) > 0 && fits[0] == known[0] && (t.req.Correct || t.off(l, known[0]) < 2.6) {
		return fits[:1]
	}
	if t.whatIf && slices.Contains(fits, engine.ApplicationRate) && t.off(l, engine.ApplicationRate) < 2.6 {
		return []engine.Slot{engine.ApplicationRate}
	}
	slices.SortStableFunc(fits, func(a, b engine.Slot) int { return cmp.Compare(t.off(l, a), t.off(l, b)) })
	if best, next := math.Log(t.off(l, fits[0])), math.Log(t.off(l, fits[1])); best < 0.5*next {
		return fits[:1]
	}
	return fits
}

// off is by what factor a loose number differs from the value that the chat has.
func (t *turn) off(l parse.Loose, s engine.Slot) float64 {
	old := t.latest(s)
	if old == nil {
		return math.Inf(1)
	}
	f := t.factOf(l, s)
	a, _ := f.Base()
	b, _ := old.Base()
	return math.Exp(math.Abs(math.Log(a / b)))
}

// latest is the value that the chat has for a quantity.
func (t *turn) latest(s engine.Slot) *engine.Fact {
	for i := range t.m.Facts {
		if t.m.Facts[i].Fact.Slot == s {
			return &t.m.Facts[i].Fact
		}
	}
	if t.m.Last != nil {
		return t.m.Last.Facts.First(s)
	}
	return nil
}

// bareable are the quantities that people name by a bare number in a follow-up.
var bareable = map[engine.Slot]bool{engine.TankVolume: true, engine.ApplicationRate: true, engine.SeedRate: true, engine.Speed: true, engine.Width: true,
	engine.Flow: true, engine.PumpFlow: true, engine.Area: true}

// could says whether a loose number is plausible as the quantity.
func (t *turn) could(l parse.Loose, s engine.Slot) bool {
	if l.Unit != nil && l.Unit.Dim != s.Dim() && !(l.Unit.Dim == unit.DimVolume && s == engine.ApplicationRate) && !(l.Unit.Dim == unit.DimMass && s == engine.SeedRate) {
		return false
	}
	f := t.factOf(l, s)
	return engine.Plausible(&f) == engine.Fine
}

func (t *turn) knows(s engine.Slot) bool {
	return slices.ContainsFunc(t.m.Facts, func(r Remembered) bool { return r.Fact.Slot == s })
}

// looseNumber asks what a number is, naming the readings there are.
func (t *turn) looseNumber(l parse.Loose, slots []engine.Slot) bool {
	t.topics = t.askedTopics()
	if len(t.topics) == 0 && len(t.said) > 0 {
		t.topics = engine.Follows(t.said)
	}
	t.req.Loose = t.req.Loose[1:]
	t.out.Unread = append(t.out.Unread, engine.Span{Text: l.Text, At: l.At})
	if len(t.topics) > 0 {
		t.reckon(t.merged(t.said))
		t.out.Missing, t.out.MissingOf = nil, nil
	}
	t.remember()
	t.out.Words = []string{l.Text}
	var choices []engine.Choice
	for _, s := range slots {
		f := t.factOf(l, s)
		choices = append(choices, engine.Choice{Slot: s, Of: f.Of, Unit: f.Unit, Min: l.Min, Max: l.Max})
	}
	code := engine.LooseNumber
	if len(choices) > 1 {
		code = engine.Ambiguous
	}
	if t.req.Problem != nil && code == engine.LooseNumber {
		code, t.out.Words, choices = t.req.Problem.Code, t.req.Problem.Words, t.req.Choices
	}
	t.out.Problem = ""
	return t.ask(code, Pending{Topics: t.topics, Facts: t.said, Choices: choices})
}
