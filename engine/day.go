package engine

import "tankside/engine/unit"

// Tally is a sum over loads. Base units: gallons, acres, pounds.
type Tally struct {
	Loads, Area, Volume float64 // parts of a load count as parts
	Seeds               []SeedTally
}

// SeedTally is one crop's part of a tally.
type SeedTally struct {
	Crop   string
	Weight float64
}

// Plus returns the tally with another one added; crops keep their order.
func (t Tally) Plus(o Tally) Tally {
	out := Tally{Loads: t.Loads + o.Loads, Area: t.Area + o.Area, Volume: t.Volume + o.Volume,
		Seeds: append([]SeedTally(nil), t.Seeds...)}
next:
	for _, s := range o.Seeds {
		for i := range out.Seeds {
			if out.Seeds[i].Crop == s.Crop {
				out.Seeds[i].Weight += s.Weight
				continue next
			}
		}
		out.Seeds = append(out.Seeds, s)
	}
	return out
}

// Left returns what a field still takes.
//
//	area_left = field − done; loads_left = area_left × application_rate ÷ load_volume
//
// field is its area, done the ground done, zero or more; r the rate, v one load.
//
// Fails with NothingLeft when the field is done, NotPositive or Absurd. Source:
// EXACT. Worked example: testdata/worked/computed.txt.
func Left(field, done unit.Area, r unit.VolumePerArea, v unit.Volume) (unit.Area, float64, error) {
	if err := positive(in{Area, float64(field)}, in{ApplicationRate, float64(r)}, in{LoadVolume, float64(v)}); err != nil {
		return 0, 0, err
	}
	if err := notNegative(in{AreaDone, float64(done)}); err != nil {
		return 0, 0, err
	}
	left := field - done
	if float64(left) <= snap*float64(field) {
		return 0, 0, &Problem{Code: NothingLeft, Slot: AreaLeft, Value: float64(left)}
	}
	n, err := finite(LoadsLeft, float64(left)*float64(r)/float64(v))
	return left, n, err
}

// PaceOf returns how fast loads have been going.
//
//	(loads − first) ÷ time from the first load's end to the last one's
//
// loads is the sum over the loads logged, first the first one's part of a load,
// which was done before the clock started; t the time between first and last.
//
// Fails with NotPositive (one load has no pace) or Absurd. Source: EXACT. Worked
// example: testdata/worked/computed.txt.
func PaceOf(loads, first float64, t unit.Time) (unit.Frequency, error) {
	if err := notNegative(in{Loads, first}); err != nil {
		return 0, err
	}
	if err := positive(in{Loads, loads - first}, in{Duration, float64(t)}); err != nil {
		return 0, err
	}
	return finite(MarkerLoads, unit.Frequency((loads-first)/float64(t)*60))
}

// TimeLeft returns how long loads take at a pace; the finish time is that from
// now.
//
//	loads_left ÷ pace
//
// Both above zero.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func TimeLeft(loads float64, pace unit.Frequency) (unit.Time, error) {
	if err := positive(in{LoadsLeft, loads}, in{MarkerLoads, float64(pace)}); err != nil {
		return 0, err
	}
	return finite(TotalTime, unit.Time(loads/float64(pace)*60))
}

// CrewLoads returns the loads an hour of several tankers on one tool.
//
//	tankers × 60 ÷ cycle_time, at most 60 ÷ spread time
//
// n is the tankers, cycle one tanker's round, spread the part of it at the tool.
//
// Fails with NotPositive or Absurd. Source: common practice, no source. Worked
// example: testdata/worked/computed.txt.
func CrewLoads(n float64, cycle, spread unit.Time) (unit.Frequency, error) {
	if err := positive(in{Tankers, n}, in{CycleTime, float64(cycle)}, in{Duration, float64(spread)}); err != nil {
		return 0, err
	}
	return finite(LoadsPerHour, unit.Frequency(min(n*60/float64(cycle), 60/float64(spread))))
}
