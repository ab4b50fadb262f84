package parse

import (
	"strconv"
	"strings"
)

// currency: a sign behind its number is a unit: 2,40 €/kg.
func (r *reader) currency(i int) {
	if r.before(i).numeric() && !r.after(i).opens() {
		r.tokens[i].be(cUnit, "$")
	}
}

// pronoun: "that's the old one", "for this one": one counts only before something
// to count, in a longer number, or as all that is said.
func (r *reader) pronoun(i int) {
	t := &r.tokens[i]
	if t.text == "2" && r.at(i+1).text == "go" && r.before(i).class != cAct {
		t.be(cFiller, "to") // need 2 go 2.5 mph
		return
	}
	if t.text != "one" || len(r.tokens) <= 2 {
		return
	}
	prev, next := r.before(i), r.after(i)
	counts := next.class == cUnit || next.class == cScale || next.class == cFrac || next.class == cPoint || next.class == cPer || next.class == cNum || next.class == cClash ||
		next.class == cNumFrac || next.counted() || next.class == cAnd && (r.after(i+1).class == cFrac || r.after(i+1).class == cArt || r.after(i+1).class == cNum) || next.class == cRange || next.class == cOh || next.class == cCrop
	numbered := prev.class == cRole && (prev.key == "gate" || prev.key == "load" || prev.key == "jar" || prev.key == "field") || prev.numeric() || prev.class == cPoint || prev.class == cOh || prev.class == cAnd || prev.class == cRange
	if !counts && !numbered {
		t.be(cFiller, "one")
	}
}

// timeWord: "past", "after", "till" mean a time of day only there; the clock pass
// has taken those.
func (r *reader) timeWord(i int) {
	t := &r.tokens[i]
	switch t.key {
	case "past", "to", "oclock":
		t.be(cFiller, t.key)
	}
}

// labels: a number right behind "load", "field" or "lote" that no unit follows
// numbers the thing ("load 4 done", "field 12 needs 40 acres").
func (r *reader) labels() {
	for i := 1; i < len(r.tokens); i++ {
		t, prev := &r.tokens[i], &r.tokens[i-1]
		if t.class != cNum || t.span > 1 {
			continue
		}
		thing := prev.class == cRole && (prev.key == "load" || prev.key == "field") && !prev.plural() && prev.text != "area" && prev.text != "superficie" || prev.class == cLabel ||
			prev.class == cAct && (prev.key == "field_switch" && namesField(prev.text) || prev.key == "log" && (strings.HasSuffix(prev.text, " load") || strings.HasSuffix(prev.text, " carga")))
		next := r.after(i)
		if !thing || next.class == cUnit || next.class == cScale || next.class == cPer || next.class == cClash || next.class == cRange || next.class == cFrac ||
			next.class == cPerLoad || next.class == cNum && next.word && t.word {
			continue
		}
		if n, err := strconv.Atoi(t.key); err == nil && n > 0 && n < 200 {
			t.class = cOrd
		}
	}
	r.jarLabels()
}

// jarLabels: in "jar 1 had 22 jar 2 had 31" the small number right behind "jar" is
// its label when a count follows before the next jar.
func (r *reader) jarLabels() {
	if r.onlyCounts() || r.saysJar() {
		r.jarsTold()
	}
	for i := 0; i+1 < len(r.tokens); i++ { // "in five jars, 18 22 20 25 15": five is no count
		t, next := &r.tokens[i], &r.tokens[i+1]
		if t.class == cNum && next.class == cRole && next.key == "jar" && next.plural() && r.numbers() > 3 && r.firstNumber() == i {
			t.class = cOrd
		}
	}
	for i := 1; i < len(r.tokens); i++ {
		t, prev := &r.tokens[i], &r.tokens[i-1]
		if t.class != cNum || prev.class != cRole || prev.key != "jar" || prev.plural() || len(t.key) > 2 || !r.twice(prev.text) {
			continue
		}
		for k := i + 1; k < len(r.tokens) && k <= i+4; k++ {
			switch n := &r.tokens[k]; n.class {
			case cNum:
				t.class = cOrd
			case cSkip, cFiller, cComma, cQ:
				continue
			}
			break
		}
	}
}

// firstNumber is the index of the first number.
func (r *reader) firstNumber() int {
	for i := range r.tokens {
		if r.tokens[i].class == cNum {
			return i
		}
	}
	return -1
}

// numbers counts the numbers of the message.
func (r *reader) numbers() int {
	n := 0
	for i := range r.tokens {
		if r.tokens[i].class == cNum {
			n++
		}
	}
	return n
}

// twice says whether a word stands in the message more than once.
func (r *reader) twice(text string) bool {
	n := 0
	for i := range r.tokens {
		if r.tokens[i].text == text {
			n++
		}
	}
	return n > 1
}

// namesField says whether an act's words end in the word for a field.
func namesField(s string) bool {
	for _, w := range [...]string{"field", "lote", "campo", "parcela"} {
		if strings.HasSuffix(s, w) {
			return true
		}
	}
	return false
}
