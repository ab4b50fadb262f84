// Package unit holds the quantities of the job: one Go type per quantity, each
// over one base unit, and the table of the units that people say.
//
// The base units are the US customary ones the trade works in (gallon, acre,
// pound, foot, minute), so that a US answer carries no conversion error at all.
// Code outside this package builds a quantity from a Unit or a constructor and
// reads it back through an accessor; it never multiplies by a factor itself.
// The factors are exact expressions, each with its definition, in factor.go.
package unit

import "fmt"

// Dim tells what a unit measures.
type Dim uint8

// The dimensions. None is a bare number: a count, a fraction, a gate mark.
const (
	None Dim = iota
	DimVolume
	DimArea
	DimMass
	DimLength
	DimTime
	DimSpeed
	DimFlow
	DimVolumePerArea
	DimMassPerArea
	DimMassPerVolume
	DimMassPerMass
	DimFrequency
	DimAreaPerTime
	DimCountPerArea
	DimCountPerVolume
	DimCountPerMass
	DimFraction
	DimTemperature
	DimMoney
	DimMoneyPerArea
	DimMoneyPerMass
	DimMoneyPerVolume
	DimMoneyPerTime
)

// The quantities. Each is a float64 in the base unit named beside it; zero and
// negative values are possible here and refused by engine.
type (
	Volume        float64 // US gallons
	Area          float64 // acres
	Mass          float64 // pounds
	Length        float64 // feet
	Time          float64 // minutes
	Speed         float64 // miles an hour
	Flow          float64 // US gallons a minute
	VolumePerArea float64 // US gallons an acre
	MassPerArea   float64 // pounds an acre
	MassPerVolume float64 // pounds per 1,000 US gallons
	MassPerMass   float64 // pounds per ton (2,000 lb)
	Frequency     float64 // per hour
	AreaPerTime   float64 // acres an hour
	CountPerArea  float64 // per square foot
	CountPerVol   float64 // per US gallon
	CountPerMass  float64 // per pound
	Fraction      float64 // 1 is the whole
	Money         float64 // in the currency that was said
	MoneyPerArea  float64 // an acre
	MoneyPerMass  float64 // a pound
	MoneyPerVol   float64 // per 1,000 US gallons
	MoneyPerTime  float64 // an hour
)

// System is the family of units that an answer is given in.
type System uint8

// The systems. Imperial is US customary but for the gallon.
const (
	US System = iota
	Imperial
	Metric
)

// Unit is one way to write an amount down.
type Unit struct {
	Symbol string  // as in the answer contract: "gal/acre"
	Dim    Dim     // what it measures
	Base   float64 // how many base units one of it is
	Offset float64 // added after scaling; only temperatures have one
	System System  // whose unit it is
}

// ToBase turns v of this unit into base units.
func (u *Unit) ToBase(v float64) float64 { return v*u.Base + u.Offset }

// FromBase turns base units into this unit.
func (u *Unit) FromBase(b float64) float64 {
	if u.Base == 1 {
		return b - u.Offset
	}
	return (b - u.Offset) / u.Base
}

// Find returns the unit with this symbol, or nil.
func Find(symbol string) *Unit { return bySymbol[symbol] }

// All lists every unit in the order of the table.
func All() []*Unit { return table }

// Must is Find for symbols written in the code; an unknown one is a bug.
func Must(symbol string) *Unit {
	u := bySymbol[symbol]
	if u == nil {
		panic("unit: no unit " + symbol)
	}
	return u
}

// MarshalText writes the symbol, so that a stored unit survives a change of the
// table's order.
func (u *Unit) MarshalText() ([]byte, error) { return []byte(u.Symbol), nil }

// UnmarshalText reads a symbol.
func (u *Unit) UnmarshalText(b []byte) error {
	known := Find(string(b))
	if known == nil {
		return fmt.Errorf("no unit %q", b)
	}
	*u = *known
	return nil
}
