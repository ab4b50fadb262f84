package parse

import (
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// corrections take back what the message itself corrects: "7000, no wait, 8000 per
// acre", "seven, sorry, eight thousand", "ryegrass, I mean oats, 40 lb". A
// correction with nothing before it is about what the chat knows.
func (b *binder) corrections() {
	var settled *qty
	for i := range b.tokens {
		if b.tokens[i].text == "no" && b.tokens[i].class != cFix && b.correctCrop(i) {
			b.tokens[i].class, b.tokens[i].used = cSkip, true // "centeno no, ballico"
			continue
		}
		if b.tokens[i].class != cFix && !b.plainNo(i) {
			b.openingNo(i)
			continue
		}
		b.tokens[i].used = true
		before, after := b.amountBefore(i), b.amountAfter(i)
		switch {
		case after != nil && after == settled: // "no, sorry": one correction in two words
		case b.tokens[i].class == cFix && b.correctCrop(i):
		case after == nil:
		case before == nil:
			b.req.Correct = true
		default:
			b.replace(before, after, i)
			settled = after
		}
		b.tokens[i].class = cSkip
	}
}

// openingNo: "no, 3500" corrects what the chat was told last.
func (b *binder) openingNo(i int) {
	if t := &b.tokens[i]; t.text == "no" && b.opens(i) && len(b.qs) > 1 && b.qs[0].i == i+1 && b.insteadOf(&b.qs[0], &b.qs[1]) && b.saidBetween(&b.qs[0], &b.qs[1]) {
		t.be(cNot, "not") // "no 60 lb, dije 50" takes the 60 back
		return
	}
	if b.tokens[i].text == "no" && b.opens(i) && len(b.qs) > 0 && (b.gap(i+1, b.qs[0].i) <= 1 && b.at(i+1).class != cWord || b.itWas(i+1, b.qs[0].i)) {
		if c := b.at(i + 1).class; c == cComma || b.qs[0].i == i+1 || b.itWas(i+1, b.qs[0].i) {
			b.req.Correct, b.tokens[i].used, b.tokens[i].class = true, true, cSkip
		}
	}
}

// itWas says whether nothing but "it was" stands in the tokens: "no it was 2".
func (b *binder) itWas(i, j int) bool {
	for k := i; k < j; k++ {
		if t := b.at(k).text; !wereWords[t] && t != "it" && t != "that" && t != "only" && t != "just" && t != "that was" && t != "it was only" && t != "nomas" {
			return false
		}
	}
	return j > i
}

// plainNo: "40 no 38 acres", "620 no 640 gpm": a no right between two amounts of
// one kind corrects.
func (b *binder) plainNo(i int) bool {
	if t := &b.tokens[i]; t.text != "no" || t.class != cAct && t.class != cNot {
		return false
	}
	var before, after *qty
	for k := range b.qs {
		q := &b.qs[k]
		if q.j <= i && b.gap(q.j, i) == 0 && !q.done {
			before = q
		}
		if q.i > i && b.gap(i+1, q.i) == 0 && after == nil {
			after = q
		}
	}
	if before == nil || after == nil || !sameKind(before, after) {
		return false
	}
	if b.saysNot(before, i) {
		b.notThat(before, after)
		return false
	}
	return true
}

// saysNot says whether a "no" between two amounts denies the one behind it: "fueron 3 no 4",
// "el aereador es de 12 pies no de 15", "perdón, 12 pies no 15".
func (b *binder) saysNot(before *qty, no int) bool {
	if b.at(no-1).class == cComma || b.at(no+1).class == cComma {
		return false // "es de 12, no, de 15"
	}
	if b.at(no+1).class == cOf || b.req.Correct && b.tokens[no].class == cNot {
		return true
	}
	for i := before.i - 1; i >= 0; i-- {
		switch t := &b.tokens[i]; {
		case wereWords[t.text], measuresWords[t.text[strings.LastIndexByte(t.text, ' ')+1:]]:
			return true
		case t.class != cOf && t.class != cSkip && t.class != cAbout && t.class != cFiller && t.class != cComma:
			return false
		}
	}
	return false
}

// notThat takes back an amount that is denied beside the right one: "12 ft, not 15".
func (b *binder) notThat(right, wrong *qty) {
	if right.bare() && !wrong.bare() && wrong.i > right.i {
		right.unit, right.per = wrong.unit, wrong.per // "7000 not 8000 per acre"
	}
	right.instead = &engine.Choice{Min: wrong.min, Max: wrong.max, Unit: wrong.unit}
	b.withdraw(wrong)
}

var wereWords = map[string]bool{"fueron": true, "eran": true, "son": true, "fue": true, "era": true, "was": true, "were": true, "is": true, "es": true}

// measuresWords say what something is: "la bomba da 6000 no 5000".
var measuresWords = map[string]bool{"da": true, "mide": true, "tiene": true, "lleva": true, "trae": true, "hace": true}

func (b *binder) amountBefore(i int) *qty {
	for k := len(b.qs) - 1; k >= 0; k-- {
		if q := &b.qs[k]; q.j <= i && !q.done {
			return q
		}
	}
	return nil
}

func (b *binder) amountAfter(i int) *qty {
	for k := range b.qs {
		if q := &b.qs[k]; q.i > i && !q.done {
			return q
		}
	}
	return nil
}

// replace withdraws the amount that after corrects: the last one before the word
// that could be the same quantity.
func (b *binder) replace(before, after *qty, i int) {
	for k := len(b.qs) - 1; k >= 0; k-- {
		q := &b.qs[k]
		if q.j > i || q.done || !sameKind(q, after) || q.bare() && !after.bare() && !b.couldBe(q, after) {
			continue
		}
		if after.bare() {
			after.unit, after.per, after.perLoad, after.clash = q.unit, q.per, q.perLoad, q.clash
		}
		b.withdraw(q)
		b.passCues(q, after)
		return
	}
	b.req.Correct = true
}

// couldBe says whether the word stuck to a bare number lets it be what the
// correction says: "3k tank … I mean ryegrass 12#" corrects no tank.
func (b *binder) couldBe(q, after *qty) bool {
	n := b.look(q)
	for _, i := range [2]int{n.left, n.right} {
		if i < 0 || exempt[b.tokens[i].key] || b.ends(i) {
			continue
		}
		if (b.gap(q.j, i) == 0 && i >= q.j || b.gap(i+1, q.i) == 0 && i < q.i) && !roleTakes(b.tokens[i].key, after.whatever()) {
			return false
		}
	}
	return true
}

// ends says whether an amount ends right before token i, which then names that one.
func (b *binder) ends(i int) bool {
	for k := range b.qs {
		if q := &b.qs[k]; q.j <= i && b.gap(q.j, i) == 0 {
			return true
		}
	}
	return false
}

func sameKind(a, b *qty) bool {
	if a.dim() == unit.DimMoney && b.dim() == unit.DimMoneyPerMass {
		return true
	}
	return a.bare() || b.bare() || a.dim() == b.dim() || a.per != "" && b.per != ""
}

func (b *binder) withdraw(q *qty) {
	q.done, q.slot, q.rule = true, engine.NoSlot, "taken back"
	b.req.Withdrawn = append(b.req.Withdrawn, b.piece(q.i, q.j))
}

// passCues lets the new amount be looked at as if it stood where the old one did:
// the tokens between them no longer part anything.
func (b *binder) passCues(old, new *qty) {
	for i := old.i; i < new.i; i++ {
		if t := &b.tokens[i]; t.class == cComma || i < old.j {
			t.class = cSkip
		}
	}
	old.i, old.j = len(b.tokens), len(b.tokens)
}

// piece is a stretch of the message as written.
func (b *binder) piece(i, j int) engine.Span {
	at := b.span(i, j)
	return engine.Span{Text: b.raw[at[0]:at[1]], At: at}
}

// correctCrop: "ryegrass, no wait, oats" and "not ryegrass, oats".
func (b *binder) correctCrop(i int) bool {
	before, after := b.cropBeside(i, -1), b.cropBeside(i, +1)
	if before < 0 || after < 0 {
		return false
	}
	if b.tokens[before].key == b.tokens[after].key {
		b.tokens[before].class, b.tokens[before].used = cSkip, true // said twice, not corrected
		return true
	}
	b.dropCrop(before)
	for k := before; k < after; k++ {
		if b.tokens[k].class == cComma {
			b.tokens[k].class = cSkip
		}
	}
	return true
}

func (b *binder) dropCrop(i int) {
	key := b.tokens[i].key
	for k := range b.tokens {
		t := &b.tokens[k]
		if k == i || t.key != key || t.class != cCrop && t.class != cCropQ && t.class != cRyeQ {
			continue
		}
		if q := b.cropAmount(k); q != nil { // its amount goes with it
			b.withdraw(q)
		}
		t.class, t.used = cSkip, true
	}
	b.req.Withdrawn, b.req.Dropped = append(b.req.Withdrawn, b.piece(i, i+1)), append(b.req.Dropped, key)
	b.req.DroppedAt = append(b.req.DroppedAt, b.span(i, i+1))
	b.tokens[i].class, b.tokens[i].used = cSkip, true
}

// cropAmount is the amount of the crop at token i: the one behind it, else the one before.
func (b *binder) cropAmount(i int) *qty {
	var before *qty
	for n := range b.qs {
		q := &b.qs[n]
		if q.done || !q.bare() && q.dim() != unit.DimMass && q.dim() != unit.DimMassPerArea {
			continue
		}
		if q.i > i && b.gap(i+1, q.i) == 0 {
			return q
		}
		if q.j <= i && b.gap(q.j, i) == 0 {
			before = q
		}
	}
	return before
}

// cropBeside is the crop next to token i in one direction, with nothing but
// fillers and commas between.
func (b *binder) cropBeside(i, step int) int {
	for i += step; i >= 0 && i < len(b.tokens); i += step {
		switch b.tokens[i].class {
		case cCrop, cRyeQ, cCropQ:
			return i
		case cSkip, cFiller, cComma, cMy, cFix, cNot:
		default:
			return -1
		}
	}
	return -1
}

// negations: "8000 instead of 7000" takes back the 7000, "not ryegrass, oats" the
// ryegrass, "don't log that" turns the act round; what is left of a "not" before
// an amount is asked about, never skipped.
func (b *binder) negations() {
	for i := range b.tokens {
		t := &b.tokens[i]
		if t.class == cRole && t.text == "out" && b.at(i+1).class == cOf && (b.at(i+2).class == cCrop || b.at(i+2).class == cCropQ || b.at(i+2).class == cRyeQ) {
			b.dropCrop(i + 2) // out of oats
			t.class = cSkip
			continue
		}
		if t.class == cAct && t.text == "no" && !b.opens(i) && (b.at(i+1).class == cCrop || b.at(i+1).class == cCropQ || b.at(i+1).class == cRyeQ) {
			t.class = cNot // oats 40 no ryegrass
		}
		if t.class != cNot {
			continue
		}
		t.used = true
		next := b.meaningAfter(i)
		if next < 0 {
			continue
		}
		switch n := &b.tokens[next]; {
		case n.class == cAct:
			b.notAct(next)
		case n.class == cRole && n.key == "seed":
		case n.class == cRole && n.key == "rate" && b.meaningAfter(next) >= 0 && b.amountAt(b.meaningAfter(next)) != nil:
			b.notAmount(i, b.amountAt(b.meaningAfter(next))) // "don't put on 10000, put on 6000"
		case n.class == cCrop || n.class == cCropQ || n.class == cRyeQ:
			b.dropCrop(next)
			b.alsoDropped(next)
			if !b.has(cCrop) && !b.has(cCropQ) && !b.has(cRyeQ) && len(b.qs) == 0 {
				b.problem(&engine.Problem{Code: engine.Negated, Words: []string{t.text + " " + n.text}})
			}
		case b.amountAt(next) != nil && b.shaftInstead(i, b.amountAt(next)):
		case b.amountAt(next) != nil:
			b.notAmount(i, b.amountAt(next))
		}
	}
}

// insteadOf says whether a bare number follows a negated amount so closely that it stands
// for it, with no word of its own.
func (b *binder) insteadOf(q, o *qty) bool {
	if o.i < q.j || b.gap(q.j, o.i) > 2 {
		return false
	}
	for i := q.j; i < o.i; i++ {
		if c := b.tokens[i].class; c != cSkip && c != cFiller && c != cComma && c != cWord && c != cAt && c != cFix && c != cMy && c != cQ {
			return false
		}
	}
	t := b.at(o.j)
	return t.class == cComma || t.class == cQuestion || t.class == cFiller || t.class == cAt || o.j >= len(b.tokens)
}

// saidBetween says whether "i said" stands between two amounts.
func (b *binder) saidBetween(q, o *qty) bool {
	for i := q.j; i < o.i; i++ {
		if t := b.tokens[i].text; strings.Contains(t, "said") || strings.Contains(t, "told") || strings.Contains(t, "dije") {
			return true
		}
	}
	return false
}

// shaftInstead: "pump at 540 instead of 1000" takes nothing back: the shaft turns at the
// one and is rated at the other.
func (b *binder) shaftInstead(i int, rated *qty) bool {
	is := func(q *qty) bool { return q.min == 540 || q.min == 1000 }
	for k := range b.qs {
		q := &b.qs[k]
		if q.j == i && is(q) && is(rated) && q.min != rated.min && q.bare() && rated.bare() {
			q.unit, rated.unit = unit.Must(""), unit.Must("")
			b.set(q, engine.PTOSpeed, "", "pump at 540 instead of 1000")
			b.set(rated, engine.RatedPTOSpeed, "", "pump at 540 instead of 1000")
			return true
		}
	}
	return false
}

// notAct: "no anotes 2, anota 3 cargas" takes the 2 back with the act.
func (b *binder) notAct(i int) {
	next := b.meaningAfter(i)
	if next < 0 {
		return
	}
	if q := b.amountAt(next); q != nil {
		for k := range b.qs {
			if o := &b.qs[k]; o.i > q.i && !o.done && sameKind(o, q) {
				b.withdraw(q)
				return
			}
		}
	}
}

// alternatives: "7000 or 8000 an acre" names two readings and chooses none.
func (b *binder) alternatives() {
	for i := range b.tokens {
		t := &b.tokens[i]
		if t.text != "or" && t.text != "o" && t.text != "u" {
			continue
		}
		var before, after *qty
		for k := range b.qs {
			q := &b.qs[k]
			if q.j == i && !q.done {
				before = q
			}
			if q.i == i+1 || q.i == i+2 && b.at(i+1).class == cAbout {
				after = q
			}
		}
		if before != nil && after == nil && b.eitherUnit(before, i+1) {
			continue
		}
		switch crops := b.cropBeside(i, -1) >= 0 && b.cropBeside(i, +1) >= 0; {
		case before != nil && after != nil && sameKind(before, after):
			b.either(before, after)
		case crops && len(b.qs) > 0: // with no amount both are talked of, and none need be chosen
			x, y := b.cropBeside(i, -1), b.cropBeside(i, +1)
			b.problem(&engine.Problem{Code: engine.WhichCrop, Words: []string{b.piece(x, y+1).Text}})
			b.req.OneOf = [2]string{b.tokens[x].key, b.tokens[y].key}
			b.tokens[x].class, b.tokens[y].class, t.class = cSkip, cSkip, cSkip
			b.req.Either = true
		}
	}
}

// eitherUnit: "15 feet or meters, not sure" is asked about.
func (b *binder) eitherUnit(q *qty, i int) bool {
	u := unit.Find(b.at(i).key)
	if b.at(i).class != cUnit || u == nil || q.unit == nil || u.Dim != q.unit.Dim || u == q.unit {
		return false
	}
	b.tokens[i].class, b.tokens[i].used = cSkip, true
	for _, u := range [2]*unit.Unit{q.unit, u} {
		b.req.Choices = append(b.req.Choices, engine.Choice{Min: q.min, Max: q.max, Unit: u})
	}
	q.done, q.rule = true, "one of two units"
	at := b.piece(q.i, i+1)
	b.req.Unread = append(b.req.Unread, at)
	b.problem(&engine.Problem{Code: engine.WhichOfTwo, Words: []string{at.Text}})
	return true
}

func (b *binder) either(before, after *qty) {
	if before.bare() {
		before.unit, before.per = after.unit, after.per
	}
	for _, q := range [2]*qty{before, after} {
		b.req.Choices = append(b.req.Choices, engine.Choice{Min: q.min, Max: q.max, Unit: q.unit})
	}
	before.done, after.done, before.rule, after.rule = true, true, "one of two", "one of two"
	at := b.piece(before.i, after.j)
	b.req.Unread = append(b.req.Unread, at)
	b.problem(&engine.Problem{Code: engine.WhichOfTwo, Words: []string{at.Text}})
}

// meaningAfter is the next token that means something.
func (b *binder) meaningAfter(i int) int {
	for i++; i < len(b.tokens); i++ {
		switch b.tokens[i].class {
		case cSkip, cFiller, cMy, cAt, cAbout, cAnd, cOf:
		case cQ:
			if b.tokens[i].key != "is" {
				return i
			}
		case cComma:
			return -1
		default:
			return i
		}
	}
	return -1
}

func (b *binder) amountAt(i int) *qty {
	for k := range b.qs {
		if q := &b.qs[k]; i >= q.i && i < q.j && !q.done {
			return q
		}
	}
	return nil
}

func (b *binder) notAmount(i int, q *qty) {
	less := b.tokens[i].text == "less" || b.tokens[i].text == "minus" || b.tokens[i].text == "menos"
	if n := b.look(q); less && b.key(b.nearest(q, n)) == "heel" {
		return // "3000 less 200 of heel"
	}
	if minus := less && len(b.qs) > 0 && b.qs[0].i == q.i; minus && b.tokens[i].text != "less" {
		q.min, q.max = -q.max, -q.min // "minus forty acres"
		return
	}
	for k := range b.qs {
		o := &b.qs[k]
		if o == q || o.done || less || q.bare() && !o.bare() && o.i > i && !(o.per != "" && q.min >= 1000 && o.min >= 1000) || !sameKind(o, q) || o.bare() != q.bare() && b.gap(o.j, i) > 0 && o.i < i {
			continue
		}
		if o.bare() && !q.bare() && (o.j <= i || b.insteadOf(q, o)) {
			o.unit, o.per = q.unit, q.per // "not 60 lb, i said 50"
		}
		b.req.Correct = b.req.Correct || len(b.qs) == 2 && b.insteadOf(q, o) && b.saidBetween(q, o)
		b.notThat(o, q)
		return
	}
	if !less && len(b.qs) > 1 {
		b.withdraw(q) // "not 7000 an acre", and no other said: the quantity is missing
		return
	}
	b.problem(&engine.Problem{Code: engine.Negated, Words: []string{b.piece(i, q.j).Text}})
}
