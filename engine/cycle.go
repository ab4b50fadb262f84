package engine

import "tankside/engine/unit"

// CycleOf returns the time from one fill to the next.
//
//	cycle_time = fill + drive + spread + return (+ mix)
//
// parts are its pieces, at least one, each zero or more and the sum above zero.
//
// Fails with NotPositive or Absurd. Source: common practice, no source. Worked
// example: testdata/worked/computed.txt.
func CycleOf(parts ...unit.Time) (unit.Time, error) {
	var sum unit.Time
	for _, p := range parts {
		if err := notNegative(in{Duration, float64(p)}); err != nil {
			return 0, err
		}
		sum += p
	}
	if err := positive(in{CycleTime, float64(sum)}); err != nil {
		return 0, err
	}
	return sum, nil
}

// LoadsEachHour returns how many loads a tanker makes.
//
//	loads_per_hour = 60 ÷ cycle_time
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func LoadsEachHour(cycle unit.Time) (unit.Frequency, error) {
	if err := positive(in{CycleTime, float64(cycle)}); err != nil {
		return 0, err
	}
	return finite(LoadsPerHour, unit.Frequency(60/float64(cycle)))
}

// AreaEachHour returns the ground done an hour, hauling and all.
//
//	area_per_hour = area_per_load × 60 ÷ cycle_time
//
// a is one load's ground. Both above zero.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func AreaEachHour(a unit.Area, cycle unit.Time) (unit.AreaPerTime, error) {
	if err := positive(in{AreaPerLoad, float64(a)}, in{CycleTime, float64(cycle)}); err != nil {
		return 0, err
	}
	return finite(AreaPerHour, unit.AreaPerTime(float64(a)*60/float64(cycle)))
}

// TimeFor returns how long a number of loads takes.
//
//	total_time = loads × cycle_time
//
// n is the loads, parts as parts. Both above zero.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func TimeFor(n float64, cycle unit.Time) (unit.Time, error) {
	if err := positive(in{Loads, n}, in{CycleTime, float64(cycle)}); err != nil {
		return 0, err
	}
	return finite(TotalTime, unit.Time(n*float64(cycle)))
}

// TankersFor returns the tankers that keep one tool busy.
//
//	tankers = cycle_time ÷ spread time, rounded up
//
// cycle is one tanker's round, spread the part of it that it spends spreading.
// Both above zero.
//
// Fails with NotPositive or Absurd. Source: common practice, no source. Worked
// example: testdata/worked/computed.txt.
func TankersFor(cycle, spread unit.Time) (float64, error) {
	if err := positive(in{CycleTime, float64(cycle)}, in{Duration, float64(spread)}); err != nil {
		return 0, err
	}
	n, err := finite(Tankers, float64(cycle)/float64(spread))
	return wholeUp(n), err
}

// FieldCapacity returns the ground a tool covers while it works.
//
//	area_per_hour = speed × width × efficiency ÷ 8.25
//
// v is the ground speed, w the width, e the share of the time at work, at most 1.
// All above zero. It leaves the trip to the pit out: for a tanker that hauls, use
// AreaEachHour.
//
// Fails with NotPositive or Absurd. Source: ISU-PM696. Worked example:
// testdata/worked/capacity.txt.
func FieldCapacity(v unit.Speed, w unit.Length, e unit.Fraction) (unit.AreaPerTime, error) {
	if err := positive(in{Speed, float64(v)}, in{Width, float64(w)}, in{AreaPerHour, float64(e)}); err != nil {
		return 0, err
	}
	if e > 1 {
		return 0, &Problem{Code: Absurd, Slot: AreaPerHour, Value: float64(e), Limit: 1}
	}
	return finite(AreaPerHour, unit.AreaPerTime(float64(v)*float64(w)*float64(e)*60/perFlow))
}
