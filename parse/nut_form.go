package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// The forms that lab sheets give P and K in: the words of the lexicon, and of the chat's
// memory.
const (
	FormElement = "element"
	FormOxide   = "oxide"
)

// elementSlot is a quantity in the oxide, said in the element.
var elementSlot = map[engine.Slot]engine.Slot{engine.AnalysisPhosphate: engine.AnalysisPhosphorus, engine.AnalysisPotash: engine.AnalysisPotassium,
	engine.TargetPhosphate: engine.TargetPhosphorus, engine.LimitPhosphate: engine.LimitPhosphorus}

// formed is the quantity of an amount of P or K, by the form that the message or the chat
// gives; where neither does, it is asked for, and the amount listed until that is known.
func (b *binder) formed(q *qty, s engine.Slot, nut int) engine.Slot {
	key := b.tokens[nut].key
	form := b.formSaid(nut)
	if form == "" {
		form = b.ctx.UnitOf[key]
	}
	switch form {
	case FormElement:
		return elementSlot[s]
	case FormOxide:
		return s
	}
	b.askForm(key)
	b.unformed = b.unformed || q.dim() == unit.DimMassPerArea
	b.claimed[nut] = true // the K of "8 P 20 K" is not the 8's
	q.done, q.rule = true, "the element or the oxide is asked about"
	b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
	return engine.NoSlot
}

// formSaid is the form that the message names: nearest to a nutrient where it names both.
// A sheet has all its values in one: "8 P (elemental) 20 K per 1000".
func (b *binder) formSaid(nut int) string {
	form, nearest := "", len(b.tokens)
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cNutForm {
			t.used = true
			if away := max(i-nut, nut-i); away < nearest {
				form, nearest = t.key, away
			}
		}
	}
	if form != "" {
		b.req.Form = form
	}
	return form
}

// askForm asks about one of P and K, or about both at once.
func (b *binder) askForm(nut string) {
	code := engine.POrP2O5
	if nut == "k" {
		code = engine.KOrK2O
	}
	if p := b.req.Problem; p != nil && p.Code != code && (p.Code == engine.POrP2O5 || p.Code == engine.KOrK2O) {
		p.Code = engine.PKOrOxides
	}
	b.problem(&engine.Problem{Code: code})
}

// formAlone reads a message without amounts as the answer to that: "element", "P2O5".
func (b *binder) formAlone() {
	if len(b.qs) > 0 || b.req.Form != "" {
		return
	}
	for i := range b.tokens {
		switch t := &b.tokens[i]; {
		case t.class == cNutForm:
			b.req.Form, b.req.FormWord = t.key, true
			return
		case t.class == cNutQ:
			b.req.Form = FormElement
		case t.class == cNut && (t.key == "phosphate" || t.key == "potash"):
			b.req.Form = FormOxide
			return
		}
	}
}
