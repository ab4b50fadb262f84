package engine

import (
	"strings"
	"time"
)

// seasons are the spans that people mean by a season's name, as first and last
// months; fall seeding starts in August and goes on to the frost, so seasons
// overlap. Northern hemisphere. Common practice, no source: the dates are always
// shown with an answer.
var seasons = map[string][2]time.Month{"spring": {time.February, time.May}, "summer": {time.June, time.August},
	"fall": {time.August, time.December}, "winter": {time.December, time.February}}

// Seasons lists the seasons there are names for.
func Seasons() []string { return []string{"spring", "summer", "fall", "winter"} }

// SeasonSpan returns the days of a season that begins in a year: from its first
// day up to, and without, the day to. ok is false for a name that is no season.
//
// Checked in season_test.go.
func SeasonSpan(name string, year int, zone *time.Location) (from, to time.Time, ok bool) {
	months, ok := seasons[name]
	if !ok {
		return from, to, false
	}
	from = time.Date(year, months[0], 1, 0, 0, 0, 0, zone)
	if months[1] < months[0] {
		year++
	}
	return from, time.Date(year, months[1]+1, 1, 0, 0, 0, 0, zone), true
}

// LastSeason returns the latest season of this name that is over: "last fall", said
// in a fall, is the one of the year before.
//
// Checked in season_test.go.
func LastSeason(name string, at time.Time) (from, to time.Time, ok bool) {
	for year := at.Year(); ; year-- {
		if from, to, ok = SeasonSpan(name, year, at.Location()); !ok || !to.After(at) {
			return from, to, ok
		}
	}
}

// ThisSeason returns the latest season of this name that has begun.
//
// Checked in season_test.go.
func ThisSeason(name string, at time.Time) (from, to time.Time, ok bool) {
	for year := at.Year(); ; year-- {
		if from, to, ok = SeasonSpan(name, year, at.Location()); !ok || !from.After(at) {
			return from, to, ok
		}
	}
}

// PastSpan returns the days that a stretch of the past is made of, up to, and
// without, the day to: "last_fall" and the like, "last_year", "last_month",
// "this_month", "last_week" and "this_week", whose weeks begin on Monday (ISO 8601).
//
// Checked in season_test.go.
func PastSpan(name string, at time.Time) (from, to time.Time, ok bool) {
	day := time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, at.Location())
	monday := day.AddDate(0, 0, -(int(day.Weekday())+6)%7)
	month := day.AddDate(0, 0, 1-day.Day())
	switch which, what, _ := strings.Cut(name, "_"); {
	case name == "last_week":
		return monday.AddDate(0, 0, -7), monday, true
	case name == "this_week":
		return monday, monday.AddDate(0, 0, 7), true
	case name == "last_month":
		return month.AddDate(0, -1, 0), month, true
	case name == "this_month":
		return month, month.AddDate(0, 1, 0), true
	case name == "last_year":
		return time.Date(at.Year()-1, 1, 1, 0, 0, 0, 0, at.Location()), time.Date(at.Year(), 1, 1, 0, 0, 0, 0, at.Location()), true
	case which == "last":
		return LastSeason(what, at)
	}
	return from, to, false
}
