package parse

import (
	"slices"
	"strconv"
	"strings"
)

// runTimes reads m:ss as minutes and seconds where a run at the gate is timed: "mark 5: 850
// in 1:12", "mark 7 took 0:48". Anywhere else it is a time of day.
func (r *reader) runTimes() {
	if !r.says(cClock) {
		return
	}
	gate := false
	for i := 0; i < len(r.tokens); i++ {
		t := &r.tokens[i]
		gate = gate || t.class == cRole && t.key == "gate"
		if !gate || t.class != cClock || !strings.Contains(t.text, ":") || !tookWord[r.at(i-1).text] || r.at(i+1).class == cClock || isHalf[r.at(i+1).text] {
			continue
		}
		seconds, err := strconv.Atoi(t.key) // a clock's key is 60 times what stands before the colon, and the rest
		if err != nil || seconds == 0 {
			continue
		}
		t.be(cNum, strconv.FormatFloat(float64(seconds)/60, 'g', -1, 64))
		r.tokens = slices.Insert(r.tokens, i+1, token{class: cUnit, key: "min", text: "min", from: t.to, to: t.to, glued: true, word: true})
	}
}

var (
	tookWord = map[string]bool{"in": true, "took": true, "en": true, "tardo": true, "takes": true, "tarda": true, "duro": true}
	isHalf   = map[string]bool{"am": true, "pm": true, "a.m": true, "p.m": true, "a": true, "p": true}
)
