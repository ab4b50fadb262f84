package parse

import (
	"strconv"

	"tankside/engine"
	"tankside/engine/unit"
)

// customMoney: money for the work, by the area, the hour, the load or the volume: "$38/ha
// spreading", "$150 a load", "$12 per thousand gallons", "14 bucks custom". What is beside
// seed, a nutrient or the worth of the manure is not for the work.
func (b *binder) customMoney(q *qty, n near) bool {
	word := b.customWord(q, n)
	if q.unit.Dim == unit.DimMoneyPerArea && b.seedBefore(q) {
		b.set(q, engine.SeedCost, "", "seed runs $21 an acre")
		return true
	}
	if word < 0 && (b.nutFor(n) >= 0 || b.adjacentCrop(q, n) || b.has(cNoun, "nutrient_value") || b.has(cRole, "price") || b.has(cManure) || b.has(cAnalysis) || b.nothingElse()) {
		return false
	}
	switch q.unit.Dim {
	case unit.DimMoneyPerTime:
		if word < 0 && b.wages() {
			return false // what somebody is paid
		}
	case unit.DimMoneyPerArea, unit.DimMoneyPerVolume:
	case unit.DimMoney:
		if !b.customByWord(q, word) {
			return false
		}
	default:
		return false
	}
	b.setCustom(q, word, "$38/ha spreading")
	return true
}

// customByWord settles what money without its "per" is for: the load where that was said,
// else the ground, where a word for the work stands beside it.
func (b *binder) customByWord(q *qty, word int) bool {
	if q.perLoad {
		if b.nothingElse() {
			return false // "we charge $45 a load" says nothing to work out
		}
		return word >= 0 || b.at(q.j).class != cCrop && !b.has(cCrop) && !b.has(cCropQ) && !b.has(cRyeQ)
	}
	if word < 0 {
		return false
	}
	symbol := pick(b.metric, "$/ha", "$/acre")
	if per := b.groundBehind(max(q.j, word+1)); per != "" {
		symbol = "$/" + per
	}
	q.unit, q.implied = unit.Must(symbol), true
	return true
}

// groundBehind is the ground that a price is for where that stands behind the word for the
// work, "20 dólares de la aplicada por acre", and takes it; else empty.
func (b *binder) groundBehind(i int) string {
	i = b.nextWord(i, 1)
	if c := b.at(i).class; c != cPer && c != cSlash {
		return ""
	}
	if u := b.at(i + 1); u.class == cUnit && (u.key == "acre" || u.key == "ha") {
		b.claim(i)
		b.claim(i + 1)
		return u.key
	}
	return ""
}

// customPer: "plus 38/ha spreading", "charging 140 an hour": a bare number beside a word
// for the work is money where the word is for money or money is spoken of.
func (b *binder) customPer(q *qty, n near) bool {
	u := unit.Find("$/" + q.per)
	word := b.customWord(q, n)
	billed := b.has(cNoun, "total_cost") && b.onlyCrop() < 0 // what do i bill for 57 acres at 38 an acre
	if u == nil || word < 0 && !billed || q.per == "lb" || q.per == "kg" {
		return false
	}
	if word >= 0 && b.tokens[word].key != "custom" && !b.speaksMoney() {
		return false // "8000 an acre spreading" is slurry
	}
	if q.per != "h" && q.min >= 1500 {
		return false
	}
	q.unit, q.implied = u, true
	b.setCustom(q, word, "plus 38/ha spreading")
	return true
}

// workRole are words for the work that are about something else without money.
var workRole = map[string]bool{"custom": true, "spread": true, "drive": true}

// customWord is the word for the work that an amount of money stands beside, -1 when there
// is none: right behind it, else before it in its clause.
func (b *binder) customWord(q *qty, n near) int {
	for i, steps := q.j, 0; i < len(b.tokens) && steps < 2; i++ {
		switch t := &b.tokens[i]; t.class {
		case cSkip, cFiller, cOf, cMy, cArt, cUn:
		case cPer, cUnit:
			steps++
		case cRole:
			if workRole[t.key] && !b.claimed[i] {
				return i
			}
			steps = 2
		default:
			steps = 2
		}
	}
	for i := q.i - 1; i >= 0 && !b.inAmount(i, q); i-- {
		t := &b.tokens[i]
		if t.class == cRole && t.key == "custom" {
			return i
		}
		if t.class == cComma && t.text != "and" && t.text != "y" || t.class == cCrop {
			break
		}
	}
	return -1
}

func (b *binder) setCustom(q *qty, word int, rule string) {
	of := ""
	if k := b.count(engine.CustomCost); k > 0 {
		of = strconv.Itoa(k + 1) // each of several counts
	}
	if word >= 0 {
		b.tokens[word].used = true
		if b.tokens[word].key != "custom" || word > q.i {
			b.claim(word)
		}
	}
	b.set(q, engine.CustomCost, of, rule)
}

// seedBefore says whether seed is what the clause before an amount of money is about, and
// takes the word for it.
func (b *binder) seedBefore(q *qty) bool {
	for i := q.i - 1; i >= 0 && !b.inAmount(i, q); i-- {
		switch t := &b.tokens[i]; {
		case t.class == cRole && (t.key == "custom" || t.key == "spread"), t.class == cComma:
			return false
		case t.class == cRole && t.key == "seed", t.class == cCrop && !b.claimed[i]:
			b.claim(i)
			return true
		}
	}
	return false
}

// nothingElse says whether an amount is all that is said: nothing is asked of it.
func (b *binder) nothingElse() bool {
	return len(b.qs) == 1 && !b.has(cQ) && !b.has(cQuestion) && !b.has(cNoun, "total_cost")
}

// wages says whether somebody is paid by the hour.
func (b *binder) wages() bool {
	for i := range b.tokens {
		if paidWords[b.tokens[i].text] {
			return true
		}
	}
	return false
}

var paidWords = map[string]bool{"kid": true, "kids": true, "help": true, "helper": true, "hired": true, "wages": true, "wage": true, "pay": true, "paying": true, "guys": true, "ayudante": true, "peon": true, "peones": true, "pago": true, "le pago": true}

// groundAnHour: "3.6 acres an hour" is a pace.
func (b *binder) groundAnHour(q *qty) bool {
	t := b.at(q.j)
	if t.class != cNoun || t.key != "area_per_hour" || q.max > 200 {
		return false
	}
	symbol := "acre/h"
	if len(t.text) > 1 && t.text[:2] == "he" || len(t.text) > 1 && t.text[:2] == "ha" {
		symbol = "ha/h"
	}
	b.claim(q.j)
	q.unit = unit.Must(symbol)
	b.set(q, engine.AreaPerHour, "", "3.6 acres an hour")
	return true
}
