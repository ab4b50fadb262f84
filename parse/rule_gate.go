package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// gateTable binds marks of the gate and the flows they gave where a message tells of more
// than one: "gate mark 3 is 700 gpm mark 4 is 950 and mark 5 is 1200", "at three inches we
// get 350 a minute, at five 700". What stands beside them is left for the other rules.
func (b *binder) gateTable() {
	if !b.has(cRole, "gate") {
		return
	}
	var pairs [][2]*qty
	for k := 0; k+1 < len(b.qs); k++ {
		mark, flow := &b.qs[k], &b.qs[k+1]
		if !b.gateMark(mark, len(pairs) > 0) {
			mark, flow = flow, mark
			if len(pairs) > 0 && pairs[0][0].i < pairs[0][1].i || !b.gateMark(mark, true) {
				continue // the order is that of the first pair
			}
		}
		if b.gateGave(flow, len(pairs) > 0) && b.sameMarks(mark, pairs) && !b.partedPair(k) {
			pairs = append(pairs, [2]*qty{mark, flow})
			k++
		}
	}
	if len(pairs) < 2 {
		return
	}
	flowUnit := pairs[0][1].unit
	for _, p := range pairs {
		mark, flow := p[0], p[1]
		if mark.unit == nil { // "at 2 inches 500, at 3 750" are all inches
			mark.unit = unit.Must("")
			if first := pairs[0][0]; first.dim() == unit.DimLength {
				mark.unit, mark.implied = first.unit, true
			}
		}
		if flow.unit == nil {
			if flow.implied = true; flowUnit == nil {
				flowUnit = unit.Find(pick(b.metric, "L/min", "gal/min"))
			}
			flow.unit = flowUnit
		}
		b.set(mark, engine.GateOpening, "", "mark 3 is 700 gpm, mark 4 is 950")
		b.set(flow, engine.Flow, "", "mark 3 is 700 gpm, mark 4 is 950")
	}
	last := pairs[len(pairs)-1]
	for i := range b.tokens[:max(last[0].j, last[1].j)] { // a gate named behind them is asked about
		if t := &b.tokens[i]; t.class == cRole && t.key == "gate" {
			b.claimed[i], t.used = true, true
		}
	}
}

// onMark says whether a small bare number stands behind a word for where the gate is set,
// in a question that names no gate: "on 4 how fast", "a qué velocidad en la 4". Only the
// chat knows whether its gate has that mark.
func (b *binder) onMark(q *qty) bool {
	if !q.bare() || q.part || q.min != q.max || q.max > 48 || b.has(cRole, "gate") || b.has(cCrop) || b.at(q.j).class == cUnit || !b.has(cQ) && !b.has(cQuestion) && !b.has(cWhatIf) && !b.has(cNoun, "unload_time") {
		return false
	}
	a, the := b.at(q.i-1).text, b.at(q.i-2).text
	return a == "on" || a == "number" && the == "on" || (a == "la" || a == "en la") && (the == "en" || the == "con" || the == "a" || a == "en la")
}

// gateMark says whether an amount can be a mark: small and bare, or a short length.
// The first one stands behind the word for it.
func (b *binder) gateMark(q *qty, known bool) bool {
	short := q.dim() == unit.DimLength && q.unit.ToBase(q.max) <= 2.5
	if q.done || q.part || q.min != q.max || !short && !(q.bare() && q.max <= 48) {
		return false
	}
	if known {
		return true
	}
	for i := q.i - 1; i >= 0 && i >= q.i-3; i-- {
		if t := &b.tokens[i]; t.class == cRole && t.key == "gate" {
			return true
		}
	}
	return false
}

// gateGave says whether an amount can be the flow of a mark.
func (b *binder) gateGave(q *qty, known bool) bool {
	return !q.done && q.min == q.max && (q.dim() == unit.DimFlow || q.bare() && q.min > 48 && (known || gaveWord[b.at(q.i-1).text] || gaveWord[b.at(q.i-2).text]))
}

// sameMarks says whether a mark is written like the ones before it.
func (b *binder) sameMarks(q *qty, pairs [][2]*qty) bool {
	return len(pairs) == 0 || q.bare() || pairs[0][0].unit == q.unit
}

// partedPair says whether a question parts amount k from the next: "gate 4, what for 600".
func (b *binder) partedPair(k int) bool {
	for i := b.qs[k].j; i < b.qs[k+1].i; i++ {
		if t := &b.tokens[i]; t.class == cQ && t.key != "is" || t.class == cQuestion || t.class == cNoun {
			return true
		}
	}
	return false
}
