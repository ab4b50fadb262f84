package parse

import (
	"math"

	"tankside/engine"
	"tankside/engine/unit"
)

// tubes binds what one drop tube gave and how many there are: "caught 2 gallons in 6
// seconds per tube, 12 tubes". What one gave is never the flow of all.
func (b *binder) tubes() {
	if !b.catches() {
		return
	}
	one := false
	for i := range b.tokens {
		t := &b.tokens[i]
		if !tubeWords[t.text] {
			continue
		}
		if k := i - 1; oneTube[b.at(k).text] || oneTube[b.at(k-1).text] && b.at(k).class == cFiller {
			one, b.claimed[i], t.used = true, true, true
		}
		for n := range b.qs {
			if q := &b.qs[n]; !q.done && q.bare() && q.j == i && q.min == q.max && q.min == math.Trunc(q.min) && q.min >= 1 && q.min <= 80 {
				q.unit = unit.Must("")
				q.hi = i + 1
				b.claimed[i], t.used = true, true
				if q.min == 1 {
					q.done, one, q.rule = true, true, "from 1 tube"
					continue
				}
				b.set(q, engine.Tubes, "", "12 tubes")
			}
		}
	}
	for k := range b.qs {
		if q := &b.qs[k]; one && !q.done && q.dim() == unit.DimVolume && q.unit.ToBase(q.max) < 200 {
			b.set(q, engine.TubeVolume, "", "caught 2 gallons in 6 seconds per tube")
			return
		}
	}
}

var (
	tubeWords = words("tube", "tubes", "hose", "hoses", "outlet", "outlets", "drop", "drops", "drop tube", "drop tubes", "tubo", "tubos", "manguera", "mangueras", "bajada", "bajadas", "salida", "salidas", "nozzle", "nozzles")
	oneTube   = words("per", "each", "a", "one", "every", "por", "cada", "un", "una", "an", "single", "from", "de una", "de un", "de cada")
)
