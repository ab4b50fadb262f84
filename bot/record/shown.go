package record

import (
	"math"
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
)

// carry rounds a column so that its rounded figures add up to its rounded sum: what
// one figure loses the next one gets. No figure is off by more than its last digit.
type carry struct {
	decimals  int
	sum, told float64
}

func (c *carry) next(v float64) float64 {
	c.sum += v
	shown := round(round(c.sum, c.decimals)-c.told, c.decimals)
	c.told = round(c.told+shown, c.decimals)
	return shown
}

func round(v float64, decimals int) float64 {
	by := math.Pow10(decimals)
	return math.Round(v*by) / by
}

// columns are the units of a record's amounts, and how fine they are shown.
type columns struct{ volume, area, rate, seedRate, seed *unit.Unit }

func columnsOf(u engine.Units) columns {
	return columns{u.UnitFor(engine.VolumeUsed), u.UnitFor(engine.AreaDone), u.UnitFor(engine.ApplicationRate),
		u.UnitFor(engine.SeedRate), u.UnitFor(engine.SeedUsed)}
}

// decimalsOf is what a meter, a monitor and a scale can show.
func decimalsOf(u *unit.Unit) int {
	switch u.Symbol {
	case "acre", "lb", "kg":
		return 2
	case "ha":
		return 3
	case "m3", "m3/ha", "lb/acre", "kg/ha", "lb/1000gal", "lb/1000imp gal", "kg/m3":
		return 1
	}
	return 0
}

// tally shows loads, each column carried from one to the next.
type tally struct {
	col          columns
	volume, area carry
	seeds        map[string]*carry
}

func newTally(col columns) *tally {
	return &tally{col: col, volume: carry{decimals: decimalsOf(col.volume)}, area: carry{decimals: decimalsOf(col.area)}, seeds: map[string]*carry{}}
}

func (t *tally) show(l *Line) Sum {
	s := Sum{Loads: round(l.Fraction, 4), Volume: t.volume.next(t.col.volume.FromBase(l.Volume)), Area: t.area.next(t.col.area.FromBase(l.Area))}
	for _, seed := range l.Seeds {
		if t.seeds[seed.Crop] == nil {
			t.seeds[seed.Crop] = &carry{decimals: decimalsOf(t.col.seed)}
		}
		s.plusSeed(seed.Crop, t.seeds[seed.Crop].next(t.col.seed.FromBase(seed.Weight)))
	}
	return s
}

// addUp fills in every figure and sum. The columns run through the whole record, so
// that lines, days, fields and the grand total agree. A load taken back is shown by
// itself and counts nowhere.
func (r *Record) addUp() {
	col := columnsOf(r.Units)
	standing := newTally(col)
	for i := range r.Sheets {
		s := &r.Sheets[i]
		for j := range s.Lines {
			l := &s.Lines[j]
			if !l.Stands() {
				l.Shown = newTally(col).show(l)
				continue
			}
			l.Shown = standing.show(l)
			s.Sum.plus(l.Shown)
		}
		for _, crop := range s.crops() {
			if !slices.Contains(r.Crops, crop) {
				r.Crops = append(r.Crops, crop)
			}
		}
		r.count(s)
	}
}

// count adds a sheet to its field and to the record.
func (r *Record) count(s *Sheet) {
	if r.From == "" {
		r.From = s.Day
	}
	r.To = s.Day
	i := slices.IndexFunc(r.Fields, func(f FieldSum) bool { return f.Name == s.Field.Name })
	if i < 0 {
		r.Fields = append(r.Fields, FieldSum{Name: s.Field.Name})
		i = len(r.Fields) - 1
	}
	r.Fields[i].Sum.plus(s.Sum)
	r.Sum.plus(s.Sum)
}

// plus adds figures as they are shown; the rounding only takes away what floating
// point adds.
func (a *Sum) plus(b Sum) {
	a.Loads, a.Volume, a.Area = round(a.Loads+b.Loads, 4), round(a.Volume+b.Volume, 4), round(a.Area+b.Area, 4)
	for crop, weight := range b.Seeds {
		a.plusSeed(crop, weight)
	}
}

func (a *Sum) plusSeed(crop string, weight float64) {
	if a.Seeds == nil {
		a.Seeds = map[string]float64{}
	}
	a.Seeds[crop] = round(a.Seeds[crop]+weight, 4)
}
