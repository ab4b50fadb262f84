package engine

import "tankside/engine/unit"

// DefaultDensity is what slurry is taken to weigh when nobody said: the weight of
// water, pounds per 1,000 gallons. Slurry is 8.3 to 8.5 lb/gal; always shown as
// assumed.
const DefaultDensity unit.MassPerVolume = 8340

// value is a fact in base units of its slot. Two sorts of unit need more than the
// unit table: bushels weigh what the crop weighs, and lab sheets in %, ppm or
// lb/ton need what the slurry weighs.
func value(f *Fact) (lo, hi float64) { return valueAt(f, float64(DefaultDensity)) }

func valueAt(f *Fact, density float64) (lo, hi float64) {
	if f.Unit == nil {
		return f.Min, f.Max
	}
	lo, hi = f.Base()
	by := 1.0
	switch {
	case f.Slot == GateOpening: // in whatever marks the gate has
		return f.Min, f.Max
	case inBushels(f):
		c := CropNamed(f.Of)
		if c == nil || c.Bushel == 0 {
			return lo, hi
		}
		by = c.Bushel
		lo, hi = f.Min, f.Max
	case slots[f.Slot].dim != unit.DimMassPerVolume:
		return lo, hi
	case f.Unit.Dim == unit.DimMassPerMass:
		by = density / poundsInTon
	case f.Unit.Dim == unit.DimFraction:
		by = density
	}
	return lo * by, hi * by
}

const poundsInTon = 2000

// inBushels says whether a seed amount was said in bushels.
func inBushels(f *Fact) bool {
	return f.Unit != nil && (f.Unit.Symbol == "bu/acre" || f.Unit.Symbol == "bu" && f.Slot != TankVolume && f.Slot != LoadVolume)
}

// needsDensity says whether a lab value was said by weight.
func needsDensity(f *Fact) bool {
	return f.Unit != nil && slots[f.Slot].dim == unit.DimMassPerVolume && f.Slot != Density &&
		(f.Unit.Dim == unit.DimMassPerMass || f.Unit.Dim == unit.DimFraction)
}
