package phrases

import (
	"strings"

	"tankside/engine"
)

// explain writes the steps for "how?" and the sources for "says who?".
func (p *page) explain() {
	o := p.o
	if o.Show {
		for i := range o.Results {
			if by := o.Results[i].By; by != nil && by.Expr != "" {
				p.step(&o.Results[i])
			}
		}
	}
	if o.Show || o.Source {
		p.sources()
	}
}

// step writes one formula three times: in names, in values, and what it gives.
func (p *page) step(v *engine.Value) {
	expr := v.By.Expr
	if _, right, ok := strings.Cut(expr, "="); ok {
		expr = right
	}
	p.say(p.lang.slot[v.Slot], &params{})
	if v.Of != "" {
		p.say(p.text("word", "of_crop"), &params{crop: v.Of})
	}
	p.operator('=')
	p.formula(expr, func(s engine.Slot) { p.say(p.lang.slot[s], &params{}) })
	p.operator('=')
	p.formula(expr, func(s engine.Slot) { p.valueIn(s, v.Of) })
	p.operator('=')
	a := p.result(v)
	a.grams = false
	p.amount(&a)
	p.end()
}

// formula writes an expression, each slot by the function given.
func (p *page) formula(expr string, slot func(engine.Slot)) {
	for i := 0; i < len(expr); {
		n := 0
		for i+n < len(expr) && (expr[i+n] == '_' || expr[i+n] == '.' || 'a' <= expr[i+n] && expr[i+n] <= 'z' || '0' <= expr[i+n] && expr[i+n] <= '9') {
			n++
		}
		if n == 0 {
			r := []rune(expr[i:])[0]
			p.operator(r)
			i += len(string(r))
			continue
		}
		word := expr[i : i+n]
		if s := engine.SlotNamed(word); s != engine.NoSlot {
			slot(s)
		} else {
			p.own(strings.ReplaceAll(word, "_", " "))
		}
		i += n
	}
}

// operator writes a sign with blanks around it; the ear gets its word.
func (p *page) operator(r rune) {
	name, ok := operators[r]
	switch {
	case r == ' ':
		return
	case !ok && p.form == spoken, r == '(' && p.form == spoken, r == ')' && p.form == spoken:
		p.buf = append(trimSpace(p.buf), ',', ' ')
	case r == '(':
		p.buf = append(p.buf, '(')
	case r == ')':
		p.buf = append(p.buf, ')')
	case p.form == spoken:
		p.buf = append(trimSpace(p.buf), ' ')
		p.say(p.text("op", name), &params{})
		p.buf = append(p.buf, ' ')
	default:
		p.buf = append(p.buf, ' ')
		p.fixed(string(r))
		p.buf = append(p.buf, ' ')
	}
}

var operators = map[rune]string{'+': "plus", '−': "minus", '-': "minus", '×': "times", '÷': "over", '/': "over", '=': "equals"}

// valueIn writes the value that stands for a slot in a formula, or its name.
func (p *page) valueIn(s engine.Slot, of string) {
	f := p.o.Given.Find(s, of)
	if f == nil {
		f = p.o.Given.First(s)
	}
	if f == nil && s == engine.LoadVolume {
		f = p.o.Given.First(engine.TankVolume)
	}
	if f != nil {
		a := factAmount(f)
		p.amount(&a)
		return
	}
	if v := p.find(s); v != nil {
		a := p.result(v)
		a.grams = false
		p.amount(&a)
		return
	}
	p.say(p.lang.slot[s], &params{})
}

// sources names where the formulas and figures of the answer come from, each
// once, or says that it is common practice.
func (p *page) sources() {
	var seen []string
	once := func(key string) {
		for _, k := range seen {
			if k == key {
				return
			}
		}
		if key != "" {
			seen = append(seen, key)
		}
	}
	for i := range p.o.Results {
		if by := p.o.Results[i].By; by != nil {
			once(by.Source)
		}
	}
	for i := range p.o.Notes {
		once(p.o.Notes[i].Source)
	}
	if len(seen) == 0 {
		p.say(p.text("source", "none"), &params{})
	}
	for _, key := range seen {
		p.cited(key)
		p.end()
	}
	p.end()
}

// cited writes a source in full: who, what, when, which page, and whether it was
// read or is quoted from memory.
func (p *page) cited(key string) {
	s := engine.SourceNamed(key)
	switch {
	case key == exact || key == practice:
		p.say(p.text("source", key), &params{})
		return
	case s == nil:
		p.own(key)
		return
	}
	p.say(p.text("source", "is"), &params{})
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

// cite names the publisher in brackets after a note that states its figure.
func (p *page) cite(key string) {
	s := engine.SourceNamed(key)
	if s == nil || key == exact || key == practice {
		return
	}
	who := s.Publisher
	if who == "" {
		who = s.Author
	}
	if who == "" {
		who = s.Title
	}
	p.buf = append(p.buf, " ("...)
	p.own(who)
	p.buf = append(p.buf, ')')
}
