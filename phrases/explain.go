package phrases

import (
	"cmp"
	"slices"

	"tankside/engine"
)

// explain writes the steps for "how?" and the sources for "says who?".
func (p *page) explain() {
	o := p.o
	if o.Show {
		for i := range o.Results {
			if by := o.Results[i].By; by != nil && by.Expr != "" && !p.quiet(o.Results[i].Slot) {
				p.step(&o.Results[i])
			}
		}
	}
	switch {
	case o.Source:
		p.sources()
	case p.about(engine.TopicCrop) && len(o.Timings) == 0:
		p.publishers()
	}
}

// step writes one formula in names, then in values, then what it gives. A formula
// that is told rather than reckoned has no line of values.
func (p *page) step(v *engine.Value) {
	p.say(p.lang.slot[v.Slot], &params{})
	if v.Of != "" {
		p.say(p.text("word", "of_crop"), &params{crop: v.Of})
	}
	p.operator('=')
	if told := p.text("expr", v.By.Expr); told != nil {
		p.say(told, &params{})
	} else {
		f := formula{page: p, value: v, expr: v.By.Expr}
		f.constant = f.findConstant()
		f.write(func(s engine.Slot) { p.say(p.lang.slot[s], &params{}) })
		p.operator('=')
		f.write(f.valueOf)
		if u := f.unitOf(v.Slot); f.constant != "" && u != p.unitOf(v.Slot, v.Unit, v.Max) {
			p.operator('=')
			p.plainResult(&engine.Value{Slot: v.Slot, Min: v.Min, Max: v.Max, Unit: u})
		}
	}
	p.operator('=')
	p.plainResult(v)
	p.end()
}

// plainResult writes a result without the ounces beside it.
func (p *page) plainResult(v *engine.Value) {
	a := p.result(v)
	a.grams = false
	p.amount(&a)
}

// operator writes a sign with blanks around it; the ear gets its word.
func (p *page) operator(r rune) {
	name, ok := operators[r]
	switch {
	case p.form == spoken && !ok:
		p.buf = append(trimSpace(p.buf), ',', ' ')
	case p.form == spoken:
		p.buf = append(trimSpace(p.buf), ' ')
		p.say(p.text("op", name), &params{})
		p.buf = append(p.buf, ' ')
	case !ok:
		p.fixed(string(r))
	default:
		p.buf = append(p.buf, ' ')
		p.fixed(string(r))
		p.buf = append(p.buf, ' ')
	}
}

var operators = map[rune]string{'+': "plus", '−': "minus", '-': "minus", '×': "times", '÷': "over", '/': "over", '=': "equals"}

// sources names where the formulas and figures of the answer come from, each
// once. Plain arithmetic is worth a line only where there is nothing else.
func (p *page) sources() {
	var seen []string
	once := func(key string, s engine.Slot) {
		if key == "" || key == exact || slices.Contains(seen, key) {
			return
		}
		seen = append(seen, key)
		p.cited(key, s)
		p.end()
	}
	arithmetic := false
	for i := range p.o.Results {
		if by := p.o.Results[i].By; by != nil && !p.quiet(p.o.Results[i].Slot) {
			once(by.Source, p.o.Results[i].Slot)
			arithmetic = arithmetic || by.Source == exact
		}
	}
	for i := range p.o.Notes {
		once(p.o.Notes[i].Source, engine.NoSlot)
	}
	switch {
	case len(seen) > 1, len(seen) == 1 && !(arithmetic && seen[0] == practice):
	case arithmetic:
		p.say(p.text("source", exact), &params{})
	default:
		p.say(p.text("source", "none"), &params{})
	}
	p.end()
}

// cited writes a source in full: who, what, when, which page, and whether it was
// read or is quoted from memory.
func (p *page) cited(key string, of engine.Slot) {
	s := engine.SourceNamed(key)
	switch {
	case key == practice:
		p.say(p.text("source", key), &params{})
		return
	case s == nil:
		p.own(key)
		return
	}
	if of == engine.NoSlot {
		p.say(p.text("source", "is"), &params{})
	} else {
		p.say(p.text("source", "of"), &params{slot: of})
	}
	for _, part := range [...]string{s.Author, s.Title, s.Year, s.Page} {
		if part != "" {
			p.item()
			p.data(part)
		}
	}
	if s.Status == "memory" {
		p.item()
		p.say(p.text("source", "memory"), &params{})
	}
}

// exact and practice are the keys of what has no publisher.
const exact, practice = "EXACT", "PRACTICE"

// publishers names in one line who published the figures of the answer.
func (p *page) publishers() {
	var seen []string
	for i := range p.o.Results {
		by := p.o.Results[i].By
		if by == nil || by.Source == exact || by.Source == practice {
			continue
		}
		s := engine.SourceNamed(by.Source)
		if s == nil || slices.Contains(seen, p.publisher(s)) {
			continue
		}
		if len(seen) == 0 {
			p.say(p.text("source", "is"), &params{})
		}
		seen = append(seen, p.publisher(s))
		p.item()
		p.data(p.publisher(s))
	}
	p.end()
}

// publisher names who stands behind a source, in words of the language where it has any.
func (p *page) publisher(s *engine.Source) string {
	if t := p.lang.texts["publisher"][s.Key]; t != nil {
		return t.shown.one[0].lit
	}
	return cmp.Or(s.Publisher, s.Author, s.Title)
}

// cite names the publisher in brackets after a note that states its figure.
func (p *page) cite(key string) {
	s := engine.SourceNamed(key)
	if s == nil || key == exact || key == practice {
		return
	}
	n := len(p.buf)
	stop := n > 0 && p.buf[n-1] == '.'
	if stop {
		p.buf = p.buf[:n-1]
	}
	p.buf = append(p.buf, " ("...)
	p.own(p.publisher(s))
	if p.buf = append(p.buf, ')'); stop {
		p.buf = append(p.buf, '.')
	}
}
