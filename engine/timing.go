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

// Days returns the first and the last day of a published seeding window in the year of
// a day, in its zone.
//
// Checked in timing_test.go.
func (w Window) Days(of time.Time) (from, to time.Time) {
	day := func(monthDay string) time.Time {
		d, _ := time.Parse("01-02", monthDay) // windows.csv is read by a test
		return time.Date(of.Year(), d.Month(), d.Day(), 0, 0, 0, 0, of.Location())
	}
	return day(w.From), day(w.To)
}

// TooCold says whether soil is below what the crop's seed needs. fahrenheit is the
// soil temperature at seeding depth.
func (c *Crop) TooCold(fahrenheit float64) bool {
	return c.MinSoil.Known() && fahrenheit < c.MinSoil.Lo
}
