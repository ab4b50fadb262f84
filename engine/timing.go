package engine

import "time"

// SeedBy returns the span of days in which a crop is best in the ground ahead of a
// hard frost.
//
//	frost − weeks, from the earlier to the later
//
// frost is the first hard frost expected where the field is; it is asked for,
// never guessed. ok is false for crops without a published lead time.
//
// Source: from memory (general advice). Worked example: checks are in
// timing_test.go.
func (c *Crop) SeedBy(frost time.Time) (from, to time.Time, ok bool) {
	if !c.FrostWeeks.Known() {
		return from, to, false
	}
	weeks := func(n float64) time.Time { return frost.AddDate(0, 0, -int(7*n)) }
	return weeks(c.FrostWeeks.Hi), weeks(c.FrostWeeks.Lo), true
}

// Open says whether a day lies in a published seeding window.
func (w Window) Open(day time.Time) bool {
	d := day.Format("01-02")
	return d >= w.From && d <= w.To
}

// TooCold says whether soil is below what the crop's seed needs. fahrenheit is the
// soil temperature at seeding depth.
func (c *Crop) TooCold(fahrenheit float64) bool {
	return c.MinSoil.Known() && fahrenheit < c.MinSoil.Lo
}
