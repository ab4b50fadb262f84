package bot

import (
	"slices"
	"strings"

	"tankside/engine"
	"tankside/parse"
)

// safety: what touches gas, shafts, road, slope, treated seed is always answered.
func (t *turn) safety() bool {
	if len(t.req.Info) == 0 {
		return false
	}
	treated := slices.Contains(t.req.Info, "safety_treated_seed")
	working := len(t.said) > 0 && (len(t.req.Asks) > 0 || len(engine.Follows(t.said)) > 0)
	if treated && working {
		t.topic(engine.TopicSafety)
		return t.refuse(engine.TreatedSeed)
	}
	if working || t.depthOnGround() || len(t.req.Asks) > 0 && len(t.said)+len(t.req.Crops) > 0 && !treated {
		t.infoNotes()
		return false
	}
	if len(t.said) > 0 && !t.req.Question && !treated {
		t.infoNotes()
		return false
	}
	if len(t.req.Info) > 1 { // what was asked about is said, not that there is more
		t.req.Info = slices.DeleteFunc(slices.Clone(t.req.Info), func(key string) bool { return key == "safety_general" })
	}
	slices.SortStableFunc(t.req.Info, func(a, b string) int { return infoRank(a) - infoRank(b) })
	t.out.Status, t.out.Info = engine.Answered, t.req.Info
	t.topic(topicOfInfo(t.req.Info))
	return true
}

// depthOnGround: "how deep does that lay on the ground, and will it run off" wants the depth
// too, where the chat has a rate to work it out from.
func (t *turn) depthOnGround() bool {
	return t.knows(engine.ApplicationRate) && slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool { return a.Topic == engine.TopicDepth }) &&
		!slices.ContainsFunc(t.req.Info, func(key string) bool {
			return key != "safety_runoff" && key != "safety_slope" && key != "rain" && key != "wet_ground" && key != "tile"
		})
}

// emergency: somebody is down or caught. Nothing else in the message counts.
func (t *turn) emergency() bool {
	if !slices.Contains(t.req.Info, "safety_emergency") {
		return false
	}
	t.out.Status, t.out.Info = engine.Answered, []string{"safety_emergency"}
	t.topic(engine.TopicSafety)
	return true
}

// cautionAsked: "60% chance of rain, ok to spread?", "how fast with no brakes on the road"
// are answered by the caution, whatever number stands in them.
func (t *turn) cautionAsked() bool {
	inoculant := slices.Contains(t.req.Info, "inoculant") && len(t.said) == 0
	if len(t.req.Info) == 0 || !t.req.Question || len(t.req.Acts) > 0 || len(t.req.Crops) > 0 && !inoculant {
		return false
	}
	road := slices.Contains(t.req.Info, "safety_road") && t.said.First(engine.ApplicationRate) == nil && t.said.First(engine.Flow) == nil && !partOfHaul(t.said) && t.said.First(engine.CycleTime) == nil
	if !road && !inoculant && len(t.said)+len(t.req.Asks) > 0 {
		return false
	}
	t.req.Asks, t.req.Problem, t.topics = nil, nil, nil
	return t.safety()
}

// infoRank puts what can hurt somebody before what can plug a tube, and distances
// before the creek that they are kept from.
func infoRank(key string) int {
	switch {
	case key == "setbacks":
		return 1
	case key == "safety_runoff":
		return 2
	case strings.HasPrefix(key, "safety_"):
		return 0
	}
	return 3
}

// infoNotes adds the matching caution to an answer that only touches it.
func (t *turn) infoNotes() {
	for _, k := range t.req.Info {
		if id := noteOfInfo[k]; id != "" {
			t.note(engine.Note{ID: id, Level: engine.Caution})
		}
	}
}

var noteOfInfo = map[string]string{"safety_gas": "gas", "safety_confined": "confined_space", "safety_pto": "pto", "safety_road": "road",
	"safety_slope": "slope", "safety_treated_seed": "treated_seed", "safety_runoff": "runoff"}

func topicOfInfo(keys []string) engine.Topic {
	for _, k := range keys {
		if strings.HasPrefix(k, "safety_") {
			return engine.TopicSafety
		}
	}
	switch keys[0] {
	case "tank_order":
		return engine.TopicMix
	case "inoculant":
		return engine.TopicCrop
	case "gang_angle", "tube_spacing", "tube_plugging":
		return engine.TopicHelp
	case "load_amiss":
		return engine.TopicLog
	case "settling", "seed_slugs":
		return engine.TopicAgitation
	case "overnight_load", "standing_load", "seed_floating":
		return engine.TopicSoak
	}
	return engine.TopicSafety
}
