package record

import (
	"bytes"
	"cmp"
	"compress/zlib"
	"encoding/csv"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"tankside/bot"
)

func written(t *testing.T, write func(*bytes.Buffer) error) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := write(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// column is the index of a heading that starts so.
func columnOf(t *testing.T, heads []string, start string) int {
	t.Helper()
	i := slices.IndexFunc(heads, func(h string) bool { return strings.HasPrefix(h, start) })
	if i < 0 {
		t.Fatalf("no column %q in %q", start, heads)
	}
	return i
}

func figure(t *testing.T, cell string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.ReplaceAll(cell, ",", ""), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// standing is what the log holds, summed here and not by the record.
func standing() (loads, gallons, acres, pounds float64) {
	rows, _ := aLog()
	for _, r := range rows {
		if r.Cancelled.IsZero() {
			loads, gallons, acres = loads+r.Fraction, gallons+r.Volume, acres+r.Area
			for _, s := range r.Seeds {
				pounds += s.Weight
			}
		}
	}
	return loads, gallons, acres, pounds
}

func TestCSVAgainstTheLog(t *testing.T) {
	r := built(Query{})
	raw := written(t, func(b *bytes.Buffer) error { return r.CSV(b) })
	text, ok := strings.CutPrefix(string(raw), "\ufeff")
	if !ok {
		t.Error("no byte order mark")
	}
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	heads := rows[0]
	state, vol, area := columnOf(t, heads, "state"), columnOf(t, heads, "slurry (gallons)"), columnOf(t, heads, "ground (acres)")
	rye, oats := columnOf(t, heads, "annual ryegrass (pounds)"), columnOf(t, heads, "oats (pounds)")
	var loads, gallons, acres, pounds, days float64
	var lines, back int
	for _, row := range rows[1:] {
		switch {
		case row[0] == "load" && row[state] == "stands":
			lines++
			loads, gallons, acres = loads+figure(t, row[5]), gallons+figure(t, row[vol]), acres+figure(t, row[area])
			for _, c := range []int{rye, oats} {
				if row[c] != "" {
					pounds += figure(t, row[c])
				}
			}
		case row[0] == "load":
			back++
		case row[0] == "total" && row[1] != "":
			days += figure(t, row[vol])
		}
	}
	wantLoads, wantGallons, wantAcres, wantPounds := standing()
	if lines != 9 || back != 2 || math.Abs(loads-wantLoads) > 1e-9 || math.Abs(gallons-wantGallons) > 0.5 || math.Abs(acres-wantAcres) > 0.005 ||
		math.Abs(pounds-wantPounds) > 0.011 || days != gallons {
		t.Errorf("%d lines and %d taken back: %g loads, %g gal, %g acres, %g lb, days %g; the log has %g, %g, %g, %g", lines, back, loads, gallons, acres, pounds,
			days, wantLoads, wantGallons, wantAcres, wantPounds)
	}
	grand := rows[slices.IndexFunc(rows, func(row []string) bool { return row[0] == "total" && row[len(row)-2] == "grand total" })]
	if figure(t, grand[vol]) != gallons || math.Abs(figure(t, grand[area])-acres) > 1e-9 {
		t.Errorf("grand total %q, lines %g and %g", grand, gallons, acres)
	}
	for _, row := range rows {
		for _, cell := range row {
			if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") {
				t.Errorf("a spreadsheet would run %q", cell)
			}
		}
	}
}

func TestHarmless(t *testing.T) {
	for cell, want := range map[string]string{"=1+1": "'=1+1", "a;=1+1": "a;'=1+1", "a; =1": "a; '=1", "a\n@b": "a '@b", "north-forty": "north-forty", "x = 3": "x = 3",
		" -2": " '-2", "\t+1": " '+1", "a\x1b[31mb\u202a": "a[31mb\u202a", "＝1": "'＝1", "a,+1,,-1": "a,'+1,,'-1", "": ""} {
		if got := harmless(cell); got != want {
			t.Errorf("%q: %q, want %q", cell, got, want)
		}
	}
}

func opened(t *testing.T, raw []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func TestXLSXAgainstTheLog(t *testing.T) {
	r := built(Query{})
	f := opened(t, written(t, func(b *bytes.Buffer) error { return r.XLSX(b) }))
	if got := f.GetSheetList(); !slices.Equal(got, []string{"Days", "Loads", "Notes"}) {
		t.Fatalf("sheets %q", got)
	}
	rows, err := f.GetRows("Loads")
	if err != nil {
		t.Fatal(err)
	}
	var gallons, acres float64
	for _, row := range rows[1 : len(rows)-1] {
		gallons, acres = gallons+figure(t, row[4])*figure(t, row[6]), acres+figure(t, row[4])*figure(t, row[7])
	}
	_, wantGallons, wantAcres, _ := standing()
	last := rows[len(rows)-1]
	if len(rows) != 1+11+1 || math.Abs(gallons-wantGallons) > 0.5 || math.Abs(acres-wantAcres) > 0.005 || figure(t, last[6]) != gallons || math.Abs(figure(t, last[7])-acres) > 1e-9 {
		t.Errorf("%d rows, %g gal, %g acres; stands %q", len(rows), gallons, acres, last)
	}
	for _, cell := range []string{"G13", "H13", "J13"} { // what the sheet itself comes to
		stored, _ := f.GetCellValue("Loads", cell, excelize.Options{RawCellValue: true})
		reckoned, err := f.CalcCellValue("Loads", cell, excelize.Options{RawCellValue: true})
		if err != nil || math.Abs(figure(t, reckoned)-figure(t, stored)) > 1e-6 {
			t.Errorf("%s: stored %s, reckoned %s, %v", cell, stored, reckoned, err)
		}
	}
	days, err := f.GetRows("Days")
	if err != nil || len(days) != 5 || days[1][1] != "north forty" || figure(t, days[1][6]) != 18900 || figure(t, days[4][6]) != gallons || figure(t, days[1][9]) != 3150 {
		t.Errorf("days %q, %v", days, err)
	}
	noFormulas(t, f)
}

// noFormulas: the only formulas are our own sums.
func noFormulas(t *testing.T, f *excelize.File) {
	t.Helper()
	for _, sheet := range f.GetSheetList() {
		rows, _ := f.GetRows(sheet)
		for i, row := range rows {
			for j := range row {
				cell, _ := excelize.CoordinatesToCellName(j+1, i+1)
				if formula, _ := f.GetCellFormula(sheet, cell); formula != "" && !strings.HasPrefix(formula, "SUMPRODUCT(") {
					t.Errorf("%s %s: %s", sheet, cell, formula)
				}
			}
		}
	}
}

func TestXLSXWithOddText(t *testing.T) {
	rows, m := aLog()
	rows[0].Note, rows[1].Who.Name, m.Fields[0].Name = "a\x00\x0b\x1bb\uffff \xff", "<b>&amp;", "Ñandú 北"
	f := opened(t, written(t, func(b *bytes.Buffer) error { return Build(rows, m, Query{Lang: "es"}).XLSX(b) }))
	got, err := f.GetRows("Cargas")
	if err != nil || got[1][12] != "ab ?" || got[2][11] != "<b>&amp;" || got[1][2] != "Ñandú 北" {
		t.Errorf("%q, %v", got[1], err)
	}
}

// printed is a piece of text on a page.
type printed struct {
	page int
	x, y float64
	text string
}

var (
	stream = regexp.MustCompile(`(?s)stream\r?\n(.*?)endstream`)
	shown  = regexp.MustCompile(`(?s)BT ([\d.]+) ([\d.]+) Td \(((?:\\.|[^\\)])*)\) ?Tj`)
)

// read takes the texts out of a PDF, where they stand, page by page.
func read(t *testing.T, raw []byte) (all []printed) {
	t.Helper()
	page := 0
	for _, s := range stream.FindAllSubmatch(raw, -1) {
		z, err := zlib.NewReader(bytes.NewReader(s[1]))
		if err != nil {
			continue
		}
		content, err := io.ReadAll(z)
		if err != nil || !bytes.Contains(content, []byte(" Td (")) {
			continue
		}
		page++
		for _, m := range shown.FindAllSubmatch(content, -1) {
			all = append(all, printed{page, figure(t, string(m[1])), figure(t, string(m[2])), wide(m[3])})
		}
	}
	return all
}

// wide decodes a PDF string of two bytes a letter.
func wide(raw []byte) string {
	var plain []byte
	for i := 0; i < len(raw); i++ {
		if raw[i] == '\\' && i+1 < len(raw) {
			i++
			if raw[i] == 'r' {
				raw[i] = '\r'
			}
		}
		plain = append(plain, raw[i])
	}
	var units []uint16
	for i := 0; i+1 < len(plain); i += 2 {
		units = append(units, uint16(plain[i])<<8|uint16(plain[i+1]))
	}
	return string(utf16.Decode(units))
}

// rowsOf puts texts of one height in one row, from left to right.
func rowsOf(all []printed) (rows []string) {
	slices.SortStableFunc(all, func(a, b printed) int {
		return cmp.Or(cmp.Compare(a.page, b.page), -cmp.Compare(math.Round(a.y*2), math.Round(b.y*2)), cmp.Compare(a.x, b.x))
	})
	for i, p := range all {
		if i > 0 && p.page == all[i-1].page && math.Abs(p.y-all[i-1].y) < 0.6 {
			rows[len(rows)-1] += " " + p.text
			continue
		}
		rows = append(rows, p.text)
	}
	return rows
}

func textOf(t *testing.T, raw []byte) string { return strings.Join(rowsOf(read(t, raw)), "\n") }

func TestPDFAgainstTheLog(t *testing.T) {
	r := built(Query{})
	raw := written(t, func(b *bytes.Buffer) error { return r.PDF(b) })
	text := textOf(t, raw)
	for _, want := range []string{"Record of slurry and seed", "north forty · 2026-09-14 · 7:00 am – 8:30 am", "taken back 2026-09-14", "undone", "total of the day",
		"18,900", "AR-17-204", "61 F, wind NW 8", "3,150 gallons an acre, over the whole field", "first-year nitrogen by the Cornell table",
		"175.0 pounds an acre", "Not a legal document", "weather, 24 h before", evil} {
		if !strings.Contains(text, want) {
			t.Errorf("the pages lack %q", want)
		}
	}
	// the day's lines as printed add up to the total as printed
	var gallons, acres, total, ground float64
	for _, row := range strings.Split(text, "\n") {
		cells := strings.Fields(row)
		switch {
		case strings.Contains(row, "grand total"):
			total, ground = figure(t, cells[3]), figure(t, cells[4])
		case len(cells) > 6 && (cells[2] == "am" || cells[2] == "pm") && !strings.Contains(row, "taken back"):
			gallons, acres = gallons+figure(t, cells[4]), acres+figure(t, cells[5])
		}
	}
	_, wantGallons, wantAcres, _ := standing()
	if math.Abs(gallons-wantGallons) > 0.5 || math.Abs(acres-wantAcres) > 0.005 || total != gallons || math.Abs(ground-acres) > 1e-9 {
		t.Errorf("printed %g gal and %g acres, totals %g and %g, log %g and %g", gallons, acres, total, ground, wantGallons, wantAcres)
	}
	if again := written(t, func(b *bytes.Buffer) error { return built(Query{}).PDF(b) }); !bytes.Equal(raw, again) {
		t.Error("the same record is another file")
	}
}

// A very long note, names of all sorts and many loads: nothing is lost, no page
// overflows.
func TestPDFOfALot(t *testing.T) {
	rows, m := aLog()
	m.Fields[0].Name = strings.Repeat("W", 400)
	rows[0].Note = strings.Repeat("long word ", 500) + "the end of it"
	rows[1].Note = strings.Repeat("x", 3000) + "Z"
	rows[4].Note = "soil: " + strings.Repeat("W", 2000)
	rows[2].Note, rows[3].Note = "北 😀 \x00\x1b\u202e\xff", "tab\tand\nline"
	for i := range 300 {
		l := rows[4].Load
		l.ID, l.Seq = int64(1000+i), 100+i
		rows = append(rows, bot.Row{Load: l})
	}
	all := read(t, written(t, func(b *bytes.Buffer) error { return Build(rows, m, Query{Lang: "es"}).PDF(b) }))
	for _, p := range all { // points from the foot of a page of 612 by 792
		if p.y < 30 || p.y > 612-30 || p.x < 30 || p.x > 792-30 {
			t.Fatalf("%q runs off page %d at %g, %g", p.text, p.page, p.x, p.y)
		}
	}
	text := strings.Join(rowsOf(all), "\n")
	for _, want := range []string{"the end of it", "Z", "399", "total general"} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("the pages lack %q", want)
		}
	}
	if n := strings.Count(text, "long"); n != 500 {
		t.Errorf("%d of 500 words of a note", n)
	}
	if n := strings.Count(text, "x"); n < 3000 {
		t.Errorf("%d of 3,000 letters of a word", n)
	}
	if n := strings.Count(text, "página"); n < 12 {
		t.Errorf("%d pages", n)
	}
}

func TestEmptyRecord(t *testing.T) {
	r := Build(nil, &bot.Memory{}, Query{})
	for name, write := range map[string]func(*bytes.Buffer) error{"csv": func(b *bytes.Buffer) error { return r.CSV(b) },
		"xlsx": func(b *bytes.Buffer) error { return r.XLSX(b) }, "pdf": func(b *bytes.Buffer) error { return r.PDF(b) }} {
		if raw := written(t, write); len(raw) == 0 {
			t.Errorf("%s: nothing", name)
		}
	}
}
