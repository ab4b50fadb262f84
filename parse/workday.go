package parse

import (
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
)

// dayPart is the part of a duration that says how long a working day is.
const dayPart = "day"

// workingDay: the hours of a working day are no part of the round: "how many 10 hr days",
// "fill 8, spreading 11, how many loads in a 9 hour day", "cuántas cargas saco en 10 horas".
// Loads are counted for such a time; days, and a day told of by itself, are counted by it.
func (b *binder) workingDay() {
	asked := b.daysAsked() >= 0
	for k := range b.qs {
		q := &b.qs[k]
		if q.done || q.min != q.max {
			continue
		}
		day := b.saysDay(q)
		if day && b.clashesByDay(q) {
			q.unit, q.per, q.clash = unit.Must("h"), "", ""
			b.req.Problem = nil
		}
		if q.unit == nil || q.unit.Symbol != "h" || q.min < 2 || q.min > 24 {
			continue
		}
		loads := b.has(cQ, "howmany", "howmuch") && b.loadsNamed()
		switch {
		case loads && (day || b.asksInHours(q)):
			b.set(q, engine.Duration, "", "how many loads in a 9 hour day")
			b.req.DayLong = day
		case day, asked:
			b.set(q, engine.Duration, dayPart, "10 hr days")
		}
	}
}

// clashesByDay: "9 horas al día" is no speed of time.
func (b *binder) clashesByDay(q *qty) bool {
	for i := q.i; i < q.j; i++ {
		if t := &b.tokens[i]; t.class == cUnit && t.key == "h" {
			return q.clash != "" || q.per != ""
		}
	}
	return false
}

// saysDay says whether a word for a working day stands with an amount, and takes it in: "10
// hr days", "9 hours a day", "jornada de 10 horas".
func (b *binder) saysDay(q *qty) bool {
	for i := q.i; i < q.j; i++ {
		if t := &b.tokens[i]; t.class == cUnit && t.key == dayPart && i > q.i && b.tokens[i].key == "day" {
			return true // taken in as "per day"
		}
	}
	i := q.j
	for n := 0; n < 2 && (b.at(i).class == cPer || b.at(i).class == cFiller || b.at(i).class == cArt || b.at(i).class == cSkip && i < len(b.tokens)); n++ {
		i++
	}
	if b.dayWord(i) {
		b.claim(i)
		return true
	}
	for i = q.i - 1; i >= 0 && (b.at(i).class == cOf || b.at(i).class == cSkip); i-- {
	}
	if i >= 0 && i < q.i-1 && b.dayWord(i) && b.at(q.i-1).class == cOf {
		b.claim(i)
		return true
	}
	return false
}

func (b *binder) dayWord(i int) bool {
	if i < 0 || i >= len(b.tokens) {
		return false
	}
	t := &b.tokens[i]
	return t.class == cUnit && t.key == "day" || dayWords[t.text]
}

var dayWords = words("shift", "shifts", "workday", "workdays", "jornada", "jornadas", "turno", "turnos")

// loadsNamed says whether loads are named without a number.
func (b *binder) loadsNamed() bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cRole && (t.key == "load" || t.key == "tank") && t.plural() && b.amountBehind(i) == nil {
			return true
		}
	}
	return false
}

// asksInHours says whether loads are asked for in a time that a round is told with: no part
// of one takes two hours. Beside the word for a part it is taken at its word.
func (b *binder) asksInHours(q *qty) bool {
	if !b.has(cRole, "fill", "drive", "return", "spread", "eachway") && !b.has(cNoun, "cycle_time") {
		return false // without one, see loadsInHours
	}
	before := b.at(q.i - 1)
	return before.class == cFiller || before.class == cComma || before.class == cArt || q.i == 0 || before.text == "in" || before.text == "en"
}

// daysAsked is the token of the days that are asked for: "how many 10 hr days", "cuántos
// días"; -1 where none are.
func (b *binder) daysAsked() int {
	for i := range b.tokens {
		if !b.dayWord(i) || b.at(i-1).class == cPer {
			continue
		}
		k := i - 1
		if q := b.amountBehind(i); q != nil {
			k = q.i - 1
		}
		for k >= 0 && (b.tokens[k].class == cSkip || b.tokens[k].text == "more" || b.tokens[k].text == "mas" || b.tokens[k].text == "full" || b.tokens[k].text == "work") {
			k--
		}
		if k >= 0 && b.tokens[k].class == cQ && (b.tokens[k].key == "howmany" || b.tokens[k].key == "howmuch") && b.ofHauling() {
			return i
		}
	}
	return -1
}

// amountBehind is the amount that ends right before token i.
func (b *binder) amountBehind(i int) *qty {
	for k := range b.qs {
		if b.qs[k].j == i {
			return &b.qs[k]
		}
	}
	return nil
}

// ofHauling says whether days would be those of the work, and not of a seed, the weather or
// the log.
func (b *binder) ofHauling() bool {
	if b.has(cNoun, "germ_days", "soak", "window", "frost", "winter") || b.has(cAct, "totals", "log") || b.has(cTime, "ago", "yesterday") || b.has(cCrop) && len(b.qs) == 0 {
		return false
	}
	if b.daysAlone() {
		return true
	}
	if b.has(cNoun, "total_time", "cycle_time", "tankers") || b.has(cRole, "fill", "drive", "return", "eachway", "field") || b.has(cAct, "left", "done") || b.has(cName) {
		return true
	}
	for k := range b.qs {
		if q := &b.qs[k]; q.perLoad || q.dim() == unit.DimArea || q.slot == engine.Tankers || q.dim() == unit.DimTime && (b.loadsNamed() || b.has(cRole, "load")) {
			return true
		}
	}
	return false
}

// daysAlone: "how many days is that", "y cuántos días son" ask of what was answered before.
func (b *binder) daysAlone() bool {
	for i := range b.tokens {
		switch t := &b.tokens[i]; t.class {
		case cQ, cFiller, cSkip, cComma, cQuestion, cArt, cMy, cAt, cAbout, cOf:
		default:
			if !b.dayWord(i) {
				return false
			}
		}
	}
	return true
}

// asksDays asks how many working days the hauling takes, in place of the times that the
// same words would ask for. A slope that they seem to name is the field's name: "cuántos
// días pa acabar la loma".
func (b *binder) asksDays() {
	i := b.daysAsked()
	if i < 0 {
		return
	}
	b.hoursAsked()
	b.req.Finish, b.req.Question, b.tokens[i].used = false, true, true
	b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicCycle, Slot: engine.WorkDays, At: b.span(i, i+1)})
}

// hoursAsked clears what the words for a time to finish were taken for.
func (b *binder) hoursAsked() {
	b.req.Convert = nil
	b.req.Asks = slices.DeleteFunc(b.req.Asks, func(a Ask) bool {
		return a.Topic == engine.TopicFlow || a.Topic == engine.TopicCycle || a.Topic == engine.TopicConvert
	})
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool { return a.Name == "done" || a.Name == "log" || a.Name == "left" })
	b.req.Info = slices.DeleteFunc(b.req.Info, func(s string) bool { return s == "safety_slope" })
}

// wholeRound: a time that is told to count the parts of the round is that of all of it: "22
// minutes a load counting filling, hauling and seeding".
func (b *binder) wholeRound() {
	for i := range b.tokens {
		if !countingWords[b.tokens[i].text] {
			continue
		}
		j, parts := i+1, 0
		for ; j < len(b.tokens) && !b.inAmount(j, nil); j++ {
			t := &b.tokens[j]
			if t.class == cRole && (durationPart[t.key] != "" || t.key == "seedrate" || t.key == "rate") || t.class == cNoun && t.key == "unload_time" {
				parts++
				continue
			}
			if !(t.class == cComma && t.text != "." && t.text != ";") && t.class != cFiller && t.class != cSkip && t.class != cArt && t.class != cMy {
				break
			}
		}
		for k := range b.qs {
			if q := &b.qs[k]; parts > 0 && !q.done && q.dim() == unit.DimTime && q.j <= i && b.gap(q.j, i) <= 2 {
				b.set(q, engine.CycleTime, "", "22 minutes a load counting filling and hauling")
				b.swallow(i, j)
				return
			}
		}
	}
}

var countingWords = words("counting", "including", "includes", "incl", "contando", "incluyendo", "incluye", "contado", "con todo y")
