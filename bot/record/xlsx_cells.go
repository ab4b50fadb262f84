package record

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"tankside/engine/unit"
)

// cell names a cell by its column, from zero, and row, from one.
func (b *book) cell(col, row int) string {
	name, err := excelize.CoordinatesToCellName(col+1, row)
	b.try(err)
	return name
}

func (b *book) text(sheet string, col, row int, text string, style int) {
	c := b.cell(col, row)
	b.try(b.f.SetCellStr(sheet, c, printable(text)))
	b.try(b.f.SetCellStyle(sheet, c, c, style))
	lines := 0
	for _, part := range strings.Split(text, "\n") {
		lines += 1 + int(float64(utf8.RuneCountInString(part))/b.widths[col])
	}
	if lines > b.lines[row] { // not every program finds the height of a row by itself
		b.lines[row] = lines
		b.try(b.f.SetRowHeight(sheet, row, min(13.5*float64(lines)+2, 400)))
	}
}

// told is a text cell, or a blank to fill.
func (b *book) told(sheet string, col, row int, text string) {
	if text == "" {
		b.text(sheet, col, row, "", b.blank)
		return
	}
	b.text(sheet, col, row, text, b.wrap)
}

// figure is a number cell with so many decimals; -1: as many as it has.
func (b *book) figure(sheet string, col, row int, v float64, decimals int, bold, struck bool) {
	c := b.cell(col, row)
	b.try(b.f.SetCellFloat(sheet, c, v, -1, 64))
	key := fmt.Sprint(decimals, bold, struck)
	if b.formats[key] == 0 {
		format := "General"
		if decimals >= 0 {
			format = "#,##0"
		}
		if decimals > 0 {
			format += "." + strings.Repeat("0", decimals)
		}
		b.formats[key] = b.style(&excelize.Style{CustomNumFmt: &format, Font: letters(bold, struck), Alignment: &excelize.Alignment{Vertical: "top"}})
	}
	b.try(b.f.SetCellStyle(sheet, c, c, b.formats[key]))
}

// band is a number cell, or text where it runs from one number to another.
func (b *book) band(sheet string, col, row int, v [2]float64, u *unit.Unit) {
	lo, hi := round(u.FromBase(v[0]), decimalsOf(u)), round(u.FromBase(v[1]), decimalsOf(u))
	if lo != hi {
		b.text(sheet, col, row, among(v, u), b.wrap)
		return
	}
	b.figure(sheet, col, row, lo, decimalsOf(u), false, false)
}

// printable leaves out what XML cannot hold.
func printable(s string) string {
	s = strings.ToValidUTF8(s, "?")
	return strings.Map(func(c rune) rune {
		if c < 0x20 && c != '\n' && c != '\t' || c == 0x7f || c == 0xfffe || c == 0xffff {
			return -1
		}
		return c
	}, s)
}
