package phrases

import (
	"cmp"
	"strings"
	"time"

	"tankside/engine"
	"tankside/engine/unit"
)

// act writes what was done, then what follows from it.
func (p *page) act() {
	o := p.o
	x := params{word: first(o.Words), other: second(o.Words), field: first(o.Words)}
	if o.Log != nil {
		x.field, x.who, x.at, x.n = o.Log.Field, o.Log.Who, o.Log.At, float64(o.Log.Seq)
		if o.Log.Seq == 0 && len(o.Log.Lines) > 0 {
			x.n = float64(o.Log.Lines[0].Seq)
		}
		x.m = float64(o.Log.From)
		x.a = p.base(engine.Area, nil, o.Log.FieldArea)
	}
	switch o.Act {
	case engine.ActLogged, engine.ActCorrected, engine.ActMoved:
		p.logged(&x)
	case engine.ActSetupShown:
		p.setup(&x)
	case engine.ActRunsListed, engine.ActRunRecorded, engine.ActReturnsListed:
		p.runs(&x)
	case engine.ActForgot:
		p.forgot(&x)
	case engine.ActTotals:
		p.totals(&x)
	case engine.ActLoadsListed:
		p.loads(&x)
	case engine.ActFieldsListed:
		p.fields(&x)
	case engine.ActSchemeSet:
		x.crop = cmp.Or(x.word, engine.DefaultScheme)
		p.sayAct(&x)
	case engine.ActFrostSet:
		if d, err := time.Parse("01-02", x.word); err == nil {
			x.word = p.day(d)
		}
		p.sayAct(&x)
	case engine.ActStartSet:
		x.at = o.Started
		p.sayAct(&x)
	case engine.ActUnitsSet:
		p.say(p.text("units", [...]string{"us", "imperial", "metric"}[o.Units.System]), &x)
	default:
		p.sayAct(&x)
	}
	p.end()
	if o.Act != engine.ActTotals && o.Act != engine.ActLoadsListed && (len(o.Runs) == 0 || o.Act == engine.ActRunRecorded && o.Status == engine.Answered) { // the question that waited for the runs
		p.state()
	}
	if o.Act == engine.ActLogged || o.Act == engine.ActCorrected || o.Act == engine.ActMoved {
		p.say(p.text("log", "undo"), &x)
		p.end()
	}
}

// sayAct takes the sentence with the field's name where there is one.
func (p *page) sayAct(x *params) {
	several := ""
	if x.m > 0 {
		several = "_several"
	}
	if t := p.text("act", p.o.Act+"_area"); t != nil && x.field != "" && x.a.max > 0 {
		p.say(t, x)
		return
	}
	if t := p.text("act", p.o.Act+several+"_in"); t != nil && x.field != "" {
		p.say(t, x)
		return
	}
	p.say(p.text("act", p.o.Act+several), x)
}

// logged writes the load just logged: its number, acres and gallons.
func (p *page) logged(x *params) {
	if l := p.o.Log; l != nil && len(l.Parts) > 0 {
		p.loggedParts(l)
		return
	}
	p.item()
	p.sayAct(x)
	if l := p.o.Log; l != nil {
		for i := range l.Lines {
			p.lineAmounts(&l.Lines[i])
		}
		if x.at != "" {
			p.item()
			p.say(p.text("log", "at"), x)
		}
	}
}

// loggedParts writes loads of several sizes or fields, a line each, and heads the sums.
func (p *page) loggedParts(l *engine.Summary) {
	for i := range l.Parts {
		part := &l.Parts[i]
		x := params{field: part.Field, at: part.At, n: float64(part.Seq), m: float64(part.From)}
		p.item()
		p.sayAct(&x)
		for k := range part.Lines {
			p.lineAmounts(&part.Lines[k])
		}
		if x.at != "" {
			p.item()
			p.say(p.text("log", "at"), &x)
		}
		p.end()
	}
}

// lineAmounts writes the ground and the gallons of a load; what is not known is not nothing.
func (p *page) lineAmounts(l *engine.LogLine) {
	if l.Area > 0 || l.Volume == 0 {
		p.item()
		x := params{a: p.base(engine.Area, nil, l.Area)}
		p.amount(&x.a)
	}
	if l.Volume > 0 {
		p.item()
		x := params{a: p.base(engine.LoadVolume, nil, l.Volume)}
		p.amount(&x.a)
	}
}

// state writes what the log says of the field in hand, or what followed from a
// fact just remembered.
func (p *page) state() {
	if len(p.o.Results) == 0 {
		return
	}
	switch l := p.o.Log; {
	case l == nil:
	case l.Field != "":
		p.item()
		p.own(l.Field)
		p.colon()
	case len(l.Parts) > 0 && l.Scope != "field":
		p.say(p.text("scope", l.Scope), &params{})
		p.colon()
	}
	p.answer()
}

// colon sets a name apart from what is said of it.
func (p *page) colon() {
	p.items = 0
	if p.form == spoken {
		p.buf = append(p.buf, ", "...)
		return
	}
	p.buf = append(p.buf, ": "...)
}

// setup writes what is remembered, one fact a line; a single fact that was asked
// for by name needs no heading.
func (p *page) setup(x *params) {
	if !p.anyGiven() {
		p.say(p.text("act", p.o.Act+"_none"), x)
		return
	}
	if p.o.Subject == engine.NoSlot {
		p.say(p.text("act", p.o.Act), x)
		p.end()
	}
	for i := range p.o.Given {
		if f := &p.o.Given[i]; p.worthSaying(f) {
			p.item()
			p.fact(f)
			p.end()
		}
	}
}

// runs writes gate calibrations, one a line.
func (p *page) runs(x *params) {
	if len(p.o.Runs) == 0 {
		p.say(p.text("act", engine.ActRunsListed+"_none"), x)
		return
	}
	p.say(p.text("act", p.o.Act), x)
	if len(p.o.Runs) > 1 {
		p.end()
	} else {
		p.buf = append(p.buf, ' ')
	}
	p.runLines()
}

func (p *page) runLines() {
	for i := range p.o.Runs {
		r := &p.o.Runs[i]
		x := params{b: amount{min: asSaid(r.Opening), max: asSaid(r.Opening), unit: unit.Find(r.Unit)}, a: p.base(engine.Flow, nil, r.Flow)}
		p.item()
		if p.o.Act == engine.ActReturnsListed {
			p.say(p.text("log", "run_back"), &x)
		} else {
			p.say(p.text("log", "run"), &x)
		}
		if r.Outlet != "" {
			p.item()
			p.own(r.Outlet)
		}
		p.end()
	}
}

// forgot names what was forgotten.
func (p *page) forgot(x *params) {
	name := "forgot"
	switch o := p.o; {
	case o.SubjectOf != "":
		name, x.crop = "forgot_crop", o.SubjectOf
	case o.Subject != engine.NoSlot:
		name, x.slot = "forgot_slot", o.Subject
	}
	p.say(p.text("act", name), x)
}

// manyLines is how many loads are read back one by one.
const manyLines = 12

// totals writes sums for a scope, then its loads when they are few.
func (p *page) totals(x *params) {
	l := p.o.Log
	scope := "all"
	if l != nil && l.Scope != "" {
		scope = l.Scope
	}
	if scope == "past" {
		p.past(x)
	} else if t := p.text("scope", scope); t != nil && !(scope == "field" && x.field == "") {
		p.say(t, x)
		p.colon()
	}
	if len(p.o.Results) == 0 {
		p.say(p.text("log", "nothing"), x)
		p.end()
		return
	}
	p.answer()
	if l == nil || len(l.Lines) > manyLines || p.form == spoken {
		return
	}
	for i := range l.Lines {
		p.logLine(&l.Lines[i])
	}
}

// loads reads loads back one by one, then what they come to when there are several.
func (p *page) loads(x *params) {
	if p.o.Log == nil || len(p.o.Log.Lines) == 0 {
		p.say(p.text("log", "nothing"), x)
		p.end()
		return
	}
	lines := p.o.Log.Lines
	for i := range lines {
		p.logLine(&lines[i])
	}
	if len(lines) > 1 {
		p.answer()
		return
	}
	for i := range p.o.Results {
		if v := &p.o.Results[i]; v.Slot == engine.SeedUsed {
			p.oneResult(v)
		}
	}
	p.end()
}

// past heads what the log says of days gone by: the field and the days.
func (p *page) past(x *params) {
	days := params{field: x.field, word: p.date(first(p.o.Words)), other: p.date(second(p.o.Words))}
	name := "past"
	if days.field != "" {
		name += "_field"
	}
	if days.word == days.other || days.other == "" {
		name += "_day"
	}
	p.say(p.text("scope", name), &days)
	p.colon()
}

// date writes a day, kept as 2025-10-05, the way people here write one.
func (p *page) date(iso string) string {
	t, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	month := t.Month().String()
	return strings.Replace(t.Format(Word(p.lang.code, "date.form")), month, Word(p.lang.code, "date."+strings.ToLower(month)), 1)
}

func (p *page) logLine(l *engine.LogLine) {
	p.item()
	p.say(p.text("log", "load"), &params{n: float64(l.Seq)})
	if l.At != "" {
		p.item()
		p.clock(l.At)
	}
	p.lineAmounts(l)
	for _, s := range [...]string{l.Who, l.Note} {
		if s != "" {
			p.item()
			p.own(s)
		}
	}
	if l.Cancelled {
		p.item()
		p.say(p.text("log", "cancelled"), &params{})
	}
	p.end()
}

// clock writes a time of day, kept as 15:04, the way people here say it.
func (p *page) clock(at string) {
	t, err := time.Parse("15:04", at)
	if err != nil {
		p.own(at)
		return
	}
	name := "am"
	switch h := t.Hour(); {
	case h >= 19:
		name = "night"
	case h >= 12:
		name = "pm"
	}
	p.say(p.text("time", name), &params{word: t.Format("3:04")})
}

// finishTime leads with when it will be done, if work goes on without a stop.
func (p *page) finishTime() {
	if p.o.Finish == "" {
		return
	}
	name := "finish"
	if p.o.FinishDays > 0 {
		name = "finish_later"
	}
	p.item()
	p.say(p.text("log", name), &params{at: p.o.Finish, n: float64(p.o.FinishDays)})
	if p.o.Started != "" {
		p.item()
		p.say(p.text("log", "from"), &params{at: p.o.Started})
	}
	p.end()
}

// fields writes one line a field: its loads, acres and gallons so far.
func (p *page) fields(x *params) {
	if p.o.Log == nil || len(p.o.Log.Lines) == 0 {
		p.say(p.text("act", p.o.Act+"_none"), x)
		return
	}
	p.fieldLines()
}

func (p *page) fieldLines() {
	for i := range p.o.Log.Lines {
		l := &p.o.Log.Lines[i]
		p.item()
		p.own(l.Field)
		p.colon()
		if l.Fraction > 0 || l.Total == 0 {
			p.count(engine.LoadCount, roundTo(l.Fraction, digits{2, 2, 1}, near))
			p.lineAmounts(l)
		}
		p.partOf(l)
		if l.Left > 0 {
			p.count(engine.LoadsLeft, roundTo(l.Left, digits{1, 1, 0}, near))
		}
		p.end()
	}
}

func (p *page) count(s engine.Slot, n float64) {
	p.item()
	p.say(p.lang.result[s], &params{n: n, a: amount{min: n, max: n}})
}

// inAll heads an answer that is about several fields with what each takes.
func (p *page) inAll() {
	if l := p.o.Log; l == nil || l.Scope != "fields" {
		return
	}
	p.fieldLines()
	p.say(p.text("scope", "fields"), &params{})
	p.colon()
}

// partOf says how big the field is that a line is about.
func (p *page) partOf(l *engine.LogLine) {
	if l.Total > 0 {
		p.item()
		p.say(p.text("log", "field_of"), &params{a: p.base(engine.Area, nil, l.Total)})
	}
	if l.Note != "" {
		p.item()
		p.own(l.Note)
	}
}
