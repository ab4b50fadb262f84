package bot

import (
	"slices"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// dearSeed is what a pound of cover crop seed hardly ever costs, in dollars: more is the
// price of a bag. From memory: retail lists, the small seeds at the upper end.
const dearSeed = 6

// dearPrice asks whether a price that is high for a pound is for the bag, where its "per"
// was left unsaid or the bag's weight was said too: "rye at $15, 50 lb bags".
func (t *turn) dearPrice() bool {
	for i := range t.said {
		f := t.said[i]
		if f.Slot != engine.SeedPrice || f.Unit == nil || f.Unit.Dim != unit.DimMoneyPerMass || t.pesos() {
			continue
		}
		if lo, _ := f.Base(); lo <= dearSeed || !f.Implied && t.said.First(engine.BagWeight) == nil {
			continue
		}
		if t.req.Problem != nil {
			return false
		}
		bag := engine.Choice{Slot: f.Slot, Of: f.Of, Unit: unit.Must("$"), Min: f.Min, Max: f.Max}
		pound := engine.Choice{Slot: f.Slot, Of: f.Of, Unit: f.Unit, Min: f.Min, Max: f.Max}
		t.said = slices.Delete(slices.Clone(t.said), i, i+1)
		t.out.Unread = append(t.out.Unread, engine.Span{Text: t.msg.Text[f.At[0]:f.At[1]], At: f.At})
		t.req.Problem = &engine.Problem{Code: engine.Ambiguous, Slot: f.Slot, Words: []string{t.msg.Text[f.At[0]:f.At[1]]}}
		t.req.Choices = []engine.Choice{bag, pound}
		return false
	}
	return false
}

// pesos says whether the money is one that is worth less: a kilo can cost hundreds.
func (t *turn) pesos() bool { return strings.Contains(strings.ToLower(t.msg.Text), "peso") }

// pricedBy finds which of two readings of a price an answer names: "a bag", "per pound".
func (t *turn) pricedBy(p *Pending) *engine.Fact {
	if p.Problem != engine.Ambiguous || p.Slot != engine.SeedPrice {
		return nil
	}
	per := unit.None
	text := " " + strings.ToLower(t.msg.Text) + " "
	for word, dim := range pricedPer {
		if !strings.Contains(text, word) {
			continue
		}
		if per != unit.None && per != dim {
			return nil
		}
		per = dim
	}
	for i := range p.Choices {
		if c := &p.Choices[i]; c.Unit != nil && c.Unit.Dim == per {
			t.consume()
			return &engine.Fact{Slot: c.Slot, Of: c.Of, Min: c.Min, Max: c.Max, Unit: c.Unit, Origin: engine.Said}
		}
	}
	return nil
}

// pricedPer are the words of what a price is for.
var pricedPer = map[string]unit.Dim{"bag": unit.DimMoney, "sack": unit.DimMoney, "costal": unit.DimMoney, "bolsa": unit.DimMoney, "saco": unit.DimMoney,
	" lb": unit.DimMoneyPerMass, "/lb": unit.DimMoneyPerMass, "pound": unit.DimMoneyPerMass, "libra": unit.DimMoneyPerMass, "kilo": unit.DimMoneyPerMass, " kg": unit.DimMoneyPerMass, "/kg": unit.DimMoneyPerMass}
