package store

import "time"

// stamp is a time as stored: UTC, and the offset of the zone it was said in.
type stamp struct{ micros, zone int64 }

func stampOf(t time.Time) stamp {
	_, zone := t.Zone()
	return stamp{t.UnixMicro(), int64(zone)}
}

// time is the moment in its zone; the zone's name is not kept.
func (s stamp) time() time.Time {
	if s.zone == 0 {
		return time.UnixMicro(s.micros).UTC()
	}
	return time.UnixMicro(s.micros).In(time.FixedZone("", int(s.zone)))
}

// dayOf is the number of t's local date since 1970-01-01.
func dayOf(t time.Time) int64 {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400
}

// yearOf is the year of a day's number, daysOf the first and the last day of a year.
func yearOf(day int64) int { return time.Unix(day*86400, 0).UTC().Year() }

func daysOf(year int) (first, last int64) {
	newYear := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC)
	return dayOf(newYear), dayOf(newYear.AddDate(1, 0, -1))
}
