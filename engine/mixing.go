package engine

import (
	"math"

	"tankside/engine/unit"
)

// tankVolumesToMix is how many tank volumes through the pump count as mixed: a
// well-stirred tank is then 95 % mixed.
const tankVolumesToMix = 3

// BypassOf returns what the pump sends back into the tank.
//
//	bypass_flow = pump_flow − flow
//
// pump is what the pump delivers at the shaft speed it runs at, q what leaves the
// back. Both above zero. At q = pump nothing is left to stir with: 0.
//
// Fails with NotPositive, Absurd, or PumpTooSmall when q is above pump.
// Source: EXACT. Worked example: testdata/worked/computed.txt.
func BypassOf(pump, q unit.Flow) (unit.Flow, error) {
	if err := positive(in{PumpFlow, float64(pump)}, in{Flow, float64(q)}); err != nil {
		return 0, err
	}
	if q > pump*(1+snap) {
		return 0, &Problem{Code: PumpTooSmall, Slot: Flow, Value: float64(q), Limit: float64(pump)}
	}
	return max(pump-q, 0), nil
}

// TurnoverOf returns how long the returned flow takes to pass the tank's volume
// once.
//
//	turnover_time = tank_volume ÷ bypass_flow
//
// v is what is in the tank: at the start of a load all of it, later less, so the
// time shortens. b is the flow that goes back. Both above zero.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func TurnoverOf(v unit.Volume, b unit.Flow) (unit.Time, error) {
	if err := positive(in{TankVolume, float64(v)}, in{BypassFlow, float64(b)}); err != nil {
		return 0, err
	}
	return finite(TurnoverTime, unit.Time(float64(v)/float64(b)))
}

// TimeToMix returns how long to stir with the gate shut.
//
//	mixing_time = 3 × tank_volume ÷ pump_flow
//
// v is what is in the tank, pump the pump's flow. Both above zero. Three tank
// volumes leave a well-stirred tank 95 % mixed; dead corners and floating rafts
// take longer.
//
// Fails with NotPositive or Absurd. Source: EXACT, first-order mixing. Worked
// example: testdata/worked/computed.txt.
func TimeToMix(v unit.Volume, pump unit.Flow) (unit.Time, error) {
	if err := positive(in{TankVolume, float64(v)}, in{PumpFlow, float64(pump)}); err != nil {
		return 0, err
	}
	return finite(MixingTime, unit.Time(tankVolumesToMix*float64(v)/float64(pump)))
}

// MixedAfter returns the mixed share of a well-stirred tank.
//
//	1 − e^(−n)
//
// n is the tank volumes pumped round, zero or more.
//
// Fails with NotPositive or Absurd. Source: EXACT, first-order mixing. Worked
// example: testdata/worked/computed.txt.
func MixedAfter(n float64) (unit.Fraction, error) {
	if err := notNegative(in{NoSlot, n}); err != nil {
		return 0, err
	}
	return unit.Fraction(-math.Expm1(-n)), nil
}

// TurnoversUntil returns how often the shrinking tank has been turned over when
// a share of the load is left.
//
//	bypass_flow ÷ flow × ln(1 ÷ left)
//
// b is the flow that goes back, q the flow out of the back, left the share still
// in the tank, above 0 and at most 1.
//
// Fails with NotPositive or Absurd. Source: EXACT, integral of dt ÷ turnover.
// Worked example: testdata/worked/computed.txt.
func TurnoversUntil(b, q unit.Flow, left unit.Fraction) (float64, error) {
	if err := positive(in{BypassFlow, float64(b)}, in{Flow, float64(q)}, in{LoadFraction, float64(left)}); err != nil {
		return 0, err
	}
	if left > 1 {
		return 0, &Problem{Code: OverFull, Slot: LoadFraction, Value: float64(left), Limit: 1}
	}
	return finite(NoSlot, float64(b)/float64(q)*math.Log(1/float64(left)))
}

// PumpAt returns what a pump delivers below its rated shaft speed.
//
//	pump_flow × pto_speed ÷ rated_pto_speed
//
// q is the flow at the rated speed. All above zero. Proportional is a rule of
// thumb: head and what hangs behind the pump shift it.
//
// Fails with NotPositive or Absurd. Source: from memory. Worked example:
// testdata/worked/computed.txt.
func PumpAt(q unit.Flow, pto, rated float64) (unit.Flow, error) {
	if err := positive(in{PumpFlow, float64(q)}, in{PTOSpeed, pto}, in{RatedPTOSpeed, rated}); err != nil {
		return 0, err
	}
	return finite(PumpFlow, unit.Flow(float64(q)*pto/rated))
}

// SeedStillInTank returns the share of the seed left when a share of the slurry is
// left, for seed that follows the slurry with factor k.
//
//	left ^ k
//
// k is what leaves against the tank's mean: 1 is even, below 1 hangs back. left
// is above 0 and at most 1.
//
// Fails with NotPositive or Absurd. Source: EXACT, from dM ÷ M = k · dV ÷ V.
// Worked example: testdata/worked/computed.txt.
func SeedStillInTank(k float64, left unit.Fraction) (unit.Fraction, error) {
	if err := positive(in{SampleK, k}, in{LoadFraction, float64(left)}); err != nil {
		return 0, err
	}
	return finite(LoadFraction, unit.Fraction(math.Pow(float64(left), k)))
}

// SeedLeaving returns the seed in what leaves, against the load's start.
//
//	k × left ^ (k − 1)
//
// Arguments as in SeedStillInTank, whose slope it is.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func SeedLeaving(k float64, left unit.Fraction) (float64, error) {
	if err := positive(in{SampleK, k}, in{LoadFraction, float64(left)}); err != nil {
		return 0, err
	}
	return finite(SampleK, k*math.Pow(float64(left), k-1))
}
