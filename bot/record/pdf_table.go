package record

import (
	"strconv"
	"strings"

	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"sync"
	"unicode"
)

// column is one column of a printed table. A width of zero takes what is left.
type column struct {
	head  string
	width float64
	right bool
}

// row is one line of a printed table.
type row struct {
	cells  []string
	bold   bool
	struck bool
}

// table is printed with its heading again on every page.
type table struct {
	columns []column
	rows    []row
	high    float64 // of the heading
}

// settle shares the width that is left.
func (t *table) settle(p *paper) {
	left := p.width
	for _, c := range t.columns {
		left -= c.width
	}
	for i := range t.columns {
		if t.columns[i].width == 0 {
			t.columns[i].width = left
		}
	}
	p.letters(small, true)
	_, most := t.broken(p, t.heads())
	t.high = float64(most)*line + 0.6
}

// write prints the table. A row that is longer than a page goes on on the next one.
func (t *table) write(p *paper) {
	t.heading(p)
	for _, r := range t.rows {
		p.letters(small, r.bold)
		lines, most := t.broken(p, r.cells)
		if high := float64(most)*line + 0.6; high < p.foot/2 && p.room(high) || p.room(line+0.6) {
			t.heading(p)
		}
		for from := 0; from < most; {
			to := min(most, from+max(1, int((p.foot-p.GetY()-0.6)/line)))
			t.row(p, r, lines, from, to)
			if from = to; from < most {
				p.AddPage()
				t.heading(p)
			}
		}
	}
}

// broken is a row's cells in lines, and how many the longest has.
func (t *table) broken(p *paper, cells []string) (lines [][]string, most int) {
	for i, c := range t.columns {
		parts := p.lines(cells[i], c.width-2)
		lines, most = append(lines, parts), max(most, len(parts))
	}
	return lines, most
}

func (t *table) heads() []string {
	heads := make([]string, len(t.columns))
	for i, c := range t.columns {
		heads[i] = c.head
	}
	return heads
}

func (t *table) heading(p *paper) {
	p.SetFillColor(20, 24, 27)
	p.SetTextColor(255, 255, 255)
	y := p.GetY()
	p.Rect(edge, y, p.width, t.high, "F")
	p.letters(small, true)
	lines, most := t.broken(p, t.heads())
	t.cells(p, lines, 0, most, y)
	p.SetTextColor(0, 0, 0)
	p.SetXY(edge, y+t.high)
}

// row prints a row's lines from one to another.
func (t *table) row(p *paper, r row, lines [][]string, from, to int) {
	y, high := p.GetY(), float64(to-from)*line+0.6
	if r.struck {
		p.SetTextColor(95, 100, 105)
	}
	p.letters(small, r.bold)
	t.cells(p, lines, from, to, y)
	p.SetTextColor(0, 0, 0)
	p.SetDrawColor(190, 195, 200)
	p.SetLineWidth(0.15)
	p.Line(edge, y+high, edge+p.width, y+high)
	if r.struck && from == 0 { // through everything but the last cell, which says why
		p.SetDrawColor(0, 0, 0)
		p.SetLineWidth(0.2)
		p.Line(edge+1, y+0.3+line/2, edge+p.width-t.columns[len(t.columns)-1].width-1, y+0.3+line/2)
	}
	p.SetXY(edge, y+high)
}

func (t *table) cells(p *paper, lines [][]string, from, to int, y float64) {
	x := edge
	for i, c := range t.columns {
		align := "L"
		if c.right {
			align = "R"
		}
		for j := from; j < min(to, len(lines[i])); j++ {
			p.SetXY(x+1, y+0.3+float64(j-from)*line)
			p.CellFormat(c.width-2, line, lines[i][j], "", 0, align, false, 0, "")
		}
		x += c.width
	}
}

// loadTable is a sheet's loads with their total.
func (p *paper) loadTable(s *Sheet) *table {
	col := columnsOf(p.r.Units)
	t := &table{columns: []column{{p.w.load, 14, true}, {p.w.time, 20, true}, {p.w.share, 18, true},
		{p.w.volume + "\n" + p.r.unitName(col.volume), 24, true}, {p.w.area + "\n" + p.r.unitName(col.area), 20, true},
		{p.w.rate + "\n" + p.r.unitName(col.rate), 34, true}, {p.w.seed + "\n" + p.r.unitName(col.seed), 50, false},
		{p.w.operator, 24, false}, {p.w.notes, 0, false}}}
	for i := range s.Lines {
		t.rows = append(t.rows, p.loadRow(&s.Lines[i]))
	}
	t.rows = append(t.rows, row{bold: true, cells: []string{"", "", share(s.Sum.Loads), number(s.Sum.Volume, decimalsOf(col.volume)),
		number(s.Sum.Area, decimalsOf(col.area)), "", p.r.seedText(s.Sum), "", p.w.dayTotal}})
	t.settle(p)
	return t
}

func (p *paper) loadRow(l *Line) row {
	col := columnsOf(p.r.Units)
	rate := ""
	if l.Rate > 0 {
		rate = number(col.rate.FromBase(l.Rate), decimalsOf(col.rate))
	}
	notes := append([]string{}, l.Notes...)
	if !l.Stands() {
		notes = append([]string{p.r.stateOf(l)}, notes...)
	}
	return row{struck: !l.Stands(), cells: []string{strconv.Itoa(l.Seq), clock(l.When), share(l.Shown.Loads),
		number(l.Shown.Volume, decimalsOf(col.volume)), number(l.Shown.Area, decimalsOf(col.area)), rate, p.r.seedText(l.Shown), l.Who.Name,
		strings.Join(notes, "\n")}}
}

// seedText is a cell with one crop a line.
func (r *Record) seedText(sum Sum) string {
	var out []string
	for _, crop := range r.Crops {
		if v, ok := sum.Seeds[crop]; ok {
			out = append(out, r.crop(crop)+" "+number(v, decimalsOf(columnsOf(r.Units).seed)))
		}
	}
	return strings.Join(out, "\n")
}

// sumTable is the totals of each field and of all.
func (p *paper) sumTable() *table {
	col := columnsOf(p.r.Units)
	t := &table{columns: []column{{p.w.field, 0, false}, {p.w.loads, 22, true}, {p.w.volume + "\n" + p.r.unitName(col.volume), 32, true},
		{p.w.area + "\n" + p.r.unitName(col.area), 28, true}, {p.w.seed + "\n" + p.r.unitName(col.seed), 70, false}}}
	sum := func(name string, s Sum, bold bool) row {
		return row{bold: bold, cells: []string{name, share(s.Loads), number(s.Volume, decimalsOf(col.volume)), number(s.Area, decimalsOf(col.area)), p.r.seedText(s)}}
	}
	for _, f := range p.r.Fields {
		t.rows = append(t.rows, sum(p.w.fieldName(f.Name), f.Sum, false))
	}
	t.rows = append(t.rows, sum(p.w.grandTotal, p.r.Sum, true))
	t.settle(p)
	return t
}

// covered says which characters there are letters for.
var covered = sync.OnceValues(func() (*sfnt.Font, error) { return sfnt.Parse(goregular.TTF) })

// onPaper puts a question mark where there is no letter, and leaves out what steers
// a printer.
func onPaper(text string) string {
	f, err := covered()
	if err != nil {
		return text
	}
	var room sfnt.Buffer
	var b strings.Builder
	for _, c := range strings.ToValidUTF8(text, "?") {
		switch i, err := f.GlyphIndex(&room, c); {
		case c == '\n':
		case c == '\t':
			c = ' '
		case unicode.IsControl(c):
			continue
		case err != nil || i == 0:
			c = '?'
		}
		b.WriteRune(c)
	}
	return b.String()
}
