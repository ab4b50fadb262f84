package engine

import "tankside/engine/unit"

// perFlow is the 495 of the trade: gal/min = gal/acre × mph × ft ÷ 495. One mile
// an hour over a width of w feet covers 88·w ft² a minute; 43,560 ÷ 88 = 495.
const perFlow = unit.SquareFeetPerAcre / unit.FeetPerMileHour

// FlowFor returns the flow out of the back that a rate needs.
//
//	flow = application_rate × speed × width ÷ 495
//
// r is the slurry on the ground, v the ground speed, w the working width. All
// above zero.
//
// Fails with NotPositive or Absurd. Source: MESA-CAL for the 495; AB-FLOW for the
// metric form. Worked example: testdata/worked/flow.txt.
func FlowFor(r unit.VolumePerArea, v unit.Speed, w unit.Length) (unit.Flow, error) {
	if err := positive(in{ApplicationRate, float64(r)}, in{Speed, float64(v)}, in{Width, float64(w)}); err != nil {
		return 0, err
	}
	return finite(Flow, unit.Flow(float64(r)*float64(v)*float64(w)/perFlow))
}

// RateFor returns the rate that a flow puts down.
//
//	application_rate = flow × 495 ÷ (speed × width)
//
// q is the flow out of the back; v and w as in FlowFor, its inverse. All above
// zero.
//
// Fails with NotPositive or Absurd. Source: MESA-CAL. Worked example:
// testdata/worked/flow.txt.
func RateFor(q unit.Flow, v unit.Speed, w unit.Length) (unit.VolumePerArea, error) {
	if err := positive(in{Flow, float64(q)}, in{Speed, float64(v)}, in{Width, float64(w)}); err != nil {
		return 0, err
	}
	return finite(ApplicationRate, unit.VolumePerArea(float64(q)*perFlow/(float64(v)*float64(w))))
}

// SpeedFor returns the ground speed at which a flow gives a rate.
//
//	speed = flow × 495 ÷ (application_rate × width)
//
// Arguments as in FlowFor, its inverse. All above zero. With the pump's flow for
// q it is the fastest speed that the pump allows.
//
// Fails with NotPositive or Absurd. Source: MESA-CAL. Worked example:
// testdata/worked/flow.txt.
func SpeedFor(q unit.Flow, r unit.VolumePerArea, w unit.Length) (unit.Speed, error) {
	if err := positive(in{Flow, float64(q)}, in{ApplicationRate, float64(r)}, in{Width, float64(w)}); err != nil {
		return 0, err
	}
	return finite(Speed, unit.Speed(float64(q)*perFlow/(float64(r)*float64(w))))
}

// WidthFor returns the width over which a flow gives a rate.
//
//	width = flow × 495 ÷ (application_rate × speed)
//
// Arguments as in FlowFor, its inverse. All above zero.
//
// Fails with NotPositive or Absurd. Source: MESA-CAL. Worked example:
// testdata/worked/flow.txt.
func WidthFor(q unit.Flow, r unit.VolumePerArea, v unit.Speed) (unit.Length, error) {
	if err := positive(in{Flow, float64(q)}, in{ApplicationRate, float64(r)}, in{Speed, float64(v)}); err != nil {
		return 0, err
	}
	return finite(Width, unit.Length(float64(q)*perFlow/(float64(r)*float64(v))))
}

// CourseSpeed returns the ground speed over a measured course.
//
//	speed = distance ÷ duration
//
// d is the course, t the time it took. Both above zero.
//
// Fails with NotPositive or Absurd. Source: UKY-AEN73 (88 ft in 12 s is 5 mph).
// Worked example: testdata/worked/capacity.txt.
func CourseSpeed(d unit.Length, t unit.Time) (unit.Speed, error) {
	if err := positive(in{Distance, float64(d)}, in{Duration, float64(t)}); err != nil {
		return 0, err
	}
	return finite(Speed, unit.Speed(float64(d)/float64(t)/unit.FeetPerMileHour))
}

// SpeedToFix returns the ground speed that mends a wrong rate with the gate left
// as it is.
//
//	speed × measured rate ÷ wanted rate
//
// v is the speed it was measured at. All above zero.
//
// Fails with NotPositive or Absurd. Source: from memory. Worked example:
// testdata/worked/computed.txt.
func SpeedToFix(v unit.Speed, measured, wanted unit.VolumePerArea) (unit.Speed, error) {
	if err := positive(in{Speed, float64(v)}, in{ApplicationRate, float64(measured)}, in{ApplicationRate, float64(wanted)}); err != nil {
		return 0, err
	}
	return finite(Speed, unit.Speed(float64(v)*float64(measured)/float64(wanted)))
}

// TimeToUnload returns how long a load lasts.
//
//	unload_time = load_volume ÷ flow
//
// v is the load, q the flow out of the back. Both above zero. It agrees with
// RunOf over the ground speed.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func TimeToUnload(v unit.Volume, q unit.Flow) (unit.Time, error) {
	if err := positive(in{LoadVolume, float64(v)}, in{Flow, float64(q)}); err != nil {
		return 0, err
	}
	return finite(UnloadTime, unit.Time(float64(v)/float64(q)))
}

// MeasuredFlow returns the flow that emptied a volume in a time.
//
//	flow = load_volume ÷ unload_time
//
// Both above zero. Inverse of TimeToUnload.
//
// Fails with NotPositive or Absurd. Source: EXACT. Worked example: testdata/worked/computed.txt.
func MeasuredFlow(v unit.Volume, t unit.Time) (unit.Flow, error) {
	if err := positive(in{LoadVolume, float64(v)}, in{UnloadTime, float64(t)}); err != nil {
		return 0, err
	}
	return finite(Flow, unit.Flow(float64(v)/float64(t)))
}
