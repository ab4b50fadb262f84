package phrases

import (
	"strconv"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// formula is one expression of the engine being written out with its values. The
// engine writes it for US units; its constants of unit conversion have a twin in
// the other systems, so that the line of values can be checked by hand in the
// units of the chat.
type formula struct {
	*page
	value    *engine.Value
	expr     string
	constant string // the conversion constant in it, or empty
}

// twins gives what stands for a US constant in metric (litres or cubic metres,
// hectares, metres, km/h, mm) and in imperial gallons.
//
//	495       43,560 ft² an acre ÷ 88 ft/min a mph; metric 10,000 m² ÷ (1000/60) m/min a km/h
//	43560     ft² an acre; m² a hectare
//	27154.29  gallons an acre-inch; m³ a hectare-millimetre; imperial gallons
//	1000      per 1,000 gallons; metric analyses are per m³
var twins = map[string]struct{ metric, imperial string }{
	"495": {"600", "495"}, "43560": {"10000", "43560"}, "27154.29": {"10", "22610.57"}, "1000": {"1", "1000"},
}

func (f *formula) findConstant() string {
	for _, word := range strings.FieldsFunc(f.expr, func(r rune) bool { return strings.ContainsRune(" ()", r) }) {
		if _, ok := twins[word]; ok {
			return word
		}
	}
	return ""
}

// write goes through the expression and writes each slot by the function given.
func (f *formula) write(slot func(engine.Slot)) {
	for i := 0; i < len(f.expr); {
		n := 0
		for i+n < len(f.expr) && inName(f.expr[i+n]) {
			n++
		}
		if n == 0 {
			r := []rune(f.expr[i:])[0]
			if r != ' ' {
				f.operator(r)
			}
			i += len(string(r))
			continue
		}
		f.word(f.expr[i:i+n], slot)
		i += n
	}
}

func inName(c byte) bool {
	return c == '_' || c == '.' || 'a' <= c && c <= 'z' || '0' <= c && c <= '9'
}

// word writes a slot, a number, or failing both the word itself.
func (f *formula) word(word string, slot func(engine.Slot)) {
	if s := engine.SlotNamed(word); s != engine.NoSlot {
		slot(s)
		return
	}
	if twin, ok := twins[word]; ok && f.o.Units.System == unit.Metric {
		word = twin.metric
	} else if ok && f.o.Units.System == unit.Imperial {
		word = twin.imperial
	}
	if v, err := strconv.ParseFloat(word, 64); err == nil {
		f.number(v, alone)
		return
	}
	f.own(strings.ReplaceAll(word, "_", " "))
}

// unitOf is the unit that makes the constant of this formula right.
func (f *formula) unitOf(s engine.Slot) *unit.Unit {
	switch {
	case f.o.Units.System != unit.Metric:
	case s.Dim() == unit.DimVolume:
		return cube
	case s.Dim() == unit.DimVolumePerArea && f.constant == "495":
		return litresAHectare
	case s.Dim() == unit.DimVolumePerArea:
		return cubesAHectare
	}
	return f.o.Units.UnitFor(s)
}

var fine = digits{3, 2, 1} // so that the line can be reckoned again

var (
	litresAHectare = unit.Must("L/ha")
	cubesAHectare  = unit.Must("m3/ha")
)

// valueOf writes the value that stands for a slot, or its name when it is not
// known.
func (f *formula) valueOf(s engine.Slot) {
	given := f.o.Given.Find(s, f.value.Of)
	if given == nil {
		given = f.o.Given.First(s)
	}
	if given == nil && s == engine.LoadVolume && f.find(s) == nil { // else the load is less than the tank
		given = f.o.Given.First(engine.TankVolume)
	}
	if given != nil {
		f.givenValue(s, given)
		return
	}
	if c := engine.CropNamed(f.value.Of); s == engine.SeedsPerWeight && c != nil {
		f.plainResult(&engine.Value{Slot: s, Min: c.Seeds.Lo, Max: c.Seeds.Hi})
		return
	}
	v := f.find(s)
	if v == nil {
		f.say(f.lang.slot[s], &params{})
		return
	}
	shown := *v
	if f.constant != "" {
		shown.Unit = f.unitOf(s)
	}
	f.plainResult(&shown)
}

// givenValue writes a fact as it was said, or in the unit that a constant needs.
func (f *formula) givenValue(s engine.Slot, given *engine.Fact) {
	a := factAmount(given)
	a.about = false
	if u := f.unitOf(s); f.constant != "" && given.Unit != nil && u != nil && given.Unit.Dim == u.Dim && given.Unit.Symbol != u.Symbol && given.Unit.Symbol != "bu/acre" {
		lo, hi := given.Base()
		a = amount{min: roundTo(u.FromBase(lo), fine, near), max: roundTo(u.FromBase(hi), fine, near), unit: u}
	}
	f.amount(&a)
}
