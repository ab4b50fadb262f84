package parse

import (
	"regexp"
	"slices"

	"tankside/engine"
	"tankside/engine/unit"
)

// standingSeed: "tank has been loaded with seed in it for like 2 hours, is that ok", "cuánto
// puede estar la semilla en el tanque ya revuelta" ask how long seed may stand in the tank.
// The hours are no part of the haul.
func (b *binder) standingSeed() {
	if !standing.MatchString(b.text) || b.given(engine.ApplicationRate) && b.given(engine.TankVolume) {
		return
	}
	if !slices.Contains(b.req.Info, "overnight_load") {
		b.addInfo("standing_load")
	}
	b.req.Asks = slices.DeleteFunc(b.req.Asks, func(a Ask) bool {
		return a.Topic == engine.TopicAgitation || a.Topic == engine.TopicFlow || a.Topic == engine.TopicCycle || a.Topic == engine.TopicLoad
	})
	b.req.Question = true
	for k := range b.qs {
		if q := &b.qs[k]; q.dim() == unit.DimTime && (q.slot == engine.Duration || !q.done) {
			q.slot, q.done, q.rule = engine.NoSlot, true, "how long a load has stood"
			b.req.Unread = append(b.req.Unread, b.piece(q.i, q.j))
		}
	}
}

var standing = regexp.MustCompile(`\b(how long|hours?|minutes|mins|sitting|loaded|stuck|waiting|wait)\b.*\b(seed|rye|ryegrass|oats|clover)\b.*\b(sit|stand|stay|in (it|there|the tank|the manure|the slurry))\b.*\b(ok|okay|long|hours?|bad|hurt|ruin|spoil|go bad|die|before)\b|\b(how long can|can) (the )?(seed|rye|ryegrass|oats|clover)\b.*\b(sit|stand|stay)\b|\b(tiempo|horas?|rato)\b.*\bsemilla\b.*\b(en el tanque|en el estiercol|revuelta|cargada)\b|\b(paro|parado|detengo)\b.*\bsemilla\b.*\b(aguanta|asiente|asienta)\b|\bsemilla\b.*\b(lleva|tiene|puede estar|aguanta)\b.*\b(horas?|rato|tiempo)\b`)
