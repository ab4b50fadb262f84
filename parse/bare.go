package parse

import "tankside/engine"

// bareAsk reads questions that are hardly more than a word: "and per load", "full load
// ryegrass again", "flow now", "seed?". Anything else in the message means something
// else.
func (b *binder) bareAsk() {
	r := b.req
	if first := b.firstWord(); r.Marked && len(r.Asks) == 0 && first.class == cRole && first.key == "load" && first.plural() && b.given(engine.Area) {
		b.ask(engine.TopicField, engine.Loads, 0) // "loads for 10 acres?"
		return
	}
	if (r.Question || r.Moisture != "") && len(r.Asks) == 0 && r.Soil != "" && !b.given(engine.ApplicationRate) && len(b.qs) == 0 {
		b.ask(engine.TopicDepth, engine.SoilRoom, 0) // "how much can a moist sand take"
		return
	}
	if len(r.Asks) == 0 && r.Manure != "" && len(r.Crops) == 0 && !b.given(engine.TankVolume) && (b.has(cQ, "what", "howmuch") && len(b.qs) == 0 || b.has(cNut) && b.given(engine.ApplicationRate)) {
		b.ask(engine.TopicNutrients, engine.NoSlot, 0) // "what's in dairy manure", "nutrients of swine manure at 4000 an acre"
		return
	}
	if r.Question && len(r.Asks) == 0 && b.given(engine.PumpFlow) && b.given(engine.PTOSpeed) && !b.given(engine.TankVolume) {
		b.ask(engine.TopicAgitation, engine.PumpFlow, 0) // "pump does 1500 gpm at 540, what's it do at 450"
		return
	}
	if len(r.Asks) == 0 && b.gateFor() {
		b.ask(engine.TopicGate, engine.GateOpening, 0)
		return
	}
	if w := b.firstWord(); len(r.Asks) == 0 && w.class == cRole && w.key == "weight" && b.volumes() == 1 && len(b.qs) == 1 && len(r.Facts) == 0 {
		b.ask(engine.TopicWeigh, engine.NetWeight, 0) // "weight of 4000 gallons of slurry"
		return
	}
	if len(r.Asks) > 0 || len(b.qs) > 0 || r.Field != "" || len(r.Info) > 0 || b.does() {
		return
	}
	at, n := -1, 0
	for i := range b.tokens {
		switch t := &b.tokens[i]; t.class {
		case cSkip, cFiller, cMy, cOf, cComma, cQuestion, cAct, cTime, cCrop:
		case cRole, cFull:
			at, n = i, n+1
		default:
			return
		}
	}
	if n != 1 {
		return
	}
	switch t := &b.tokens[at]; {
	case t.class == cFull && b.has(cCrop), t.key == "load" && (b.at(at-1).text == "per" || b.at(at-1).text == "por" || b.at(at-1).text == "each"):
		b.ask(engine.TopicLoad, engine.NoSlot, at)
	case t.key == "seed" && r.Marked:
		b.ask(engine.TopicLoad, engine.SeedPerLoad, at)
	case t.key == "flow" && b.has(cTime):
		b.ask(engine.TopicFlow, engine.Flow, at)
	}
}

// gateFor says whether the message opens with "gate for": "gate for 6000 gal/ac at 3 mph
// 12 ft".
func (b *binder) gateFor() bool {
	for i := range b.tokens {
		switch t := &b.tokens[i]; t.class {
		case cSkip, cFiller, cMy:
		case cRole:
			next := b.at(i + 1).text
			return t.key == "gate" && (next == "for" || next == "para") && len(b.qs) > 0 && !b.given(engine.GateOpening)
		default:
			return false
		}
	}
	return false
}

// firstWord is the first token that carries something.
func (b *binder) firstWord() *token {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class != cSkip && t.class != cFiller && t.class != cComma && t.class != cMy {
			return t
		}
	}
	return b.at(-1)
}

// does says whether something is to be done, "again" aside.
func (b *binder) does() bool {
	for i := range b.req.Acts {
		if b.req.Acts[i].Name != "same" {
			return true
		}
	}
	return false
}

func (b *binder) ask(topic engine.Topic, slot engine.Slot, i int) {
	b.req.Asks = append(b.req.Asks, Ask{Topic: topic, Slot: slot, At: b.span(i, i+1)})
	b.req.Question, b.tokens[i].used = true, true
}

// doubted: "tank is four thousand no it is the other one" takes the number back and
// gives none; it is asked about.
func (b *binder) doubted() {
	for k := range b.qs {
		q := &b.qs[k]
		if q.slot == engine.NoSlot || b.at(q.j).text != "no" {
			continue
		}
		for i := q.j + 1; i < len(b.tokens) && i <= q.j+5 && !b.tokens[i].opens(); i++ {
			if w := b.tokens[i].text; w != "other" && w != "otro" && w != "otra" && w != "wrong" {
				continue
			}
			words := b.piece(q.i, i+1).Text
			b.withdraw(q)
			b.problem(&engine.Problem{Code: engine.Negated, Words: []string{words}})
			return
		}
	}
}
