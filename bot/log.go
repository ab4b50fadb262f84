package bot

import (
	"maps"
	"slices"
	"strings"

	"tankside/engine"
	"tankside/parse"
)

// log does what the log was asked: log, take back, correct, read back.
func (t *turn) log() bool {
	switch {
	case t.act("load_move") != nil:
		return t.moveLoad(t.act("load_move").Text)
	case t.recount():
		return true
	case t.partCorrected():
		return t.correct()
	case t.req.Recall:
		return t.recallPast()
	case t.act("undo") != nil:
		return t.undo()
	case t.act("correct") != nil && !t.remarks():
		return t.correct()
	case t.act("loads_list") != nil:
		return t.listLoads()
	case t.act("left") != nil && t.asksMore():
		return false
	case t.act("left") != nil && !t.reports() && !(t.said.First(engine.CycleTime) != nil && len(t.req.Asks) > 0):
		return t.left()
	case t.act("totals") != nil && !t.reckoned() && !t.logging() && (t.said.First(engine.LoadCount) == nil || t.req.Question):
		return t.totals()
	case t.logging():
		return t.logLoad(nil)
	case t.act("note") != nil:
		return t.addNote()
	}
	return false
}

// asksMore says whether something besides what is left is asked of the field in hand:
// "how many 50 lb bags for the whole field and how many loads left".
func (t *turn) asksMore() bool {
	f := t.fieldInHand()
	if f == nil || f.Area == 0 || t.said.First(engine.LoadCount) != nil || t.said.First(engine.CycleTime) != nil {
		return false
	}
	for _, a := range t.req.Asks {
		switch a.Topic {
		case engine.TopicSeedForArea:
			if t.said.First(engine.BagWeight) == nil {
				continue // the log tells bags used and to come
			}
			fallthrough
		case engine.TopicCost, engine.TopicSpeed, engine.TopicFlow, engine.TopicNutrients:
			t.leftToo, t.loadsToo = f.Area-t.fieldTotals().Area, t.loadsLeft(f.Area, t.fieldTotals())
			return true
		}
	}
	return false
}

// reckoned says whether the message holds what a sum is to be made of: "report the
// mean of 33, 41, 29", "rye at 45 on 12 acres: seed totals", "rehaz la cuenta del frasco".
func (t *turn) reckoned() bool {
	return t.jarAbout() || slices.ContainsFunc(t.said, func(f engine.Fact) bool { return analysis[f.Slot] }) || t.said.First(engine.SeedRate) != nil && t.said.First(engine.Area) != nil
}

// logging says whether the message logs a load. "How many loads" asks, and "don't
// log that" is asked about.
func (t *turn) logging() bool {
	a := t.act("log")
	counted := t.act("totals") != nil && t.said.First(engine.LoadCount) != nil && !t.req.Question // "4 loads done so far"
	if a != nil && t.req.Marked && !t.reports() && len(t.req.Asks) == 0 && t.said.First(engine.LoadCount) == nil && !saysLog(a.Text) {
		a = nil // "20 min cycle done today?" asks whether it can be
	}
	return a != nil && (!t.req.Question || len(t.req.Asks) == 0 || t.reports()) || t.partDone() || counted
}

// reports says whether a message that also asks tells of a load first: "load 7 done 10:58
// when will we finish", "log load. how much left". The load must not get lost; what is
// asked is listed as not used, unless the log says it anyway.
func (t *turn) reports() bool {
	a := t.act("log")
	if a == nil || a.Not || !t.req.Telling && t.req.Ordinal == 0 && t.req.When == nil && !saysLog(a.Text) {
		return false
	}
	for _, ask := range t.req.Asks {
		if ask.At[0] < a.At[0] {
			return false
		}
	}
	left := t.act("left")
	return left == nil || left.At[0] > a.At[0]
}

// movesOn: in "log load. back to east how much left" the load is of the field that is
// left, and the rest is another message: it is listed as not used.
func (t *turn) movesOn() {
	a, to := t.act("log"), t.act("field_switch")
	if a == nil || to == nil || to.At[0] < a.At[1] || !strings.ContainsAny(t.msg.Text[a.At[1]:to.At[0]], ".;\n") {
		return
	}
	t.req.Field, t.req.FieldSaid = "", ""
	t.req.Acts = slices.DeleteFunc(slices.Clone(t.req.Acts), func(o parse.Act) bool { return o.At[0] >= to.At[0] })
	at := [2]int{to.At[0], len(t.msg.Text)}
	t.out.Unread = append(t.out.Unread, engine.Span{Text: strings.TrimSpace(t.msg.Text[at[0]:at[1]]), At: at})
}

// saysLog says whether the words of the act are an order to write a load down.
func saysLog(text string) bool {
	return slices.ContainsFunc(logVerbs, func(verb string) bool { return strings.HasPrefix(strings.ToLower(text), verb) })
}

var logVerbs = []string{"log", "record", "anot", "apunt", "registr"}

// askedToo lists the question of a message that reported a load.
func (t *turn) askedToo() {
	if len(t.req.Asks) == 0 || !t.reports() {
		return
	}
	at := [2]int{t.req.Asks[0].At[0], len(t.msg.Text)}
	t.out.Unread = append(t.out.Unread, engine.Span{Text: strings.TrimSpace(t.msg.Text[at[0]:at[1]]), At: at})
}

// partDone: "half load" or "half load north forty" in a chat is a load to log; the
// same words in a question are not.
func (t *turn) partDone() bool {
	if t.act("log") != nil || t.req.Question || t.whatIf || len(t.said) != 1 || len(t.req.Asks) > 0 {
		return false
	}
	return t.req.PartLoad || t.req.PartOfLoad && len(t.book.Recent) > 0 // told, not planned, by one who logs
}

// logLoad logs the loads that the message is about. ready is one that was only
// waiting for a yes.
func (t *turn) logLoad(ready *Load) bool {
	t.topic(engine.TopicLog)
	if a := t.act("log"); a != nil && a.Not {
		t.out.Words = []string{a.Text}
		return t.ask(engine.Negated, Pending{Act: "no"})
	}
	if p := t.req.Problem; p != nil && (p.Code == engine.Vague || p.Code == engine.NumberForm || p.Code == engine.WhichOfTwo) {
		t.problem(p)
		return true
	}
	if len(t.req.Told) > 0 && ready == nil {
		return t.logTold()
	}
	if n := t.said.First(engine.LoadCount); t.req.AllDay && n != nil && ready == nil {
		if today := t.dayHere(); today > 0 { // "did 6 loads today", four of which were logged as they went
			t.req.Ordinal, t.req.Reached = int(t.totalsMeant().Loads+0.5)-today+int(n.Min), true
			t.said = without(t.said, engine.LoadCount)
		}
	}
	t.otherSeed()
	at, ok := t.at()
	if !ok { // the clock of the phone and of the cab may differ: logged as said, and said so
		t.note(engine.Note{ID: "time_ahead", Level: engine.Caution})
	}
	if t.req.Reached && ready == nil {
		have := int(t.totalsMeant().Loads + 0.5)
		if t.req.Ordinal <= have {
			return t.totals() // they are in the log already
		}
		more := engine.Fact{Slot: engine.LoadCount, Min: float64(t.req.Ordinal - have), Max: float64(t.req.Ordinal - have), Unit: noUnit, Origin: engine.Derived}
		t.said = append(t.said[:len(t.said):len(t.said)], more)
		t.req.Ordinal = 0
	}
	if n := t.count(); n > mostLoads || n <= 0 {
		t.out.Subject = engine.LoadCount
		return t.refuse(engine.Absurd)
	}
	facts := t.merged(t.said)
	for i := range t.said {
		if fit := engine.Plausible(&t.said[i]); fit == engine.TooFar || fit == engine.NotPos {
			t.out.Subject = t.said[i].Slot
			if fit == engine.NotPos {
				return t.refuse(engine.NotPositive)
			}
			return t.refuse(engine.Absurd)
		}
	}
	if t.twice() {
		t.out.Topics = []engine.Topic{engine.TopicLog}
		return true
	}
	t.movesOn()
	if t.act("log") == nil { // else "dos cargas en la loma" names the field
		t.infoNotes()
	}
	if a := t.act("field_switch"); a != nil && t.req.FieldSaid == "" && t.req.Field == "" {
		t.req.FieldSaid = a.Text // "anota una carga en el lote 7"
	}
	if a := t.act("field_at"); a != nil && t.req.FieldSaid == "" && t.req.Field == "" {
		t.req.FieldSaid = a.Text // "campo del río 12 acres, primera carga lista"
	}
	if t.req.FieldSaid != "" && ready == nil {
		if f := t.findField(t.req.FieldSaid); f != nil {
			t.req.Field = f.Name
		} else if len(t.m.Fields) > 0 { // logged all the same: nothing is lost, and it can be put right
			t.note(engine.Note{ID: "field_is_new", Level: engine.Caution})
		}
	}
	l := ready
	if l == nil {
		l = t.loadOf(facts)
		l.When, l.Said, l.Who, l.ID = at, t.msg.At, t.msg.Person, t.msg.ID
		if n := t.act("note"); n != nil {
			l.Note = n.Text
		}
		if t.doubtful(facts, l) {
			return true
		}
	}
	t.remember()
	t.selectField()
	if f := t.said.First(engine.Area); f != nil && t.fieldInHand() != nil {
		t.setFieldArea(*f) // "put down 3 loads in the creek field, it's 20 acres"
	}
	t.addLoads(l, t.count())
	t.out.Status, t.out.Act = engine.Done, engine.ActLogged
	t.askedToo()
	if l.Volume == 0 {
		t.note(engine.Note{ID: "load_unmeasured", Level: engine.Caution})
	}
	t.usedGiven(facts)
	return true
}

// loadOf works out a load from the facts: how full, how many gallons, what ground.
func (t *turn) loadOf(facts engine.Facts) *Load {
	l := &Load{Fraction: 1}
	if f := t.said.First(engine.LoadFraction); f != nil {
		l.Fraction = f.Min
	}
	r := engine.LoadDone(facts)
	l.Volume, l.Area, l.Rate = r.Volume, r.Area, r.Rate
	for _, s := range r.Seeds {
		if t.noSeed {
			break
		}
		l.Seeds = append(l.Seeds, Seed{Crop: s.Crop, Rate: s.Rate, Weight: s.Weight})
	}
	return l
}

// doubtful asks before a load with an unusual figure is logged, and refuses one
// that is more than the tank holds.
func (t *turn) doubtful(facts engine.Facts, l *Load) bool {
	if tank, part := facts.First(engine.TankVolume), t.said.First(engine.LoadVolume); tank != nil && part != nil {
		full, _ := tank.Base()
		if v, _ := part.Base(); v > full*1.02 {
			t.out.Subject = engine.LoadVolume
			t.out.Given = append(t.out.Given, *tank)
			return t.ask(engine.OverFull, Pending{Slot: engine.LoadVolume, Facts: without(t.said, engine.LoadVolume), Act: "log"})
		}
	}
	for i := range t.said {
		if engine.Plausible(&t.said[i]) == engine.Unusual {
			f := t.said[i]
			lo, _ := f.Base()
			t.note(engine.Note{ID: "unusual_value", Level: engine.Caution, Slot: f.Slot, Of: f.Of, Value: lo})
			t.out.Subject, t.out.SubjectOf = f.Slot, f.Of
			return t.ask(engine.ConfirmUnusual, Pending{Slot: f.Slot, Of: f.Of, Facts: t.said, Act: "log", Load: l})
		}
	}
	return false
}

// count is how many loads were said: two, two and a half.
func (t *turn) count() float64 {
	if f := t.said.First(engine.LoadCount); f != nil {
		return f.Min
	}
	return 1
}

// selectField takes the field in hand that the message names.
func (t *turn) selectField() {
	if f := t.findField(t.req.Field); f != nil {
		t.m.Field = f.ID
	} else if t.req.FieldSaid != "" {
		t.openField(t.req.FieldSaid, 0)
	}
}

// mostLoads is the most that one message logs: more than a crew hauls in a day is a
// slip or a joke.
const mostLoads = 60

// addLoads appends the rows; a half at the end of "two and a half loads" is a part
// load of its own.
func (t *turn) addLoads(l *Load, count float64) {
	totals := t.fieldTotals()
	seq := totals.Count
	for i := range t.book.Recent { // one in the middle may have been taken back
		if l := &t.book.Recent[i]; l.Field == t.m.Field {
			seq = max(seq, l.Seq)
		}
	}
	var added []Load
	first := t.adds()
	for part := first; count > 1e-9 && part < mostLoads; part++ {
		one := *l
		share := min(count, 1)
		if share < 1 {
			one.Fraction, one.Volume, one.Area, one.Seeds = one.Fraction*share, one.Volume*share, one.Area*share, scaleSeeds(one.Seeds, share)
		}
		seq++
		one.Part, one.Seq, one.Field = part, seq, t.m.Field
		if f := t.fieldInHand(); f != nil {
			one.FieldName = f.Name
		}
		added = append(added, one)
		count -= share
	}
	for i := range added {
		t.effects = append(t.effects, Effect{Add: &added[i]})
		totals = totals.Plus(added[i])
	}
	t.enter(added, totals)
	t.tellLog("field", totals)
	t.out.Log.Seq = seq
	if len(added) > 1 {
		t.out.Log.From = added[0].Seq
	}
	t.out.Log.At = l.When.Format("15:04")
	t.out.Log.Who = l.Who.Name
	if n := t.req.Ordinal; n > 0 && n != seq && len(added) == 1 {
		t.note(engine.Note{ID: "load_number", Level: engine.Caution, Slot: engine.LoadCount, Value: float64(n), Limit: float64(seq)})
	}
	t.warnLimits(l)
}

// adds is how many loads this message has logged so far.
func (t *turn) adds() (n int) {
	for i := range t.effects {
		if t.effects[i].Add != nil {
			n++
		}
	}
	return n
}

// enter puts loads just logged into the book of this message, for what it logs next.
func (t *turn) enter(added []Load, sum Totals) {
	if t.book.ByField = maps.Clone(t.book.ByField); t.book.ByField == nil {
		t.book.ByField = make(map[int64]Totals, 1)
	}
	t.book.ByField[t.m.Field] = sum
	recent := slices.Clone(added)
	slices.Reverse(recent)
	t.book.Recent = append(recent, t.book.Recent...)
	for _, l := range added {
		t.book.Today = t.book.Today.Plus(l)
	}
}

func scaleSeeds(in []Seed, by float64) []Seed {
	out := slices.Clone(in)
	for i := range out {
		out[i].Weight *= by
	}
	return out
}

// warnLimits says so when a logged rate passes a limit that the chat has set.
func (t *turn) warnLimits(l *Load) {
	for _, lim := range t.m.Limits {
		if lim.Slot == engine.ApplicationRate && l.Rate > lim.Value {
			t.note(engine.Note{ID: "rate_over_limit", Level: engine.Caution, Slot: engine.ApplicationRate, Value: l.Rate, Limit: lim.Value})
		}
	}
}

// usedGiven lists what the logged load rests on.
func (t *turn) usedGiven(facts engine.Facts) {
	for i := range facts {
		switch f := facts[i]; f.Slot {
		case engine.TankVolume, engine.ApplicationRate, engine.SeedRate, engine.HeelVolume:
			if f.Origin == engine.Remembered {
				t.out.Given = append(t.out.Given, f)
			}
		}
	}
}
