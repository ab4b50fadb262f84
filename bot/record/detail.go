package record

import (
	"fmt"
	"strings"

	"tankside/engine"
	"tankside/phrases"
)

// detail is one thing that a record tells of a field and a day.
type detail struct {
	name, value string
	gap         bool // it is missing: a blank to fill
}

// details are what is told of a sheet beside its loads, blanks included.
func (r *Record) details(s *Sheet) []detail {
	w, col := r.words(), columnsOf(r.Units)
	rateUnit := " " + r.unitName(col.rate)
	out := []detail{{name: w.operator, value: strings.Join(s.People, ", "), gap: len(s.People) == 0}}
	add := func(name, value string) { out = append(out, detail{name, value, value == ""}) }
	size := ""
	if s.Field.Area > 0 {
		size = number(col.area.FromBase(s.Field.Area), decimalsOf(col.area)) + " " + r.unitName(col.area)
	}
	add(w.fieldArea, size)
	if s.Full[1] > 0 {
		add(w.tank, among(s.Full, col.volume)+" "+r.unitName(col.volume))
	}
	if s.Planned[1] > 0 {
		add(w.planned, among(s.Planned, col.rate)+rateUnit)
	}
	reached := w.notYet
	if s.Achieved > 0 {
		reached = number(col.rate.FromBase(s.Achieved), decimalsOf(col.rate)) + rateUnit + ", " + w.overField
	}
	add(w.achieved, reached)
	for _, item := range toldItems {
		if told := s.Told.Items[item]; told != "" || asked(item) {
			add(w.items[item], told)
		}
	}
	for _, crop := range s.crops() {
		add(w.items[Lot]+" ("+r.crop(crop)+")", s.lotOf(crop))
		if t, ok := s.Tags[crop]; ok {
			add(w.tag+" ("+r.crop(crop)+")", fmt.Sprintf(w.tagged, percent(t.Purity), percent(t.Germination), t.Given.Format("2006-01-02")))
		}
	}
	add(w.nutrients, r.nutrientText(s))
	return out
}

func percent(share float64) string { return bare(round(100*share, 1)) + " %" }

// nutrientText tells what went on with the slurry, and by what it is reckoned.
func (r *Record) nutrientText(s *Sheet) string {
	if s.Nutrients == nil {
		return ""
	}
	w := r.words()
	var parts []string
	for _, n := range s.Nutrients.List {
		per, all := r.Units.UnitFor(n.Slot), columnsOf(r.Units).seed
		parts = append(parts, fmt.Sprintf(w.perArea, phrases.Word(r.Lang, "slot."+n.Slot.String()), among(n.PerArea, per), r.unitName(per),
			wholeAmong(n.Altogether, all.FromBase), r.unitName(all)))
	}
	return strings.Join(append(parts, r.basis(s)...), "; ")
}

// basis is what a sheet's nutrients are reckoned by.
func (r *Record) basis(s *Sheet) []string {
	if s.Nutrients == nil {
		return nil
	}
	w := r.words()
	out := []string{fmt.Sprintf(w.tested, s.Nutrients.Tested.Format("2006-01-02"))}
	if name := s.Nutrients.Scheme; name != "" {
		if key := "scheme." + name; phrases.Word(r.Lang, key) != key {
			name = phrases.Word(r.Lang, key)
		}
		out = append(out, fmt.Sprintf(w.scheme, name))
	}
	return out
}

func wholeAmong(band [2]float64, from func(float64) float64) string {
	lo, hi := number(from(band[0]), 0), number(from(band[1]), 0)
	if lo == hi {
		return lo
	}
	return lo + "–" + hi
}

// amountOf finds a nutrient of a sheet: pounds an acre, from and to.
func (s *Sheet) amountOf(slot engine.Slot) ([2]float64, bool) {
	if s.Nutrients != nil {
		for _, n := range s.Nutrients.List {
			if n.Slot == slot {
				return n.PerArea, true
			}
		}
	}
	return [2]float64{}, false
}
