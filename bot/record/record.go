// Package record makes the evening's record from a chat's log: what went on which
// field on which day, as CSV, as a spreadsheet and as a page to print. It also reads
// a set-up and fields from CSV.
//
// The log is the truth and is only read: a load taken back stays in the record,
// struck out, with when and why. What a record has to hold and nobody has said is
// left as a blank to fill, and listed.
//
// Deliberately not here: the store, transports, what a message means, and any law.
package record

import (
	"cmp"
	"maps"
	"slices"
	"strings"
	"time"

	"tankside/bot"
	"tankside/engine"
)

// Query says what a record is of. Days are written 2006-01-02; an empty one is open.
type Query struct {
	From, To string
	Field    string // a field's name; empty: all fields
	Lang     string // empty: the chat's
	Made     time.Time
}

// Record is what was done, by day and field.
type Record struct {
	Lang     string
	Units    engine.Units
	From, To string // the days of the first and the last sheet
	Made     time.Time
	Sheets   []Sheet
	Fields   []FieldSum
	Sum      Sum
	Crops    []string // all crops, in the order in which they were sown
	Gaps     []Gap
}

// Sheet is one field on one day.
type Sheet struct {
	Day       string
	Field     bot.Field // as the chat knows it now
	Lines     []Line
	Sum       Sum
	People    []string
	From, To  time.Time // of the loads that stand
	Planned   [2]float64
	Achieved  float64    // gallons an acre over the whole field, once it is closed; 0: not known
	Full      [2]float64 // gallons that a full load held, least and most
	Told      Told
	Tags      map[string]Tag // of the seed, by crop, where the chat knows both
	Nutrients *Nutrients     // nil: no analysis is known
}

// Line is a load as the record shows it.
type Line struct {
	bot.Row
	Notes []string // all that was noted about it, oldest first
	Shown Sum
}

// Stands says whether the line counts.
func (l *Line) Stands() bool { return l.Cancelled.IsZero() }

// FieldSum is a field's part of the record.
type FieldSum struct {
	Name string
	Sum  Sum
}

// Sum is amounts as shown, in the record's units, rounded so that columns add up to
// the last digit.
type Sum struct {
	Loads, Volume, Area float64
	Seeds               map[string]float64
}

// Build makes the record from the rows of a chat's log, oldest first, and what the
// chat remembers.
func Build(rows []bot.Row, m *bot.Memory, q Query) *Record {
	r := &Record{Lang: cmp.Or(q.Lang, m.Lang, "en"), Units: m.Units, Made: q.Made}
	named := fieldsOf(m)
	notes := notesOf(rows)
	for _, row := range rows {
		if row.Why == whyNote { // the load goes on in the row that took its place
			continue
		}
		field := fieldOf(named, &row)
		day := dayOf(row.When)
		if q.From != "" && day < q.From || q.To != "" && day > q.To || q.Field != "" && !strings.EqualFold(field.Name, q.Field) {
			continue
		}
		s := r.sheet(day, field)
		s.Lines = append(s.Lines, Line{Row: row, Notes: notes.of(&row)})
	}
	for i := range r.Sheets {
		r.Sheets[i].settle(rows, m)
	}
	slices.SortStableFunc(r.Sheets, func(a, b Sheet) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), a.From.Compare(b.From), cmp.Compare(a.Field.ID, b.Field.ID))
	})
	r.addUp()
	for i := range r.Sheets {
		r.Gaps = append(r.Gaps, r.Sheets[i].gaps()...)
	}
	return r
}

// whyNote is why a row was replaced when only a note was added to its load.
const whyNote = "note"

func dayOf(t time.Time) string { return t.Format("2006-01-02") }

func fieldsOf(m *bot.Memory) map[int64]bot.Field {
	out := map[int64]bot.Field{}
	for _, f := range m.Fields {
		out[f.ID] = f
	}
	return out
}

// fieldOf is the field under the name that it has now; one that was forgotten keeps
// the name that it had.
func fieldOf(named map[int64]bot.Field, row *bot.Row) bot.Field {
	f, ok := named[row.Field]
	if !ok {
		f = bot.Field{ID: row.Field}
	}
	f.Name = cmp.Or(f.Name, row.FieldName)
	return f
}

func (r *Record) sheet(day string, field bot.Field) *Sheet {
	for i := range r.Sheets {
		if s := &r.Sheets[i]; s.Day == day && s.Field.ID == field.ID && s.Field.Name == field.Name {
			return s
		}
	}
	r.Sheets = append(r.Sheets, Sheet{Day: day, Field: field})
	return &r.Sheets[len(r.Sheets)-1]
}

// settle fills a sheet in from its lines.
func (s *Sheet) settle(rows []bot.Row, m *bot.Memory) {
	slices.SortStableFunc(s.Lines, func(a, b Line) int { return cmp.Or(a.When.Compare(b.When), cmp.Compare(a.Seq, b.Seq)) })
	for i := range s.Lines {
		l := &s.Lines[i]
		if !l.Stands() {
			continue
		}
		if s.From.IsZero() {
			s.From = l.When
		}
		s.To = l.When
		if name := l.Who.Name; name != "" && !slices.Contains(s.People, name) {
			s.People = append(s.People, name)
		}
		if l.Rate > 0 {
			s.Planned = widened(s.Planned, l.Rate)
		}
		if l.Fraction > 0 && l.Volume > 0 {
			s.Full = widened(s.Full, l.Volume/l.Fraction)
		}
	}
	s.listen()
	s.Achieved = achieved(s.Field, rows)
	s.Tags = tagsOf(m)
	s.Nutrients = nutrientsOf(s, m)
}

func widened(band [2]float64, v float64) [2]float64 {
	if band[0] == 0 {
		return [2]float64{v, v}
	}
	return [2]float64{min(band[0], v), max(band[1], v)}
}

// listen reads what the notes tell of the day, those of loads taken back too, in the
// order in which they were said.
func (s *Sheet) listen() {
	lines := slices.Clone(s.Lines)
	slices.SortStableFunc(lines, func(a, b Line) int { return a.Said.Compare(b.Said) })
	for _, l := range lines {
		for _, note := range l.Notes {
			s.Told.read(note)
		}
	}
}

// Tag is what a seed lot's tag says, as the chat remembers it.
type Tag struct {
	Purity, Germination float64 // shares of one
	Given               time.Time
}

func tagsOf(m *bot.Memory) map[string]Tag {
	tags := map[string]Tag{}
	for _, r := range m.Facts {
		t := tags[r.Fact.Of]
		switch v, _ := r.Fact.Base(); r.Fact.Slot {
		case engine.Purity:
			t.Purity = v
		case engine.Germination:
			t.Germination = v
		default:
			continue
		}
		if r.When.After(t.Given) {
			t.Given = r.When
		}
		tags[r.Fact.Of] = t
	}
	maps.DeleteFunc(tags, func(_ string, t Tag) bool { return t.Purity == 0 || t.Germination == 0 })
	return tags
}

// achieved is all that went on a field over its area. Before the field is closed
// nobody knows: the ground of each load follows from the planned rate.
func achieved(f bot.Field, rows []bot.Row) float64 {
	if f.Closed.IsZero() || f.Area <= 0 {
		return 0
	}
	volume := 0.0
	for i := range rows {
		if rows[i].Field == f.ID && rows[i].Cancelled.IsZero() {
			volume += rows[i].Volume
		}
	}
	return volume / f.Area
}
