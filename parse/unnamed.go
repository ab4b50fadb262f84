package parse

import (
	"slices"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// acts2 adds what only shows once amounts and questions are known.
func (b *binder) acts2() {
	b.req.Same = b.acted("same")
	b.req.PerLoad = b.req.Scope == "rest" && b.saysAny(perLoadWords)
	for i := range b.tokens {
		t := &b.tokens[i]
		b.req.Next = b.req.Next || nextWords[t.text]
		if t.class == cRole && t.key == "left" && b.claimed[i] || partWord[t.text] && b.has(cRole, "load") {
			b.req.Left = true
		}
	}
	for k := range b.qs {
		if q := &b.qs[k]; len(q.list) >= 3 && !q.done && b.has(cAnalysis) {
			b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicNutrients})
		}
	}
	b.req.YesNo = copula[b.opener()]
	b.dated()
	b.leftInTank()
	b.unnamedAsks()
	b.scopeAlone()
	b.bagsBesides()
	b.speedUnits()
	b.seedingTime()
	if b.isMix() {
		b.req.Asks = append([]Ask{{Topic: engine.TopicMix}}, b.req.Asks...)
	}
}

// bagsBesides: "how many bags a load and how many for 14 ha" asks for the field's too.
func (b *binder) bagsBesides() {
	if len(b.req.Asks) != 1 || b.req.Asks[0].Slot != engine.BagsPerLoad || !b.given(engine.Area) {
		return
	}
	n := 0
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cQ && t.key == "howmany" {
			n++
		}
	}
	if n > 1 {
		b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicSeedForArea, Slot: engine.BagCount})
	}
}

// scopeAlone: "gallons this season", "what did John haul today": a stretch of the log and
// nothing else asks what it comes to.
func (b *binder) scopeAlone() {
	if b.req.Scope == "" || len(b.qs) > 0 || len(b.req.Asks)+len(b.req.Acts) > 0 || len(b.req.Info) > 0 || b.has(cCrop) {
		return
	}
	hauled := b.has(cRole, "total", "load", "rate", "spread") || b.has(cUnit) || b.has(cNoun, "total_volume")
	if b.req.Scope == "field" && !hauled || !hauled && !b.req.Question {
		return
	}
	b.req.Acts = append(b.req.Acts, Act{Name: "totals", At: b.span(0, len(b.tokens))})
}

// leftInTank: "down to a third, acres left in it?": with a part of the tank said, what is
// left is that part's ground, not the field's.
func (b *binder) leftInTank() {
	if !b.acted("left") || !b.given(engine.LoadFraction) || !b.given(engine.ApplicationRate) || b.has(cRole, "field") || b.given(engine.Area) {
		return
	}
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool { return a.Name == "left" })
	b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicPartLoad, Slot: engine.AreaPerLoad})
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
	case len(b.req.Info) > 0 && len(b.qs) == 0:
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
	case (b.given(engine.TargetN) || b.given(engine.TargetPhosphate) || b.given(engine.TargetPhosphorus)) && b.unclaimed("rate") && !b.given(engine.ApplicationRate):
		add(engine.TopicNeed, engine.ApplicationRate)
	case b.given(engine.CustomCost) && (b.req.Question || b.has(cRole, "total") || b.has(cAct, "totals")):
		add(engine.TopicCost, engine.TotalCost)
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
	case b.req.Question && b.count(engine.GateOpening) > 1 && b.count(engine.Flow) == b.count(engine.GateOpening):
		add(engine.TopicGate, engine.GateOpening) // "which one do we use at 4 mph"
	case b.req.Question && b.count(engine.Flow) > 0 && b.count(engine.GateOpening) > b.count(engine.Flow):
		add(engine.TopicGate, engine.Flow)
	case (b.req.Question || b.unclaimed("gate")) && b.count(engine.GateOpening) > 0 && b.count(engine.Flow) > b.count(engine.GateOpening):
		add(engine.TopicGate, engine.GateOpening)
	default:
		b.verdict()
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

// partWord tells that a load is not a full one.
var partWord = map[string]bool{"short": true, "part": true, "partial": true, "last": true, "ultima": true, "corta": true, "parcial": true}

var perLoadWords = []string{"per load", "a load", "each load", "per tank", "por carga", "por viaje", "cada carga", "cada viaje"}

// nextWords speak of what is still to come.
var nextWords = map[string]bool{"next": true, "new": true, "another": true, "tomorrow": true, "siguiente": true, "proximo": true, "proxima": true, "otro": true, "otra": true, "nuevo": true, "manana": true}

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
