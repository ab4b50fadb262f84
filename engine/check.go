package engine

import "math"

// in is one number that goes into a formula, with the slot to blame.
type in struct {
	slot Slot
	v    float64
}

// positive refuses what no formula of the job can take: zero, negative, NaN,
// infinite. The first offender is named.
func positive(ins ...in) error {
	for _, i := range ins {
		if !isFinite(i.v) {
			return &Problem{Code: Absurd, Slot: i.slot}
		}
		if i.v <= 0 {
			return &Problem{Code: NotPositive, Slot: i.slot, Value: i.v}
		}
	}
	return nil
}

// notNegative is positive for amounts that may be nothing: a heel, a nutrient
// that the lab did not find.
func notNegative(ins ...in) error {
	for _, i := range ins {
		if !isFinite(i.v) {
			return &Problem{Code: Absurd, Slot: i.slot}
		}
		if i.v < 0 {
			return &Problem{Code: NotPositive, Slot: i.slot, Value: i.v}
		}
	}
	return nil
}

// finite passes v on unless the arithmetic left the range of float64.
func finite[T ~float64](s Slot, v T) (T, error) {
	if !isFinite(float64(v)) {
		return 0, &Problem{Code: Absurd, Slot: s}
	}
	return v, nil
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// snap is how near a count must come to a whole number to be one: ten loads
// exactly must not become nine full loads and a tank.
const snap = 1e-9

// wholeUp is the next whole number, but x itself when x is whole but for
// rounding.
func wholeUp(x float64) float64 {
	if n := math.Round(x); math.Abs(x-n) <= snap*math.Max(1, x) {
		return n
	}
	return math.Ceil(x)
}

// wholeDown is the whole number below, likewise.
func wholeDown(x float64) float64 {
	if n := math.Round(x); math.Abs(x-n) <= snap*math.Max(1, x) {
		return n
	}
	return math.Floor(x)
}
