package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// paceWord stand before a number that somebody goes by from now on: "slowed to 2", "im
// doing 4 now", "le bajé a 3". Alone they do not say that it is the speed: the chat knows.
var paceWord = map[string]bool{"doing": true, "slowed": true, "slowing": true, "slow": true, "slow down": true, "slowed down": true, "sped": true, "speeded": true, "speeding": true, "sped up": true, "more like": true,
	"bumped": true, "down": true, "up": true, "closer": true, "voy": true, "vamos": true, "ando": true, "andamos": true, "baje": true, "bajo": true, "bajamos": true, "subi": true, "subo": true, "subimos": true,
	"acelere": true, "frene": true, "mas bien": true, "quedo": true}

// paced says whether a bare number is a pace that was changed to.
func (b *binder) paced(q *qty) bool {
	if !q.bare() || q.part || q.min != q.max || q.max > 30 {
		return false
	}
	if now := b.at(q.j).text; now == "now" || now == "ahora" || now == "ahorita" {
		return true // "im at 4.5 now"
	}
	for i := q.i - 1; i >= 0 && i >= q.i-3; i-- {
		switch t := &b.tokens[i]; {
		case paceWord[t.text]:
			return true
		case t.class != cSkip && t.class != cFiller && t.class != cAt && t.class != cAbout && t.class != cTime:
			return false
		}
	}
	return false
}

// givesMe: "5 km/h, 1900 litres a minute out, does that give me 45" asks whether the flow
// puts on that rate.
func (b *binder) givesMe(q *qty) bool {
	if !q.bare() || q.part || !b.given(engine.Flow) || !b.given(engine.Speed) || b.given(engine.ApplicationRate) || b.given(engine.GateOpening) {
		return false
	}
	gives := false
	for i := q.i - 1; i >= 0 && i >= q.i-3 && !gives; i-- {
		gives = givesWord[b.tokens[i].text]
	}
	if !gives || !b.has(cQuestion) && !b.has(cQ) {
		return false
	}
	q.unit, q.implied = unit.Find(pick(b.metric, pick(q.max >= 1500, "L/ha", "m3/ha"), "gal/acre")), true
	b.set(q, engine.ApplicationRate, "", "does that give me 45")
	b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicRate, Slot: engine.PercentOff, At: b.span(q.i, q.j)})
	return true
}

var givesWord = map[string]bool{"give me": true, "give": true, "gives me": true, "gives": true, "get me": true, "get": true, "da": true, "dan": true, "me da": true, "salen": true, "saco": true, "queda en": true, "hit": true, "make": true}
