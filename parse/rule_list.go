package parse

import (
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
)

// lists binds amounts said as a list: crops with their rates ("rye/vetch 40/20 lb",
// "ryegrass and clover 12 and 8"), a lab sheet ("31-15-19"), jar counts.
func (b *binder) lists() {
	for k := 0; k < len(b.qs); k++ {
		q := &b.qs[k]
		if len(q.list) == 0 {
			continue
		}
		switch crops := b.cropsInOrder(); {
		case b.sampled() && q.unit == nil:
			k += b.split(k, func(p *qty, _ int) { p.unit = nil; b.set(p, engine.SampleCount, "", "jars 42/45/39") })
		case len(crops) == 2 && len(q.list) == 2 && q.unit == nil && q.list[0]+q.list[1] == 100 && b.mixTotal() != nil:
			total := b.mixTotal()
			k += b.split(k, func(p *qty, n int) {
				p.unit, p.per, p.implied = unit.Must("%"), "", true
				b.set(p, engine.SeedShare, b.tokens[crops[n]].key, "60/40 oats and peas at 80 lb total")
			})
			b.mixRates(total, crops)
			return
		case len(crops) == len(q.list) && (q.unit == nil && slices.Max(q.list) <= 400 || q.unit != nil && (q.unit.Dim == unit.DimMass || q.unit.Dim == unit.DimMassPerArea)):
			k += b.split(k, func(p *qty, n int) {
				symbol := pick(b.metric, "kg/ha", "lb/acre")
				if p.unit != nil {
					symbol = perAreaUnit(p.unit).Symbol
				}
				b.claim(crops[n])
				p.implied = p.unit == nil || p.unit.Dim == unit.DimMass
				p.unit, p.per = unit.Find(symbol), ""
				b.set(p, engine.SeedRate, b.tokens[crops[n]].key, "rye/vetch 40/20")
			})
		case b.labWithoutUnit(q):
			if said := b.ctx.UnitOf["lab"]; said != "" {
				u := unit.Must(said)
				k += b.split(k, func(p *qty, n int) { p.unit = u; b.set(p, npkSlots(3)[n], "", "31-15-19") })
				continue
			}
			text := b.piece(q.i, q.j)
			q.done, q.rule = true, "a lab sheet without its unit"
			b.req.Unread = append(b.req.Unread, text)
			b.problem(&engine.Problem{Code: engine.LabUnit, Words: []string{text.Text, "lab"}})
		case len(q.list) >= 3 && (q.unit == nil || q.unit.Dim == unit.DimMassPerVolume || q.unit.Dim == unit.DimMass) && b.npkList(q):
			k += b.split(k, func(p *qty, n int) {
				p.implied = p.unit == nil || p.unit.Dim != unit.DimMassPerVolume
				if p.implied {
					p.unit = unit.Must(pick(b.metric, "kg/m3", "lb/1000gal"))
				}
				b.set(p, npkSlots(len(q.list))[n], "", "31-15-19 lb per 1000 gal")
			})
		}
	}
}

// npkList says whether a list of three or four is a lab sheet.
func (b *binder) npkList(q *qty) bool {
	return len(q.list) <= 4 && q.unit != nil && q.unit.Dim == unit.DimMassPerVolume
}

// labWithoutUnit: "31-15-19" beside a word for the test, the manure or a rate is a lab
// sheet in the order of every sheet; in which unit only the person knows.
func (b *binder) labWithoutUnit(q *qty) bool {
	if len(q.list) != 3 || q.unit != nil || q.per != "" {
		return false
	}
	for _, v := range q.list {
		if v <= 0 || v > 150 {
			return false
		}
	}
	about := b.has(cAnalysis) || b.has(cManure) || b.has(cNut) || b.has(cNutW) || b.has(cNoun, "nutrients", "nutrient_value")
	return about || b.rated() || len(b.qs) == 2 && b.at(q.j).class == cAt
}

func npkSlots(n int) []engine.Slot {
	if n == 4 {
		return []engine.Slot{engine.AnalysisTotalN, engine.AnalysisAmmoniumN, engine.AnalysisPhosphate, engine.AnalysisPotash}
	}
	return []engine.Slot{engine.AnalysisTotalN, engine.AnalysisPhosphate, engine.AnalysisPotash}
}

// cropsInOrder lists the unclaimed crops of the message.
func (b *binder) cropsInOrder() []int {
	var out []int
	for i := range b.tokens {
		if c := b.tokens[i].class; (c == cCrop || c == cCropQ || c == cRyeQ) && !b.claimed[i] {
			out = append(out, i)
		}
	}
	return out
}

// mixTotal is the weight of a whole mix: "80 lb total", a mass that no crop touches.
func (b *binder) mixTotal() *qty {
	for k := range b.qs {
		q := &b.qs[k]
		if t := b.at(q.j); (q.dim() == unit.DimMass || q.dim() == unit.DimMassPerArea) && !q.done && (t.text == "total" || t.text == "all" || t.text == "altogether" || t.text == "en total" || b.at(q.i-1).class == cAt) {
			return q
		}
	}
	return nil
}

// mixRates gives each crop of a mix by shares the rate of the whole, which its share is
// taken of.
func (b *binder) mixRates(total *qty, crops []int) {
	rate := *total
	if rate.dim() == unit.DimMass {
		rate.unit, rate.implied = perAreaUnit(rate.unit), true
	}
	for n, i := range crops {
		one := rate
		if n > 0 {
			b.qs = append(b.qs, one)
		} else {
			for k := range b.qs {
				if b.qs[k].i == rate.i && !b.qs[k].done {
					b.qs[k] = one
				}
			}
		}
		q := &b.qs[len(b.qs)-1]
		if n == 0 {
			q = b.amountAt(rate.i)
		}
		b.claim(i)
		b.set(q, engine.SeedRate, b.tokens[i].key, "60/40 oats and peas at 80 lb total")
	}
}

// split makes an amount of each member of a list and binds it; it returns how
// many amounts were added.
func (b *binder) split(k int, bind func(*qty, int)) int {
	q := b.qs[k]
	parts := make([]qty, len(q.list))
	for n, v := range q.list {
		parts[n] = q
		parts[n].list, parts[n].min, parts[n].max = nil, v, v
		bind(&parts[n], n)
	}
	b.qs = append(b.qs[:k], append(parts, b.qs[k+1:]...)...)
	return len(parts) - 1
}
