package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// refillTo: the number that a tank with some left is filled up to is the tank: "got 2000 gal
// left, topping it off to 6000".
func (b *binder) refillTo() {
	if b.req.Refill = b.saysAny(refillWords); !b.req.Refill {
		return
	}
	for k := range b.qs {
		q := &b.qs[k]
		if q.done || b.at(q.i-1).text != "to" && b.at(q.i-1).text != "a" && b.at(q.i-1).text != "hasta" || !q.bare() && q.dim() != unit.DimVolume || q.min < 200 && q.bare() && !b.metric {
			continue
		}
		if q.bare() {
			q.unit, q.implied = unit.Find(pick(b.metric, "L", "gal")), true
		}
		b.set(q, engine.TankVolume, "", "topping it off to 6000")
		b.largeMetric(q, engine.TankVolume)
	}
}

// refilled: what is left in a tank that is filled up again has its seed: the fresh part alone
// gets more. "Me quedaron 2 mil gal con semilla, lo vuelvo a llenar, ¿cuánta semilla le pongo?"
func (b *binder) refilled() {
	if !b.req.Refill {
		return
	}
	b.req.Refill = false
	for k := range b.qs {
		if q := &b.qs[k]; q.slot == engine.LoadVolume && (b.has(cRole, "left") || b.has(cRole, "heel")) || q.slot == engine.HeelVolume {
			q.slot, q.rule, b.req.Refill = engine.HeelVolume, "left, and filled up again", true
		}
	}
}

var refillWords = []string{"topping it off", "topping off", "top it off", "top off", "topping it up", "top it up", "topping her off", "top her off", "filling it back up", "fill it back up", "fill back up", "filling back up",
	"fill her back up", "refill", "refilling", "refill it", "fill it up again", "filling it up", "fill it up", "fillin it back up", "vuelvo a llenar", "volvemos a llenar", "volver a llenar", "relleno", "rellenar", "rellenamos", "lo lleno otra vez", "llenar otra vez", "lo lleno de nuevo", "llenarlo otra vez", "termino de llenar", "acabo de llenarlo"}
