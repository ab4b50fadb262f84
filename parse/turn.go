package parse

import (
	"tankside/engine"
)

// corrections take back what the message itself corrects: "7000, no wait, 8000 per
// acre", "seven, sorry, eight thousand", "ryegrass, I mean oats, 40 lb". A
// correction with nothing before it is about what the chat knows.
func (b *binder) corrections() {
	for i := range b.tokens {
		if b.tokens[i].class != cFix {
			continue
		}
		b.tokens[i].used = true
		before, after := b.amountBefore(i), b.amountAfter(i)
		switch {
		case b.correctCrop(i):
		case after == nil:
		case before == nil:
			b.req.Correct = true
		default:
			b.replace(before, after, i)
		}
		b.tokens[i].class = cSkip
	}
}

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
		if q.j > i || q.done || !sameKind(q, after) {
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

func sameKind(a, b *qty) bool {
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
	b.dropCrop(before)
	for k := before; k < after; k++ {
		if b.tokens[k].class == cComma {
			b.tokens[k].class = cSkip
		}
	}
	return true
}

func (b *binder) dropCrop(i int) {
	b.req.Withdrawn = append(b.req.Withdrawn, b.piece(i, i+1))
	b.tokens[i].class, b.tokens[i].used = cSkip, true
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
		if t.class != cNot {
			continue
		}
		t.used = true
		next := b.meaningAfter(i)
		if next < 0 {
			continue
		}
		switch n := &b.tokens[next]; {
		case n.class == cAct, n.class == cRole && n.key == "seed":
		case n.class == cCrop || n.class == cCropQ || n.class == cRyeQ:
			b.dropCrop(next)
			if !b.has(cCrop) && !b.has(cCropQ) && !b.has(cRyeQ) && len(b.qs) == 0 {
				b.problem(&engine.Problem{Code: engine.Negated, Words: []string{t.text + " " + n.text}})
			}
		case b.amountAt(next) != nil:
			b.notAmount(i, b.amountAt(next))
		}
	}
}

// meaningAfter is the next token that means something.
func (b *binder) meaningAfter(i int) int {
	for i++; i < len(b.tokens); i++ {
		switch b.tokens[i].class {
		case cSkip, cFiller, cMy, cAt, cAbout, cAnd:
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
	for k := range b.qs {
		o := &b.qs[k]
		if o == q || o.done || !sameKind(o, q) || less {
			continue
		}
		if o.bare() && !q.bare() && o.j <= i {
			o.unit, o.per = q.unit, q.per
		}
		b.withdraw(q)
		return
	}
	b.problem(&engine.Problem{Code: engine.Negated, Words: []string{b.piece(i, q.j).Text}})
}
