package record

import (
	"bufio"
	"io"
	"strconv"
	"strings"
	"unicode"
)

// CSV writes the record as one table. The first column says what a row is: a load, a
// total, or what was told of a day. Every cell is in quotes, and none can be taken
// for a formula.
func (r *Record) CSV(out io.Writer) error {
	w := bufio.NewWriter(out)
	w.WriteString("\ufeff") // or spreadsheets take the accents apart
	for _, row := range r.table() {
		for i, cell := range row {
			if i > 0 {
				w.WriteByte(',')
			}
			w.WriteString(`"` + strings.ReplaceAll(cell, `"`, `""`) + `"`)
		}
		w.WriteString("\r\n")
	}
	return w.Flush()
}

// table is the record as rows of cells, the heading first.
func (r *Record) table() [][]string {
	rows := [][]string{r.heading()}
	for i := range r.Sheets {
		s := &r.Sheets[i]
		for j := range s.Lines {
			rows = append(rows, r.loadCells(s, &s.Lines[j]))
		}
		rows = append(rows, r.sumCells(s.Day, s.Field.Name, r.words().dayTotal, s.Sum))
		for _, d := range r.details(s) {
			rows = append(rows, r.toldCells(s.Day, s.Field.Name, d.name, d.value))
		}
	}
	for _, f := range r.Fields {
		rows = append(rows, r.sumCells("", r.words().fieldName(f.Name), r.words().total, f.Sum))
	}
	rows = append(rows, r.sumCells("", "", r.words().grandTotal, r.Sum))
	for _, g := range r.Gaps {
		rows = append(rows, r.toldCells(g.Day, g.Field, r.words().missing, r.gapText(g)))
	}
	return append(rows, r.toldCells("", "", "", r.words().legal))
}

func (r *Record) heading() []string {
	w, col := r.words(), columnsOf(r.Units)
	out := []string{w.row, w.day, w.time, w.field, w.load, w.share, w.volume + " (" + r.unitName(col.volume) + ")",
		w.area + " (" + r.unitName(col.area) + ")", w.rate + " (" + r.unitName(col.rate) + ")"}
	for _, crop := range r.Crops {
		out = append(out, r.crop(crop)+" ("+r.unitName(col.seed)+")")
	}
	return append(out, w.operator, w.notes, w.state, w.item, w.value)
}

func (r *Record) loadCells(s *Sheet, l *Line) []string {
	col := columnsOf(r.Units)
	rate := ""
	if l.Rate > 0 {
		rate = bare(round(col.rate.FromBase(l.Rate), decimalsOf(col.rate)))
	}
	out := []string{r.words().loadRow, s.Day, l.When.Format("15:04"), harmless(r.words().fieldName(s.Field.Name)), strconv.Itoa(l.Seq),
		bare(l.Shown.Loads), bare(l.Shown.Volume), bare(l.Shown.Area), rate}
	out = append(out, r.seedCells(l.Shown)...)
	return append(out, harmless(l.Who.Name), harmless(strings.Join(l.Notes, "; ")), harmless(r.stateOf(l)), "", "")
}

func (r *Record) sumCells(day, field, name string, sum Sum) []string {
	out := []string{r.words().totalRow, day, "", harmless(field), "", bare(sum.Loads), bare(sum.Volume), bare(sum.Area), ""}
	out = append(out, r.seedCells(sum)...)
	return append(out, "", "", "", harmless(name), "")
}

func (r *Record) toldCells(day, field, item, value string) []string {
	out := make([]string, 9+len(r.Crops)+5)
	out[0], out[1], out[3] = r.words().toldRow, day, harmless(field)
	out[len(out)-2], out[len(out)-1] = harmless(item), harmless(value)
	return out
}

func (r *Record) seedCells(sum Sum) []string {
	var out []string
	for _, crop := range r.Crops {
		cell := ""
		if v, ok := sum.Seeds[crop]; ok {
			cell = bare(v)
		}
		out = append(out, cell)
	}
	return out
}

// harmless keeps people's words from being taken for a formula by a spreadsheet:
// at the start of a cell, and after a sign at which some of them split cells. Signs
// that steer a printer or a terminal are left out.
func harmless(cell string) string {
	var b strings.Builder
	fresh := true // a cell could start here
	for _, c := range cell {
		switch {
		case c == '\n' || c == '\r' || c == '\t':
			c, fresh = ' ', true
		case unicode.IsControl(c):
			continue
		case fresh && strings.ContainsRune("=+-@＝＋－＠", c):
			b.WriteByte('\'')
			fresh = false
		default:
			fresh = c == ';' || c == ',' || c == '|' || fresh && c == ' '
		}
		b.WriteRune(c)
	}
	return b.String()
}
