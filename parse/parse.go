package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// MaxLength is the longest message that is read, in bytes; a longer one is refused
// as a whole, so that no part of it is dropped in silence.
const MaxLength = 2000

// Parse reads one message. It never fails: what cannot be read is in Problem or
// Unread.
func Parse(text string, ctx Context) *Request { return parse(text, ctx, nil) }

func parse(text string, ctx Context, trace *Trace) *Request {
	req := &Request{Lang: ctx.Lang}
	if len(text) > MaxLength {
		req.Problem = &engine.Problem{Code: engine.TooLong}
		return req
	}
	room := rooms.Get().(*room)
	defer rooms.Put(room)
	r := reader{folded: fold(text), raw: text, ctx: &ctx, room: room}
	r.lex()
	defer r.keepRoom()
	req.Lang = r.lang
	r.resolve()
	found, err := r.amounts()
	if err != nil { // the grammar takes any sequence of classes: a fault of ours
		req.Problem = &engine.Problem{Code: engine.Broken, Words: []string{err.Error()}}
		return req
	}
	b := binder{reader: &r, qs: r.quantities(found), req: req, claimed: room.flags(len(r.tokens)), trace: trace}
	b.metric = b.isMetric()
	b.courtesy()
	b.texts()
	b.mixEdits()
	b.corrections()
	b.negations()
	b.alternatives()
	b.convertTarget()
	b.numberQuestions()
	b.acts()
	b.bindAll()
	b.doubted()
	b.asks()
	b.returnsAsked()
	b.finishAsked()
	b.asksDays()
	b.allMeant()
	b.standingSeed()
	b.bareAsk()
	b.acts2()
	b.formAlone()
	b.enough()
	b.collect()
	req.DecimalMark = b.decimalMark()
	if trace != nil {
		trace.fill(&b)
	}
	return req
}

// isMetric: what was said decides, then the chat.
func (b *binder) isMetric() bool {
	metric, us := b.saysMetric(), b.saysUS()
	if metric != us {
		return metric
	}
	if metric { // mixed: the rate decides, then the chat
		for k := range b.qs {
			if b.qs[k].dim() == unit.DimVolumePerArea {
				return b.qs[k].unit.System == unit.Metric
			}
		}
	}
	return b.ctx.Units.System == unit.Metric
}

// numberQuestions turns number shapes that nobody can be sure of into a question:
// "three oh five", "seven five hundred", 6000/8000, a bare "ton".
func (b *binder) numberQuestions() {
	for k := range b.qs {
		q := &b.qs[k]
		switch {
		case q.done:
		case q.part && len(b.qs) == 1 && q.dim() == unit.DimVolumePerArea && q.max < 1:
			b.req.Factor, q.done, q.rule = q.min, true, "half the gallons an acre" // a factor on what the chat knows
			b.req.Mentions = append(b.req.Mentions, Mention{Slot: engine.ApplicationRate})
		case q.odd:
			b.problem(&engine.Problem{Code: engine.NumberForm, Words: []string{b.piece(q.i, q.j).Text}})
		case q.alt != 0:
			b.marks(q)
		}
	}
}

// marks settles "3.000": thousands when only that is plausible for its unit, the
// decimal when only that is; else it is asked about.
func (b *binder) marks(q *qty) {
	whole, decimal := b.fits(q, q.min), b.fits(q, q.alt)
	switch {
	case whole && !decimal:
	case decimal && !whole:
		q.min, q.max = q.alt, q.alt
	default:
		q.odd = true
		b.problem(&engine.Problem{Code: engine.NumberForm, Words: []string{b.piece(q.i, q.j).Text}})
		b.req.Choices = []engine.Choice{{Min: q.min, Max: q.min, Unit: q.unit}, {Min: q.alt, Max: q.alt, Unit: q.unit}}
	}
	q.alt = 0
}

// slotsOfDim are the quantities that an amount with a unit can be, for judging
// which of two readings of its digits is plausible.
var slotsOfDim = map[unit.Dim][]engine.Slot{unit.DimVolume: {engine.TankVolume}, unit.DimVolumePerArea: {engine.ApplicationRate}, unit.DimArea: {engine.Area},
	unit.DimFlow: {engine.PumpFlow}, unit.DimMassPerArea: {engine.SeedRate}, unit.DimSpeed: {engine.Speed}, unit.DimLength: {engine.Width}}

func (b *binder) fits(q *qty, v float64) bool {
	u, slots := q.unit, slotsOfDim[q.dim()]
	if q.dim() == unit.DimMass {
		return v >= 1000 || !b.has(cRole, "gross", "tare") // 1.250 kg of seed can be a bag or a lorry
	}
	switch {
	case q.clash == "m?":
		u, slots = unit.Must("m"), []engine.Slot{engine.Width}
	case u == nil && q.per != "":
		u, slots = unit.Find(pick(q.per == "ha", "m3/ha", "gal/acre")), []engine.Slot{engine.ApplicationRate}
	case u == nil:
		u, slots = unit.Find("gal"), []engine.Slot{engine.TankVolume}
	}
	for _, s := range slots {
		f := engine.Fact{Slot: s, Min: v, Max: v, Unit: u}
		if s == engine.SeedRate {
			f.Unit = perAreaUnit(u)
		}
		if engine.Plausible(&f) == engine.Fine {
			return true
		}
	}
	return false
}
