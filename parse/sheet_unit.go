package parse

import (
	"strings"

	"tankside/engine/unit"
)

// labUnit is what a weight of nutrient on a lab sheet is in: that weight in the unit that
// the sheet names, "7 lb N, 3 lb P2O5, 6 lb K2O per ton", else the usual one.
func (b *binder) labUnit(u *unit.Unit) *unit.Unit {
	if sheet := b.sheetUnit(); sheet != nil && strings.HasPrefix(sheet.Symbol, u.Symbol+"/") {
		return sheet
	}
	if u.System == unit.Metric {
		return unit.Must("kg/m3")
	}
	return unit.Must("lb/1000gal")
}

// sheetUnit is the unit that a lab sheet names once for all its values: "lab is in lb per
// ton: N 7.1, P2O5 3.2", "analysis in percent: …", or only the last of them has: "2.8 de N
// 1.1 de P2O5 y 2.5 de K2O por m3". Nil where it names none, or two.
func (b *binder) sheetUnit() *unit.Unit {
	for i := range b.tokens {
		if b.inAmount(i, nil) {
			continue
		}
		if u := b.unitAlone(i); u != nil && onSheet(u) {
			return u
		}
	}
	var named *unit.Unit
	for k := range b.qs {
		q := &b.qs[k]
		u := q.unit
		if q.per == "m3" {
			u = unit.Must("kg/m3")
		}
		if u == nil || !onSheet(u) || q.implied && q.per != "m3" || u.Dim == unit.DimFraction || strings.HasSuffix(u.Symbol, "/gal") || u.Symbol == "kg/L" {
			continue // a density; a share of the load
		}
		if named != nil && named != u {
			return nil
		}
		named = u
	}
	return named
}

func onSheet(u *unit.Unit) bool {
	return u.Dim == unit.DimMassPerMass || u.Dim == unit.DimMassPerVolume || u.Dim == unit.DimFraction
}

// unitAlone is the unit that starts at token i without a number: "kg per ton", or "per m3",
// in which pounds or kilos go without saying.
func (b *binder) unitAlone(i int) *unit.Unit {
	t := &b.tokens[i]
	switch {
	case t.class == cUnit && t.key == "kg" && (b.at(i+1).class == cSlash || b.at(i+1).class == cPer) && b.at(i+2).text == "t":
		return unit.Must("kg/t")
	case t.class == cUnit:
		if prev := b.at(i - 1); t.key == "m3" && (prev.class == cPer || prev.class == cSlash || prev.class == cXPer || prev.key == "per") {
			t.used = true
			return unit.Must("kg/m3")
		}
		u, _ := b.targetUnit(i)
		return u
	}
	return nil
}
