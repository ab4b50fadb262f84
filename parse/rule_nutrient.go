package parse

import (
	"fmt"
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
)

// targetOf is the slot for what the crop is to get of a nutrient.
func targetOf(nut string) engine.Slot {
	switch nut {
	case "phosphate", "p":
		return engine.TargetPhosphate
	case "total_n", "available_n", "ammonium_n":
		return engine.TargetN
	}
	return engine.NoSlot
}

// analysisOf is the slot for what the lab says of a nutrient.
func analysisOf(nut string) engine.Slot {
	switch nut {
	case "total_n":
		return engine.AnalysisTotalN
	case "ammonium_n":
		return engine.AnalysisAmmoniumN
	case "organic_n":
		return engine.AnalysisOrganicN
	case "available_n":
		return engine.AnalysisAvailableN
	case "phosphate", "p":
		return engine.AnalysisPhosphate
	case "potash", "k":
		return engine.AnalysisPotash
	}
	return engine.NoSlot
}

// nutrientTarget binds an amount by the acre of a nutrient: what the crop is to get, or
// the most that is allowed. P and K by their element are asked about, never taken for the
// oxide.
func (b *binder) nutrientTarget(q *qty, nut int) {
	t := &b.tokens[nut]
	s, example := targetOf(t.key), "need 120 lb n per acre"
	if b.capped(q) {
		s, example = limitOf[s], "limit here is 170 kg n per ha"
	}
	if t.class == cNutQ {
		s = b.formed(q, s, nut)
	}
	if s != engine.NoSlot {
		b.set(q, s, "", example)
	}
}

var limitOf = map[engine.Slot]engine.Slot{engine.TargetN: engine.LimitN, engine.TargetPhosphate: engine.LimitPhosphate}

// capped says whether a word for a ceiling stands in the clause of an amount: "the plan
// says 80 lb max", "limit here is 170 kg".
func (b *binder) capped(q *qty) bool {
	for _, step := range [2]int{-1, +1} {
		from := q.i - 1
		if step > 0 {
			from = q.j
		}
		for i, n := from, 0; i >= 0 && i < len(b.tokens) && n < 8; i, n = i+step, n+1 {
			t := &b.tokens[i]
			if ceilingWord[t.text] || step < 0 && ceilingBefore[t.text] || t.class == cAct && t.key == "limit" {
				t.used = true
				return true
			}
			if t.class == cComma && t.text != "and" && t.text != "y" || t.class == cRole && t.key != "rate" || t.class == cQ && step > 0 || b.inAmount(i, q) {
				break
			}
		}
	}
	return false
}

// cappedLab: a number of nitrogen that a plan caps, "no more than 120 total n", is what may
// go on an acre; no lab sheet says so.
func (b *binder) cappedLab() {
	for k := range b.qs {
		if q := &b.qs[k]; q.slot == engine.AnalysisTotalN && q.implied && q.min >= 20 && b.capped(q) {
			q.unit = unit.Must(pick(b.metric, "kg/ha", "lb/acre"))
			b.set(q, engine.LimitN, "", "no more than 120 total n")
		}
	}
}

var ceilingWord = map[string]bool{"max": true, "maximum": true, "cap": true, "caps": true, "capped": true, "ceiling": true, "limits": true, "limited": true, "allowed": true, "allows": true,
	"maximo": true, "maxima": true, "tope": true, "limite": true, "permitido": true, "permitidos": true, "permite": true, "permiten": true}

// ceilingBefore are words for a ceiling that stand before their amount only: in "need 120 N
// at most 9000" they are the rate's.
var ceilingBefore = map[string]bool{"most": true, "exceed": true, "at most": true, "no more than": true, "not more than": true, "not over": true, "no mas de": true, "como maximo": true, "a lo mas": true}

// problem keeps the first thing that must be asked about.
func (b *binder) problem(p *engine.Problem) {
	if b.req.Problem == nil {
		b.req.Problem = p
	}
}

// nutrientMass: "need 120 lb of n" is a target by the acre; in a lab result it is
// per 1,000 gallons.
func (b *binder) nutrientMass(q *qty, n near) {
	nut := b.nutFor(n)
	if b.contains(q) {
		q.unit, q.implied = b.labUnit(q.unit), true
		b.concentration(q, n)
		return
	}
	if n.left >= 0 && b.tokens[n.left].key == "target" || b.sameNutPerVolume(q, nut) || b.has(cRole, "target") && !b.has(cAnalysis) && !b.perVolume() || !b.labSheet() {
		q.unit, q.implied = perAreaUnit(q.unit), true
		b.claim(nut)
		b.claimRole(q, n, "target")
		b.nutrientTarget(q, nut)
		return
	}
	q.unit, q.implied = b.labUnit(q.unit), true
	b.concentration(q, n)
}

// contains says whether a weight of nutrient is what the manure has: "how much p do i
// get from 8000 gal with 13 lb p2o5".
func (b *binder) contains(q *qty) bool {
	if !b.has(cQ) || b.has(cRole, "target") || b.perVolume() || q.max > 100 || !containing[b.at(q.i-1).text] {
		return false
	}
	return slices.ContainsFunc(b.qs, func(o qty) bool { return o.dim() == unit.DimVolume || o.slot == engine.ApplicationRate })
}

var containing = map[string]bool{"with": true, "at": true, "has": true, "having": true, "testing": true, "tests": true, "con": true, "tiene": true, "trae": true}

// sameNutPerVolume says whether another amount gives this nutrient per volume: then
// this one is what the crop is to get.
func (b *binder) sameNutPerVolume(q *qty, nut int) bool {
	for k := range b.qs {
		o := &b.qs[k]
		if o == q || o.dim() != unit.DimMassPerVolume && o.dim() != unit.DimMassPerMass {
			continue
		}
		wanted := targetOf(b.tokens[nut].key) != engine.NoSlot && b.tokens[nut].key != "ammonium_n"
		if i := b.nutTouching(o); i < 0 && wanted || i >= 0 && i != nut && b.tokens[i].key == b.tokens[nut].key {
			return true // "60 lb p2o5 wanted, tests 15 per 1000 gal"
		}
	}
	return false
}

// nutTouching is the nutrient stuck to an amount, spoken for or not; -1.
func (b *binder) nutTouching(q *qty) int {
	for i := range b.tokens {
		c := b.tokens[i].class
		if (c == cNut || c == cNutW || c == cNutQ) && (i >= q.j && b.gap(q.j, i) == 0 || i < q.i && b.gap(i+1, q.i) == 0) {
			return i
		}
	}
	return -1
}

// labSheet says whether the message gives lab results: two nutrients or more, the
// word, or a unit per volume.
func (b *binder) labSheet() bool {
	if b.has(cAnalysis) {
		return true
	}
	seen := map[string]bool{}
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cNut && t.key != "all" || t.class == cNutW {
			seen[t.key] = true
		}
	}
	return len(seen) > 1 || b.perVolume()
}

func (b *binder) perVolume() bool {
	for k := range b.qs {
		if d := b.qs[k].dim(); d == unit.DimMassPerVolume || d == unit.DimMassPerMass {
			return true
		}
	}
	return false
}

// concentration: a lab value of the nutrient named, or the density of the slurry.
func (b *binder) concentration(q *qty, n near) {
	if q.unit.Symbol == "lb/gal" || q.unit.Symbol == "kg/L" || b.claimRole(q, n, "density") {
		b.claimRole(q, n, "density", "weight")
		b.set(q, engine.Density, "", "8.4 lb/gal")
		return
	}
	nut := b.nutOf(q, n)
	if nut < 0 {
		nut = b.onlyNut()
	}
	if nut < 0 {
		nut = b.nutBefore(q)
	}
	if nut < 0 {
		nut = b.nitrogenTested(q, n)
	}
	if nut < 0 {
		return
	}
	t := &b.tokens[nut]
	s := analysisOf(t.key)
	if t.class == cNutQ {
		s = b.formed(q, s, nut)
	}
	if s != engine.NoSlot {
		if !b.askedFor(nut, q) {
			b.claim(nut)
		}
		b.set(q, s, "", "31 lb n per 1000 gal")
	}
}

// askedFor says whether a nutrient in another clause than the amount is what a question
// word asks for.
func (b *binder) askedFor(nut int, q *qty) bool {
	parted := false
	for i := nut + 1; i < q.i; i++ {
		parted = parted || b.tokens[i].class == cComma
	}
	for i := nut - 1; i >= 0 && parted; i-- {
		switch b.tokens[i].class {
		case cQ:
			return b.tokens[i].key != "is"
		case cComma:
			return false
		}
	}
	return false
}

// nitrogenTested: a test's first number is the nitrogen that the message asks about:
// "what's the nitrogen in 7000 gallons, test 28 pounds per thousand, 14 ammonium".
func (b *binder) nitrogenTested(q *qty, n near) int {
	if n.leftNut < 0 || b.tokens[n.leftNut].class != cAnalysis || b.given(engine.AnalysisTotalN) {
		return -1
	}
	for i := range b.tokens {
		if t := &b.tokens[i]; (t.class == cNut || t.class == cNutW) && t.key == "total_n" {
			return i
		}
	}
	return -1
}

// nutBefore is the nearest nutrient named before in the clause, spoken for or not:
// "80 lb p2o5 an acre at 16 lb per thousand".
func (b *binder) nutBefore(q *qty) int {
	for i := q.i - 1; i >= 0; i-- {
		switch b.tokens[i].class {
		case cComma, cQuestion:
			return -1
		case cNut, cNutW:
			return i
		}
	}
	return -1
}

// onlyNut is the one nutrient that the message names.
func (b *binder) onlyNut() int {
	at := -1
	for i := range b.tokens {
		if c := b.tokens[i].class; c == cNut || c == cNutW || c == cNutQ {
			if at >= 0 && b.tokens[at].key != b.tokens[i].key {
				return -1
			}
			at = i
		}
	}
	return at
}

// nutOf picks the nutrient of a lab value: the unclaimed one that touches it, the
// one before it first when the sheet is written "n 31 p2o5 15".
func (b *binder) nutOf(q *qty, n near) int {
	switch {
	case n.leftNut >= 0 && b.tokens[n.leftNut].class != cAnalysis && b.gap(n.leftNut+1, q.i) == 0:
		return n.leftNut
	case n.rightNut >= 0 && b.tokens[n.rightNut].class != cAnalysis:
		return n.rightNut
	case n.leftNut >= 0 && b.tokens[n.leftNut].class != cAnalysis:
		return n.leftNut
	}
	return -1
}

// bareNutrient: "31 n 15 p2o5 19 k2o", "n 31 p 15 k 19".
func (b *binder) bareNutrient(q *qty, n near) bool {
	if b.testedBare(q, n) {
		return true
	}
	nut := b.nutOf(q, n)
	sheet := b.sheetUnit()
	if nut < 0 || q.min >= 1000 && sheet == nil || b.gapTo(q, nut) > 1 || n.at && q.min >= 500 { // "how much nitrogen at 7000"
		return false
	}
	if q.max < 3 && !q.part && (b.has(cRole, "price") || b.has(cNoun, "nutrient_value", "seed_cost")) {
		q.unit, q.implied = unit.Must(pick(b.metric, "$/kg", "$/lb")), true
		b.claim(nut)
		b.set(q, priceOf(b.tokens[nut].key), "", "worth, n 0.55 p2o5 0.60")
		return true
	}
	need := n.left >= 0 && b.tokens[n.left].key == "target" && b.gap(n.left+1, q.i) == 0
	if b.has(cRole, "target") && !b.has(cAnalysis) && !b.perVolume() || need && targetOf(b.tokens[nut].key) != engine.NoSlot || b.sameNutPerVolume(q, nut) {
		b.claim(nut)
		q.unit, q.implied = unit.Find(pick(b.metric, "kg/ha", "lb/acre")), true
		b.nutrientTarget(q, nut)
		return q.done
	}
	q.unit, q.implied = unit.Must(pick(b.metric, "kg/m3", "lb/1000gal")), true
	if sheet != nil {
		q.unit = sheet
	}
	b.concentration(q, n)
	return q.done
}

// ownShares: "count 60% of the ammonium and 35% of the organic" sets the shares of
// nitrogen that count in the first year by hand.
func (b *binder) ownShares() {
	var of [2]*qty
	for k := range b.qs {
		q := &b.qs[k]
		if q.done || q.dim() != unit.DimFraction || q.max > 100 {
			continue
		}
		switch nut := b.at(b.nextWord(q.j, 1)); {
		case nut.class != cNut:
		case nut.key == "ammonium_n":
			of[0] = q
		case nut.key == "organic_n":
			of[1] = q
		}
	}
	if of[0] == nil || of[1] == nil || b.has(cAnalysis) || b.perVolume() {
		return
	}
	b.req.Scheme = fmt.Sprintf("own:%g:%g", of[0].max/100, of[1].max/100)
	b.req.Acts = append(b.req.Acts, Act{Name: "shares", At: b.span(min(of[0].i, of[1].i), max(of[0].j, of[1].j))})
	of[0].done, of[0].rule, of[1].done, of[1].rule = true, "a share that counts", true, "a share that counts"
}

// testedBare: "need 120 n, test 28": a number stuck to the word for the test is of the
// one nutrient that the message names, spoken for already.
func (b *binder) testedBare(q *qty, n near) bool {
	nut := b.onlyNut()
	tested := b.at(q.i-1).class == cAnalysis || b.at(q.i-1).key == "is" && b.at(q.i-2).class == cAnalysis
	if !tested || nut < 0 || !b.claimed[nut] || q.max >= 200 {
		return false
	}
	s := analysisOf(b.tokens[nut].key)
	if b.tokens[nut].class == cNutQ {
		s = b.formed(q, s, nut)
	}
	if s == engine.NoSlot || b.given(s) {
		return false
	}
	q.unit, q.implied = unit.Must(pick(b.metric, "kg/m3", "lb/1000gal")), true
	b.set(q, s, "", "need 120 n, test 28")
	return true
}
