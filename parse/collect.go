package parse

import (
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// collect turns bound amounts into facts and lists everything else that carries a
// number, a unit or an unknown term.
func (b *binder) collect() {
	b.req.Facts = make(engine.Facts, 0, len(b.qs))
	for k := range b.qs {
		b.collectAmount(&b.qs[k])
	}
	b.workedIn()
	b.hearsay()
	b.crops()
	b.mentions()
	b.fixes()
	b.unknownWords()
	b.req.Off = b.req.Scheme == "" && len(b.req.Facts)+len(b.req.Asks)+len(b.req.Acts)+len(b.req.Loose)+len(b.req.Crops)+len(b.req.Info) == 0 && b.req.Problem == nil && b.req.Factor == 0 && !b.req.Frost && b.req.Start == nil
	b.recalls()
	b.system()
}

// workedIn: manure that is worked in "the same day" lies a day at most, "right away" an
// hour: what the published tables tell apart.
func (b *binder) workedIn() {
	if !b.has(cRole, "inc") && len(b.qs) > 0 {
		return
	}
	for words, hours := range soonAs {
		if strings.Contains(b.text, words) {
			b.req.WorkedIn = hours
		}
	}
}

var soonAs = map[string]float64{"same day": 24, "within a day": 24, "within one day": 24, "mismo dia": 24, "dentro de un dia": 24, "within an hour": 1, "dentro de una hora": 1, "right away": 1, "immediately": 1, "straight away": 1, "enseguida": 1, "de inmediato": 1, "luego luego": 1}

func (b *binder) collectAmount(q *qty) {
	switch {
	case q.slot != engine.NoSlot:
		if q.unit == nil {
			q.unit = unit.Must("")
		}
		if q.pair && !b.pairFits(q) {
			b.problem(&engine.Problem{Code: engine.NumberForm, Words: []string{b.piece(q.i, q.j).Text}})
			b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
			return
		}
		b.req.Facts = append(b.req.Facts, engine.Fact{Slot: q.slot, Of: q.of, Min: q.min, Max: q.max, Unit: b.gallonOf(q.unit), Origin: engine.Said,
			At: b.span(q.lo, q.hi), About: q.about, Implied: q.implied, Live: q.slot == engine.SeedRate && b.has(cRole, "pls")})
		if q.back {
			back := b.req.Facts[len(b.req.Facts)-1]
			back.Of = durationPart["return"]
			b.req.Facts = append(b.req.Facts, back)
		}
	case q.done:
	case q.odd, q.clash != "", len(q.list) > 0:
		b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
		b.oddAmount(q)
	default:
		b.req.Loose = append(b.req.Loose, Loose{Min: q.min, Max: q.max, Unit: b.looseUnit(q), At: b.span(q.i, q.j), Text: b.piece(q.i, q.j).Text, About: q.about, Behind: b.behind(q), Part: q.part, Instead: q.instead, Pace: b.paced(q)})
	}
}

// hearsay: the neighbour's numbers and last year's are not this chat's. They are
// listed and not used.
func (b *binder) hearsay() {
	if !b.has(cOther) && !b.has(cSpan) || b.req.Question || len(b.req.Asks) > 0 {
		return
	}
	if len(b.req.Facts) == 0 && len(b.req.Loose) == 1 && b.req.Loose[0].Pace {
		b.req.WhatIf = false
		return // "he says its more like 1.5 now": who drives says so
	}
	for _, f := range b.req.Facts {
		b.req.Unread = append(b.req.Unread, engine.Span{Text: b.raw[f.At[0]:f.At[1]], At: f.At})
	}
	for _, l := range b.req.Loose {
		b.req.Unread = append(b.req.Unread, engine.Span{Text: l.Text, At: l.At})
	}
	b.req.Facts, b.req.Loose = nil, nil
}

// othersNumbers: "my neighbor runs 9000, I run 7000": where only some of the numbers
// stand in a clause about somebody else, those are listed and not used.
func (b *binder) othersNumbers() {
	if !b.has(cOther) {
		return
	}
	other := make([]bool, len(b.qs))
	n := 0
	for k := range b.qs {
		if other[k] = b.aboutOther(&b.qs[k]); other[k] {
			n++
		}
	}
	if n == len(b.qs) {
		return
	}
	for k := range b.qs {
		if q := &b.qs[k]; other[k] && !q.done {
			q.done, q.rule = true, "somebody else's"
			b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
		}
	}
}

// aboutOther says whether somebody else is named before an amount in its clause.
func (b *binder) aboutOther(q *qty) bool {
	for i := q.i - 1; i >= 0; i-- {
		switch t := &b.tokens[i]; {
		case t.class == cOther:
			return true
		case t.class == cComma && t.text != "and" && t.text != "y" && t.text != "e", t.text == "but", t.text == "pero", t.text == "i", t.text == "yo", t.text == "we":
			return false
		}
	}
	return false
}

func (b *binder) behind(q *qty) string {
	switch {
	case b.look(q).at:
		return "at"
	case b.onMark(q):
		return "on"
	}
	return ""
}

func (b *binder) looseUnit(q *qty) *unit.Unit {
	if q.unit == nil {
		return nil
	}
	return b.gallonOf(q.unit)
}

// gallonOf: in a chat set to imperial a gallon is the imperial one.
func (b *binder) gallonOf(u *unit.Unit) *unit.Unit {
	if b.ctx.Units.System != unit.Imperial && !b.imperialNamed() || !strings.HasPrefix(u.Symbol, "gal") && u.Symbol != "lb/1000gal" && u.Symbol != "qt" && u.Symbol != "pt" || strings.Contains(b.text, "us gal") {
		return u
	}
	if u.Symbol == "lb/1000gal" {
		return unit.Must("lb/1000imp gal")
	}
	if imp := unit.Find("imp " + u.Symbol); imp != nil {
		return imp
	}
	return u
}

// imperialNamed says whether a word says that the gallons are imperial ones: "2500
// gallon tanker (imperial)", "irish gallons".
func (b *binder) imperialNamed() bool {
	for i := range b.tokens {
		if imperialWords[b.tokens[i].text] {
			return true
		}
	}
	return false
}

var imperialWords = map[string]bool{"imperial": true, "imperials": true, "irish": true, "british": true, "canadian": true, "imperiales": true}

// pairFits: "seventy two fifty" is 7250 where that is plausible and 72.50 is not.
func (b *binder) pairFits(q *qty) bool {
	f := engine.Fact{Slot: q.slot, Of: q.of, Min: q.min, Max: q.max, Unit: q.unit}
	g := f
	g.Min, g.Max = q.min/100, q.max/100
	return engine.Plausible(&f) == engine.Fine && engine.Plausible(&g) != engine.Fine
}

// oddAmount asks about the first amount that could not be settled.
func (b *binder) oddAmount(q *qty) {
	text := b.piece(q.i, q.j).Text
	switch {
	case q.odd:
		b.problem(&engine.Problem{Code: engine.NumberForm, Words: []string{text}})
	case len(q.list) > 0:
		b.problem(&engine.Problem{Code: engine.WhichOfTwo, Words: []string{text}})
		for _, v := range q.list {
			b.req.Choices = append(b.req.Choices, engine.Choice{Min: v, Max: v, Unit: q.unit})
		}
	default:
		b.problem(&engine.Problem{Code: engine.AmbiguousUnit, Words: []string{text, q.clash}})
	}
}

// crops files the crops that no rate took. "rye" and "clover" without more are
// asked about where it matters, which the bot decides.
func (b *binder) crops() {
	for i := range b.tokens {
		t := &b.tokens[i]
		switch t.class {
		case cCrop, cRyeQ, cCropQ:
			if !b.claimed[i] {
				b.req.Crops = append(b.req.Crops, Crop{Name: t.key, At: b.span(i, i+1)})
			}
		}
	}
}

// mentions lists the roles and units that stand without a number.
func (b *binder) mentions() {
	for i := range b.tokens {
		t := &b.tokens[i]
		if t.class == cRole {
			b.req.named |= 1 << (mentioned[t.key] % 64)
		}
		if t.class == cNoun && (t.key == "bags" || t.key == "bags_per_load") {
			b.req.named |= 1 << (engine.BagCount % 64)
		}
		switch {
		case b.claimed[i] || b.inAmount(i, nil):
			if t.class == cRole && t.key == "load" && b.given(engine.LoadFraction) {
				b.req.PartOfLoad = true
				b.req.PartLoad = b.req.PartLoad || !b.ofBefore(i)
			}
		case t.class == cRole:
			if s := mentioned[t.key]; s != engine.NoSlot {
				b.req.Mentions = append(b.req.Mentions, Mention{Slot: s})
			}
		case t.class == cNoun:
			b.unitsInside(t)
		case t.class == cUnit:
			if u, _ := b.targetUnit(i); u != nil && !(i > 0 && b.tokens[i-1].class == cPer) {
				b.req.Mentions = append(b.req.Mentions, Mention{Unit: u})
			}
		}
	}
}

// unitsInside mentions the units that a question noun names: "acres per load".
func (b *binder) unitsInside(t *token) {
	for _, word := range strings.Fields(t.text) {
		if e := b.reader.first.entries[word]; e.class == cUnit {
			if u := unit.Find(e.key); u != nil && u.Dim != unit.DimTime {
				b.req.Mentions = append(b.req.Mentions, Mention{Unit: u})
			}
		}
	}
}

// ofBefore says whether "of a" stands before token i.
func (b *binder) ofBefore(i int) bool {
	for i--; i >= 0; i-- {
		switch b.tokens[i].class {
		case cSkip, cFiller, cMy:
		default:
			return b.tokens[i].class == cOf
		}
	}
	return false
}

// mentioned is the quantity that a role word names by itself.
var mentioned = map[string]engine.Slot{"tank": engine.TankVolume, "load": engine.LoadVolume, "rate": engine.ApplicationRate, "seedrate": engine.SeedRate,
	"seed": engine.SeedRate, "width": engine.Width, "speed": engine.Speed, "pump": engine.PumpFlow, "flow": engine.Flow, "field": engine.Area,
	"gate": engine.GateOpening, "heel": engine.HeelVolume, "density": engine.Density, "bag": engine.BagCount}

func (b *binder) fixes() {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.fix != "" && t.class != cSkip && (t.class == cCrop || t.class == cCropQ || t.class == cUnit || !inflected(t.text, t.fix)) { // not in a name or a note
			p := b.piece(i, i+1)
			b.req.Fixes = append(b.req.Fixes, engine.Fix{Said: p.Text, Read: t.fix, At: p.At})
		}
	}
}

func (b *binder) saysImperial() bool {
	for k := range b.qs {
		if u := b.qs[k].unit; u != nil && u.System == unit.Imperial {
			return true
		}
	}
	return false
}

// systemAsked says which units are named without a number: "cuantas ha por carga".
func (b *binder) systemAsked() (metric, us bool) {
	for i := range b.tokens {
		t := &b.tokens[i]
		if t.class != cUnit && t.class != cNoun || b.inAmount(i, nil) {
			continue
		}
		add := func(key string) {
			if u := unit.Find(key); u != nil && u.Dim != unit.DimTime {
				metric, us = metric || u.System == unit.Metric, us || u.System == unit.US
			}
		}
		if t.class == cUnit {
			add(t.key)
			continue
		}
		for _, word := range strings.Fields(t.text) {
			if e := b.reader.first.entries[word]; e.class == cUnit {
				add(e.key)
			}
		}
	}
	return metric, us
}

// system says which units the message itself used.
func (b *binder) system() {
	metric, us := b.saysMetric(), b.saysUS() || b.saysImperial()
	asked := !metric && !us
	if asked {
		if metric, us = b.systemAsked(); metric == us {
			return
		}
	}
	u := engine.Units{}
	if !asked && b.isMetric() || metric && !us {
		u.System = unit.Metric
	}
	for k := range b.qs {
		q := &b.qs[k]
		if q.unit == nil {
			continue
		}
		switch {
		case strings.HasPrefix(b.gallonOf(q.unit).Symbol, "imp gal") && u.System == unit.US:
			u.System = unit.Imperial
		case q.unit.Symbol == "L/ha":
			u.Litres = true
		case q.unit.Symbol == "m3":
			u.Cubes = true
		}
	}
	b.req.Units = &u
}
