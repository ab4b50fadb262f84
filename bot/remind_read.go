package bot

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"tankside/engine"
	"tankside/parse"
)

// Wish is a reminder that somebody asked for. What is their own words; a zero Due
// means that no time was said that could be read.
type Wish struct {
	What string
	Due  time.Time
}

var (
	remindWord = regexp.MustCompile(`(?i)(^|[\s,])(?:please\s+|por favor\s+)?(?:remind (?:me|us)|rec[uú][eé]rd[ae](?:me|nos)|av[ií]s[ae](?:me|nos))(?:[\s,:]+|$)`)
	inWord     = regexp.MustCompile(`(?i)(^|[\s,])(?:in|within|en|dentro de)\s+(.{1,30}?)\s*(minutes?|mins?|minutos?|hours?|hrs?|horas?)\b(?:\s+(?:and a half|y media))?`)
	halfHour   = regexp.MustCompile(`(?i)(^|[\s,])(?:in|within|en|dentro de)\s+(?:half an hour|media hora)\b`)
	atWord     = regexp.MustCompile(`(?i)(^|[\s,])(?:at|a las?)\s+(\d{1,2})(?:[:.h](\d{2}))?\s*(am|pm|a\.m\.|p\.m\.)?(?:\s|[,.!?]|$)`)
	lead       = regexp.MustCompile(`(?i)^(?:to|that|about|que|de)\s+`)
)

// ReadWish reads "remind me in 20 minutes to …", in any order of its parts; ok is
// false when the text is not about a reminder.
func ReadWish(text, lang string, at time.Time) (w Wish, ok bool) {
	where := remindWord.FindStringIndex(text)
	if where == nil || len(text) > 500 {
		return Wish{}, false
	}
	rest := text[:where[0]] + " " + text[where[1]:]
	due, said := dueIn(rest, lang, at)
	if said == nil {
		due, said = dueAt(rest, at)
	}
	if said != nil {
		rest = rest[:said[0]] + " " + rest[said[1]:]
	}
	what := strings.Trim(strings.Join(strings.Fields(rest), " "), " ,.;:")
	return Wish{What: lead.ReplaceAllString(what, ""), Due: due}, true
}

// dueIn reads "in twenty minutes"; the number is read as in any other message.
func dueIn(s, lang string, at time.Time) (time.Time, []int) {
	if m := halfHour.FindStringIndex(s); m != nil {
		return at.Add(30 * time.Minute), m
	}
	m := inWord.FindStringIndex(s)
	if m == nil {
		return time.Time{}, nil
	}
	parts := inWord.FindStringSubmatch(s)
	said := parts[2] + " " + strings.TrimPrefix(parts[0][strings.Index(parts[0], parts[2])+len(parts[2]):], " ")
	minutes := 0.0
	switch strings.ToLower(parts[2]) {
	case "a", "an", "un", "una":
		minutes = 1
		if parts[3][0]|0x20 == 'h' {
			minutes = 60
			if strings.HasSuffix(said, "half") || strings.HasSuffix(said, "media") {
				minutes = 90
			}
		}
	default:
		f := parse.Parse(said, parse.Context{Lang: lang}).Facts.First(engine.Duration)
		if f == nil || f.Range() {
			return time.Time{}, nil
		}
		minutes, _ = f.Base()
	}
	if minutes <= 0 || minutes > 60*24*14 {
		return time.Time{}, nil
	}
	return at.Add(time.Duration(minutes * float64(time.Minute))), m
}

// dueAt reads "at 2:15": the next time that the clock shows it, in the morning or in
// the afternoon where that was not said.
func dueAt(s string, at time.Time) (time.Time, []int) {
	m := atWord.FindStringSubmatch(s)
	if m == nil {
		return time.Time{}, nil
	}
	hour, _ := strconv.Atoi(m[2])
	minute, _ := strconv.Atoi(m[3])
	if hour > 23 || minute > 59 {
		return time.Time{}, nil
	}
	hours := []int{hour}
	switch half := strings.ToLower(m[4]); {
	case strings.HasPrefix(half, "p"):
		hours = []int{hour%12 + 12}
	case strings.HasPrefix(half, "a"):
		hours = []int{hour % 12}
	case hour <= 12 && hour > 0:
		hours = []int{hour % 12, hour%12 + 12}
	}
	var due time.Time
	for day := range 2 {
		for _, h := range hours {
			t := time.Date(at.Year(), at.Month(), at.Day()+day, h, minute, 0, 0, at.Location())
			if t.After(at) && (due.IsZero() || t.Before(due)) {
				due = t
			}
		}
	}
	return due, atWord.FindStringIndex(s)
}

// NextClock is the next time that the clock of at's zone shows "19:00".
func NextClock(clock string, at time.Time) (time.Time, bool) {
	t, err := time.Parse("15:04", clock)
	if err != nil {
		return time.Time{}, false
	}
	for day := range 3 {
		due := time.Date(at.Year(), at.Month(), at.Day()+day, t.Hour(), t.Minute(), 0, 0, at.Location())
		if due.After(at) {
			return due, true
		}
	}
	return time.Time{}, false
}

// PlainlyTheJob says whether a message that nobody addressed to the bot is a question
// of the job all the same: it asks for something, or several of its values give one
// answer, and they have units.
func PlainlyTheJob(text string, m Memory) bool {
	if len(text) > 400 {
		return false
	}
	req := parse.Parse(text, parse.Context{Lang: m.Lang, Units: m.Units, Fields: openNames(m.Fields), UnitOf: m.UnitOf})
	measured, named := 0, 0 // with a unit, and those of which it was said
	for i := range req.Facts {
		if f := &req.Facts[i]; f.Unit != nil && f.Unit.Symbol != "" {
			measured++
			if !f.Implied {
				named++
			}
		}
	}
	if len(req.Unread) > 0 || named == 0 || req.Problem != nil && measured < 2 {
		return false
	}
	return len(req.Asks) > 0 && (req.Question || measured >= 2) || measured >= 2 && len(engine.Follows(req.Facts)) > 0
}

// Floats says whether a load's seed wants a pail of water first.
func Floats(l *Load) bool {
	for _, s := range l.Seeds {
		if c := engine.CropNamed(s.Crop); c != nil && c.Wet() {
			return true
		}
	}
	return false
}

// Pace is how long a load takes from one to the next: the mean of the last few gaps
// of the day, breaks left out; else the times of the haul that the chat remembers.
// spread is how long the tank itself takes, where that was said.
func Pace(m Memory, book Book, at time.Time) (cycle, spread time.Duration) {
	for _, r := range m.Facts {
		if f := r.Fact; f.Slot == engine.Duration && f.Unit != nil {
			minutes, _ := f.Base()
			d := time.Duration(minutes * float64(time.Minute))
			switch f.Of {
			case "spread":
				spread = d
				cycle += d
			case "fill", "drive", "return", "mix":
				cycle += d
			}
		}
	}
	var sum time.Duration
	gaps := 0
	for i := 1; i < len(book.Recent) && gaps < 4; i++ {
		gap := book.Recent[i-1].When.Sub(book.Recent[i].When)
		if gap > time.Minute && gap < 2*time.Hour && at.Sub(book.Recent[i].When) < 12*time.Hour {
			sum += gap
			gaps++
		}
	}
	if gaps > 0 {
		cycle = sum / time.Duration(gaps)
	}
	return cycle, spread
}
