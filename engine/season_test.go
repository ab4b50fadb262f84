package engine

import "testing"

func TestSeasons(t *testing.T) {
	for _, s := range []struct{ name, at, last, this string }{
		{"fall", "2026-09-14", "2025-08-01 2026-01-01", "2026-08-01 2027-01-01"},
		{"fall", "2026-12-31", "2025-08-01 2026-01-01", "2026-08-01 2027-01-01"},
		{"fall", "2027-01-01", "2026-08-01 2027-01-01", "2026-08-01 2027-01-01"},
		{"fall", "2026-07-31", "2025-08-01 2026-01-01", "2025-08-01 2026-01-01"},
		{"spring", "2026-09-14", "2026-02-01 2026-06-01", "2026-02-01 2026-06-01"},
		{"winter", "2027-01-15", "2025-12-01 2026-03-01", "2026-12-01 2027-03-01"},
		{"winter", "2028-03-01", "2027-12-01 2028-03-01", "2027-12-01 2028-03-01"},
		{"summer", "2026-06-01", "2025-06-01 2025-09-01", "2026-06-01 2026-09-01"},
	} {
		from, to, ok := LastSeason(s.name, day(s.at))
		if got := from.Format("2006-01-02") + " " + to.Format("2006-01-02"); !ok || got != s.last {
			t.Errorf("last %s, said on %s: %s, want %s", s.name, s.at, got, s.last)
		}
		from, to, ok = ThisSeason(s.name, day(s.at))
		if got := from.Format("2006-01-02") + " " + to.Format("2006-01-02"); !ok || got != s.this {
			t.Errorf("this %s, said on %s: %s, want %s", s.name, s.at, got, s.this)
		}
	}
	for _, name := range Seasons() {
		if from, to, ok := SeasonSpan(name, 2026, six.Location()); !ok || !from.Before(to) || from.Year() != 2026 {
			t.Errorf("%s 2026: %v to %v", name, from, to)
		}
	}
	if _, _, ok := LastSeason("mud", day("2026-01-01")); ok {
		t.Error("mud is a season")
	}
}

// Weeks begin on Monday, as ISO 8601 has it; 25 November 2026 is a Wednesday.
func TestPastSpans(t *testing.T) {
	for _, s := range []struct{ name, at, want string }{
		{"last_fall", "2026-11-25", "2025-08-01 2026-01-01"},
		{"last_year", "2026-11-25", "2025-01-01 2026-01-01"},
		{"last_week", "2026-11-25", "2026-11-16 2026-11-23"},
		{"this_week", "2026-11-25", "2026-11-23 2026-11-30"},
		{"last_week", "2026-11-22", "2026-11-09 2026-11-16"},
		{"last_month", "2026-01-31", "2025-12-01 2026-01-01"},
		{"this_month", "2026-02-28", "2026-02-01 2026-03-01"},
	} {
		from, to, ok := PastSpan(s.name, day(s.at))
		if got := from.Format("2006-01-02") + " " + to.Format("2006-01-02"); !ok || got != s.want {
			t.Errorf("%s, said on %s: %s, want %s", s.name, s.at, got, s.want)
		}
	}
	if _, _, ok := PastSpan("last_mud", day("2026-01-01")); ok {
		t.Error("last mud is a stretch of time")
	}
}
