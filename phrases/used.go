package phrases

import (
	"math"

	"tankside/engine"
	"tankside/engine/unit"
)

// used writes what the answer rests on: every given value with where it came
// from. A conversion has said it already, and so has an act that lists facts.
func (p *page) used() {
	o := p.o
	told := listsFacts[o.Act]
	if o.Problem != "" {
		told = nothing
	}
	if o.Act == engine.ActRunRecorded && o.Problem == "" {
		p.beside()
		return
	}
	if p.find(engine.Converted) != nil || told == everything {
		return
	}
	if t := p.text("lead", string(o.Status)); t != nil && p.anyGiven() {
		p.say(t, &params{})
	}
	p.inUsed = true
	p.givenItems(func(f *engine.Fact) bool { return told == nothing || f.Origin != engine.Said })
	p.end()
}

// beside writes what was said beside the runs of a gate and is kept: the pump, the width.
func (p *page) beside() {
	p.inUsed = true
	p.givenItems(func(f *engine.Fact) bool {
		return f.Origin == engine.Said && (f.Slot == engine.PumpFlow || f.Slot == engine.Width || f.Slot == engine.Speed || f.Slot == engine.ApplicationRate)
	})
	p.end()
}

// told says which given values the first lines of an act have named already.
type told uint8

const (
	nothing told = iota
	whatWasSaid
	everything
)

var listsFacts = map[string]told{engine.ActRemembered: whatWasSaid, engine.ActRunRecorded: everything, engine.ActFieldStarted: whatWasSaid, engine.ActLimitSet: whatWasSaid,
	engine.ActConfirmed: whatWasSaid, engine.ActSetupShown: everything, engine.ActRunsListed: everything, engine.ActForgot: everything}

// gallonsGiven says whether the line of given values will hold US gallons.
func (p *page) gallonsGiven() bool {
	if p.find(engine.Converted) != nil || p.o.Problem == "" && listsFacts[p.o.Act] != nothing {
		return false
	}
	for i := range p.o.Given {
		if f := &p.o.Given[i]; usGallons(f.Unit) && p.worthSaying(f) {
			return true
		}
	}
	return false
}

func (p *page) anyGiven() bool {
	for i := range p.o.Given {
		if p.worthSaying(&p.o.Given[i]) {
			return true
		}
	}
	return false
}

// worthSaying leaves out what was worked out on the way, and a crop's bare name
// when the crop shows anyway.
func (p *page) worthSaying(f *engine.Fact) bool {
	if f.Origin == engine.Derived || p.inProblem(f) || f.Slot == engine.LoadCount && p.o.Act == engine.ActLogged {
		return false
	}
	if f.Slot != engine.CropSaid {
		return true
	}
	for i := range p.o.Given {
		if g := &p.o.Given[i]; g.Slot != engine.CropSaid && g.Of == f.Of {
			return false
		}
	}
	for i := range p.o.Results {
		if p.o.Results[i].Of == f.Of {
			return false
		}
	}
	return len(p.o.Crops) == 0
}

// givenItems writes the facts that pass, several counts of one slot as one item.
func (p *page) givenItems(pass func(*engine.Fact) bool) {
	for i := range p.o.Given {
		f := &p.o.Given[i]
		if !p.worthSaying(f) || !pass(f) {
			continue
		}
		if f.Slot == engine.SampleCount && i > 0 && p.o.Given[i-1].Slot == f.Slot {
			p.buf = append(p.buf, ", "...)
			a := factAmount(f)
			p.amount(&a)
			continue
		}
		if p.items > 0 && p.items%4 == 0 && p.form != spoken {
			p.end()
		}
		p.item()
		p.fact(f)
	}
}

// givenList writes the facts of one origin inside a sentence.
func (p *page) givenList(origin engine.Origin) {
	items := p.items
	p.items = 0
	p.givenItems(func(f *engine.Fact) bool { return f.Origin == origin })
	p.items = items
}

// fact writes one given value and its marks.
func (p *page) fact(f *engine.Fact) {
	x := params{a: p.given(f), crop: f.Of, slot: f.Slot, word: f.Part, unit: f.Unit}
	x.n = x.a.max
	switch t := p.lang.given[f.Slot]; {
	case f.Part != "" && f.Min == 0 && f.Max == 0:
		p.say(p.text("word", "part"), &x)
	case f.Slot == engine.LoadFraction:
		p.fraction(&x)
	case f.Slot == engine.SeedPrice && f.Unit != nil && f.Unit.Dim == unit.DimMoney:
		p.say(p.text("given_bag", "seed_price"), &x)
	case f.Slot == engine.CustomCost && f.Unit != nil && f.Unit.Dim == unit.DimMoney:
		p.say(p.text("given_load", "custom_cost"), &x)
	case f.Slot == engine.Duration && p.text("duration", f.Of) != nil:
		p.say(p.text("duration", f.Of), &x)
	case t != nil:
		p.say(t, &x)
	default:
		p.say(p.text("default", "given"), &x)
	}
	p.bushels(f)
	p.marks(f)
}

// given makes the amount of a fact as it was said. A default that nobody said is
// in the chat's own units.
func (p *page) given(f *engine.Fact) amount {
	if f.Origin != engine.Assumed && !timedOnce(f) || f.Unit == nil || f.Unit.Symbol == "" || f.Unit.Dim != f.Slot.Dim() {
		return factAmount(f)
	}
	lo, hi := f.Base()
	return p.result(&engine.Value{Slot: f.Slot, Min: lo, Max: hi})
}

// timedOnce says whether a remembered flow or speed is one that was worked out, from a timed
// run (2,571.43 L/min): nobody said it in so many digits.
func timedOnce(f *engine.Fact) bool {
	return (f.Slot == engine.Flow || f.Slot == engine.Speed) && f.Origin == engine.Remembered && f.Min == f.Max && math.Abs(f.Min*100-math.Round(f.Min*100)) > 1e-6
}

// bushels adds what an amount in bushels weighs.
func (p *page) bushels(f *engine.Fact) {
	if f.Unit == nil || f.Unit.Symbol != "bu/acre" && f.Unit.Symbol != "bu" {
		return
	}
	c := engine.CropNamed(f.Of)
	if c == nil || c.Bushel == 0 {
		return
	}
	u := unit.Must("lb")
	if f.Unit.Symbol == "bu/acre" {
		u = unit.Must("lb/acre")
	}
	p.say(p.text("mark", "bushels"), &params{a: amount{min: asSaid(f.Min * c.Bushel), max: asSaid(f.Max * c.Bushel), unit: u}})
}

// fraction writes part of a tank: the common ones in words, others in per cent.
func (p *page) fraction(x *params) {
	for _, common := range [...]struct {
		of   float64
		name string
	}{{0.5, "half"}, {0.25, "quarter"}, {0.75, "three_quarters"}, {1.0 / 3, "third"}, {2.0 / 3, "two_thirds"}, {1, "full"}} {
		if math.Abs(x.a.min-common.of) < 0.001 && x.a.min == x.a.max {
			p.say(p.text("tank", common.name), x)
			return
		}
	}
	x.a = amount{min: roundTo(x.a.min*100, digits{1, 0, 0}, near), max: roundTo(x.a.max*100, digits{1, 0, 0}, near), unit: unit.Must("%")}
	p.say(p.text("tank", "part"), x)
}

// marks says where a value came from, when not from this message in full.
func (p *page) marks(f *engine.Fact) {
	x := params{n: float64(f.AgeDays), unit: f.Unit, slot: f.Slot}
	switch {
	case f.Origin == engine.Remembered && f.AgeDays > 0:
		p.say(p.text("mark", "old"), &x)
	case f.Origin == engine.Remembered && listsFacts[p.o.Act] == everything:
	case f.Origin == engine.Remembered:
		p.say(p.text("mark", "remembered"), &x)
	case f.Origin == engine.Assumed:
		p.say(p.text("mark", "assumed"), &x)
	case !f.Implied || f.Unit == nil || f.Unit.Symbol == "":
	case f.Slot == engine.SeedRate && f.Unit.System == unit.Metric:
		p.say(p.text("mark", "per_hectare"), &x)
	case f.Slot == engine.SeedRate:
		p.say(p.text("mark", "per_acre"), &x)
	case f.Unit.Dim == unit.DimLength || f.Unit.Dim == unit.DimSpeed || f.Unit.Dim == unit.DimArea || f.Unit.Dim == unit.DimTime || f.Unit.Dim == unit.DimMass:
		p.say(p.text("mark", "unit"), &x) // elsewhere the unit beside the number says it
	}
}

// reading writes how the message was read where a person may want to object:
// numbers taken back, words not used, spellings put right.
func (p *page) reading() {
	o := p.o
	p.spans("withdrawn", o.Withdrawn)
	p.spans("unread", p.notNamed(o.Unread))
	for i := range o.Fixes {
		if p.items == 0 {
			p.say(p.text("reading", "fixes"), &params{})
		}
		p.item()
		p.say(p.text("reading", "fix"), &params{word: o.Fixes[i].Said, other: CropWord(p.lang.code, o.Fixes[i].Read)})
	}
	p.end()
}

// notNamed leaves out what the question itself has just quoted.
func (p *page) notNamed(spans []engine.Span) []engine.Span {
	if p.o.Problem == "" || len(p.o.Words) == 0 || len(spans) != 1 || spans[0].Text != p.o.Words[0] {
		return spans
	}
	if t := p.text("problem", p.o.Problem); t == nil || !t.shown.has(argWord) {
		return spans
	}
	return nil
}

func (p *page) spans(kind string, spans []engine.Span) {
	if len(spans) == 0 {
		return
	}
	p.say(p.text("reading", kind), &params{})
	for i := range spans {
		if i > 0 {
			p.buf = append(p.buf, ", "...)
		}
		p.quote(spans[i].Text)
	}
	p.end()
}

// quote writes people's words in quotation marks; the ear gets the words.
func (p *page) quote(s string) {
	if p.form == spoken {
		p.own(s)
		return
	}
	p.buf = append(p.buf, "“"...)
	p.own(s)
	p.buf = append(p.buf, "”"...)
}
