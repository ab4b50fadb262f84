package parse

import (
	"strconv"
	"strings"

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
	b.corrections()
	b.negations()
	b.alternatives()
	b.convertTarget()
	b.numberQuestions()
	b.acts()
	b.bindAll()
	b.doubted()
	b.asks()
	b.bareAsk()
	b.acts2()
	b.collect()
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

// convertTarget finds the unit to convert to: "40 acres to hectares", "3000 gal in
// litres", "how many litres is 3000 gallons".
func (b *binder) convertTarget() {
	if len(b.qs) == 1 && b.qs[0].unit != nil {
		b.findTarget()
	}
	if b.req.Convert == nil && len(b.qs) == 1 {
		for i := range b.tokens {
			if t := &b.tokens[i]; t.class == cConv && len(t.text) > 5 && t.text[:4] == "conv" {
				b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicConvert, Slot: engine.Converted, At: b.span(i, i+1)})
				return
			}
		}
	}
}

// findTarget looks for a bare unit that the amount is to be turned into.
func (b *binder) findTarget() {
	q := &b.qs[0]
	lead := b.has(cConv)
	many := -1
	for i := range b.tokens {
		t := &b.tokens[i]
		switch {
		case t.class == cQ && (t.key == "howmany" || t.key == "howmuch"):
			many = i
		case t.class == cUnit && many >= q.j && i > many && b.gap(many+1, i) == 0 && !b.has(cRole, "tank", "load") ||
			t.class == cUnit && i >= q.j && (lead || b.leadsTo(q.j, i)) || t.class == cUnit && many >= 0 && i > many && i < q.i && b.gap(many+1, i) == 0 && b.gap(i+1, q.i) <= 2:
			if u, n := b.targetUnit(i); u != nil && comparable(u, q.unit) && (u.Symbol != q.unit.Symbol || lead) {
				b.req.Convert = u
				b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicConvert, Slot: engine.Converted, At: b.span(i, n)})
				b.claim(i)
				return
			}
		case t.class == cUnitIn && i >= q.j && lead && q.dim() == unit.DimLength:
			b.req.Convert = unit.Must("in")
			b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicConvert, Slot: engine.Converted, At: b.span(i, i+1)})
			return
		}
	}
}

// comparable units measure the same; a volume of ground cover also as a depth.
func comparable(a, b *unit.Unit) bool { return a.Dim == b.Dim }

// leadsTo says whether only "in", "to" or the like stands between an amount and a
// bare unit.
func (b *binder) leadsTo(from, i int) bool {
	in := false
	for k := from; k < i; k++ {
		switch t := &b.tokens[k]; t.class {
		case cConv, cUnitIn:
			in = true
		case cSkip, cRole, cQ, cMy:
		case cFiller:
			if t.text == "en" || t.text == "in" || t.text == "a" || t.text == "to" || t.text == "=" {
				in = true
			}
		default:
			return false
		}
	}
	return in
}

// targetUnit reads a bare unit with what it is per.
func (b *binder) targetUnit(i int) (*unit.Unit, int) {
	head := b.tokens[i].key
	for k := i + 1; k < len(b.tokens) && k <= i+2; k++ {
		if b.tokens[k].class == cUnit && (b.tokens[i+1].class == cPer || b.tokens[i+1].class == cFiller || b.tokens[i+1].class == cSlash) {
			if u := unit.Find(joined(head, b.tokens[k].key)); u != nil {
				b.tokens[k].used = true
				return u, k + 1
			}
		}
	}
	if b.at(i+1).class == cPerThou {
		if u := unit.Find(head + "/" + b.tokens[i+1].key); u != nil {
			return u, i + 2
		}
	}
	return unit.Find(head), i + 1
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

// acts2 adds what only shows once amounts and questions are known.
func (b *binder) acts2() {
	b.req.Same = b.acted("same")
	for i := range b.tokens {
		t := &b.tokens[i]
		if t.class == cRole && t.key == "left" && b.claimed[i] || partWord[t.text] && b.has(cRole, "load") {
			b.req.Left = true
		}
	}
	for k := range b.qs {
		if q := &b.qs[k]; len(q.list) >= 3 && !q.done && b.has(cAnalysis) {
			b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicNutrients})
		}
	}
	b.unnamedAsks()
	b.speedUnits()
	if b.isMix() {
		b.req.Asks = append([]Ask{{Topic: engine.TopicMix}}, b.req.Asks...)
	}
}

// unnamedAsks are questions whose target is plain without its word: "how much for
// 45 acres", "seed for the whole field", "cost at $2 a pound", "13,000 gpa in inches",
// "where do I set it for 500 gpm".
func (b *binder) unnamedAsks() {
	if len(b.req.Asks) > 0 {
		return
	}
	add := func(topic engine.Topic, slot engine.Slot) {
		b.req.Asks = append(b.req.Asks, Ask{Topic: topic, Slot: slot})
	}
	much := b.has(cQ, "howmuch", "howmany")
	perLoad := b.unclaimed("load") || b.unclaimed("tank") || b.has(cFull)
	switch {
	case len(b.qs) == 0 && perLoad && b.has(cCrop) && (b.req.Question || b.req.Marked) && !b.has(cNoun, "soak"):
		add(engine.TopicLoad, engine.SeedPerLoad)
	case len(b.qs) == 0 && (b.unclaimed("load") || b.has(cFull)) && b.req.Question && !b.acted("left") && !b.acted("totals"):
		add(engine.TopicLoad, engine.AreaPerLoad)
	case b.given(engine.GateOpening) && !b.given(engine.Flow) && b.req.Question && len(b.qs) == 1:
		add(engine.TopicGate, engine.Flow)
	case b.unclaimed("seed") && b.given(engine.Area) && !b.given(engine.TankVolume) && !b.given(engine.ApplicationRate):
		add(engine.TopicSeedForArea, engine.TotalSeed)
	case len(b.qs) == 0 && b.unclaimed("seed") && b.has(cCrop) && b.opens2("seed"):
		add(engine.TopicSeedForArea, engine.TotalSeed)
	case b.given(engine.Area) && b.given(engine.ApplicationRate) && b.has(cRole, "total") && !b.given(engine.TankVolume):
		add(engine.TopicField, engine.TotalVolume)
	case b.has(cRole, "price") && (b.given(engine.SeedPrice) || b.given(engine.NPrice)):
		add(engine.TopicCost, engine.SeedCost)
	case much && b.has(cNoun, "total_volume") && b.given(engine.Area):
		add(engine.TopicField, engine.TotalVolume)
	case much && b.given(engine.Area) && len(b.qs) == 1 && !b.has(cAct, "totals", "left"):
		add(engine.TopicSeedForArea, engine.TotalSeed)
	case (b.unclaimed("field") || b.has(cScope, "field")) && !b.given(engine.Area) && b.given(engine.SeedRate) && (b.unclaimed("seed") || b.has(cRole, "total") || b.has(cAct, "totals")) && !b.given(engine.TankVolume):
		add(engine.TopicSeedForArea, engine.TotalSeed)
	case len(b.qs) == 1 && b.given(engine.ApplicationRate) && b.req.Question && b.inchesAsked():
		add(engine.TopicDepth, engine.Depth)
	case (b.req.Question || b.unclaimed("gate")) && b.count(engine.GateOpening) > 0 && b.count(engine.Flow) > b.count(engine.GateOpening):
		add(engine.TopicGate, engine.GateOpening)
	}
}

// opens2 says whether a role word opens the message.
func (b *binder) opens2(key string) bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class != cSkip && t.class != cFiller {
			return t.class == cRole && t.key == key
		}
	}
	return false
}

// speedUnits: "a cuántos kilómetros por hora son 3.5 millas por hora": the speed is
// said, so it is its unit that is asked for.
func (b *binder) speedUnits() {
	if len(b.qs) != 1 || b.qs[0].slot != engine.Speed || len(b.req.Asks) != 1 || b.req.Asks[0].Slot != engine.Speed || b.req.Convert != nil {
		return
	}
	symbol := ""
	for i := range b.tokens {
		if t := &b.tokens[i]; i < b.qs[0].i && t.class == cQ {
			if strings.Contains(t.text, "kilom") {
				symbol = "km/h"
			} else if strings.Contains(t.text, "milla") {
				symbol = "mph"
			}
		}
	}
	if symbol != "" && symbol != b.qs[0].unit.Symbol {
		b.req.Convert = unit.Must(symbol)
		b.req.Asks = []Ask{{Topic: engine.TopicConvert, Slot: engine.Converted}}
	}
}

// unclaimed says whether a role word stands that no amount took.
func (b *binder) unclaimed(key string) bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cRole && t.key == key && !b.claimed[i] {
			return true
		}
	}
	return false
}

func (b *binder) count(s engine.Slot) int {
	n := 0
	for k := range b.qs {
		if b.qs[k].slot == s {
			n++
		}
	}
	return n
}

// inchesAsked says whether inches or millimetres are named without a number.
func (b *binder) inchesAsked() bool {
	for i := range b.tokens {
		if t := &b.tokens[i]; (t.class == cUnit || t.class == cUnitIn) && (t.key == "in" && t.text != "in" || t.key == "mm") && !b.inAmount(i, nil) {
			return true
		}
	}
	return false
}

// partWord tells that a load is not a full one.
var partWord = map[string]bool{"short": true, "part": true, "partial": true, "last": true, "ultima": true, "corta": true, "parcial": true}

// isMix says whether two crops or more are said to be mixed.
func (b *binder) isMix() bool {
	first, several, mixed := "", false, false
	for i := range b.tokens {
		switch t := &b.tokens[i]; {
		case t.class == cCrop || t.class == cRyeQ || t.class == cCropQ:
			several = several || first != "" && first != t.key
			first = t.key
		case t.class == cNoun && t.key == "agitation" && mixWord[t.text], mixWord[t.text]:
			mixed = true
		}
	}
	return several && mixed
}

var mixWord = map[string]bool{"mix": true, "blend": true, "mixture": true, "mixed": true, "mezcla": true, "mezclar": true, "mezclo": true, "revuelta": true, "revuelvo": true, "revolver": true, "mezclado": true, "mezclando": true}

// collect turns bound amounts into facts and lists everything else that carries a
// number, a unit or an unknown term.
func (b *binder) collect() {
	b.req.Facts = make(engine.Facts, 0, len(b.qs))
	for k := range b.qs {
		b.collectAmount(&b.qs[k])
	}
	b.hearsay()
	b.crops()
	b.mentions()
	b.fixes()
	b.unknownWords()
	b.req.Off = len(b.req.Facts)+len(b.req.Asks)+len(b.req.Acts)+len(b.req.Loose)+len(b.req.Crops)+len(b.req.Info) == 0 && b.req.Problem == nil && b.req.Factor == 0
	b.recalls()
	b.system()
}

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
			At: b.span(q.lo, q.hi), About: q.about, Implied: q.implied})
	case q.done:
	case q.odd, q.clash != "", len(q.list) > 0:
		b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
		b.oddAmount(q)
	default:
		b.req.Loose = append(b.req.Loose, Loose{Min: q.min, Max: q.max, Unit: b.looseUnit(q), At: b.span(q.i, q.j), Text: b.piece(q.i, q.j).Text, About: q.about, Behind: b.behind(q), Part: q.part})
	}
}

// hearsay: the neighbour's numbers and last year's are not this chat's. They are
// listed and not used.
func (b *binder) hearsay() {
	if !b.has(cOther) && !b.has(cSpan) || b.req.Question || len(b.req.Asks) > 0 {
		return
	}
	for _, f := range b.req.Facts {
		b.req.Unread = append(b.req.Unread, engine.Span{Text: b.raw[f.At[0]:f.At[1]], At: f.At})
	}
	for _, l := range b.req.Loose {
		b.req.Unread = append(b.req.Unread, engine.Span{Text: l.Text, At: l.At})
	}
	b.req.Facts, b.req.Loose = nil, nil
}

func (b *binder) behind(q *qty) string {
	if b.look(q).at {
		return "at"
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
	if b.ctx.Units.System != unit.Imperial || !strings.HasPrefix(u.Symbol, "gal") && u.Symbol != "lb/1000gal" || strings.Contains(b.text, "us gal") {
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
		switch {
		case b.claimed[i] || b.inAmount(i, nil):
			b.req.PartLoad = b.req.PartLoad || t.class == cRole && t.key == "load" && b.given(engine.LoadFraction) && !b.ofBefore(i)
		case t.class == cRole:
			if s := mentioned[t.key]; s != engine.NoSlot {
				b.req.Mentions = append(b.req.Mentions, Mention{Slot: s})
			}
		case t.class == cUnit:
			if u, _ := b.targetUnit(i); u != nil && !(i > 0 && b.tokens[i-1].class == cPer) {
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
	"gate": engine.GateOpening, "heel": engine.HeelVolume, "density": engine.Density}

func (b *binder) fixes() {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.fix != "" {
			p := b.piece(i, i+1)
			b.req.Fixes = append(b.req.Fixes, engine.Fix{Said: p.Text, Read: t.fix, At: p.At})
		}
	}
}

// unknownWords lists the unknown words that may be a unit or a crop: stuck behind
// a bare number, or where a seed's name belongs.
func (b *binder) unknownWords() {
	for i := range b.tokens {
		t := &b.tokens[i]
		switch {
		case t.class == cVague && !t.used:
			b.vague(i)
		case t.class == cDouble && b.factor(i):
		case t.class == cDouble && b.at(i+1).class != cFiller:
			b.req.Unread = append(b.req.Unread, b.piece(i, i+1))
		case t.class != cWord:
		case b.unitPlace(i):
			b.problem(&engine.Problem{Code: engine.UnknownUnit, Words: []string{b.piece(i, i+1).Text}})
			b.req.Unread = append(b.req.Unread, b.piece(i, i+1))
		case b.cropPlace(i), b.cropAskedAt(i):
			b.problem(&engine.Problem{Code: engine.UnknownCrop, Words: []string{b.piece(i, i+1).Text}})
			b.req.Unread = append(b.req.Unread, b.piece(i, i+1))
		}
	}
}

// factor: "double the rate", "el doble de semilla" is a factor on what the chat knows.
func (b *binder) factor(i int) bool {
	for k := i + 1; k < len(b.tokens) && k <= i+4; k++ {
		if t := &b.tokens[k]; t.class == cRole && mentioned[t.key] != engine.NoSlot {
			b.req.Factor, _ = strconv.ParseFloat(b.tokens[i].key, 64)
			return true
		}
	}
	return false
}

// vague: "some", "a few", "a couple hundred" before a unit, a load or a crop are
// asked about, never turned into a number.
func (b *binder) vague(i int) {
	if i > 0 && i == len(b.tokens)-1 && b.tokens[i-1].class == cCrop {
		at := b.piece(i-1, i+1) // "ryegrass some"
		b.req.Unread = append(b.req.Unread, b.piece(i, i+1))
		b.problem(&engine.Problem{Code: engine.Vague, Words: []string{at.Text}})
		return
	}
	for k := i + 1; k < len(b.tokens) && k <= i+3; k++ {
		switch t := &b.tokens[k]; {
		case t.class == cUnit, t.class == cScale, t.class == cCrop, t.counted(), t.class == cRole && t.key == "seed":
			if b.req.Question && t.class != cUnit && t.class != cScale && !t.counted() {
				return
			}
			at := b.piece(i, k+1)
			b.req.Unread = append(b.req.Unread, at)
			b.problem(&engine.Problem{Code: engine.Vague, Words: []string{at.Text}})
			return
		case t.class != cFiller && t.class != cOf && t.class != cSkip && t.class != cAbout:
			return
		}
	}
}

// unitPlace: right behind a bare number that no role word before it explains.
func (b *binder) unitPlace(i int) bool {
	for k := range b.qs {
		q := &b.qs[k]
		if q.j == i && !q.done && q.bare() {
			return true
		}
	}
	return false
}

// cropPlace: beside an amount of seed that has no crop, or behind "seed of" and
// "what about" with no crop in the message.
func (b *binder) cropPlace(i int) bool {
	for k := range b.qs {
		q := &b.qs[k]
		seed := q.slot == engine.SeedRate && q.of == "" || q.slot == engine.NoSlot && !q.done && (q.dim() == unit.DimMass || q.dim() == unit.DimMassPerArea)
		if seed && (i >= q.j && b.gap(q.j, i) == 0 || i < q.i && b.gap(i+1, q.i) == 0) {
			return true
		}
	}
	return false
}

// cropAskedAt: the unknown word in a question about a crop that names no known one.
func (b *binder) cropAskedAt(i int) bool {
	if b.has(cCrop) || b.has(cRyeQ) || b.has(cCropQ) || len(b.qs) > 0 {
		return false
	}
	for _, a := range b.req.Asks {
		if a.Topic == engine.TopicCrop || a.Topic == engine.TopicSoak {
			return true
		}
	}
	return false
}

func (b *binder) saysImperial() bool {
	for k := range b.qs {
		if u := b.qs[k].unit; u != nil && u.System == unit.Imperial {
			return true
		}
	}
	return false
}

// system says which units the message itself used.
func (b *binder) system() {
	metric, us := b.saysMetric(), b.saysUS() || b.saysImperial()
	if !metric && !us {
		for i := range b.tokens {
			if u := unit.Find(b.tokens[i].key); b.tokens[i].class == cUnit && u != nil && u.System == unit.Metric && u.Dim != unit.DimTime {
				metric = true
			}
		}
		if !metric {
			return
		}
	}
	u := engine.Units{}
	if b.isMetric() || metric && !us {
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
