package phrases

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"tankside/engine"
	"tankside/engine/unit"
)

// form is what the reply is for.
type form uint8

const (
	plain form = iota
	html
	spoken
)

// page is one reply being written. Lines are ended as they are finished; the ear
// gets a sentence where the eye gets a line.
type page struct {
	led   bool // notes that are the answer itself stand first
	buf   []byte
	lang  *language
	form  form
	o     *engine.Outcome
	start int  // where the line in hand begins
	items int  // how many items it has
	lines int  // how many are finished
	named bool // the US gallon has been named

	inUsed     bool // the line of given values is being written
	namesLater bool // that line is where the US gallon will be named
}

// params is what the placeholders of a text stand for.
type params struct {
	a, b, c     amount
	n, m        float64
	crop        string // canonical
	word, other string // people's own words
	field, who  string
	at          string
	slot        engine.Slot
	unit        *unit.Unit
}

// item begins the next piece of a line.
func (p *page) item() {
	if p.items++; p.items == 1 {
		return
	}
	if p.form == spoken {
		p.buf = append(p.buf, ", "...)
		return
	}
	p.buf = append(p.buf, " · "...)
}

// end finishes the line in hand, if there is anything in it.
func (p *page) end() {
	if p.items = 0; len(p.buf) == p.start {
		return
	}
	p.buf = trimSpace(p.buf)
	upperFirst(p.buf[p.start:])
	if p.form == html && p.lines == 0 {
		first := string(p.buf[p.start:])
		p.buf = append(append(append(p.buf[:p.start], "<b>"...), first...), "</b>"...)
	}
	p.lines++
	if p.form == spoken {
		p.sentence()
	} else {
		p.buf = append(p.buf, '\n')
	}
	p.start = len(p.buf)
}

// sentence ends a spoken line with a full stop unless it has its own sign.
func (p *page) sentence() {
	p.buf = trimSpace(p.buf)
	if n := len(p.buf); n > 0 && p.buf[n-1] == ',' {
		p.buf = p.buf[:n-1]
	}
	if n := len(p.buf); n > 0 && !strings.ContainsRune(".?!", rune(p.buf[n-1])) {
		p.buf = append(p.buf, '.')
	}
	p.buf = append(p.buf, ' ')
}

// finish takes off what the last line left behind.
func (p *page) finish() {
	p.end()
	for n := len(p.buf); n > 0 && (p.buf[n-1] == '\n' || p.buf[n-1] == ' '); n = len(p.buf) {
		p.buf = p.buf[:n-1]
	}
	if p.form == spoken {
		p.buf = tidy(p.buf)
	}
}

// upperFirst makes the first letter of a line a capital, where that does not
// change its length.
func upperFirst(line []byte) {
	for i := 0; i < len(line); {
		r, size := utf8.DecodeRune(line[i:])
		if unicode.IsLetter(r) {
			if big := unicode.ToUpper(r); utf8.RuneLen(big) == size {
				utf8.EncodeRune(line[i:], big)
			}
			return
		}
		if r != '¿' && r != '¡' && r != '“' {
			return
		}
		i += size
	}
}

// text finds an entry; English has filled the gaps of other languages, so a
// missing one is a bug that the tests of the texts catch.
func (p *page) text(section, name string) *text {
	texts := p.lang.texts[section]
	if p.o != nil && p.o.Units.System == unit.Metric {
		if t := texts[name+".metric"]; t != nil {
			return t
		}
	}
	return texts[name]
}

// say writes a text. A missing one writes nothing.
func (p *page) say(t *text, v *params) {
	if t == nil {
		return
	}
	vs := &t.shown
	if p.form == spoken {
		vs = &t.heard
	}
	segments := vs.many
	if counts := vs.has(argN); counts && v.n == 1 || !counts && v.a.one() {
		segments = vs.one
	}
	for i := range segments {
		p.fixed(segments[i].lit)
		if segments[i].arg != 0 {
			p.placeholder(&segments[i], v)
		}
	}
}

// fixed writes catalogue text.
func (p *page) fixed(s string) {
	switch {
	case p.form == html:
		p.escape(s)
	case p.form == spoken && strings.IndexByte(s, '\n') >= 0:
		for i, line := range strings.Split(s, "\n") {
			if i > 0 {
				p.sentence()
			}
			p.buf = append(p.buf, line...)
		}
	default:
		p.buf = append(p.buf, s...)
	}
}

// longest is how much of somebody's own words is quoted.
const longest = 80

// own writes people's own words: data, never markup, cut short, for the ear in
// words.
func (p *page) own(s string) {
	s = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) || r == utf8.RuneError {
			return ' '
		}
		return r
	}, s)
	s = strings.TrimSpace(s)
	if utf8.RuneCountInString(s) > longest {
		s = string([]rune(s)[:longest]) + "…"
	}
	p.data(s)
}

// data writes text that is not from the catalogue.
func (p *page) data(s string) {
	switch p.form {
	case html:
		p.escape(s)
	case spoken:
		p.buf = append(p.buf, p.lang.words.literal(s, true)...)
	default:
		p.buf = append(p.buf, s...)
	}
}

func (p *page) escape(s string) {
	for {
		i := strings.IndexAny(s, `&<>"`)
		if i < 0 {
			p.buf = append(p.buf, s...)
			return
		}
		p.buf = append(p.buf, s[:i]...)
		switch s[i] {
		case '&':
			p.buf = append(p.buf, "&amp;"...)
		case '<':
			p.buf = append(p.buf, "&lt;"...)
		case '>':
			p.buf = append(p.buf, "&gt;"...)
		case '"':
			p.buf = append(p.buf, "&quot;"...)
		}
		s = s[i+1:]
	}
}

// placeholder writes what stands for one name in braces.
func (p *page) placeholder(s *segment, v *params) {
	switch s.arg {
	case argA:
		v.a.gender = s.gender
		p.amount(&v.a)
	case argB:
		p.amount(&v.b)
	case argC:
		p.amount(&v.c)
	case argN:
		p.number(v.n, s.gender)
	case argM:
		p.number(v.m, s.gender)
	case argCrop:
		p.crop(v.crop)
	case argWord:
		p.own(v.word)
	case argOther:
		p.own(v.other)
	case argField:
		p.own(v.field)
	case argWho:
		p.own(v.who)
	case argAt:
		p.clock(v.at)
	case argSlot:
		p.say(p.lang.slot[v.slot], v)
	case argUnit:
		p.unitWord(v.unit)
	case argChoices:
		p.choices()
	case argConflict:
		p.conflict()
	case argGiven:
		p.givenList(engine.Said)
	case argSubject:
		p.subject()
	}
}

// crop writes a crop's name; none is "seed".
func (p *page) crop(name string) {
	if name == "" {
		p.say(p.text("word", "seed"), &params{})
		return
	}
	if t := p.text("crop", name); t != nil {
		p.say(t, &params{})
		return
	}
	if strings.HasPrefix(name, "own:") {
		name = "own"
	}
	if t := p.text("scheme", name); t != nil {
		p.say(t, &params{})
		return
	}
	p.own(name)
}

func (p *page) unitWord(u *unit.Unit) {
	word := p.lang.unit(u).word(false)
	if p.form == spoken {
		word = p.lang.words.literal(word, false)
	}
	p.fixed(word)
}

func (p *page) number(v float64, g gender) {
	if p.form == spoken {
		p.buf = p.lang.words.append(p.buf, v, g)
		return
	}
	p.digits(v, -1)
}

// digits writes a number with the marks that the chat writes.
func (p *page) digits(v float64, decimals int) {
	from := len(p.buf)
	p.buf = appendDecimals(p.buf, v, decimals)
	if !p.o.Units.Comma {
		return
	}
	for i, c := range p.buf[from:] {
		if c == '.' || c == ',' {
			p.buf[from+i] = '.' + ',' - c
		}
	}
}
