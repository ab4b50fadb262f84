package parse

import (
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// gateShut are words for a gate that is shut, so that all of the pump's flow returns.
var gateShut = []string{"gate shut", "gate closed", "gate is shut", "gate is closed", "valve shut", "valve closed", "before i open", "before opening", "before we open", "before you open", "all return", "everything returns",
	"compuerta cerrada", "valvula cerrada", "antes de abrir", "antes de que abra", "todo regresa", "todo el retorno", "todo retorna"}

// stirTime binds the time that somebody stirs with the gate shut, in a question about
// stirring: "is 10 minutes of stirring before I open the gate enough". It is no time that a
// load took.
func (b *binder) stirTime() {
	for _, w := range gateShut {
		b.req.Shut = b.req.Shut || strings.Contains(b.text, w)
	}
	noun := b.has(cNoun, "agitation", "mixing_time", "turnover_time")
	if !noun && !(b.req.Shut && b.has(cRole, "mix")) || !b.has(cQ) && !b.has(cQuestion) || b.hauls() {
		return
	}
	for k := range b.qs {
		q := &b.qs[k]
		if t := b.at(q.j); q.bare() && t.class == cRole && t.key == "mix" && strings.HasPrefix(t.text, "minutos ") {
			q.unit = unit.Must("min") // "10 minutos mezclando" is one word for mixing
			b.claim(q.j)
		}
		if q.done || q.dim() != unit.DimTime || b.given(engine.Duration) || b.has(cNoun, "unload_time") || !b.stirBeside(q) {
			continue
		}
		b.set(q, engine.Duration, durationPart["mix"], "10 minutes of stirring")
		if !noun {
			b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicAgitation, Slot: engine.MixingTime, At: b.span(q.i, q.j)})
		}
		return
	}
}

// stirBeside says whether a word for stirring stands right beside a time.
func (b *binder) stirBeside(q *qty) bool {
	stirs := func(i int) bool {
		t := b.at(i)
		return t.class == cNoun && (t.key == "agitation" || t.key == "mixing_time") || t.class == cRole && t.key == "mix"
	}
	small := func(i int) bool {
		c := b.at(i).class
		return c == cOf || c == cFiller || c == cSkip || c == cAt || c == cAbout || c == cMy
	}
	for i := q.j; i < len(b.tokens) && i < q.j+4; i++ {
		if stirs(i) {
			return true
		} else if !small(i) {
			break
		}
	}
	for i := q.i - 1; i >= 0 && i > q.i-4; i-- {
		if stirs(i) {
			return true
		} else if !small(i) && b.at(i).text != "for" && b.at(i).text != "por" {
			break
		}
	}
	return false
}
