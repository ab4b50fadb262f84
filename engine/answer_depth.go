package engine

import "tankside/engine/unit"

var (
	byDepth    = &Formula{"application_rate ÷ 27154.29", "NCSU-CONV"}
	bySoilRoom = &Formula{"soil_room", "OSU-ANR21"}
)

// answerDepth answers how deep the liquid stands, against the chat's own limits,
// the soil's room, else the cap for drained land.
func answerDepth(w *work, _ int) {
	w.roomOf()
	v, _ := w.get(ApplicationRate)
	r := unit.VolumePerArea(v)
	d, err := DepthOf(r)
	if w.fail(err) {
		return
	}
	w.put(Depth, "", float64(d), byDepth)
	w.note(Note{ID: "local_rules", Level: Advice})
	if w.overOwn(v, true) {
		return
	}
	if room, cite, ok := SoilRoomFor(w.c.Soil, w.c.Moisture); ok {
		w.against(v, float64(room), cite.Source)
		if cap, capBy := TileCap(); room > cap {
			w.against(v, float64(cap), capBy.Source)
		}
		return
	}
	cap, cite := TileCap()
	wet, _, known := SoilRoomFor(w.c.Soil, moistures[len(moistures)-1])
	if dry, from, _ := SoilRoomFor(w.c.Soil, moistures[0]); known && r > wet && r <= cap {
		w.note(Note{ID: "say_moisture", Level: Caution, Slot: ApplicationRate, Value: float64(wet), Limit: float64(dry), Source: from.Source})
		return
	}
	w.against(v, float64(cap), cite.Source)
}

// roomOf puts the room that the soil has for water: of the moisture that was said, else
// from wet to dry.
func (w *work) roomOf() {
	if room, _, ok := SoilRoomFor(w.c.Soil, w.c.Moisture); ok {
		w.put(SoilRoom, "", float64(room), bySoilRoom)
		return
	}
	wet, _, ok := SoilRoomFor(w.c.Soil, moistures[len(moistures)-1])
	if dry, _, known := SoilRoomFor(w.c.Soil, moistures[0]); ok && known {
		w.add(Value{Slot: SoilRoom, Min: float64(wet), Max: float64(dry), By: bySoilRoom})
	}
}

// partDepth answers what the soil takes when no rate was said.
func partDepth(w *work) {
	w.roomOf()
	w.note(Note{ID: "local_rules", Level: Advice})
}

// nearLimit is how much of a limit is worth a word.
const nearLimit = 0.8

// against notes a rate that is over a published limit, or near it.
func (w *work) against(r, limit float64, source string) {
	n := Note{Level: Caution, Slot: ApplicationRate, Value: r, Limit: limit, Source: source}
	switch {
	case r > limit*(1+snap):
		n.ID = "depth_over_limit"
	case r > limit*nearLimit:
		n.ID = "depth_near_limit"
	case w.about(TopicDepth):
		n.ID, n.Level = "depth_under_limit", Advice
	default:
		return
	}
	w.note(n)
}

// overOwn holds a rate against the limits that the chat has set for itself. It
// reports whether there is one.
func (w *work) overOwn(r float64, near bool) bool {
	found := false
	for _, l := range w.c.Limits {
		limit := l.Value
		switch l.Slot {
		case ApplicationRate:
		case Depth:
			rate, err := RateOfDepth(unit.Length(l.Value))
			if err != nil {
				continue
			}
			limit = float64(rate)
		default:
			continue
		}
		found = true
		switch {
		case near:
			w.against(r, limit, "")
		case r > limit*(1+snap):
			w.note(Note{ID: "rate_over_limit", Level: Caution, Slot: ApplicationRate, Value: r, Limit: limit})
		}
	}
	return found
}
