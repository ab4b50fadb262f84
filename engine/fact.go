package engine

import "tankside/engine/unit"

// Origin tells where a fact came from.
type Origin uint8

// The origins. Derived facts are worked out from others on the way and are not
// shown as given.
const (
	Said Origin = iota
	Remembered
	Assumed
	Derived
)

// String is the contract's word.
func (o Origin) String() string {
	return [...]string{"said", "remembered", "assumed", "derived"}[o]
}

// Fact is one value of the job. Min and Max are in Unit, as said, and equal
// unless a range was said. Of is the crop (canonical name), or for Duration the
// part of the haul cycle ("fill", "drive", "spread", "return", "mix",
// "incorporation").
type Fact struct {
	Slot     Slot
	Of       string
	Min, Max float64
	Unit     *unit.Unit
	Origin   Origin
	At       [2]int // byte range in the message, when Said
	About    bool   // "about 7000"
	Implied  bool   // the unit was not said but follows; the reply shows it
	Part     string // text said that names what has no number (a soil texture, a method)
	Live     bool   // a seed rate of pure live seed: the lot's tag tells what to weigh
	AgeDays  int    // how old a remembered value is
}

// Range says whether two ends were said.
func (f *Fact) Range() bool { return f.Min != f.Max }

// Base is the fact in base units: the lower end, and the upper.
func (f *Fact) Base() (lo, hi float64) {
	return f.Unit.ToBase(f.Min), f.Unit.ToBase(f.Max)
}

// Facts is what an answer rests on. "Not given" is absence, never zero.
type Facts []Fact

// Find returns the fact for this slot and crop, or nil. An empty of finds only
// a fact without one.
func (fs Facts) Find(s Slot, of string) *Fact {
	for i := range fs {
		if fs[i].Slot == s && fs[i].Of == of {
			return &fs[i]
		}
	}
	return nil
}

// First returns the first fact for this slot, whatever it is of.
func (fs Facts) First(s Slot) *Fact {
	for i := range fs {
		if fs[i].Slot == s {
			return &fs[i]
		}
	}
	return nil
}

// Of lists the crops (or parts) for which this slot is given, in the order said.
func (fs Facts) Of(s Slot) []string {
	var out []string
	for i := range fs {
		if fs[i].Slot == s {
			out = append(out, fs[i].Of)
		}
	}
	return out
}
