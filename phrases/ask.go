package phrases

import (
	"strings"

	"tankside/engine"
)

// question asks for the first thing that is missing: one short question that one
// word or number answers.
func (p *page) question() {
	o := p.o
	if len(o.Missing) == 0 || o.Status == engine.Answered {
		return
	}
	s := o.Missing[0]
	x := params{slot: s, unit: o.Units.UnitFor(s)}
	if len(o.MissingOf) > 0 {
		x.crop = o.MissingOf[0]
	}
	p.item()
	t := p.text("ask", s.String())
	switch {
	case s == engine.Duration && x.crop != "":
		t = p.text("ask_duration", x.crop)
	case t == nil:
		t = p.text("default", "ask")
	}
	p.say(t, &x)
	p.end()
}

// problem writes a refusal or a question that is not about a missing value, and
// under it the results that stand all the same.
func (p *page) problem() {
	o := p.o
	x := params{word: first(o.Words), other: second(o.Words), slot: p.subjectSlot()}
	x.unit = o.Units.UnitFor(x.slot)
	if f := p.subjectFact(); f != nil {
		x.a, x.crop = factAmount(f), f.Of
	}
	if o.Problem == engine.PumpTooSmall {
		p.pumpTooSmall(&x)
	}
	p.item()
	p.say(p.problemText(x.slot), &x)
	p.end()
	p.runLines()
	if o.Problem == engine.PumpTooSmall {
		p.o = onlyLimits(o) // the flow that is needed has been said
	}
	p.answer()
}

// problemText finds the wording: with choices, or without the quantity, where the
// usual one would have a hole.
func (p *page) problemText(about engine.Slot) *text {
	t := p.text("problem", p.o.Problem)
	if other := p.text("problem_choices", p.o.Problem); other != nil && len(p.o.Choices) > 0 {
		return other
	}
	if bare := p.text("problem_bare", p.o.Problem); bare != nil && (about == engine.NoSlot || t.shown.has(argConflict) && len(p.o.Conflict) == 0) {
		return bare
	}
	return t
}

// pumpTooSmall gives the refusal its two numbers.
func (p *page) pumpTooSmall(x *params) {
	if v := p.find(engine.Flow); v != nil {
		x.a = p.result(v)
	}
	if f := p.o.Given.First(engine.PumpFlow); f != nil {
		x.b = factAmount(f)
	}
}

func onlyLimits(o *engine.Outcome) *engine.Outcome {
	rest := *o
	rest.Results = nil
	for i := range o.Results {
		if o.Results[i].Limit {
			rest.Results = append(rest.Results, o.Results[i])
		}
	}
	return &rest
}

// inProblem says whether the sentence of the problem has already named a fact.
func (p *page) inProblem(f *engine.Fact) bool {
	t := p.text("problem", p.o.Problem)
	if t == nil {
		return false
	}
	for _, s := range p.o.Conflict {
		if s == f.Slot && t.shown.has(argConflict) {
			return true
		}
	}
	return f == p.subjectFact() && (t.shown.has(argSubject) || t.shown.has(argA))
}

// subjectSlot is the quantity that a problem is about.
func (p *page) subjectSlot() engine.Slot {
	o := p.o
	switch {
	case o.Subject != engine.NoSlot:
		return o.Subject
	case len(o.Missing) > 0:
		return o.Missing[0]
	case len(o.Conflict) > 0:
		return o.Conflict[0]
	case len(o.Focus) > 0:
		return o.Focus[0]
	}
	for i := range o.Notes {
		if o.Notes[i].Slot != engine.NoSlot {
			return o.Notes[i].Slot
		}
	}
	return engine.NoSlot
}

func (p *page) subjectFact() *engine.Fact {
	s := p.subjectSlot()
	if s == engine.NoSlot {
		return nil
	}
	if p.o.Problem == engine.Extrapolation { // the runs were said first
		var last *engine.Fact
		for i := range p.o.Given {
			if f := &p.o.Given[i]; f.Slot == s && (last == nil || f.At[0] > last.At[0]) {
				last = f
			}
		}
		return last
	}
	if f := p.o.Given.Find(s, p.o.SubjectOf); f != nil {
		return f
	}
	return p.o.Given.First(s)
}

// subject writes what a problem is about as well as it is known: the value, the
// word that was said, or the quantity's name.
func (p *page) subject() {
	switch f, s := p.subjectFact(), p.subjectSlot(); {
	case p.o.Problem == engine.Extrapolation && p.find(s) != nil: // worked out; what was said may be of the runs
		p.items = 0
		p.oneResult(p.find(s))
	case f != nil:
		p.fact(f)
	case len(p.o.Words) > 0:
		p.quote(p.o.Words[0])
	case s != engine.NoSlot:
		p.say(p.lang.slot[s], &params{})
	default:
		p.say(p.text("word", "that"), &params{})
	}
}

// choices writes the ways out of an ambiguity: "A, B or C".
func (p *page) choices() {
	for i := range p.o.Choices {
		p.between(i, len(p.o.Choices), "or")
		c := &p.o.Choices[i]
		switch {
		case strings.HasPrefix(c.Word, "sense_"):
			p.say(p.text("word", c.Word), &params{})
		case c.Slot == engine.NoSlot && (c.Unit != nil || c.Word == ""): // an amount whose quantity is known from the question
			v := factAmount(&engine.Fact{Min: c.Min, Max: c.Max, Unit: c.Unit})
			p.amount(&v)
		case c.Word == "" || c.Slot != engine.NoSlot && c.Unit != nil:
			p.fact(&engine.Fact{Slot: c.Slot, Of: c.Of, Unit: c.Unit, Min: c.Min, Max: c.Max})
		case p.text("word", c.Word) != nil:
			p.say(p.text("word", c.Word), &params{})
		default:
			p.crop(c.Word)
		}
	}
	if len(p.o.Choices) == 0 {
		p.subject()
	}
}

// conflict writes the values that disagree.
func (p *page) conflict() {
	for i, s := range p.o.Conflict {
		p.between(i, len(p.o.Conflict), "and")
		if f := p.conflicting(i); f != nil {
			p.fact(f)
		} else {
			p.say(p.lang.slot[s], &params{})
		}
	}
}

// conflicting finds the fact behind the i-th conflicting slot; the same slot twice
// means two facts.
func (p *page) conflicting(i int) *engine.Fact {
	s, skip := p.o.Conflict[i], 0
	for _, before := range p.o.Conflict[:i] {
		if before == s {
			skip++
		}
	}
	for j := range p.o.Given {
		if f := &p.o.Given[j]; f.Slot == s {
			if skip == 0 {
				return f
			}
			skip--
		}
	}
	return nil
}

// between writes what joins item i of n: a comma, or the word before the last.
func (p *page) between(i, n int, joint string) {
	switch {
	case i == 0:
	case i == n-1:
		p.say(p.text("word", joint), &params{})
	default:
		p.buf = append(p.buf, ", "...)
	}
}

func first(words []string) string {
	if len(words) == 0 {
		return ""
	}
	return words[0]
}

func second(words []string) string {
	if len(words) < 2 {
		return ""
	}
	return words[1]
}
