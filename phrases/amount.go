package phrases

import (
	"math"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// amount is a number, or a range, ready to be shown: rounded, with its unit.
type amount struct {
	min, max float64
	exact    float64 // max before rounding
	unit     *unit.Unit
	grams    bool // a weight of seed: pounds get their ounces, kilograms their grams
	about    bool
	gender   gender // of the noun after it, when the unit has none
	fraction bool   // a length that people say in eighths of an inch
}

// one says whether a noun after it is singular.
func (a *amount) one() bool { return a.min == 1 && a.max == 1 }

// unitOf is the unit that a slot's value is shown in. Hours shorter than one are
// minutes, and minutes longer than three hours are hours.
func (p *page) unitOf(s engine.Slot, own *unit.Unit, v float64) *unit.Unit {
	u := own
	if u == nil {
		u = p.o.Units.UnitFor(s)
	}
	if u == nil || own != nil {
		return u
	}
	switch {
	case u == hour && v < 60:
		return minute
	case u == minute && v > 180:
		return hour
	case u == cube && v > 0 && v < cube.Base: // less than one cubic metre
		return litre
	}
	return u
}

var (
	cube    = unit.Must("m3")
	litre   = unit.Must("L")
	seconds = unit.Must("s")
	minute  = unit.Must("min")
	hour    = unit.Must("h")
	pound   = unit.Must("lb")
	ounce   = unit.Must("oz")
	kilo    = unit.Must("kg")
	gram    = unit.Must("g")
	inch    = unit.Must("in")
)

// result makes the amount of a value in base units.
func (p *page) result(v *engine.Value) amount {
	u := p.unitOf(v.Slot, v.Unit, v.Max)
	a := amount{unit: u, min: v.Min, max: v.Max}
	if u != nil {
		a.min, a.max = u.FromBase(v.Min), u.FromBase(v.Max)
	}
	same := v.Min == v.Max
	a.exact = a.max
	a.min = rounded(v.Slot, u, a.min, v.Limit)
	if a.max = rounded(v.Slot, u, a.max, v.Limit); same {
		a.max = a.min
	}
	a.grams = seedWeight[v.Slot]
	a.fraction = v.Slot == engine.SeedingDepth && u == inch
	return a
}

// seedWeight are the weights that go on a scale by the pail.
var seedWeight = map[engine.Slot]bool{engine.SeedPerLoad: true, engine.LastLoadSeed: true, engine.TotalSeed: true, engine.SeedLeft: true}

// fact makes the amount of a given value, in the unit and as it was said.
func factAmount(f *engine.Fact) amount {
	return amount{min: asSaid(f.Min), max: asSaid(f.Max), unit: f.Unit, about: f.About}
}

// base makes the amount of a bare value in base units of a slot.
func (p *page) base(s engine.Slot, own *unit.Unit, v float64) amount {
	return p.result(&engine.Value{Slot: s, Min: v, Max: v, Unit: own})
}

// amount writes a number with its unit, and for small weights of seed what the
// scale in the seed shed shows.
func (p *page) amount(a *amount) {
	if a.about {
		p.say(p.text("word", "about"), &params{})
	}
	if a.grams && a.min == a.max && p.smallWeight(a) {
		return
	}
	if a.unit == minute && a.min == a.max && p.minutesAndSeconds(a.max) {
		return
	}
	p.withUnit(a, a.unit)
}

// minutesAndSeconds writes a time that was said with its seconds as it was said;
// false: it is no such time.
func (p *page) minutesAndSeconds(v float64) bool {
	whole, part := math.Floor(v), math.Round((v-math.Floor(v))*60)
	if whole == 0 || part == 0 || part == 60 || math.Abs(v*10-math.Round(v*10)) < 1e-9 || math.Abs(v-whole-part/60) > 1e-4 {
		return false
	}
	min, sec := amount{min: whole, max: whole, unit: minute}, amount{min: part, max: part, unit: seconds}
	p.say(p.text("word", "minutes_seconds"), &params{a: min, b: sec})
	return true
}

// withUnit writes the number or range inside its unit.
func (p *page) withUnit(a *amount, u *unit.Unit) {
	t := p.lang.unit(u)
	forms := &t.shown
	if p.form == spoken {
		forms = &t.heard
	} else if !p.named && usGallons(u) && (p.inUsed || !p.namesLater) {
		p.named = true
		named := p.lang.units["usgal."+u.Symbol]
		forms = &named.shown
	}
	f := &forms[1]
	if a.one() || a.fraction && a.max <= 1 {
		f = &forms[0]
	}
	if u == nil || u.Symbol == "" {
		f = &unitForm{}
	}
	g := t.gender
	if g == alone {
		g = a.gender
	}
	p.fixed(f.before)
	p.figure(a, a.min, g)
	if a.max != a.min {
		p.say(p.text("word", "to"), &params{})
		p.figure(a, a.max, g)
	}
	p.fixed(f.after)
}

// usGallons are the units that have a form with the gallon's name in full.
func usGallons(u *unit.Unit) bool {
	return u != nil && (u.Symbol == "gal" || u.Symbol == "gal/acre" || u.Symbol == "gal/min")
}

// figure writes the number; eighths of an inch as people say them.
func (p *page) figure(a *amount, v float64, g gender) {
	if a.fraction {
		if t := p.eighths(v); t != nil {
			p.say(t, &params{})
			return
		}
	}
	if p.form != spoken {
		p.digits(v, decimals(a.unit, v))
		return
	}
	p.buf = p.lang.words.append(p.buf, v, g)
}

// decimals is two for money that is not whole: $10.20. Prices finer than a cent
// and everything else have as many as they have.
func decimals(u *unit.Unit, v float64) int {
	if u != nil && strings.HasPrefix(u.Symbol, "$") && v != math.Trunc(v) && math.Abs(v*100-math.Round(v*100)) < 1e-6 {
		return 2
	}
	return -1
}

// eighths finds the text for a common fraction, or nil.
func (p *page) eighths(v float64) *text {
	for _, f := range [...]struct {
		of   float64
		name string
	}{{0.125, "1/8"}, {0.25, "1/4"}, {0.5, "1/2"}, {0.75, "3/4"}, {1.5, "1 1/2"}} {
		if math.Abs(v-f.of) < 0.006 {
			return p.text("fraction", f.name)
		}
	}
	return nil
}

// smallWeight writes a weight below fifty pounds with its ounces, or below a
// kilogram in grams; false: it is neither.
func (p *page) smallWeight(a *amount) bool {
	switch {
	case a.unit == pound && a.exact > 0 && a.exact < 50:
		whole, part := math.Floor(a.exact), (a.exact-math.Floor(a.exact))*16
		if whole == 0 && part < 10 {
			part = math.Round(part*10) / 10
		} else if part = math.Round(part); part == 16 {
			whole, part = whole+1, 0
		}
		if p.form == spoken {
			p.poundsAndOunces(whole, part)
			return true
		}
		p.withUnit(a, a.unit)
		if part > 0 {
			p.buf = append(p.buf, " ("...)
			p.poundsAndOunces(whole, part)
			p.buf = append(p.buf, ')')
		}
		return true
	case a.unit == kilo && a.exact > 0 && a.exact < 1:
		g := roundTo(a.exact*1000, digits{}, near)
		small := amount{min: g, max: g, unit: gram}
		p.withUnit(&small, gram)
		return true
	}
	return false
}

func (p *page) poundsAndOunces(whole, part float64) {
	lb, oz := amount{min: whole, max: whole, unit: pound}, amount{min: part, max: part, unit: ounce}
	switch {
	case part == 0:
		p.withUnit(&lb, pound)
	case whole == 0:
		p.withUnit(&oz, ounce)
	default:
		p.say(p.text("word", "pounds_ounces"), &params{a: lb, b: oz})
	}
}
