package parse

import (
	"slices"
	"strconv"
	"strings"
)

// addVerbs are verbs that put loads into the log where a number of loads, or one more,
// stands behind them: "add 2 loads", "chalk up one more", "apúntale 2 cargas".
var addVerbs = map[string]bool{"add": true, "mark": true, "count": true, "enter": true, "book": true, "register": true, "tally": true, "chalk": true, "jot": true,
	"put": true, "note": true, "write": true, "ponle": true, "pon": true, "ponga": true, "pongale": true, "ponme": true, "apuntale": true, "anotale": true, "agregale": true, "agrega": true,
	"agregue": true, "sumale": true, "suma": true, "sume": true, "marca": true, "marque": true, "cuenta": true, "cuente": true, "mete": true, "metele": true, "echale": true}

// moreWords stand between such a verb and the number.
var moreWords = map[string]bool{"down": true, "up": true, "me": true, "us": true, "for": true, "in": true, "on": true, "another": true, "more": true, "that": true, "otras": true, "otros": true, "mas": true}

// addsLoads turns such a verb into the act of logging.
func (r *reader) addsLoads() {
	if r.says(cQ) || r.says(cQuestion) {
		return
	}
	if n := len(r.tokens); n == 3 && r.at(0).class == cNum && r.at(1).text == "more" && (r.at(2).text == "on" || r.at(2).text == "down") { // two more on
		r.at(1).be(cRole, "load")
		r.at(1).text = "loads"
		r.at(2).be(cAct, "log")
		return
	}
	for i := range r.tokens {
		t := &r.tokens[i]
		logs := t.class == cAct && t.key == "log"
		if !addVerbs[t.text] && !logs {
			continue
		}
		k := i + 1
		for moreWords[r.at(k).text] && k < len(r.tokens) {
			k++
		}
		if n := r.at(k); n.class != cNum && n.class != cHom {
			if !logs && n.oneLoad() && r.at(k+1).class == cNum && k > i+1 { // put down load 3
				t.be(cAct, "log")
				return
			}
			continue
		}
		if m := r.at(k + 1); m.text == "more" && m.class == cWord && (r.at(k).text == "1" || r.at(k).key != "1") || m.text == "mas" && k+2 >= len(r.tokens) { // log two more
			m.be(cRole, "load")
			m.text = "loads"
		}
		if logs || !r.loadBehind(k) {
			continue
		}
		for j := i + 1; j < k; j++ {
			r.tokens[j].class = cSkip
		}
		t.be(cAct, "log")
		return
	}
}

// loadsAndPart: "two loads and a quarter", "dos cargas y un cuarto" is one number.
func (r *reader) loadsAndPart() {
	for i := range r.tokens {
		n, load, and := &r.tokens[i], r.at(i+1), r.at(i+2)
		if n.class != cNum || load.class != cRole || load.key != "load" || and.text != "and" && and.text != "y" {
			continue
		}
		k := i + 3
		for r.at(k).class == cArt || r.at(k).class == cUn || r.at(k).class == cSkip && k < len(r.tokens) {
			k++
		}
		part, err1 := strconv.ParseFloat(r.at(k).key, 64)
		whole, err2 := strconv.ParseFloat(n.key, 64)
		if r.at(k).class != cFrac || err1 != nil || err2 != nil || part >= 1 || part == 0.5 { // a half is read with the number
			continue
		}
		n.key = strconv.FormatFloat(whole+part, 'g', -1, 64)
		for j := i + 2; j <= k; j++ {
			r.tokens[j].class = cSkip
		}
		return
	}
}

// loadBehind says whether what is counted at token i are loads, or just "more".
func (r *reader) loadBehind(i int) bool {
	j := i + 1
	for w := r.at(j).text; w == "more" || w == "mas" || w == "full" || w == "other" || r.at(j).class == cNum; w = r.at(j).text {
		j++
	}
	t := r.at(j)
	return t.class == cRole && (t.key == "load" || t.key == "tank" && t.plural()) && r.at(j+1).class != cOf ||
		!(t.numeric() || t.class == cUnit || t.class == cRole || t.class == cCrop) && (r.at(j-1).text == "more" || r.at(j-1).text == "mas")
}

// listWords ask about a load that is named by its number: "when was load 2", "what did
// load 3 take", "show load 4".
var listWords = map[string]bool{"when": true, "who": true, "was": true, "did": true, "show": true, "list": true, "about": true, "what": true, "how": true, "read": true,
	"cuando": true, "quien": true, "fue": true, "muestra": true, "muestrame": true, "ensename": true, "ver": true, "tuvo": true, "llevo": true, "dime": true}

// asksLoad says whether the words before the load at token from, or right behind it,
// ask what the log says of it. A question with numbers of its own is worked out instead.
func (r *reader) asksLoad(from, to int) bool {
	asks := 0
	for i := range r.tokens {
		t := &r.tokens[i]
		switch {
		case i >= from && i < to:
		case t.opens():
			return false
		case (i < from || i == to) && listWords[t.text], t.class == cQ && (t.key == "howbig" || t.key == "what"):
			asks++
		case t.text == "will" || t.text == "need" || t.text == "should":
			return false
		}
	}
	return asks >= 1 && r.pastTense()
}

// pastTense says whether the message speaks of what was done.
func (r *reader) pastTense() bool {
	for i := range r.tokens {
		word, _, _ := strings.Cut(r.tokens[i].text, " ") // "did we do"
		switch word {
		case "was", "did", "took", "show", "list", "read", "fue", "tuvo", "llevo", "muestra", "muestrame", "ensename", "ver", "hizo":
			return true
		}
	}
	return false
}

// cropUsed: "what's the total rye used", "cuánto trébol llevo" ask what has gone on.
func (r *reader) cropUsed() {
	if len(r.tokens) == 1 && (r.at(0).text == "total" || r.at(0).text == "totals") {
		r.at(0).be(cAct, "totals")
		return
	}
	r.dayTotal()
	for i := range r.tokens {
		q, t, used := r.at(i-1), &r.tokens[i], r.at(i+1)
		if q.class == cOf {
			q = r.at(i - 2) // cuántas libras de trigo llevamos
		}
		asks := q.class == cQ && q.key == "howmuch" || q.class == cRole && q.key == "total" || q.class == cUnit
		if asks && r.says(cQ) && (t.class == cCrop || t.class == cCropQ || t.class == cRyeQ) && usedWords[used.text] && i+2 >= len(r.tokens) {
			used.be(cAct, "totals")
			return
		}
	}
}

// dayTotal: "total de hectáreas y kilos de cada semilla hoy" reads the day's log back.
func (r *reader) dayTotal() {
	first := r.at(0)
	if first.class != cRole || first.key != "total" || r.at(1).class != cOf {
		return
	}
	today := -1
	for i := range r.tokens {
		switch t := &r.tokens[i]; {
		case t.class == cTime && t.key == "today":
			today = i
		case t.class == cNum, t.class == cNumFrac, t.class == cFrac:
			return // of what is said, not of the log
		}
	}
	if today > 0 {
		r.tokens[today].be(cScope, "today")
		first.be(cAct, "totals")
	}
}

var usedWords = map[string]bool{"used": true, "llevo": true, "llevamos": true, "usamos": true, "va": true}

// seedToFinish: "how many pounds of clover do I need to finish" asks for seed, not for
// the time.
func (r *reader) seedToFinish() {
	if !r.says(cCrop) && !r.says(cCropQ) && !r.says(cRyeQ) && !slices.ContainsFunc(r.tokens, func(t token) bool { return t.class == cRole && t.key == "bag" || t.text == "seed" }) {
		return
	}
	for i := range r.tokens {
		if t := &r.tokens[i]; t.class == cNoun && t.key == "total_time" && t.text == "finish" && r.at(i-1).text == "to" {
			t.be(cScope, "rest")
			return
		}
	}
}

// secondLoad: the second load is no second of time, and "the first one", "third one's"
// are loads.
func (r *reader) secondLoad() {
	for i := range r.tokens {
		t, one := &r.tokens[i], r.at(i+1)
		second := t.text == "second" && t.class == cUnit && r.at(i-1).class != cNum
		if and := r.at(i + 1); t.text == "second" && (second || r.at(i-1).text == "") && (and.text == "and" || and.text == "jar" || and.text == "jars") && (r.at(i+2).class == cFrac || r.at(i+2).class == cOrd || and.class == cRole) { // second and third jars 25 and 19
			t.be(cOrd, "2")
			if prev := r.at(i - 1); prev.text == "" {
				prev.class = cSkip // no "one second"
			}
			continue
		}
		if !second && t.class != cOrd && (t.class != cFrac || ordinalWord[t.text] == "") {
			continue
		}
		if one.text == "one" || one.text == "one's" || one.text == "ones" {
			one.be(cRole, "load")
		}
		if second && one.oneLoad() {
			t.be(cOrd, "2")
		}
	}
}
