package engine

import "tankside/engine/unit"

// partAgitation answers what part of the question the facts allow: what returns
// needs no tank, mixing with the gate shut no flow.
func partAgitation(w *work) {
	pump, ok := w.pump()
	if !ok {
		return
	}
	if flow, ok := w.get(Flow); ok {
		w.afterFlow(unit.Flow(flow))
		return
	}
	if v, ok := w.contents(); ok {
		if t, err := TimeToMix(v, pump); !w.fail(err) {
			w.put(MixingTime, "", float64(t), byMixing)
		}
	}
}

// partField answers what a field takes when the tank is not known: the slurry and
// the seed.
func partField(w *work) {
	area, ok := w.get(Area)
	if !ok {
		return
	}
	if rate, ok := w.get(ApplicationRate); ok {
		if v, err := VolumeForArea(unit.Area(area), unit.VolumePerArea(rate)); !w.fail(err) {
			w.put(TotalVolume, "", float64(v), byTotal)
		}
	}
	w.fieldSeeds(unit.Area(area), 0)
}
