package engine

import "testing"

// A part above its total is found on the way too, where only one of the two was said now,
// and at any end of a range: the question names both, for it has nothing else to say.
func TestPartAboveTotalNamesBoth(t *testing.T) {
	for _, c := range []struct {
		topic Topic
		facts string
	}{
		{TopicNutrients, "analysis_total_n=1_lb/1000gal analysis_ammonium_n=14_lb/1000gal application_rate=8000_gal/acre"},
		{TopicNutrients, "analysis_total_n=20_lb/1000gal analysis_organic_n=24_lb/1000gal application_rate=8000_gal/acre"},
		{TopicNutrients, "analysis_total_n=10..20_lb/1000gal analysis_ammonium_n=14_lb/1000gal application_rate=8000_gal/acre"},
		{TopicNeed, "analysis_total_n=1_lb/1000gal analysis_ammonium_n=14_lb/1000gal target_n=120_lb/acre"},
		{TopicFlow, "pump_flow=500_gal/min bypass_flow=900_gal/min"},
	} {
		r := Answer([]Topic{c.topic}, facts(t, c.facts), &Context{Method: MethodInjected})
		if r.Problem != ConflictCode || len(r.Conflict) != 2 || r.Conflict[0] == r.Conflict[1] {
			t.Errorf("%s: problem %q with %v, want both of what does not fit", c.facts, r.Problem, r.Conflict)
		}
	}
}
