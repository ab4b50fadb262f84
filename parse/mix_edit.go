package parse

import "tankside/engine/unit"

// mixEdits reads what is done to a mix that the chat has: a crop's rate set, "drop the radish
// to 2", one taken out, "take the clover out", "forget the rape", one put in, "add 3 lb of
// turnip". The other crops of the mix stay.
func (b *binder) mixEdits() {
	for i := range b.tokens {
		t, crop := &b.tokens[i], b.cropBehind(i)
		switch {
		case t.class == cNot && lowerWord[t.text] && crop >= 0 && b.setTo(crop):
			t.be(cFiller, t.text)
			b.req.Edits = true
		case t.class == cAct && t.key == "forget" && crop >= 0 && len(b.qs) > 0:
			t.be(cNot, t.text)
			b.req.Edits = true
		case takeWord[t.text] && b.takenOut(i, crop):
			t.be(cNot, t.text)
			b.req.Edits = true
		case t.class == cAct && t.key == "log" && addWord[t.text] && b.weightAt(i+1):
			t.be(cFiller, t.text) // "agrégale 3 kilos de nabo" logs no load
			b.req.Edits = true
		case addWord[t.text] && crop < 0 && len(b.qs) > 0, editWord[t.text], t.class == cNot && outWord[t.text] && crop >= 0:
			b.req.Edits = true
		}
	}
	b.req.Edits = b.req.Edits && b.has(cCrop) || b.req.Edits && (b.has(cCropQ) || b.has(cRyeQ))
}

// weightAt says whether an amount by weight stands at token i.
func (b *binder) weightAt(i int) bool {
	q := b.amountAt(i)
	return q != nil && (q.dim() == unit.DimMass || q.dim() == unit.DimMassPerArea)
}

// cropBehind is the crop behind token i with nothing but fillers between, -1 where there is none.
func (b *binder) cropBehind(i int) int {
	for i++; i < len(b.tokens); i++ {
		switch t := &b.tokens[i]; t.class {
		case cCrop, cCropQ, cRyeQ:
			return i
		case cSkip, cFiller, cMy, cOf:
		default:
			return -1
		}
	}
	return -1
}

// setTo says whether "to" or "at" and a number stand behind the crop at token i.
func (b *binder) setTo(i int) bool {
	to := b.at(i + 1)
	return (to.text == "to" || to.text == "down to" || to.text == "back to" || to.class == cAt || to.class == cConv) && b.at(i+2).opens()
}

// takenOut says whether a crop is taken out: "take the clover out", "pull out the radish".
func (b *binder) takenOut(i, crop int) bool {
	out := crop + 1
	if crop < 0 {
		if out = i + 1; b.cropBehind(out) < 0 {
			return false
		}
	}
	if t := b.at(out); t.text != "out" && t.text != "off" {
		return false
	}
	b.tokens[out].class = cSkip
	return true
}

// alsoDropped takes back the crops that are named behind one with "and": "drop the radish and
// the rape". One with an amount of its own stays.
func (b *binder) alsoDropped(i int) {
	for and := b.at(i + 1); and.class == cComma && (and.text == "and" || and.text == "y" || and.text == "or" || and.text == "ni" || and.text == "nor"); and = b.at(i + 1) {
		crop := b.cropBehind(i + 1)
		if crop < 0 || b.cropAmount(crop) != nil || b.setTo(crop) {
			return
		}
		b.dropCrop(crop)
		i = crop
	}
}

var (
	lowerWord = words("drop the", "drop", "cut the", "less")
	takeWord  = words("take", "leave", "pull", "kick", "cut", "takin", "taking")
	addWord   = words("add", "adding", "adds", "throw in", "toss in", "also", "agrega", "agregale", "agreguele", "anade", "anadele", "sumale", "tambien", "echale tambien", "ponle tambien")
	editWord  = words("bump", "raise", "lower", "knock", "sube", "subele", "subir", "baja", "bajale", "bajar")
	outWord   = words("drop the", "drop", "no more", "scrap", "scrap the", "skip", "leave out", "ya no", "quitale", "sin", "without", "quita")
)
