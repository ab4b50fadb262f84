package record

import (
	"fmt"
	"io"
	"strings"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"tankside/engine/unit"
)

// PDF writes the record to be printed: a part for each field and day with its loads,
// blanks to fill for what is missing, totals, and a line to sign.
func (r *Record) PDF(out io.Writer) error {
	p := newPaper(r)
	p.intro()
	for i := range r.Sheets {
		p.sheet(&r.Sheets[i])
	}
	p.totals()
	p.missing()
	p.signature()
	return p.Output(out)
}

// Sizes on paper: letters in points, everything else in millimetres.
const (
	edge  = 12.0
	line  = 5.0
	small = 9.0
	big   = 11.0
	huge  = 16.0
)

// paper is a document on its way.
type paper struct {
	*fpdf.Fpdf
	r     *Record
	w     *words
	width float64
	foot  float64 // nothing is written below
}

func newPaper(r *Record) *paper {
	size := "A4"
	if r.Units.System == unit.US {
		size = "Letter"
	}
	p := &paper{Fpdf: fpdf.New("L", "mm", size, ""), r: r, w: r.words()}
	p.AddUTF8FontFromBytes("go", "", goregular.TTF)
	p.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	p.SetTitle(p.w.title, true)
	p.SetCreator("tankside", true)
	p.SetCreationDate(r.Made)
	p.SetModificationDate(r.Made)
	p.SetCatalogSort(true) // the same record is the same file
	p.SetMargins(edge, edge, edge)
	p.SetAutoPageBreak(false, 0)
	w, h := p.GetPageSize()
	p.width, p.foot = w-2*edge, h-edge-2*line
	p.SetFooterFunc(p.footer)
	p.AddPage()
	return p
}

func (p *paper) letters(size float64, bold bool) {
	style := ""
	if bold {
		style = "B"
	}
	p.SetFont("go", style, size)
}

// footer tells on every page what the paper is not.
func (p *paper) footer() {
	_, h := p.GetPageSize()
	p.SetXY(edge, h-edge-line)
	p.letters(8, false)
	p.SetTextColor(60, 60, 60)
	p.CellFormat(p.width-30, line, p.w.legal, "", 0, "L", false, 0, "")
	p.CellFormat(30, line, fmt.Sprintf(p.w.page, p.PageNo()), "", 0, "R", false, 0, "")
	p.SetTextColor(0, 0, 0)
}

// room starts a new page when less than so much is left on this one.
func (p *paper) room(height float64) (fresh bool) {
	if p.GetY()+height <= p.foot {
		return false
	}
	p.AddPage()
	return true
}

// say writes a text over the whole width, on as many lines as it takes.
func (p *paper) say(text string, size float64, bold bool) {
	p.letters(size, bold)
	high := size * 0.45
	for _, part := range p.lines(text, p.width) {
		p.room(high)
		p.CellFormat(p.width, high, part, "", 1, "L", false, 0, "")
	}
}

// lines breaks a text for a width. A word wider than that is cut in pieces.
func (p *paper) lines(text string, width float64) []string {
	if text = onPaper(text); text == "" {
		return []string{""}
	}
	var out []string
	for _, part := range strings.Split(text, "\n") {
		if part == "" {
			continue
		}
		out = append(out, p.SplitText(part, width)...)
	}
	return out
}

func (p *paper) intro() {
	p.say(p.w.title, huge, true)
	when := p.w.noLoads
	if len(p.r.Sheets) > 0 {
		when = p.r.From
		if p.r.To != p.r.From {
			when = fmt.Sprintf(p.w.period, p.r.From, p.r.To)
		}
	}
	p.say(when+" · "+fmt.Sprintf(p.w.made, p.r.Made.Format("2006-01-02 15:04")), big, false)
	p.Ln(2)
}

// sheet writes a field's day: its heading, its loads, its total, and what is told.
func (p *paper) sheet(s *Sheet) {
	table := p.loadTable(s)
	p.room(6*line + 3*table.high)
	p.Ln(2)
	head := p.w.fieldName(s.Field.Name) + " · " + s.Day
	if !s.From.IsZero() {
		head += " · " + clock(s.From)
		if !s.To.Equal(s.From) {
			head += " – " + clock(s.To)
		}
	}
	p.say(head, 13, true)
	p.Ln(1)
	table.write(p)
	p.Ln(1.5)
	p.details(s)
	p.Ln(3)
}

// nameWidth is the room for the name of a detail.
const nameWidth = 46.0

// details writes what is told beside the loads in two columns, with a rule to write
// on where something is missing; the nutrients, which come last, take both.
func (p *paper) details(s *Sheet) {
	const gap = 6.0
	half := (p.width - gap) / 2
	all := p.r.details(s)
	last := len(all) - 1
	for i := 0; i < last; i += 2 {
		pair := all[i:min(i+2, last)]
		high := 0.0
		for _, d := range pair {
			high = max(high, p.detailHeight(d, half))
		}
		p.room(high)
		y := p.GetY()
		for j, d := range pair {
			p.detail(d, edge+float64(j)*(half+gap), y, half)
		}
		p.SetXY(edge, y+high)
	}
	high := p.detailHeight(all[last], p.width)
	p.room(high)
	y := p.GetY()
	p.detail(all[last], edge, y, p.width)
	p.SetXY(edge, y+high)
}

// parts are a detail's name and value in lines.
func (p *paper) parts(d detail, width float64) (name, value []string) {
	p.letters(small, true)
	name = p.lines(d.name, nameWidth-2)
	p.letters(small, false)
	value = p.lines(d.value, width-nameWidth)
	if len(value) > mostLinesOfDetail {
		value = append(value[:mostLinesOfDetail-1:mostLinesOfDetail-1], "…")
	}
	return name, value
}

// mostLinesOfDetail keeps a detail on its page; the note that told it is in the table
// of loads with all its words.
const mostLinesOfDetail = 20

func (p *paper) detailHeight(d detail, width float64) float64 {
	name, value := p.parts(d, width)
	return line*float64(max(len(name), len(value))) + 0.8
}

func (p *paper) detail(d detail, x, y, width float64) {
	name, value := p.parts(d, width)
	p.letters(small, true)
	p.column(name, x, y, nameWidth)
	p.letters(small, false)
	if d.gap {
		p.SetDrawColor(0, 0, 0)
		p.SetLineWidth(0.2)
		p.Line(x+nameWidth+1, y+line-0.8, x+width, y+line-0.8)
		return
	}
	p.column(value, x+nameWidth, y, width-nameWidth)
}

func (p *paper) column(lines []string, x, y, width float64) {
	for i, text := range lines {
		p.SetXY(x, y+float64(i)*line)
		p.CellFormat(width, line, text, "", 0, "L", false, 0, "")
	}
}

// totals writes the sums of each field and of all.
func (p *paper) totals() {
	if len(p.r.Fields) == 0 {
		return
	}
	t := p.sumTable()
	p.room(4*line + 2*t.high)
	p.say(p.w.fieldTotal, 13, true)
	p.Ln(1)
	t.write(p)
	p.Ln(3)
}

// missing lists the blanks, so that they can be asked for.
func (p *paper) missing() {
	if len(p.r.Gaps) == 0 {
		p.say(p.w.nothing, big, true)
		return
	}
	p.room(4 * line)
	p.say(p.w.missing, 13, true)
	for _, text := range p.r.Missing() {
		p.say(strings.TrimPrefix(text, p.w.missing+": "), small, false)
	}
}

func (p *paper) signature() {
	p.room(5 * line)
	p.Ln(2 * line)
	p.letters(small, false)
	p.SetDrawColor(0, 0, 0)
	y := p.GetY()
	p.Line(edge, y, edge+90, y)
	p.Line(edge+100, y, edge+150, y)
	p.CellFormat(100, line, p.w.operator+", "+p.w.complete, "", 0, "L", false, 0, "")
	p.CellFormat(50, line, p.w.day, "", 1, "L", false, 0, "")
}
