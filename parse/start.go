package parse

import (
	"regexp"
	"strconv"
)

// Start is the time of day that work starts at, or that it is by now.
type Start struct {
	Clock int  // minutes past midnight
	Exact bool // morning or afternoon was said, or follows
	Past  bool // "we started at 7"
	Now   bool // "it's 8:20"
	At    [2]int
}

var (
	startWords = words("start", "starting", "start at", "begin", "beginning", "kick off", "roll", "empiezo", "empezamos", "empezando", "arranco", "arrancamos", "comienzo", "comenzamos", "empiezan", "inicio", "iniciamos", "empezar", "arrancando", "salimos", "salgo")
	begunWords = words("started", "began", "begun", "been going since", "been at it since", "going since", "since", "empece", "empezo", "empezaron", "arranque", "arrancaron", "comence", "desde", "desde las", "desde la")
	nowWords   = words("its", "it's", "it is", "now its", "now", "right now", "es", "son", "is", "son las", "es la", "ahorita", "ahora")
)

// startClock keeps a time of day that work starts at, or that it is now, apart from that of
// a load: "start at 8 am", "started 7:15, finished the 8th at 10:20". It says whether the
// clock at token i was one.
func (b *binder) startClock(i int) bool {
	minutes, err := strconv.Atoi(b.tokens[i].key)
	if err != nil {
		return false
	}
	return b.startsAt(i, i+1, minutes, b.tokens[i].span == -1 || minutes >= 780)
}

// startHour reads a bare hour the same: "start at 8", "we started at 7".
func (b *binder) startHour() {
	for k := range b.qs {
		q := &b.qs[k]
		if b.req.Start == nil && !q.done && q.bare() && q.per == "" && q.min == q.max && q.min >= 1 && q.min <= 12 && q.min == float64(int(q.min)) && b.hourBehind(q) && b.startsAt(q.i, q.j, int(q.min)*60, false) {
			q.done, q.rule = true, "the hour when work starts"
		}
	}
}

// hourBehind says whether a bare number can be an hour: "start at 8", and not "start 3 loads".
func (b *binder) hourBehind(q *qty) bool {
	t := b.at(q.j)
	if t.text == "now" || t.text == "right now" || t.text == "ahora" || t.text == "ahorita" || t.text == "already" || t.text == "ya" {
		return true
	}
	return q.j >= len(b.tokens) || b.at(q.i-1).class == cAt && t.class != cRole || t.class == cComma || t.class == cQ || t.class == cQuestion || t.opens()
}

// startsAt says whether words of a start stand before tokens i..j, and keeps the time.
func (b *binder) startsAt(i, j, minutes int, exact bool) bool {
	k := i - 1
	for k >= 0 && (b.tokens[k].class == cSkip || b.tokens[k].class == cAt || b.tokens[k].class == cATime || b.tokens[k].class == cAbout || b.tokens[k].text == "a las" || b.tokens[k].text == "a la" || b.tokens[k].text == "las" || b.tokens[k].text == "la") {
		k--
	}
	if k < 0 {
		return false
	}
	s := Start{Clock: minutes, Exact: exact, At: b.span(i, j)}
	switch w := b.tokens[k].text; {
	case begunWords[w]:
		s.Past = true
	case startWords[w]:
		s.Past = b.has(cAct, "log", "totals") || speaksOfPace.MatchString(b.text)
	case nowWords[w] && (finishTime.MatchString(b.text) || hoursLeft.MatchString(b.text)):
		s.Now = true
	default:
		return false
	}
	for n := k; n < j; n++ {
		b.tokens[n].used = true
	}
	b.req.Start = &s
	return true
}

var speaksOfPace = regexp.MustCompile(`\b(pace|ritmo|este paso|ese paso|rate we're going)\b`)
