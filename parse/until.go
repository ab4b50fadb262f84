package parse

import (
	"regexp"
	"slices"
	"strconv"

	"tankside/engine"
)

// quitAt: in "how many today if we quit at 6", "how many more before 6:30" the six is the
// hour when the day ends.
func (b *binder) quitAt() {
	if !b.has(cQ) && !b.has(cQuestion) && !b.acted("left") || b.acted("log") {
		return
	}
	for k := range b.qs {
		if q := &b.qs[k]; !q.done && q.bare() && q.min == q.max && q.min <= 12 && b.untilBefore(q.i) {
			q.done, q.rule = true, "the hour when the day ends"
			b.req.Until = int(q.min * 60)
			b.loadsUntil()
			return
		}
	}
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cClock && b.untilBefore(i) {
			b.req.Until, _ = strconv.Atoi(t.key)
			b.req.When, t.used = nil, true
			b.loadsUntil()
			return
		}
	}
}

// untilBefore says whether words that end a day stand before token i.
func (b *binder) untilBefore(i int) bool {
	for i--; i >= 0 && (b.tokens[i].class == cSkip || b.tokens[i].text == "las" || b.tokens[i].text == "la"); i-- {
	}
	prev := b.at(i).text
	return untilWords[prev] || (prev == "at" || prev == "a las" || prev == "a") && quitWords[b.at(i-1).text]
}

// loadsUntil asks for the loads that the time until then allows.
func (b *binder) loadsUntil() {
	b.req.WhatIf = false
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool { return a.Name == "left" || a.Name == "totals" })
	b.req.Scope = ""
	b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicCycle, Slot: engine.Loads})
}

var (
	quitWords  = words("quit", "stop", "quitting", "knock off", "paramos", "dark", "done", "paro", "park", "shut down")
	untilWords = words("before", "by", "till", "until", "til", "antes de las", "antes de la", "antes de", "hasta las", "hasta la", "hasta")
)

// finishAsked: "what time are we done", "a qué hora terminamos" ask when the field will be
// finished.
func (b *binder) finishAsked() {
	if b.req.Until > 0 || b.has(cCrop) || b.has(cNoun, "soak", "germ_days") || b.given(engine.Flow) {
		return
	}
	at, hours := finishTime.MatchString(b.text), hoursLeft.MatchString(b.text)
	if !at && !hours {
		return
	}
	b.req.Finish, b.req.Question, b.req.Convert = at, true, nil
	b.req.Asks = slices.DeleteFunc(b.req.Asks, func(a Ask) bool {
		return a.Topic == engine.TopicFlow || a.Topic == engine.TopicCycle || a.Topic == engine.TopicConvert
	})
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool { return a.Name == "done" || a.Name == "log" || a.Name == "left" })
	b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicCycle, Slot: engine.TotalTime})
}

// hoursLeft asks the same as a number of hours.
var hoursLeft = regexp.MustCompile(`^(and )?(hours|time) (left|to go)\b|\bhow (many (more )?hours|much (more )?time|much longer)\b[a-z' ]*\b(left|to go|more|finish|until done|we got|will it take)|\bcuant[oa]s? (horas|tiempo)\b[a-z ]*\b(queda|quedan|falta|faltan)\b|\b(quedan?|faltan?) (como )?cuant[oa]s? (horas|tiempo)\b`)

var finishTime = regexp.MustCompile(`\b(what time|when|how soon)\b[a-z' ]*\b(done|finish|finished|through|wrap)\b|\ba qu?e? hora\b[a-z ]*\b(termin|acab)|\bcuando\b[a-z ]*\b(terminamos|acabamos|termino|acabo)\b`)
