package phrases

import (
	"time"

	"tankside/engine"
	"tankside/engine/unit"
)

// Short hands for building outcomes as the engine and the bot would.

func said(s engine.Slot, of string, v float64, u string) engine.Fact {
	return engine.Fact{Slot: s, Of: of, Min: v, Max: v, Unit: unit.Must(u)}
}

func kept(s engine.Slot, of string, v float64, u string, days int) engine.Fact {
	return engine.Fact{Slot: s, Of: of, Min: v, Max: v, Unit: unit.Must(u), Origin: engine.Remembered, AgeDays: days}
}

func assumed(s engine.Slot, of string, v float64, u string) engine.Fact {
	return engine.Fact{Slot: s, Of: of, Min: v, Max: v, Unit: unit.Must(u), Origin: engine.Assumed}
}

func implied(f engine.Fact) engine.Fact { f.Implied = true; return f }
func about(f engine.Fact) engine.Fact   { f.About = true; return f }

func ranged(f engine.Fact, max float64) engine.Fact { f.Max = max; return f }

func val(s engine.Slot, of string, v float64) engine.Value {
	return engine.Value{Slot: s, Of: of, Min: v, Max: v}
}

func span(s engine.Slot, of string, min, max float64) engine.Value {
	return engine.Value{Slot: s, Of: of, Min: min, Max: max}
}

func limit(s engine.Slot, v float64) engine.Value {
	return engine.Value{Slot: s, Min: v, Max: v, Limit: true}
}

func by(v engine.Value, expr, source string) engine.Value {
	v.By = &engine.Formula{Expr: expr, Source: source}
	return v
}

func note(id string, level engine.Level, of string) engine.Note {
	return engine.Note{ID: id, Level: level, Of: of}
}

func noteOf(id string, level engine.Level, s engine.Slot, of string, v, lim float64) engine.Note {
	return engine.Note{ID: id, Level: level, Slot: s, Of: of, Value: v, Limit: lim}
}

func topics(t ...engine.Topic) []engine.Topic { return t }

var metric = engine.Units{System: unit.Metric, Cubes: true}

const ryegrass = "annual ryegrass"

var (
	tank     = said(engine.TankVolume, "", 3000, "gal")
	rate     = said(engine.ApplicationRate, "", 7000, "gal/acre")
	seed     = implied(said(engine.SeedRate, ryegrass, 12, "lb/acre"))
	soakNote = note("presoak", engine.Advice, ryegrass)
)

// loadAnswer is the first question of the README.
func loadAnswer() *engine.Outcome {
	return &engine.Outcome{Status: engine.Answered, Topics: topics(engine.TopicLoad), Given: engine.Facts{tank, rate, seed},
		Results: []engine.Value{
			by(val(engine.AreaPerLoad, "", 3000.0/7000), "load_volume ÷ application_rate", ""),
			by(val(engine.SeedPerLoad, ryegrass, 36.0/7), "load_volume ÷ application_rate × seed_rate", ""),
			val(engine.Pails, ryegrass, 1), val(engine.SoakWater, ryegrass, 1.2)},
		Notes: []engine.Note{soakNote, note("stop_before_reading", engine.Caution, ""), note("confined_space", engine.Danger, "")}}
}

// answers are outcomes over every topic, by the name of their golden file.
func answers() map[string]*engine.Outcome {
	all := map[string]*engine.Outcome{"load": loadAnswer()}
	for _, group := range []map[string]*engine.Outcome{loads(), flows(), seeds(), manures(), logs(), setups(), talks()} {
		for name, o := range group {
			all[name] = o
		}
	}
	return all
}

func loads() map[string]*engine.Outcome {
	m3 := said(engine.TankVolume, "", 18, "m3")
	return map[string]*engine.Outcome{
		"load_metric": {Status: engine.Answered, Topics: topics(engine.TopicLoad), Units: metric,
			Given: engine.Facts{m3, said(engine.ApplicationRate, "", 45, "m3/ha"), implied(said(engine.SeedRate, ryegrass, 1.5, "kg/ha"))},
			Results: []engine.Value{val(engine.AreaPerLoad, "", 0.4*2.4710538), val(engine.SeedPerLoad, ryegrass, 0.6*2.2046226),
				val(engine.RunLength, "", 1000/0.3048)}, Notes: []engine.Note{soakNote}},
		"load_imperial": {Status: engine.Answered, Topics: topics(engine.TopicLoad), Units: engine.Units{System: unit.Imperial},
			Given:   engine.Facts{said(engine.TankVolume, "", 2000, "imp gal"), said(engine.ApplicationRate, "", 3000, "imp gal/acre")},
			Results: []engine.Value{val(engine.AreaPerLoad, "", 2.0/3)}},
		"load_range": {Status: engine.Answered, Topics: topics(engine.TopicLoad),
			Given:   engine.Facts{tank, ranged(said(engine.ApplicationRate, "", 6000, "gal/acre"), 8000), said(engine.SeedRate, ryegrass, 12, "lb/acre")},
			Results: []engine.Value{span(engine.AreaPerLoad, "", 0.375, 0.5), span(engine.SeedPerLoad, ryegrass, 4.5, 6)}},
		"load_remembered": {Status: engine.Answered, Topics: topics(engine.TopicLoad),
			Given:   engine.Facts{kept(engine.TankVolume, "", 3000, "gal", 0), about(said(engine.ApplicationRate, "", 8000, "gal/acre")), kept(engine.SeedRate, "oats", 40, "lb/acre", 3)},
			Results: []engine.Value{val(engine.AreaPerLoad, "", 0.375), val(engine.SeedPerLoad, "oats", 15)},
			Notes:   []engine.Note{note("what_if", engine.Advice, ""), note("check_passage", engine.Caution, "oats"), note("about", engine.Advice, "")}},
		"load_unread": {Status: engine.Answered, Topics: topics(engine.TopicLoad), Given: engine.Facts{tank, rate},
			Results: []engine.Value{val(engine.AreaPerLoad, "", 3000.0/7000)}, Unread: []engine.Span{{Text: "15 psi"}, {Text: "<b>40</b> & more"}},
			Withdrawn: []engine.Span{{Text: "8000"}}, Fixes: []engine.Fix{{Said: "rygrass", Read: ryegrass}, {Said: "galon", Read: "gallon"}}},
		"part_load": {Status: engine.Answered, Topics: topics(engine.TopicPartLoad),
			Given:   engine.Facts{kept(engine.TankVolume, "", 3000, "gal", 0), said(engine.LoadFraction, "", 0.5, ""), kept(engine.ApplicationRate, "", 7000, "gal/acre", 0), kept(engine.SeedRate, ryegrass, 12, "lb/acre", 0)},
			Results: []engine.Value{val(engine.LoadVolume, "", 1500), val(engine.AreaPerLoad, "", 1500.0/7000), val(engine.SeedPerLoad, ryegrass, 18.0/7)}},
		"part_load_percent": {Status: engine.Answered, Topics: topics(engine.TopicPartLoad),
			Given:   engine.Facts{tank, said(engine.LoadFraction, "", 0.9, ""), rate},
			Results: []engine.Value{val(engine.LoadVolume, "", 2700), val(engine.AreaPerLoad, "", 2700.0/7000)}},
		"field": {Status: engine.Answered, Topics: topics(engine.TopicField),
			Given: engine.Facts{said(engine.Area, "", 10, "acre"), tank, rate, seed},
			Results: []engine.Value{val(engine.Loads, "", 70.0/3), val(engine.FullLoads, "", 23), val(engine.LastLoadVolume, "", 1000),
				val(engine.LastLoadSeed, ryegrass, 12.0/7), val(engine.TotalVolume, "", 70000), val(engine.TotalSeed, ryegrass, 120)},
			Notes: []engine.Note{note("last_load_scaled", engine.Advice, "")}},
		"field_even": {Status: engine.Answered, Topics: topics(engine.TopicField), Given: engine.Facts{said(engine.Area, "", 3, "acre"), tank, rate},
			Results: []engine.Value{val(engine.Loads, "", 7), val(engine.FullLoads, "", 7), val(engine.TotalVolume, "", 21000)}},
		"field_small": {Status: engine.Answered, Topics: topics(engine.TopicField), Given: engine.Facts{said(engine.Area, "", 0.25, "acre"), tank, rate},
			Results: []engine.Value{val(engine.Loads, "", 0.25*7/3), val(engine.FullLoads, "", 0), val(engine.LastLoadVolume, "", 1750), val(engine.TotalVolume, "", 1750)}},
		"how": {Status: engine.Answered, Topics: topics(engine.TopicLoad), Given: engine.Facts{tank, rate, seed}, Show: true,
			Results: loadAnswer().Results},
		"two_questions": {Status: engine.Answered, Topics: topics(engine.TopicLoad, engine.TopicFlow), Given: engine.Facts{tank, rate, said(engine.Speed, "", 3, "mph"), said(engine.Width, "", 12, "ft")},
			Results: []engine.Value{val(engine.AreaPerLoad, "", 3000.0/7000), val(engine.Flow, "", 509.0909), val(engine.RunLength, "", 1555.71), val(engine.UnloadTime, "", 5.893)}},
	}
}

func flows() map[string]*engine.Outcome {
	mph, wide := said(engine.Speed, "", 3, "mph"), said(engine.Width, "", 12, "ft")
	pump := kept(engine.PumpFlow, "", 1000, "gal/min", 0)
	return map[string]*engine.Outcome{
		"flow": {Status: engine.Answered, Topics: topics(engine.TopicFlow), Given: engine.Facts{rate, wide, mph, pump},
			Results: []engine.Value{val(engine.Flow, "", 509.0909), val(engine.BypassFlow, "", 490.909), val(engine.UnloadTime, "", 5.893), val(engine.TurnoverTime, "", 6.111)},
			Notes:   []engine.Note{note("pump_at_rated_speed", engine.Advice, "")}},
		"flow_metric": {Status: engine.Answered, Topics: topics(engine.TopicFlow), Units: metric,
			Given:   engine.Facts{said(engine.ApplicationRate, "", 13, "m3/ha"), said(engine.Speed, "", 6, "km/h"), said(engine.Width, "", 4.9, "m")},
			Results: []engine.Value{val(engine.Flow, "", 637/3.785411784)}},
		"speed": {Status: engine.Answered, Topics: topics(engine.TopicSpeed), Given: engine.Facts{rate, wide, said(engine.Flow, "", 500, "gal/min")},
			Results: []engine.Value{by(val(engine.Speed, "", 2.946), "495 × flow ÷ (application_rate × width)", "UKY-AEN73")}, Show: true,
			Notes: []engine.Note{note("stop_before_reading", engine.Caution, "")}},
		"speed_course": {Status: engine.Answered, Topics: topics(engine.TopicSpeed), Given: engine.Facts{said(engine.Distance, "", 200, "ft"), said(engine.Duration, "", 45, "s")},
			Results: []engine.Value{val(engine.Speed, "", 3.0303)}},
		"pump_too_small": {Status: engine.Refused, Problem: engine.PumpTooSmall, Topics: topics(engine.TopicFlow),
			Given:   engine.Facts{rate, wide, said(engine.Speed, "", 6, "mph"), said(engine.PumpFlow, "", 900, "gal/min")},
			Results: []engine.Value{val(engine.Flow, "", 1018.18), limit(engine.Speed, 5.3035), limit(engine.ApplicationRate, 6187.5)}},
		"rate": {Status: engine.Answered, Topics: topics(engine.TopicRate), Given: engine.Facts{said(engine.LoadVolume, "", 3000, "gal"), wide, said(engine.Distance, "", 1500, "ft")},
			Results: []engine.Value{val(engine.ApplicationRate, "", 7260)}},
		"agitation": {Status: engine.Answered, Topics: topics(engine.TopicAgitation), Given: engine.Facts{tank, pump, said(engine.Flow, "", 900, "gal/min")},
			Results: []engine.Value{val(engine.BypassFlow, "", 100), val(engine.TurnoverTime, "", 30), val(engine.MixingTime, "", 9)},
			Notes:   []engine.Note{note("poor_mixing", engine.Caution, ""), noteOf("pump_share_high", engine.Caution, engine.Flow, "", 900, 1000)}},
		"cycle": {Status: engine.Answered, Topics: topics(engine.TopicCycle),
			Given: engine.Facts{said(engine.Duration, "fill", 6, "min"), said(engine.Duration, "drive", 8, "min"), said(engine.Duration, "spread", 6, "min"), said(engine.Duration, "return", 7, "min"), said(engine.Area, "", 40, "acre")},
			Results: []engine.Value{val(engine.CycleTime, "", 27), val(engine.LoadsPerHour, "", 60.0/27), val(engine.AreaPerHour, "", 0.952), val(engine.TotalTime, "", 2520),
				val(engine.Tankers, "", 5)}},
		"depth": {Status: engine.Answered, Topics: topics(engine.TopicDepth), Given: engine.Facts{said(engine.ApplicationRate, "", 14000, "gal/acre")},
			Results: []engine.Value{val(engine.Depth, "", 14000/27154.29/12)},
			Notes:   []engine.Note{noteOf("depth_over_limit", engine.Caution, engine.ApplicationRate, "", 14000, 13000), note("local_rules", engine.Caution, "")}},
		"gate": {Status: engine.Answered, Topics: topics(engine.TopicGate), Given: engine.Facts{said(engine.Flow, "", 600, "gal/min")}, Focus: []engine.Slot{engine.GateOpening},
			Results: []engine.Value{val(engine.GateOpening, "", 3.87)}},
		"weigh": {Status: engine.Answered, Topics: topics(engine.TopicWeigh), Given: engine.Facts{said(engine.GrossWeight, "", 41200, "lb"), said(engine.TareWeight, "", 16000, "lb"), assumed(engine.Density, "", 8.4, "lb/gal")},
			Results: []engine.Value{val(engine.NetWeight, "", 25200), val(engine.LoadVolume, "", 3000)}},
		"convert": {Status: engine.Answered, Topics: topics(engine.TopicConvert), Given: engine.Facts{said(engine.Area, "", 40, "acre")},
			Results: []engine.Value{{Slot: engine.Converted, Min: 40, Max: 40, Unit: unit.Must("ha")}}},
		"convert_gallons": {Status: engine.Answered, Topics: topics(engine.TopicConvert), Given: engine.Facts{said(engine.TankVolume, "", 3000, "gal")},
			Results: []engine.Value{{Slot: engine.Converted, Min: 3000, Max: 3000, Unit: unit.Must("imp gal")}}},
	}
}

func seeds() map[string]*engine.Outcome {
	return map[string]*engine.Outcome{
		"seed_for_area": {Status: engine.Answered, Topics: topics(engine.TopicSeedForArea), Given: engine.Facts{said(engine.Area, "", 42, "acre"), said(engine.SeedRate, "cereal rye", 60, "lb/acre")},
			Results: []engine.Value{val(engine.TotalSeed, "cereal rye", 2520)}},
		"soak": {Status: engine.Answered, Topics: topics(engine.TopicSoak), Given: loadAnswer().Given, Results: loadAnswer().Results[1:], Notes: []engine.Note{soakNote}},
		"soak_no_load": {Status: engine.Answered, Topics: topics(engine.TopicSoak), Crops: []string{"flax"}, Notes: []engine.Note{note("no_presoak", engine.Caution, "flax")},
			Given: engine.Facts{said(engine.CropSaid, "flax", 0, "")}},
		"seed_lot": {Status: engine.Answered, Topics: topics(engine.TopicSeedLot), Given: engine.Facts{said(engine.SeedRate, "red clover", 10, "lb/acre"), said(engine.Purity, "red clover", 98, "%"), said(engine.Germination, "red clover", 85, "%")},
			Results: []engine.Value{val(engine.PureLiveSeed, "red clover", 0.833), val(engine.BulkSeedRate, "red clover", 12.005), val(engine.SeedsPerArea, "red clover", 63.1)}},
		"mix": {Status: engine.Answered, Topics: topics(engine.TopicMix), Given: engine.Facts{tank, rate, said(engine.SeedRate, ryegrass, 8, "lb/acre"), said(engine.SeedRate, "red clover", 4, "lb/acre"), said(engine.SeedRate, "oilseed radish", 1, "lb/acre")},
			Results: []engine.Value{val(engine.AreaPerLoad, "", 3000.0/7000), val(engine.SeedPerLoad, ryegrass, 24.0/7), val(engine.SeedPerLoad, "red clover", 12.0/7), val(engine.SeedPerLoad, "oilseed radish", 3.0/7)},
			Notes:   []engine.Note{soakNote, note("straight_in", engine.Advice, "red clover"), note("ride_together", engine.Advice, ""), note("seed_just_before", engine.Advice, "")}},
		"crop": {Status: engine.Answered, Topics: topics(engine.TopicCrop), Crops: []string{ryegrass}, Source: true,
			Results: []engine.Value{by(span(engine.UsualRate, ryegrass, 12, 20), "", "MIDWEST-T1"), span(engine.SeedingDepth, ryegrass, 0, 0.5/12), val(engine.SeedsPerWeight, ryegrass, 227000)},
			Notes:   []engine.Note{soakNote}},
		"bushels": {Status: engine.Answered, Topics: topics(engine.TopicLoad), Given: engine.Facts{tank, rate, said(engine.SeedRate, "oats", 2, "bu/acre")},
			Results: []engine.Value{val(engine.AreaPerLoad, "", 3000.0/7000), val(engine.SeedPerLoad, "oats", 192.0/7)}},
		"crop_pea": {Status: engine.Answered, Topics: topics(engine.TopicCrop), Crops: []string{"field pea"},
			Results: []engine.Value{span(engine.UsualRate, "field pea", 50, 80), span(engine.SeedingDepth, "field pea", 1.5/12, 3.0/12), span(engine.SeedsPerWeight, "field pea", 1600, 5000)},
			Notes:   []engine.Note{note("poor_fit", engine.Caution, "field pea")}},
		"samples": {Status: engine.Answered, Topics: topics(engine.TopicSamples), Given: engine.Facts{said(engine.SampleCount, "", 42, ""), said(engine.SampleCount, "", 55, ""), said(engine.SampleCount, "", 81, "")},
			Results: []engine.Value{val(engine.SampleMean, "", 59.33), val(engine.SampleCV, "", 0.334), val(engine.SampleDispersion, "", 6.62), val(engine.SampleP, "", 0.0013), val(engine.SampleK, "", 0.62)},
			Notes:   []engine.Note{note("uneven", engine.Caution, ""), note("floats_up", engine.Advice, "")}},
		"jar_low": {Status: engine.Answered, Topics: topics(engine.TopicSamples), Given: engine.Facts{said(engine.JarVolume, "", 1, "qt"), said(engine.SampleCount, "", 9, ""), said(engine.SeedRate, "winter wheat", 90, "lb/acre"), rate},
			Results: []engine.Value{span(engine.ExpectedCount, "winter wheat", 35.357, 48.214), span(engine.SeedsPerVolume, "winter wheat", 141.43, 192.86), span(engine.PercentOff, "", -0.8133, -0.7455)},
			Notes:   []engine.Note{noteOf("count_low", engine.Caution, engine.ExpectedCount, "winter wheat", 23.46, 62.1), note("do_count_low", engine.Advice, "winter wheat"), note("one_jar", engine.Advice, "")}},
		"jars_even_high": {Status: engine.Answered, Topics: topics(engine.TopicSamples), Given: engine.Facts{said(engine.JarVolume, "", 0.5, "L"), said(engine.SampleCount, "", 42, ""), said(engine.SampleCount, "", 45, ""), said(engine.SampleCount, "", 47, "")},
			Results: []engine.Value{val(engine.ExpectedCount, "cereal rye", 23.81), val(engine.SampleMean, "", 44.667), val(engine.PercentOff, "", 0.876), val(engine.SampleCV, "", 0.056), val(engine.SampleP, "", 0.87)},
			Notes:   []engine.Note{noteOf("count_high", engine.Caution, engine.ExpectedCount, "cereal rye", 18.2, 29.4), note("do_count_high", engine.Advice, "cereal rye"), note("even_off", engine.Advice, "")}},
		"unusual_rate": {Status: engine.Answered, Topics: topics(engine.TopicLoad), Given: engine.Facts{tank, rate, said(engine.SeedRate, ryegrass, 60, "lb/acre")},
			Results: []engine.Value{val(engine.AreaPerLoad, "", 3000.0/7000), val(engine.SeedPerLoad, ryegrass, 180.0/7)},
			Notes:   []engine.Note{noteOf("unusual_seed_rate", engine.Caution, engine.SeedRate, ryegrass, 60, 30), noteOf("unusual_value", engine.Caution, engine.SeedRate, ryegrass, 60, 0)}},
	}
}

func manures() map[string]*engine.Outcome {
	sheet := engine.Facts{said(engine.AnalysisTotalN, "", 31, "lb/1000gal"), said(engine.AnalysisAmmoniumN, "", 6, "lb/1000gal"), said(engine.AnalysisPhosphate, "", 15, "lb/1000gal"), said(engine.AnalysisPotash, "", 19, "lb/1000gal"), rate}
	return map[string]*engine.Outcome{
		"nutrients": {Status: engine.Answered, Topics: topics(engine.TopicNutrients), Given: sheet,
			Results: []engine.Value{val(engine.TotalN, "", 217), val(engine.AvailableN, "", 88.2), val(engine.Phosphate, "", 105), val(engine.Potash, "", 133), val(engine.TotalNPerLoad, "", 93), val(engine.PhosphatePerLoad, "", 45), val(engine.PotashPerLoad, "", 57)},
			Notes:   []engine.Note{note("availability_scheme", engine.Advice, ""), note("local_rules", engine.Caution, "")}},
		"need": {Status: engine.Answered, Topics: topics(engine.TopicNeed), Given: engine.Facts{said(engine.TargetN, "", 120, "lb/acre"), sheet[0], sheet[2]},
			Results: []engine.Value{val(engine.ApplicationRate, "", 9523.8), val(engine.Phosphate, "", 142.9)},
			Notes:   []engine.Note{noteOf("phosphate_over_need", engine.Caution, engine.Phosphate, "", 142.9, 60)}},
		"cost": {Status: engine.Answered, Topics: topics(engine.TopicCost), Given: engine.Facts{said(engine.SeedRate, ryegrass, 12, "lb/acre"), said(engine.SeedPrice, ryegrass, 0.85, "$/lb"), tank, rate},
			Results: []engine.Value{val(engine.SeedCost, ryegrass, 10.2), val(engine.SeedCostPerLoad, ryegrass, 4.3714), val(engine.NutrientValuePerVolume, "", 17.55)}},
		"safety": {Status: engine.Answered, Topics: topics(engine.TopicSafety), Info: []string{"safety_gas"}},
		"help":   {Status: engine.Answered, Topics: topics(engine.TopicHelp), Info: []string{"help"}},
		"timing": {Status: engine.Answered, Topics: topics(engine.TopicCrop), Crops: []string{"oats", "triticale"}, Timings: []engine.Timing{
			{Of: "oats", Frost: onDay(10, 10), Weeks: engine.Band{Lo: 6, Hi: 8}, From: onDay(8, 15), To: onDay(8, 29), Today: onDay(8, 28), Windows: engine.CropNamed("oats").Windows},
			{Of: "triticale", Frost: onDay(10, 10), Today: onDay(8, 28)}}},
		"practice": {Status: engine.Answered, Topics: topics(engine.TopicSafety), Info: []string{"tile", "rain"}, Notes: []engine.Note{note("local_rules", engine.Caution, "")}},
		"source":   {Status: engine.Answered, Topics: topics(engine.TopicLoad), Source: true, Results: loadAnswer().Results[:1], Given: engine.Facts{tank, rate}},
	}
}

func logs() map[string]*engine.Outcome {
	lines := []engine.LogLine{{Seq: 3, At: "13:40", Who: "Sam", Volume: 3000, Area: 3000.0 / 7000, Fraction: 1}, {Seq: 4, At: "14:15", Who: "Kim", Volume: 1500, Area: 1500.0 / 7000, Fraction: 0.5, Note: "wet corner", Cancelled: true}}
	after := []engine.Value{val(engine.LoadCount, "", 4), val(engine.AreaDone, "", 12.0/7), val(engine.AreaLeft, "", 40-12.0/7), val(engine.LoadsLeft, "", 89.33), val(engine.VolumeUsed, "", 12000), val(engine.SeedUsed, ryegrass, 20.57)}
	log := func() *engine.Summary {
		return &engine.Summary{Scope: "field", Field: "north forty", FieldArea: 40, Seq: 4, At: "14:15", Lines: []engine.LogLine{{Seq: 4, Volume: 3000, Area: 3000.0 / 7000, Fraction: 1}}}
	}
	return map[string]*engine.Outcome{
		"logged":         {Status: engine.Done, Topics: topics(engine.TopicLog), Act: engine.ActLogged, Log: log(), Results: after, Notes: []engine.Note{noteOf("rate_over_limit", engine.Caution, engine.ApplicationRate, "", 7000, 6500)}},
		"logged_nofield": {Status: engine.Done, Topics: topics(engine.TopicLog), Act: engine.ActLogged, Log: &engine.Summary{Seq: 1, Lines: lines[:1]}, Results: []engine.Value{val(engine.LoadCount, "", 1)}},
		"undone":         {Status: engine.Done, Topics: topics(engine.TopicLog), Act: engine.ActUndone, Log: log(), Results: after[:3]},
		"moved":          {Status: engine.Done, Topics: topics(engine.TopicLog), Act: engine.ActMoved, Log: log(), Results: after[:3]},
		"corrected":      {Status: engine.Done, Topics: topics(engine.TopicLog), Act: engine.ActCorrected, Log: log(), Results: after[:3]},
		"totals_today":   {Status: engine.Answered, Topics: topics(engine.TopicLog), Act: engine.ActTotals, Log: &engine.Summary{Scope: "today", Lines: lines}, Results: []engine.Value{val(engine.LoadCount, "", 2.5), val(engine.AreaDone, "", 1.07), val(engine.VolumeUsed, "", 7500)}},
		"totals_none":    {Status: engine.Answered, Topics: topics(engine.TopicLog), Act: engine.ActTotals, Log: &engine.Summary{Scope: "season"}},
		"loads_listed":   {Status: engine.Answered, Topics: topics(engine.TopicLog), Act: engine.ActLoadsListed, Log: &engine.Summary{Scope: "all", Lines: lines}, Results: []engine.Value{val(engine.LoadCount, "", 2.5), val(engine.AreaDone, "", 1.07), val(engine.VolumeUsed, "", 7500)}},
		"load_number":    {Status: engine.Done, Topics: topics(engine.TopicLog), Act: engine.ActLogged, Log: log(), Results: after, Notes: []engine.Note{noteOf("load_number", engine.Caution, engine.LoadCount, "", 5, 3)}},
		"left":           {Status: engine.Answered, Topics: topics(engine.TopicLog), Log: log(), Focus: []engine.Slot{engine.AreaLeft, engine.LoadsLeft}, Results: after},
		"fields":         {Status: engine.Answered, Topics: topics(engine.TopicLog), Act: engine.ActFieldsListed, Log: &engine.Summary{Lines: []engine.LogLine{{Field: "north forty", Fraction: 4, Area: 12.0 / 7, Volume: 12000, Total: 40}, {Field: "<i>creek", Fraction: 1, Area: 3.0 / 7, Volume: 3000}}}},
		"field_started":  {Status: engine.Done, Topics: topics(engine.TopicLog), Act: engine.ActFieldStarted, Log: &engine.Summary{Field: "north forty", FieldArea: 40}, Given: engine.Facts{said(engine.Area, "", 40, "acre")}},
		"field_closed":   {Status: engine.Done, Topics: topics(engine.TopicLog), Act: engine.ActFieldClosed, Log: &engine.Summary{Field: "north forty"}, Results: after[:2]},
	}
}

func setups() map[string]*engine.Outcome {
	runs := []engine.Run{{Opening: 3, Flow: 450}, {Opening: 4, Flow: 620, Outlet: "wide tubes"}}
	return map[string]*engine.Outcome{
		"remembered":       {Status: engine.Done, Topics: topics(engine.TopicSetup), Act: engine.ActRemembered, Given: engine.Facts{said(engine.PumpFlow, "", 1600, "gal/min")}},
		"remembered_load":  {Status: engine.Done, Topics: topics(engine.TopicSetup), Act: engine.ActRemembered, Given: engine.Facts{rate, kept(engine.TankVolume, "", 3000, "gal", 0)}, Results: []engine.Value{val(engine.AreaPerLoad, "", 3000.0/7000)}},
		"setup_shown":      {Status: engine.Answered, Topics: topics(engine.TopicSetup), Act: engine.ActSetupShown, Given: engine.Facts{kept(engine.TankVolume, "", 3000, "gal", 0), kept(engine.Width, "", 12, "ft", 1), kept(engine.SeedRate, ryegrass, 12, "lb/acre", 2)}},
		"setup_none":       {Status: engine.Answered, Topics: topics(engine.TopicSetup), Act: engine.ActSetupShown},
		"run_recorded":     {Status: engine.Done, Topics: topics(engine.TopicGate), Act: engine.ActRunRecorded, Runs: runs[1:]},
		"returns_listed":   {Status: engine.Answered, Topics: topics(engine.TopicAgitation), Act: engine.ActReturnsListed, Runs: runs, Given: engine.Facts{said(engine.PumpFlow, "", 1600, "gal/min")}},
		"runs_listed":      {Status: engine.Answered, Topics: topics(engine.TopicGate), Act: engine.ActRunsListed, Runs: runs},
		"start_set":        {Status: engine.Done, Topics: topics(engine.TopicSetup), Act: engine.ActStartSet, Started: "07:15"},
		"forgot":           {Status: engine.Done, Topics: topics(engine.TopicSetup), Act: engine.ActForgot, Subject: engine.PumpFlow, Words: []string{"forget the pump"}},
		"units_set":        {Status: engine.Done, Topics: topics(engine.TopicSetup), Act: engine.ActUnitsSet, Units: metric},
		"ask_rate":         {Status: engine.Asks, Topics: topics(engine.TopicLoad), Given: engine.Facts{tank, seed}, Missing: []engine.Slot{engine.ApplicationRate}, MissingOf: []string{""}},
		"ask_tank_metric":  {Status: engine.Asks, Topics: topics(engine.TopicLoad), Units: metric, Given: engine.Facts{said(engine.ApplicationRate, "", 45, "m3/ha")}, Missing: []engine.Slot{engine.TankVolume}},
		"ask_seed_rate":    {Status: engine.Asks, Topics: topics(engine.TopicLoad), Given: engine.Facts{tank, rate, said(engine.CropSaid, "oats", 0, "")}, Missing: []engine.Slot{engine.SeedRate}, MissingOf: []string{"oats"}, Results: []engine.Value{val(engine.AreaPerLoad, "", 3000.0/7000)}},
		"ask_spread_time":  {Status: engine.Asks, Topics: topics(engine.TopicCycle), Given: engine.Facts{said(engine.Duration, "fill", 6, "min")}, Missing: []engine.Slot{engine.Duration}, MissingOf: []string{"spread"}},
		"ask_unknown_crop": {Status: engine.Asks, Problem: engine.UnknownCrop, Words: []string{"zorg"}, Topics: topics(engine.TopicLoad), Given: engine.Facts{tank, rate}, Results: []engine.Value{val(engine.AreaPerLoad, "", 3000.0/7000)}},
	}
}

func talks() map[string]*engine.Outcome {
	return map[string]*engine.Outcome{
		"greeting":       {Status: engine.Answered, Topics: topics(engine.TopicHelp), Act: engine.ActGreeting},
		"frost_set":      {Status: engine.Done, Topics: topics(engine.TopicSetup), Act: engine.ActFrostSet, Words: []string{"10-10"}},
		"limit_set":      {Status: engine.Done, Topics: topics(engine.TopicSetup), Act: engine.ActLimitSet, Given: engine.Facts{said(engine.ApplicationRate, "", 9000, "gal/acre")}},
		"heard":          {Heard: "my pump gives <sixteen hundred> gallons a minute", Status: engine.Done, Topics: topics(engine.TopicSetup), Act: engine.ActRemembered, Given: engine.Facts{said(engine.PumpFlow, "", 1600, "gal/min")}},
		"speak_on":       {Status: engine.Done, Topics: topics(engine.TopicSetup), Act: engine.ActSpeakOn},
		"first_of_day":   {Status: engine.Done, Topics: topics(engine.TopicSetup), Act: engine.ActRemembered, Given: engine.Facts{tank}, Notes: []engine.Note{note("gas", engine.Danger, ""), note("road", engine.Caution, ""), note("stop_before_reading", engine.Caution, "")}},
		"nothing_at_all": {},
	}
}

func onDay(month time.Month, day int) time.Time {
	return time.Date(2026, month, day, 9, 0, 0, 0, time.UTC)
}
