package bot

import (
	"slices"
	"strings"
	"time"

	"tankside/engine"
	"tankside/engine/unit"
	"tankside/parse"
)

// Decision is what a message comes to: what to say, what to remember, what to log.
type Decision struct {
	Outcome *engine.Outcome
	Memory  Memory
	Effects []Effect
	Lang    string
	Recall  *Recall // loads of the past that the answer is about: Remember tells them
}

// Decide works out a message. It does no I/O and reads no clock: the same message,
// memory and book always give the same decision.
func Decide(msg Message, m Memory, book Book) Decision {
	if msg.Unsure {
		return askHeard(msg, m)
	}
	if p := m.Pending; p != nil && p.Problem == engine.ConfirmHeard {
		if msg, m = settled(msg, m); m.Pending == p {
			return misheard(m)
		}
	}
	meant := m.UnitOf
	if p := m.Pending; p != nil && (p.Problem == engine.AmbiguousUnit || p.Problem == engine.LabUnit) {
		msg, m = sensed(msg, m)
	}
	if p := m.Pending; p != nil && formsOf[p.Problem] != nil {
		msg, m = formTold(msg, m)
	}
	m.Fields, m.Facts = slices.Clone(m.Fields), slices.Clone(m.Facts) // the caller's memory is not touched
	t := &turn{msg: msg, m: m, book: book, out: &engine.Outcome{}}
	t.req = parse.Parse(msg.Text, parse.Context{Lang: m.Lang, Units: m.Units, Fields: openNames(m.Fields), UnitOf: m.UnitOf, Jars: m.jarsLast()})
	if a := t.act("units"); a != nil && !a.Not && len(t.req.Facts)+len(t.req.Loose) > 0 && t.req.Convert == nil {
		t.m.Units, t.m.UnitsSet = engine.Units{System: systemNamed(a.Text)}, true // "imperial gallons please. 3500 tank, 4500 per acre"
		t.req = read(msg, t.m)
	}
	t.language()
	t.units()
	t.decimalMark()
	t.keepForm()
	t.run()
	t.finish()
	if t.m.Pending == nil && leavesForm(m.Pending, t.req) {
		t.m.Pending = m.Pending
	}
	if t.out.Status == engine.Refused {
		t.m.UnitOf = meant // in that unit it could not be
	}
	return Decision{Outcome: t.out, Memory: t.m, Effects: t.effects, Lang: t.lang, Recall: t.past}
}

// turn is one message being decided.
type turn struct {
	msg      Message
	m        Memory
	book     Book
	req      *parse.Request
	out      *engine.Outcome
	effects  []Effect
	lang     string
	said     engine.Facts   // what this message says, amounts placed by the chat included
	topics   []engine.Topic // what is to be answered
	whatIf   bool           // answered, not remembered
	aside    engine.Facts   // what was said and used up on the way: gate runs
	pending  *Pending       // the question that this message answers
	asked    *Pending       // the question that was open when it came
	dated    bool           // the day that was said has found its use
	past     *Recall        // loads of the past that are asked for
	context  engine.Context
	fresh    []engine.Slot // what a what-if said that the chat did not have: kept
	timed    bool          // the time of day that was said has found its use
	leftToo  float64       // acres left of the field, where the answer is about them too; loadsToo the loads
	ofMark   bool          // a flow in said is that of a mark of the gate
	loadsToo float64
	noSeed   bool // the loads told of had other seed than the chat has
	all      bool // the answer is about all open fields
	comma    bool // decimals stand behind a comma in this chat
}

// language follows the message, unless the person chose one.
func (t *turn) language() {
	t.lang = t.m.Lang
	if !t.m.LangSet && t.req.Lang != "" {
		t.lang = t.req.Lang
		t.m.Lang = t.lang
	}
	if t.lang == "" {
		t.lang = "en"
	}
}

// units follows what the message is in, unless the chat's are set.
func (t *turn) units() {
	t.out.Units = t.m.Units
	if u := t.req.Units; u != nil && (!t.m.UnitsSet || len(t.req.Facts)+len(t.req.Loose) == 0) {
		t.out.Units = *u
		if len(t.req.Facts) > 0 && len(t.m.Facts) == 0 && t.req.Convert == nil {
			t.m.Units = *u // the first facts of a chat set its units
		}
	}
	if t.req.Units != nil && t.req.Units.System == t.out.Units.System {
		t.out.Units.Litres = t.out.Units.Litres || t.req.Units.Litres
		t.out.Units.Cubes = t.out.Units.Cubes || t.req.Units.Cubes
	}
}

// decimalMark follows how the chat writes its numbers: to somebody whose 0,5 is a
// half, "1,250 kg" is a little over one. In English with US units a comma is a slip.
func (t *turn) decimalMark() {
	if mark := t.req.DecimalMark; mark != 0 && (t.lang != "en" || t.m.Units.System == unit.Metric) {
		t.m.Units.Comma = mark == ','
	}
	t.comma = t.m.Units.Comma
}

// run finds what sort of message it is; the first that fits deals with it.
func (t *turn) run() {
	if p := t.req.Problem; p != nil && (p.Code == engine.TooLong || p.Code == engine.Broken) {
		t.refuse(p.Code)
		return
	}
	t.out.Unread, t.out.Withdrawn, t.out.Fixes, t.out.Notes = t.req.Unread, t.req.Withdrawn, t.req.Fixes, t.req.Notes
	t.said, t.asked = t.req.Facts, t.m.Pending
	t.frost()
	t.started()
	t.whatIf = t.req.WhatIf || t.bareQuestion() || t.variation()
	if t.emergency() || t.m.Pending != nil && t.answersPending() {
		return
	}
	t.answersAside()
	t.asksAside()
	for _, step := range [...]func(*turn) bool{(*turn).enough, (*turn).blank, (*turn).small, (*turn).factor, (*turn).dropCrop, (*turn).cropCorrected, (*turn).cropForUnnamed, (*turn).crops, (*turn).dearPrice, (*turn).limit, (*turn).frostSaid, (*turn).cautionAsked, (*turn).place, (*turn).setting, (*turn).startTold, (*turn).field,
		(*turn).gateRun, (*turn).allFields, (*turn).log, (*turn).safety, (*turn).onRest, (*turn).question, (*turn).statement, (*turn).notUnderstood} {
		if step(t) {
			return
		}
	}
}

// bareQuestion says whether the message only varies what was asked before: "at 4
// mph?", "quarter tank?", "oats at 60?".
func (t *turn) bareQuestion() bool {
	r := t.req
	return t.m.Last != nil && r.Marked && r.Facts.First(engine.SampleCount) == nil && len(r.Asks) == 0 && len(r.Acts) == 0 && len(r.Info) == 0 && len(r.Facts)+len(r.Loose) > 0 && r.Convert == nil
}

// variation says whether a question only tries another number for something known:
// "how far at 9600".
func (t *turn) variation() bool {
	if len(t.req.Facts) != 1 || t.req.YesNo && !t.req.WhatIf || len(t.req.Asks) == 0 && (!t.req.Question || t.m.Last == nil) || len(t.req.Acts)+len(t.req.Loose)+len(t.req.Crops) > 0 || t.req.Correct {
		return false
	}
	f := &t.req.Facts[0]
	known := t.latest(f.Slot)
	return f.Of == "" && (f.Slot == engine.ApplicationRate || f.Slot == engine.TankVolume) && known != nil && !sameAmount(known, f)
}

func sameAmount(a, b *engine.Fact) bool {
	lo, hi := a.Base()
	lo2, hi2 := b.Base()
	return lo == lo2 && hi == hi2
}

// finish does what every outcome needs: what was said is given, the day's caution.
func (t *turn) finish() {
	o := t.out
	t.m.Units.Comma, o.Units.Comma = t.comma, t.comma
	t.said = append(t.said[:len(t.said):len(t.said)], t.aside...)
	for i := range t.said {
		if f := t.said[i]; o.Given.Find(f.Slot, f.Of) == nil || !givenAt(o.Given, f) {
			o.Given = append(o.Given, f)
		}
	}
	for _, c := range t.req.Crops {
		if c.Name != "" && !slices.ContainsFunc(o.Given, func(f engine.Fact) bool { return f.Of == c.Name }) && c.Name != ryeWord {
			o.Given = append(o.Given, engine.Fact{Slot: engine.CropSaid, Of: c.Name, Unit: noUnit, At: c.At})
		}
	}
	if d := t.req.Date; d != nil && !t.dated {
		o.Unread = append(o.Unread, engine.Span{Text: t.msg.Text[d.At[0]:d.At[1]], At: d.At})
	}
	if w := t.req.When; w != nil && w.Clock >= 0 && !t.timed { // "start at 8 am, when am I done": nothing is done with it
		o.Unread = append(o.Unread, engine.Span{Text: t.msg.Text[w.At[0]:w.At[1]], At: w.At})
	}
	for _, l := range t.req.Loose {
		o.Unread = append(o.Unread, engine.Span{Text: l.Text, At: l.At})
	}
	slices.SortStableFunc(o.Given, func(a, b engine.Fact) int {
		if a.Origin != b.Origin || a.Origin != engine.Said {
			return int(a.Origin) - int(b.Origin)
		}
		return a.At[0] - b.At[0]
	})
	for i := range o.Given {
		if o.Given[i].About {
			t.note(engine.Note{ID: "about", Level: engine.Advice, Slot: o.Given[i].Slot, Of: o.Given[i].Of})
			break
		}
	}
	if t.whatIf && len(t.said) > 0 && o.Status == engine.Answered && len(o.Results) > 0 && len(t.m.Facts) > 0 {
		t.tellTried()
	}
	t.soakOnce()
	t.dayCaution()
	if o.Status != engine.Asks {
		t.m.Pending = t.loadsOpen()
	} else {
		t.loadsWait()
	}
	t.keepAside()
}

func givenAt(fs engine.Facts, f engine.Fact) bool {
	return slices.ContainsFunc(fs, func(g engine.Fact) bool { return g.Slot == f.Slot && g.Of == f.Of && g.At == f.At })
}

// soakOnce tells how a crop's seed is handled once a day, and when soaking is asked
// about: the pails and the water are in every answer about a load.
func (t *turn) soakOnce() {
	if len(t.m.Soaked) > 0 && t.m.Warned != t.msg.At.Format(time.DateOnly) {
		t.m.Soaked = nil
	}
	told := t.m.Soaked
	t.out.Notes = slices.DeleteFunc(t.out.Notes, func(n engine.Note) bool {
		if n.ID != "presoak" && n.ID != "straight_in" && n.ID != "check_passage" {
			return false
		}
		if !slices.Contains(t.m.Soaked, n.Of) {
			t.m.Soaked = append(t.m.Soaked[:len(t.m.Soaked):len(t.m.Soaked)], n.Of)
		}
		return slices.Contains(told, n.Of) && !slices.Contains(t.out.Topics, engine.TopicSoak)
	})
}

// dayCaution tells a driver to stop before reading, once a day and chat.
func (t *turn) dayCaution() {
	day := t.msg.At.Format(time.DateOnly)
	if t.m.Warned == day || t.out.Status != engine.Answered && t.out.Status != engine.Done || t.out.Act == engine.ActGreeting || len(t.out.Info) > 0 {
		return
	}
	t.m.Warned = day
	t.note(engine.Note{ID: "stop_before_reading", Level: engine.Caution})
}

func (t *turn) note(n engine.Note) {
	if !slices.ContainsFunc(t.out.Notes, func(o engine.Note) bool { return o.ID == n.ID && o.Of == n.Of && o.Slot == n.Slot }) {
		if t.out.Notes == nil {
			t.out.Notes = make([]engine.Note, 0, 4)
		}
		t.out.Notes = append(t.out.Notes, n)
	}
}

func (t *turn) refuse(code string) bool {
	t.out.Status, t.out.Problem = engine.Refused, code
	return true
}

// ask makes the outcome a question and keeps what is needed to go on.
func (t *turn) ask(code string, p Pending) bool {
	t.out.Status, t.out.Problem = engine.Asks, code
	p.Problem, p.Text, p.Timing, p.Words = code, t.msg.Text, t.req.Timing, t.out.Words
	for _, c := range t.req.Crops {
		if c.Name != "" {
			p.Crops = append(p.Crops, c.Name)
		}
	}
	if p.Choices == nil {
		p.Choices = t.out.Choices
	}
	t.out.Choices = p.Choices
	t.m.Pending = &p
	return true
}

// topic names the outcome's topic when none is set yet.
func (t *turn) topic(topics ...engine.Topic) {
	if len(t.out.Topics) == 0 {
		t.out.Topics = topics
	}
}

var noUnit = unit.Must("")

func openNames(fields []Field) []string {
	if len(fields) == 0 {
		return nil
	}
	out := make([]string, 0, len(fields))
	for _, f := range fields {
		if f.Name != "" {
			out = append(out, f.Name)
		}
	}
	return out
}

// act finds an act by name; one that is to be done before one that is not.
func (t *turn) act(name string) *parse.Act {
	var not *parse.Act
	for i := range t.req.Acts {
		switch a := &t.req.Acts[i]; {
		case a.Name != name:
		case !a.Not:
			return a
		case not == nil:
			not = a
		}
	}
	return not
}

// notUnderstood is the end of the line.
func (t *turn) notUnderstood() bool {
	if p := t.req.Problem; p != nil {
		if p.Code == engine.WhichCrop || p.Code == engine.RyeOrRyegrass {
			t.topics = []engine.Topic{engine.TopicCrop}
		}
		t.problem(p)
		t.topic(t.topics...)
		return true
	}
	t.out.Status, t.out.Problem = engine.NotUnderstood, engine.NotUnderstoodCode
	return true
}

// problem turns what the parser could not settle into a question.
func (t *turn) problem(p *engine.Problem) {
	t.out.Words = p.Words
	t.out.Choices = t.req.Choices
	of := ""
	if p.Code == engine.AmbiguousUnit || p.Code == engine.LabUnit {
		t.out.Choices, of = t.askSense(p), strings.TrimSuffix(second(p.Words), "?")
	}
	t.ask(p.Code, Pending{Slot: p.Slot, Of: of, Topics: t.topics, Facts: t.said})
}
