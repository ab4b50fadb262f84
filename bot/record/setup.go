package record

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"tankside/bot"
	"tankside/engine"
)

// Setup is what a file of set-up and fields holds.
type Setup struct {
	Facts  engine.Facts
	Fields []bot.Field // name and area
	Runs   []engine.Run
}

// LineError is what is wrong with one line of a file.
type LineError struct {
	Line int
	Text string
}

// Error names the line.
func (e *LineError) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Text) }

// mostLines is more than any farm has; a longer file is another file.
const (
	mostLines = 2000
	mostBytes = 1 << 20
	mostName  = 60
)

// ReadSetup reads a set-up from CSV with the columns item, name, value and unit, in
// any order, set apart by commas or semicolons:
//
//	item,name,value,unit
//	tank,,3000,gal
//	seed,annual ryegrass,12,lb/acre
//	field,north forty,38.5,acre
//	gate,4,620,gal/min
//
// The error joins a LineError for each line that cannot be taken; then nothing is.
// unusual lets values through that are outside the usual band.
func ReadSetup(in io.Reader, unusual bool) (*Setup, error) {
	raw, err := io.ReadAll(io.LimitReader(in, mostBytes+1))
	switch {
	case err != nil:
		return nil, err
	case len(raw) > mostBytes:
		return nil, errors.New("it is longer than a set-up can be")
	case !utf8.Valid(raw):
		return nil, errors.New("it is not UTF-8 text: save it as CSV UTF-8")
	}
	text := strings.TrimPrefix(string(raw), "\ufeff")
	rows := csv.NewReader(strings.NewReader(text))
	rows.FieldsPerRecord, rows.TrimLeadingSpace = -1, true
	if first, _ := bufio.NewReader(strings.NewReader(text)).ReadString('\n'); strings.Count(first, ";") > strings.Count(first, ",") {
		rows.Comma = ';'
	}
	s := &setupReader{rows: rows, unusual: unusual, seen: map[string]int{}}
	if err := s.headings(); err != nil {
		return nil, err
	}
	return &s.out, s.read()
}

// setupReader reads line by line and collects what is wrong.
type setupReader struct {
	rows    *csv.Reader
	columns [4]int // of item, name, value and unit
	unusual bool
	seen    map[string]int // the line that an item stands on
	out     Setup
	wrong   []error
}

// headingWords are the headings, in both languages.
var headingWords = [4][]string{{"item", "what", "dato", "asunto"}, {"name", "of", "nombre", "de"}, {"value", "amount", "valor", "cantidad"}, {"unit", "unidad"}}

func (s *setupReader) headings() error {
	heads, err := s.rows.Read()
	if err != nil {
		return &LineError{1, "there are no headings: item, name, value, unit"}
	}
	s.columns = [4]int{-1, -1, -1, -1}
	for i, head := range heads {
		at := slices.IndexFunc(headingWords[:], func(words []string) bool { return slices.Contains(words, plain(strings.TrimSpace(head))) })
		switch {
		case at < 0:
			return &LineError{1, fmt.Sprintf("no heading is called %q: they are item, name, value, unit", head)}
		case s.columns[at] >= 0:
			return &LineError{1, fmt.Sprintf("the heading %q is there twice", head)}
		}
		s.columns[at] = i
	}
	for at, words := range headingWords {
		if s.columns[at] < 0 {
			return &LineError{1, fmt.Sprintf("the heading %q is missing", words[0])}
		}
	}
	return nil
}

// setupLine is one line of the file.
type setupLine struct {
	number                  int
	item, name, value, unit string
}

func (s *setupReader) read() error {
	for n := 0; ; n++ {
		row, err := s.rows.Read()
		if err == io.EOF {
			break
		}
		number, _ := s.rows.FieldPos(0)
		var broken *csv.ParseError
		switch {
		case errors.As(err, &broken):
			return errors.Join(append(s.wrong, &LineError{broken.StartLine, "the quotes do not match"})...)
		case err != nil:
			return err
		case n >= mostLines:
			return &LineError{number, fmt.Sprintf("there are more than %d lines", mostLines)}
		}
		l := setupLine{number: number}
		for at, to := range [...]*string{&l.item, &l.name, &l.value, &l.unit} {
			if s.columns[at] < len(row) {
				*to = strings.TrimSpace(row[s.columns[at]])
			}
		}
		if l.item+l.name+l.value+l.unit == "" && len(row) <= 4 {
			continue
		}
		if trouble := s.take(&l, len(row)); trouble != "" {
			s.wrong = append(s.wrong, &LineError{number, trouble})
		}
	}
	if len(s.wrong) == 0 && len(s.seen) == 0 {
		return errors.New("there is nothing in it but headings")
	}
	return errors.Join(s.wrong...)
}

// take reads one line, or says what is wrong with it.
func (s *setupReader) take(l *setupLine, cells int) string {
	item, ok := setupItems[plain(l.item)]
	switch {
	case cells > 4:
		return fmt.Sprintf("it has %d cells, the headings are 4: put quotes around a number with a comma", cells)
	case !ok:
		return fmt.Sprintf("no item is called %q", l.item)
	}
	value, u, trouble := amount(l, item.slot)
	if trouble != "" {
		return trouble
	}
	f := engine.Fact{Slot: item.slot, Of: item.of, Min: value, Max: value, Unit: u, Origin: engine.Remembered}
	if trouble := s.named(l, item, &f); trouble != "" {
		return trouble
	}
	switch fit := engine.Plausible(&f); {
	case fit == engine.NotPos:
		return fmt.Sprintf("%s: it has to be more than zero", l.value)
	case fit == engine.TooFar:
		return fmt.Sprintf("%s %s cannot be right for %s", l.value, l.unit, l.item)
	case fit == engine.Unusual && !s.unusual:
		return fmt.Sprintf("%s %s is unusual for %s: if it is right, import with --unusual", l.value, l.unit, l.item)
	}
	key := item.kind + "\x00" + item.slot.String() + "\x00" + strings.ToLower(l.name) + item.of + f.Of
	if before := s.seen[key]; before > 0 {
		return fmt.Sprintf("%s %s is on line %d already", l.item, l.name, before)
	}
	s.seen[key] = l.number
	s.put(item, l, f)
	return ""
}

// named settles what the name of a line is of.
func (s *setupReader) named(l *setupLine, item setupItem, f *engine.Fact) string {
	switch item.kind {
	case kindField:
		return nameTrouble(l.name)
	case kindGate:
		if _, trouble := numberIn(l.name); trouble != "" || l.name == "" {
			return fmt.Sprintf("the gate's mark goes under name: %q is no number", l.name)
		}
	case kindCrop:
		i := slices.IndexFunc(cropNames(), func(c cropName) bool { return c.word == plain(l.name) })
		if i < 0 {
			return fmt.Sprintf("no crop is called %q", l.name)
		}
		f.Of = cropNames()[i].crop
	default:
		if l.name != "" {
			return fmt.Sprintf("%s has no name: %q", l.item, l.name)
		}
	}
	return ""
}

func nameTrouble(name string) string {
	switch {
	case name == "":
		return "the field has no name"
	case utf8.RuneCountInString(name) > mostName:
		return fmt.Sprintf("the name is longer than %d letters", mostName)
	case strings.ContainsFunc(name, unicode.IsControl):
		return "the name has signs in it that are no letters"
	}
	return ""
}

func (s *setupReader) put(item setupItem, l *setupLine, f engine.Fact) {
	base, _ := f.Base()
	switch item.kind {
	case kindField:
		s.out.Fields = append(s.out.Fields, bot.Field{Name: l.name, Area: base})
	case kindGate:
		mark, _ := numberIn(l.name)
		s.out.Runs = append(s.out.Runs, engine.Run{Opening: mark, Flow: base})
	default:
		s.out.Facts = append(s.out.Facts, f)
	}
}

// Into puts a set-up into a chat's memory. What the chat knew of the same things is
// replaced, fields that are open by that name keep their number and their loads. It
// fails, and changes nothing, where gate runs contradict.
func (s *Setup) Into(m *bot.Memory, at time.Time, who string) error {
	runs := slices.Clone(m.Runs)
	for _, r := range s.Runs {
		r.Outlet = m.Outlet
		runs = slices.DeleteFunc(runs, func(o engine.Run) bool { return o.Outlet == r.Outlet && o.Opening == r.Opening })
		runs = append(runs, r)
	}
	if a, b, found := engine.Contradiction(runs); found {
		return fmt.Errorf("gate runs contradict: gate %g gives %g gallons a minute, the wider gate %g no more than %g", a.Opening, a.Flow, b.Opening, b.Flow)
	}
	m.Runs = runs
	for _, f := range s.Facts {
		m.Facts = slices.DeleteFunc(slices.Clone(m.Facts), func(r bot.Remembered) bool { return r.Fact.Slot == f.Slot && r.Fact.Of == f.Of })
		m.Facts = append(m.Facts, bot.Remembered{Fact: f, When: at, Who: who})
	}
	m.Fields = slices.Clone(m.Fields)
	for _, f := range s.Fields {
		i := slices.IndexFunc(m.Fields, func(o bot.Field) bool { return strings.EqualFold(o.Name, f.Name) && o.Closed.IsZero() })
		if i >= 0 {
			m.Fields[i].Area = f.Area
			continue
		}
		m.Next++
		m.Fields = append(m.Fields, bot.Field{ID: m.Next, Name: f.Name, Area: f.Area, Opened: at})
	}
	return nil
}
