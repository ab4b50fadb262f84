package parse

import (
	"math"
	"strconv"
	"strings"
)

// Loads have numbers: "load 2 was 2800 gallons" corrects one, "undo load 1" takes one
// back. Neither number is an amount.

// takeBack are verbs that take a load back, correctVerbs put one right, when a load with
// its number stands behind them.
var (
	takeBack     = map[string]bool{"undo": true, "delete": true, "remove": true, "scratch": true, "cancel": true, "erase": true, "unlog": true, "drop": true, "strike": true, "borra": true, "borrar": true, "borre": true, "quita": true, "quitar": true, "quite": true, "elimina": true, "eliminar": true, "elimine": true, "cancela": true, "cancele": true, "anula": true, "anule": true, "deshaz": true, "deshacer": true}
	correctVerbs = map[string]bool{"correct": true, "fix": true, "change": true, "make": true, "amend": true, "corrige": true, "corregir": true, "corrija": true, "cambia": true, "cambiar": true, "cambie": true, "arregla": true, "arregle": true}
	beforeLoad   = map[string]bool{"the": true, "that": true, "my": true, "la": true, "el": true, "esa": true, "ese": true, "mi": true, "out": true}
	wasWords     = map[string]bool{"was": true, "should": true, "were": true, "fue": true, "era": true, "debe": true}
)

// numbered finds loads that are named by their number, behind a verb that takes back or
// corrects, or before "was". The number becomes an ordinal, the verb the act.
func (r *reader) numbered() {
	for i := range r.tokens {
		from, number, to := r.loadNumber(i)
		if number == 0 {
			continue
		}
		verb, key := r.verbBefore(from)
		switch {
		case verb >= 0:
		case wasWords[r.after(to-1).text] && r.numberFrom(to):
			verb, key = from, "correct"
		case r.asksLoad(from, to):
			verb, key = from, "loads_list"
		}
		if verb < 0 {
			continue
		}
		for k := from; k < to; k++ {
			if k != verb {
				r.tokens[k].class = cSkip
			}
		}
		if verb < from {
			r.tokens[verb].be(cAct, key)
			verb = from
		} else {
			r.tokens[verb].be(cAct, key)
			verb++
		}
		r.tokens[verb].be(cOrd, strconv.Itoa(number))
		return
	}
}

// loadNumber reads "load 2", "load number two", "the 2nd load", "the second load" at
// token i: its tokens and its number, 0 for none.
func (r *reader) loadNumber(i int) (from, number, to int) {
	t := r.at(i)
	switch {
	case t.class == cOrd && r.at(i+1).oneLoad():
		number, _ = strconv.Atoi(t.key)
		return i, number, i + 2
	case t.text == "second" && r.at(i+1).oneLoad():
		return i, 2, i + 2
	case t.class == cFrac && r.at(i+1).oneLoad(): // the third load
		part, _ := strconv.ParseFloat(t.key, 64)
		return i, int(math.Round(1 / part)), i + 2
	case t.oneLoad() || t.class == cAct && (endsWith(t.text, "load") || endsWith(t.text, "carga")):
		k := i + 1
		for r.at(k).class == cLabel || r.at(k).text == "#" || r.at(k).text == "numero" {
			k++
		}
		n := r.at(k)
		if n.class != cNum && n.class != cOrd {
			return 0, 0, 0
		}
		number, _ = strconv.Atoi(n.key)
		if number > 99 || r.at(k+1).numeric() || r.at(k+1).class == cUnit {
			return 0, 0, 0
		}
		return i, number, k + 1
	}
	return 0, 0, 0
}

// oneLoad says whether a token is "load", not "loads".
func (t *token) oneLoad() bool { return t.class == cRole && t.key == "load" && !t.plural() }

// verbBefore looks for the verb before token i, or in the token itself ("undo load").
func (r *reader) verbBefore(i int) (int, string) {
	if t := r.at(i); t.class == cAct && (t.key == "undo" || t.key == "correct") {
		return i, t.key
	}
	for k := i - 1; k >= 0 && k >= i-3; k-- {
		t := r.at(k)
		switch verb, _, _ := strings.Cut(t.text, " "); {
		case takeBack[verb]:
			return k, "undo"
		case correctVerbs[verb]:
			return k, "correct"
		case t.class != cSkip && !beforeLoad[t.text]:
			return -1, ""
		}
	}
	return -1, ""
}

// numberFrom says whether a number stands at token i or later.
func (r *reader) numberFrom(i int) bool {
	for ; i < len(r.tokens); i++ {
		if r.tokens[i].opens() {
			return true
		}
	}
	return false
}

func endsWith(text, word string) bool {
	n := len(text) - len(word)
	return n > 0 && text[n-1] == ' ' && text[n:] == word
}
