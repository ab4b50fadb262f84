package record

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"tankside/phrases"
)

// XLSX writes the record as a workbook: the days, the loads with sums that the
// program adds up by itself, and what is missing. People's words are text cells,
// never formulas.
func (r *Record) XLSX(out io.Writer) error {
	b := &book{r: r, f: excelize.NewFile(), w: r.words()}
	for _, make := range []func(){b.styles, b.days, b.loads, b.remarks} {
		if make(); b.err != nil {
			return fmt.Errorf("make the sheet: %w", b.err)
		}
	}
	b.try(b.f.SetDocProps(&excelize.DocProperties{Title: b.w.title, Creator: "tankside", Language: r.Lang}))
	if b.err == nil {
		_, b.err = b.f.WriteTo(out)
	}
	return b.err
}

// book is a workbook on its way. The first error stops it.
type book struct {
	r   *Record
	f   *excelize.File
	w   *words
	err error

	head, bold, blank, struck, wrap int
	formats                         map[string]int
	widths                          []float64   // of the sheet in hand, in letters
	lines                           map[int]int // how many lines its rows take
}

// letters is how text looks, everywhere alike.
func letters(bold, struck bool) *excelize.Font {
	f := &excelize.Font{Family: "Arial", Size: 10, Bold: bold, Strike: struck}
	if struck {
		f.Color = "6B7075"
	}
	return f
}

func (b *book) try(err error) {
	if b.err == nil {
		b.err = err
	}
}

func (b *book) style(s *excelize.Style) int {
	id, err := b.f.NewStyle(s)
	b.try(err)
	return id
}

func (b *book) styles() {
	top := &excelize.Alignment{Vertical: "top", WrapText: true}
	fill := func(color string) excelize.Fill {
		return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}}
	}
	white := letters(true, false)
	white.Color = "FFFFFF"
	b.head = b.style(&excelize.Style{Font: white, Alignment: top, Fill: fill("14181B")})
	b.bold = b.style(&excelize.Style{Font: letters(true, false), Alignment: top})
	b.blank = b.style(&excelize.Style{Font: letters(false, false), Fill: fill("FFF2B3"), Alignment: top})
	b.struck = b.style(&excelize.Style{Font: letters(false, true), Alignment: top})
	b.wrap = b.style(&excelize.Style{Font: letters(false, false), Alignment: top})
	b.formats = map[string]int{}
}

// sheet starts a sheet with its headings. It prints on one page's width; a wide one
// goes on over several, each with its first columns.
func (b *book) sheet(name string, wide bool, headings []string, widths []float64) {
	if b.widths == nil {
		b.try(b.f.SetSheetName("Sheet1", name))
	} else {
		_, err := b.f.NewSheet(name)
		b.try(err)
	}
	b.widths, b.lines = nil, map[int]int{}
	for i := range headings {
		width := 20.0
		if i < len(widths) {
			width = widths[i]
		}
		b.widths = append(b.widths, width)
		col, err := excelize.ColumnNumberToName(i + 1)
		b.try(err)
		b.try(b.f.SetColWidth(name, col, col, width))
	}
	for i, h := range headings {
		b.text(name, i, 1, h, b.head)
	}
	b.try(b.f.SetPanes(name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	flat, one, any, titles := "landscape", 1, 0, "'%[1]s'!$1:$1"
	layout := &excelize.PageLayoutOptions{Orientation: &flat}
	if wide {
		titles = "'%[1]s'!$A:$B,'%[1]s'!$1:$1"
	} else {
		fit := true
		b.try(b.f.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &fit}))
		layout.FitToWidth, layout.FitToHeight = &one, &any
	}
	b.try(b.f.SetPageLayout(name, layout))
	b.try(b.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", Scope: name, RefersTo: fmt.Sprintf(titles, name)}))
}

// loads writes every load, those taken back struck out and not counted, and sums.
func (b *book) loads() {
	name, col := b.w.loadsTab, columnsOf(b.r.Units)
	r := b.r
	heads := []string{b.w.day, b.w.time, b.w.field, b.w.load, b.w.counts, b.w.share, b.w.volume + " (" + r.unitName(col.volume) + ")",
		b.w.area + " (" + r.unitName(col.area) + ")", b.w.rate + " (" + r.unitName(col.rate) + ")"}
	for _, crop := range r.Crops {
		heads = append(heads, r.crop(crop)+" ("+r.unitName(col.seed)+")")
	}
	heads = append(heads, b.w.operator, b.w.notes, b.w.state)
	b.sheet(name, false, heads, []float64{12, 8, 20, 7, 8, 8, 12, 10, 12})
	row := 2
	for i := range r.Sheets {
		for j := range r.Sheets[i].Lines {
			b.load(name, row, &r.Sheets[i], &r.Sheets[i].Lines[j])
			row++
		}
	}
	b.text(name, 2, row, b.w.grandTotal, b.bold)
	b.sum(name, 5, row, r.Sum.Loads, -1)
	b.sum(name, 6, row, r.Sum.Volume, decimalsOf(col.volume))
	b.sum(name, 7, row, r.Sum.Area, decimalsOf(col.area))
	for i, crop := range r.Crops {
		b.sum(name, 9+i, row, r.Sum.Seeds[crop], decimalsOf(col.seed))
	}
}

func (b *book) load(name string, row int, s *Sheet, l *Line) {
	col, out := columnsOf(b.r.Units), !l.Stands()
	words, counts := b.wrap, 1.0
	if out {
		words, counts = b.struck, 0
	}
	for i, text := range []string{s.Day, l.When.Format("15:04"), b.w.fieldName(s.Field.Name)} {
		b.text(name, i, row, text, words)
	}
	b.figure(name, 3, row, float64(l.Seq), 0, false, out)
	b.figure(name, 4, row, counts, 0, false, false)
	b.figure(name, 5, row, l.Shown.Loads, -1, false, out)
	b.figure(name, 6, row, l.Shown.Volume, decimalsOf(col.volume), false, out)
	b.figure(name, 7, row, l.Shown.Area, decimalsOf(col.area), false, out)
	if l.Rate > 0 {
		b.figure(name, 8, row, round(col.rate.FromBase(l.Rate), decimalsOf(col.rate)), decimalsOf(col.rate), false, out)
	}
	for i, crop := range b.r.Crops {
		if v, ok := l.Shown.Seeds[crop]; ok {
			b.figure(name, 9+i, row, v, decimalsOf(col.seed), false, out)
		}
	}
	last := 9 + len(b.r.Crops)
	b.text(name, last, row, l.Who.Name, words)
	b.text(name, last+1, row, strings.Join(l.Notes, "\n"), b.wrap)
	b.text(name, last+2, row, b.r.stateOf(l), b.wrap)
}

// sum is a total that the sheet adds up itself, of the lines that count; its figure
// stands beside the formula for programs that do not reckon.
func (b *book) sum(name string, col, row int, v float64, decimals int) {
	b.figure(name, col, row, v, decimals, true, false)
	if row == 2 {
		return
	}
	from, to := b.cell(col, 2), b.cell(col, row-1)
	b.try(b.f.SetCellFormula(name, b.cell(col, row), fmt.Sprintf("SUMPRODUCT(%s:%s,$E$2:$E$%d)", from, to, row-1)))
}

// days writes one row for each field and day, with blanks where something is missing.
func (b *book) days() {
	r, w, name, col := b.r, b.w, b.w.daysTab, columnsOf(b.r.Units)
	heads := []string{w.day, w.field, w.fieldArea + " (" + r.unitName(col.area) + ")", w.from, w.to, w.loads, w.volume + " (" + r.unitName(col.volume) + ")",
		w.area + " (" + r.unitName(col.area) + ")", w.planned + " (" + r.unitName(col.rate) + ")", w.achieved + " (" + r.unitName(col.rate) + ")"}
	for _, crop := range r.Crops {
		heads = append(heads, r.crop(crop)+" ("+r.unitName(col.seed)+")")
	}
	heads = append(heads, w.lots)
	for _, slot := range onGround {
		heads = append(heads, phrases.Word(r.Lang, "slot."+slot.String())+" ("+r.unitName(r.Units.UnitFor(slot))+")")
	}
	widths := slices.Concat([]float64{12, 20, 12, 8, 8, 8, 12, 10, 14, 14}, slices.Repeat([]float64{14}, len(heads)-10))
	heads, widths = append(heads, w.nutrients), append(widths, 30)
	for _, item := range toldItems {
		heads = append(heads, w.items[item])
	}
	heads = append(heads, w.operator)
	b.sheet(name, true, heads, widths)
	for i := range r.Sheets {
		b.day(name, i+2, &r.Sheets[i])
	}
	row := len(r.Sheets) + 2
	b.text(name, 1, row, w.grandTotal, b.bold)
	b.figure(name, 5, row, r.Sum.Loads, -1, true, false)
	b.figure(name, 6, row, r.Sum.Volume, decimalsOf(col.volume), true, false)
	b.figure(name, 7, row, r.Sum.Area, decimalsOf(col.area), true, false)
	for i, crop := range r.Crops {
		b.figure(name, 10+i, row, r.Sum.Seeds[crop], decimalsOf(col.seed), true, false)
	}
}

func (b *book) day(name string, row int, s *Sheet) {
	r, col := b.r, columnsOf(b.r.Units)
	b.text(name, 0, row, s.Day, b.wrap)
	b.told(name, 1, row, s.Field.Name)
	if b.told(name, 2, row, ""); s.Field.Area > 0 {
		b.figure(name, 2, row, round(col.area.FromBase(s.Field.Area), decimalsOf(col.area)), decimalsOf(col.area), false, false)
	}
	if !s.From.IsZero() {
		b.text(name, 3, row, s.From.Format("15:04"), b.wrap)
		b.text(name, 4, row, s.To.Format("15:04"), b.wrap)
	}
	b.figure(name, 5, row, s.Sum.Loads, -1, false, false)
	b.figure(name, 6, row, s.Sum.Volume, decimalsOf(col.volume), false, false)
	b.figure(name, 7, row, s.Sum.Area, decimalsOf(col.area), false, false)
	if s.Planned[1] > 0 {
		b.band(name, 8, row, s.Planned, col.rate)
	}
	if s.Achieved > 0 {
		b.figure(name, 9, row, round(col.rate.FromBase(s.Achieved), decimalsOf(col.rate)), decimalsOf(col.rate), false, false)
	}
	at := 10
	for _, crop := range r.Crops {
		if v, ok := s.Sum.Seeds[crop]; ok {
			b.figure(name, at, row, v, decimalsOf(col.seed), false, false)
		}
		at++
	}
	b.told(name, at, row, r.lotText(s))
	for i, slot := range onGround {
		if band, ok := s.amountOf(slot); ok {
			b.band(name, at+1+i, row, band, r.Units.UnitFor(slot))
		}
	}
	at += 1 + len(onGround)
	b.told(name, at, row, strings.Join(r.basis(s), "; "))
	for i, item := range toldItems {
		if told := s.Told.Items[item]; told != "" || asked(item) {
			b.told(name, at+1+i, row, told)
		}
	}
	b.told(name, at+1+len(toldItems), row, strings.Join(s.People, ", "))
}

// lotText lists the lots of a sheet's crops; empty while one is missing.
func (r *Record) lotText(s *Sheet) string {
	var lots []string
	for _, crop := range s.crops() {
		lot := s.lotOf(crop)
		if lot == "" {
			return ""
		}
		lots = append(lots, r.crop(crop)+" "+lot)
	}
	return strings.Join(lots, "; ")
}

// remarks writes what is missing, and what the record is not.
func (b *book) remarks() {
	name := b.w.notesTab
	b.sheet(name, false, []string{b.w.title, b.w.day, b.w.field, b.w.item}, []float64{60, 12, 20, 40})
	b.text(name, 0, 2, fmt.Sprintf(b.w.made, b.r.Made.Format("2006-01-02 15:04")), b.wrap)
	b.text(name, 0, 3, b.w.legal, b.bold)
	missing := b.w.missing
	if len(b.r.Gaps) == 0 {
		missing = b.w.nothing
	}
	b.text(name, 0, 4, missing, b.bold)
	for i, g := range b.r.Gaps {
		b.text(name, 1, 4+i, g.Day, b.wrap)
		b.text(name, 2, 4+i, b.w.fieldName(g.Field), b.wrap)
		b.text(name, 3, 4+i, b.r.gapText(g), b.wrap)
	}
}
