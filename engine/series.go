package engine

import (
	"slices"
	"time"

	"tankside/engine/unit"

	"gonum.org/v1/gonum/stat/distuv"
)

// Picture is what a picture beside an answer shows: plain numbers, no drawing. One
// of its parts is set.
type Picture struct {
	Day    *DaySeries
	Fields []FieldPart
	Gate   *GateSeries
	Jars   *JarSeries
	Tank   *TankSeries
}

// DaySeries is the loads of a day and the pace that was wanted.
type DaySeries struct {
	Field  string // empty: all fields
	Loads  []LoadMark
	Target unit.Frequency // loads an hour; zero: none was set
}

// LoadMark is one load, or part of one, and when it was done.
type LoadMark struct {
	At    time.Time
	Loads float64
}

// FieldPart is how far a field has come. Area is zero when nobody said it.
type FieldPart struct {
	Name       string
	Done, Area unit.Area
	Loads      float64
}

// GateSeries is a gate's recorded runs and the point that was chosen; zero flow:
// none was.
type GateSeries struct {
	Runs          []Run
	Opening, Flow float64
}

// JarSeries is seed counts in the order in which the jars were taken.
type JarSeries struct{ Counts []float64 }

// TankSeries is what mixing through a load follows from.
type TankSeries struct {
	Tank  unit.Volume
	Pump  unit.Flow
	Flow  unit.Flow // out of the back
	First unit.Time // stirring with the gate shut; zero: as long as TimeToMix
}

// Summed returns the loads in order of time, each with all before it added up.
//
// Source: EXACT. Checked in series_test.go.
func (d *DaySeries) Summed() []LoadMark {
	out := slices.Clone(d.Loads)
	slices.SortStableFunc(out, func(a, b LoadMark) int { return a.At.Compare(b.At) })
	sum := 0.0
	for i := range out {
		sum += out[i].Loads
		out[i].Loads = sum
	}
	return out
}

// paceMinutes is how long a day has to have gone for a pace: loads that are logged in
// one go say nothing of how fast they went. Common practice, no source.
const paceMinutes = 10

// Pace returns how fast the day's loads have been going, as PaceOf. The loads that
// came with the first one were done before the clock started.
//
// Fails as PaceOf, and with NotPositive where all loads are within ten minutes.
// Checked in series_test.go.
func (d *DaySeries) Pace() (unit.Frequency, error) {
	s := d.Summed()
	if len(s) == 0 {
		return 0, &Problem{Code: NotPositive, Slot: Loads}
	}
	first := s[0]
	for _, m := range s {
		if m.At.Equal(first.At) {
			first.Loads = m.Loads
		}
	}
	last := s[len(s)-1]
	minutes := last.At.Sub(first.At).Minutes()
	if minutes < paceMinutes {
		return 0, &Problem{Code: NotPositive, Slot: Duration, Value: minutes, Limit: paceMinutes}
	}
	return PaceOf(last.Loads, first.Loads, unit.Time(minutes))
}

// Wanted returns the loads that the target asks for by a time: from the first load
// on, so many an hour. Zero without a target or a load.
//
// Source: EXACT. Checked in series_test.go.
func (d *DaySeries) Wanted(at time.Time) float64 {
	s := d.Summed()
	if len(s) == 0 || d.Target <= 0 {
		return 0
	}
	return s[0].Loads + float64(d.Target)*at.Sub(s[0].At).Hours()
}

// Line returns the curve from its first to its last recorded opening, in so many
// equal steps.
//
// Checked in series_test.go.
func (c *Curve) Line(steps int) []Run {
	lo, hi := c.runs[0], c.runs[len(c.runs)-1]
	if len(c.runs) == 1 || steps < 1 {
		return []Run{lo}
	}
	out := make([]Run, 0, steps+1)
	for i := range steps + 1 {
		x := lo.Opening + (hi.Opening-lo.Opening)*float64(i)/float64(steps)
		out = append(out, Run{Opening: x, Flow: c.between(x)})
	}
	return out
}

// ChanceBand returns the counts between which 19 of 20 jars of a perfect mix lie:
// the least and the greatest of a Poisson count of this mean that leave at most
// 2.5 % outside on either side.
//
// mean is above zero. Fails with NotPositive or Absurd. Source: Poisson counts, by
// gonum. Checked in series_test.go.
func ChanceBand(mean float64) (lo, hi float64, err error) {
	const outside = 0.025
	const most = 1e6 // beyond it no jar was ever counted
	if err := positive(in{SampleMean, mean}); err != nil {
		return 0, 0, err
	}
	if mean > most {
		return 0, 0, &Problem{Code: Absurd, Slot: SampleMean, Value: mean, Limit: most}
	}
	p := distuv.Poisson{Lambda: mean}
	return poissonAt(p, outside), poissonAt(p, 1-outside), nil
}

// poissonAt is the least count that is not exceeded with at least this probability.
func poissonAt(p distuv.Poisson, share float64) float64 {
	lo, hi := -1.0, 1.0
	for p.CDF(hi) < share {
		lo, hi = hi, hi*2
	}
	for hi-lo > 1 {
		m := float64(int((lo + hi) / 2))
		if p.CDF(m) < share {
			lo = m
		} else {
			hi = m
		}
	}
	return hi
}

// MixPoint is the mixed share of the tank when so much of the load is out.
type MixPoint struct {
	Out   unit.Volume
	Mixed unit.Fraction
}

// Through returns how well mixed the tank is through a load, in so many equal
// steps, after stirring with the gate shut for a time.
//
//	1 − e^−(pump_flow × first ÷ tank_volume + bypass_flow ÷ flow × ln(1 ÷ left))
//
// first is zero or more. It is an upper bound: dead corners and floating rafts mix
// slower. The last point is at 99 % of the load: at its very end the formula has
// turned nothing over for ever.
//
// Fails with NotPositive, Absurd, or PumpTooSmall. Source: EXACT, first-order
// mixing. Checked in series_test.go.
func (t *TankSeries) Through(first unit.Time, steps int) ([]MixPoint, error) {
	const end = 0.99
	if err := positive(in{TankVolume, float64(t.Tank)}); err != nil {
		return nil, err
	}
	if err := notNegative(in{MixingTime, float64(first)}); err != nil {
		return nil, err
	}
	bypass, err := BypassOf(t.Pump, t.Flow)
	if err != nil {
		return nil, err
	}
	before := float64(t.Pump) * float64(first) / float64(t.Tank)
	out := make([]MixPoint, 0, steps+1)
	for i := range steps + 1 {
		gone := end * float64(i) / float64(steps)
		turned := before
		if bypass > 0 {
			n, err := TurnoversUntil(bypass, t.Flow, unit.Fraction(1-gone))
			if err != nil {
				return nil, err
			}
			turned += n
		}
		mixed, err := MixedAfter(turned)
		if err != nil {
			return nil, err
		}
		out = append(out, MixPoint{unit.Volume(gone) * t.Tank, mixed})
	}
	return out, nil
}

// Uneven says whether the counts vary more than chance would make them.
//
// Checked in series_test.go.
func (s *Spread) Uneven() bool { return s.P < unevenBelow }
