package record

import (
	"time"

	"tankside/bot"
	"tankside/engine"
	"tankside/engine/unit"
)

// Nutrients is what went on with the slurry, by the analysis that the chat
// remembers.
type Nutrients struct {
	Tested time.Time // when the analysis was said
	Rate   float64   // gallons an acre that it is reckoned with
	List   []Nutrient
	Scheme string // of the first-year nitrogen; empty: not reckoned
}

// Nutrient is one of them, base units. It is a range where the scheme gives one.
type Nutrient struct {
	Slot       engine.Slot
	PerArea    [2]float64 // pounds an acre
	Altogether [2]float64 // pounds
}

// analyses are the lab's values.
var analyses = map[engine.Slot]bool{engine.AnalysisTotalN: true, engine.AnalysisAvailableN: true, engine.AnalysisAmmoniumN: true, engine.AnalysisOrganicN: true,
	engine.AnalysisPhosphate: true, engine.AnalysisPotash: true, engine.AnalysisPhosphorus: true, engine.AnalysisPotassium: true, engine.Density: true}

// onGround are the nutrients that a record shows, in this order.
var onGround = []engine.Slot{engine.TotalN, engine.AmmoniumN, engine.OrganicN, engine.AvailableN, engine.Phosphate, engine.Potash}

// nutrientsOf reckons what a sheet's slurry brought. The ground is that of its loads.
func nutrientsOf(s *Sheet, m *bot.Memory) *Nutrients {
	var facts engine.Facts
	n := &Nutrients{}
	for _, r := range m.Facts {
		if !analyses[r.Fact.Slot] {
			continue
		}
		facts = append(facts, r.Fact)
		if r.Fact.Slot != engine.Density && r.When.After(n.Tested) {
			n.Tested = r.When
		}
	}
	if n.Tested.IsZero() {
		return nil
	}
	var volume, area float64
	for i := range s.Lines {
		if l := &s.Lines[i]; l.Stands() && l.Area > 0 {
			volume, area = volume+l.Volume, area+l.Area
		}
	}
	if area <= 0 || volume <= 0 {
		return nil
	}
	n.Rate = volume / area
	facts = append(facts, engine.Fact{Slot: engine.ApplicationRate, Min: n.Rate, Max: n.Rate, Unit: unit.Must("gal/acre"), Origin: engine.Remembered})
	reckoned := engine.Answer([]engine.Topic{engine.TopicNutrients}, facts, &engine.Context{Scheme: m.Scheme, Method: s.Told.method()})
	for _, slot := range onGround {
		for _, v := range reckoned.Results {
			if v.Slot == slot {
				n.List = append(n.List, Nutrient{slot, [2]float64{v.Min, v.Max}, [2]float64{v.Min * area, v.Max * area}})
			}
		}
	}
	for _, note := range reckoned.Notes {
		if note.ID == "availability_scheme" {
			n.Scheme = note.Of
		}
	}
	if len(n.List) == 0 {
		return nil
	}
	return n
}
