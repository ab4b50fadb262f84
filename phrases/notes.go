package phrases

import (
	"slices"
	"strings"

	"tankside/engine"
)

// notes writes advice, then cautions, then dangers, each once.
func (p *page) notes() {
	for _, level := range [...]engine.Level{engine.Advice, engine.Caution, engine.Danger} {
		for i := range p.o.Notes {
			n := &p.o.Notes[i]
			if levelOf(n) == level && !p.noted(i) && !p.shownOtherwise(n) {
				p.note(n)
			}
		}
	}
}

func levelOf(n *engine.Note) engine.Level {
	if n.Level == "" {
		return engine.Advice
	}
	return n.Level
}

func (p *page) note(n *engine.Note) {
	x := params{crop: n.Of, slot: n.Slot}
	if n.Slot != engine.NoSlot {
		x.a, x.b = p.base(n.Slot, n.Unit, n.Value), p.base(n.Slot, n.Unit, n.Limit)
		x.c, x.n = p.base(n.Slot, n.Unit, n.Rest), x.a.max
		if strings.HasPrefix(n.ID, "depth_") || strings.HasSuffix(n.ID, "over_limit") { // a ceiling is not rounded up
			x.b = p.result(&engine.Value{Slot: n.Slot, Unit: n.Unit, Min: n.Limit, Max: n.Limit, Limit: true})
		}
	}
	t := p.text("note", n.ID)
	if below := p.text("note_below", n.ID); below != nil && n.Value < n.Limit {
		t = below
	}
	if bare := p.text("note_bare", n.ID); bare != nil && (n.Slot == engine.NoSlot || n.Limit == 0 && t.shown.has(argB)) {
		t = bare
	}
	p.say(t, &x)
	if p.form != spoken && n.ID != "availability_scheme" { // it names its table itself
		p.cite(n.Source)
	}
	p.end()
}

// noted says whether the same note stands earlier in the list.
func (p *page) noted(i int) bool {
	for j := range i {
		if a, b := &p.o.Notes[j], &p.o.Notes[i]; a.ID == b.ID && a.Of == b.Of && a.Slot == b.Slot {
			return true
		}
	}
	return false
}

// shownOtherwise leaves out the notes that the marks beside a value, or the lines
// on how the message was read, already carry.
func (p *page) shownOtherwise(n *engine.Note) bool {
	switch n.ID {
	case "about", "unit_implied", "old_value":
		for i := range p.o.Given {
			f := &p.o.Given[i]
			if n.ID == "about" && f.About || n.ID == "unit_implied" && f.Implied || n.ID == "old_value" && f.AgeDays > 0 {
				return true
			}
		}
	case "sinks", "hull_floats", "presoak", "straight_in", "check_passage", "poor_fit", "no_presoak", "mixing_ok", "poor_mixing", "stir_short", "stir_enough", "usual_seed_rate", "low_seed_rate", "high_seed_rate",
		"depth_under_limit", "depth_near_limit", "depth_over_limit", "count_fits", "count_small", "count_low", "count_high",
		"nutrient_over_limit", "nutrient_within_limit", "nutrient_short", "nutrient_maybe", "nutrient_enough":
		return len(p.o.Timings) > 0 || p.led && slices.Contains(leads[p.o.Topics[0]], n.ID)
	case "no_inoculant_promise":
		return len(p.o.Timings) > 0
	case "spelling":
		return len(p.o.Fixes) > 0
	case "unusual_value":
		return n.Slot == engine.SeedRate && p.hasNote("unusual_seed_rate")
	}
	return false
}

// infos writes the fixed texts that were asked for.
func (p *page) infos() {
	for _, key := range p.o.Info {
		x := params{}
		if v, ok := infoFigures[key]; ok {
			x.a = p.result(&v)
		}
		p.say(p.text("info", key), &x)
		p.end()
	}
}

// infoFigures are the published figures in fixed texts, in base units, so that
// they come out in the units of the chat.
var infoFigures = map[string]engine.Value{
	"tile":        {Slot: engine.ApplicationRate, Min: 13000, Max: 13000}, // Ohio county soil district advice, one pass
	"setbacks":    {Slot: engine.Distance, Min: 25, Max: 300},             // Minnesota: worked in within a day, and on the surface
	"safety_road": {Slot: engine.Speed, Min: 20, Max: 20},                 // a tractor maker's manual: towed, without brakes
	"rain":        {Slot: engine.Depth, Min: 0.5 / 12, Max: 0.5 / 12},     // Ohio, western Lake Erie basin, in a day
}
