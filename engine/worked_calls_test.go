package engine

import (
	"strconv"

	"tankside/engine/unit"
)

// calls are the functions that worked examples may name: arguments in base units
// in, the result in base units out.
var calls = map[string]func(e *example) (float64, error){
	"AreaOfLoad":      two(AreaOfLoad),
	"VolumeForArea":   two(VolumeForArea),
	"PartOfTank":      two(PartOfTank),
	"FreshVolume":     two(FreshVolume),
	"RunOf":           two(RunOf),
	"StripArea":       two(StripArea),
	"RateOver":        two(RateOver),
	"FlowFor":         three(FlowFor),
	"RateFor":         three(RateFor),
	"SpeedFor":        three(SpeedFor),
	"WidthFor":        three(WidthFor),
	"CourseSpeed":     two(CourseSpeed),
	"SpeedToFix":      three(SpeedToFix),
	"TimeToUnload":    two(TimeToUnload),
	"MeasuredFlow":    two(MeasuredFlow),
	"BypassOf":        two(BypassOf),
	"TurnoverOf":      two(TurnoverOf),
	"TimeToMix":       two(TimeToMix),
	"MixedAfter":      one(MixedAfter),
	"TurnoversUntil":  three(TurnoversUntil),
	"PumpAt":          three(PumpAt),
	"SeedStillInTank": two(SeedStillInTank),
	"SeedLeaving":     two(SeedLeaving),
	"SeedFor":         two(SeedFor),
	"AreaForSeed":     two(AreaForSeed),
	"LiveShare":       three(LiveShare),
	"BulkRate":        two(BulkRate),
	"LiveRate":        two(LiveRate),
	"Uncoated":        one(Uncoated),
	"SeedsOnGround":   two(SeedsOnGround),
	"SeedsInSlurry":   three(SeedsInSlurry),
	"SeedInSlurry":    two(SeedInSlurry),
	"BushelWeight":    two(BushelWeight),
	"ShareOfRate":     two(ShareOfRate),
	"SeedVolume":      two(SeedVolume),
	"PailsFor":        three(PailsFor),
	"WaterFor":        three(WaterFor),
	"LoadsFor":        two(LoadsFor),
	"LoadsOver":       two(LoadsOver),
	"LoadsEachHour":   one(LoadsEachHour),
	"AreaEachHour":    two(AreaEachHour),
	"TimeFor":         two(TimeFor),
	"TankersFor":      two(TankersFor),
	"CrewLoads":       three(CrewLoads),
	"PaceOf":          three(PaceOf),
	"TimeLeft":        two(TimeLeft),
	"FieldCapacity":   three(FieldCapacity),
	"NutrientOn":      two(NutrientOn),
	"NutrientIn":      two(NutrientIn),
	"PhosphateFrom":   one(PhosphateFrom),
	"PotashFrom":      one(PotashFrom),
	"RateForNeed":     two(RateForNeed),
	"DepthOf":         one(DepthOf),
	"RateOfDepth":     one(RateOfDepth),
	"NetOf":           two(NetOf),
	"VolumeOf":        two(VolumeOf),
	"WeightOf":        two(WeightOf),
	"CostPerArea":     two(CostPerArea),
	"ValuePerVolume":  two(ValuePerVolume),
	"BagsOf":          two(BagsOf),
	"HourlyPerArea":   two(HourlyPerArea),
	"LoadPerArea":     two(LoadPerArea),
	"HaulPerArea":     two(HaulPerArea),
	"PriceOfNutrient": two(PriceOfNutrient),

	"WholeLoads": func(e *example) (float64, error) {
		full, _, err := WholeLoads(e.given[0].base())
		return full, err
	},
	"CycleOf": func(e *example) (float64, error) {
		var parts []unit.Time
		for _, q := range e.given {
			parts = append(parts, unit.Time(q.base()))
		}
		c, err := CycleOf(parts...)
		return float64(c), err
	},
	"Left": func(e *example) (float64, error) {
		_, n, err := Left(unit.Area(e.given[0].base()), unit.Area(e.given[1].base()), unit.VolumePerArea(e.given[2].base()), unit.Volume(e.given[3].base()))
		return n, err
	},
	"Convert": func(e *example) (float64, error) {
		v, err := Convert(e.given[0].v, e.given[0].u, e.given[1].u)
		return e.given[1].u.ToBase(v), err
	},
	"TileCap": func(*example) (float64, error) {
		r, _ := TileCap()
		return float64(r), nil
	},
	"SoilRoomFor": func(e *example) (float64, error) {
		r, _, ok := SoilRoomFor(e.named[0], e.named[1])
		if !ok {
			return 0, &Problem{Code: Absurd}
		}
		return float64(r), nil
	},
	"RunOfLoad": func(e *example) (float64, error) {
		a, err := AreaOfLoad(unit.Volume(e.given[0].base()), unit.VolumePerArea(e.given[1].base()))
		if err != nil {
			return 0, err
		}
		d, err := RunOf(a, unit.Length(e.given[2].base()))
		return float64(d), err
	},
	"RateOverStrip": func(e *example) (float64, error) {
		a, err := StripArea(unit.Length(e.given[1].base()), unit.Length(e.given[2].base()))
		if err != nil {
			return 0, err
		}
		r, err := RateOver(unit.Volume(e.given[0].base()), a)
		return float64(r), err
	},
	"NeedDepth": func(e *example) (float64, error) {
		r, err := RateForNeed(unit.MassPerArea(e.given[0].base()), unit.MassPerVolume(e.given[1].base()))
		if err != nil {
			return 0, err
		}
		d, err := DepthOf(r)
		return float64(d), err
	},
	"DepthVolume": func(e *example) (float64, error) {
		r, err := RateOfDepth(unit.Length(e.given[0].base()))
		if err != nil {
			return 0, err
		}
		v, err := VolumeForArea(unit.Area(e.given[1].base()), r)
		return float64(v), err
	},
	"ManureValue": func(e *example) (sum float64, err error) {
		for i := range 3 {
			v, err := ValuePerVolume(unit.MassPerVolume(e.given[i].base()), unit.MoneyPerMass(e.given[3+i].base()))
			if err != nil {
				return 0, err
			}
			sum += float64(v)
		}
		return sum, nil
	},
	"Available": func(e *example) (float64, error) {
		hours, err := strconv.ParseFloat(e.named[3], 64)
		if err != nil {
			return 0, err
		}
		s, ok := SharesFor(e.named[0], e.named[1], e.named[2], hours)
		if !ok {
			return 0, &Problem{Code: Absurd}
		}
		v, err := AvailableIn(unit.MassPerVolume(e.given[0].base()), unit.MassPerVolume(e.given[1].base()), unit.MassPerVolume(e.given[2].base()), s)
		return float64(v), err
	},
	"CropBushel": func(e *example) (float64, error) { return CropNamed(e.named[0]).Bushel, nil },
	"CropDepth": func(e *example) (float64, error) {
		return inch.ToBase(CropNamed(e.named[0]).SeedDepth.Hi), nil
	},
	"SpreadCV": func(e *example) (float64, error) {
		var counts []float64
		for _, q := range e.given {
			counts = append(counts, q.v)
		}
		s, err := SpreadOf(counts)
		return float64(s.CV), err
	},
	"JarOfSlurry": func(e *example) (float64, error) {
		s, err := SeedsInSlurry(unit.Mass(e.given[0].base()), unit.CountPerMass(e.given[1].base()), unit.Volume(e.given[2].base()))
		if err != nil {
			return 0, err
		}
		return SeedsInJar(s, unit.Volume(e.given[3].base()))
	},
	"ChanceLow": func(e *example) (float64, error) {
		lo, _, err := ChanceBounds(e.given[0].v)
		return lo, err
	},
	"ChanceHigh": func(e *example) (float64, error) {
		_, hi, err := ChanceBounds(e.given[0].v)
		return hi, err
	},
	"CountAgainst": func(e *example) (float64, error) {
		v, err := CountAgainst(e.given[0].v, e.given[1].v, e.given[2].v)
		return float64(v), err
	},
	"GateFlow": func(e *example) (float64, error) {
		c, err := NewCurve([]Run{{Opening: e.given[0].v, Flow: e.given[1].base()}, {Opening: e.given[2].v, Flow: e.given[3].base()}})
		if err != nil {
			return 0, err
		}
		return c.FlowAt(e.given[4].v)
	},
	"GateOpening": func(e *example) (float64, error) {
		c, err := NewCurve([]Run{{Opening: e.given[0].v, Flow: e.given[1].base()}, {Opening: e.given[2].v, Flow: e.given[3].base()}})
		if err != nil {
			return 0, err
		}
		return c.OpeningFor(e.given[4].base())
	},
}

// composed names the functions behind a call that is not one function's name.
var composed = map[string][]string{
	"RunOfLoad":     {"AreaOfLoad", "RunOf"},
	"RateOverStrip": {"StripArea", "RateOver"},
	"NeedDepth":     {"RateForNeed", "DepthOf"},
	"DepthVolume":   {"RateOfDepth", "VolumeForArea"},
	"ManureValue":   {"ValuePerVolume"},
	"Available":     {"SharesFor", "AvailableIn"},
	"CropBushel":    {"CropNamed"},
	"CropDepth":     {"CropNamed"},
	"SpreadCV":      {"SpreadOf"},
	"JarOfSlurry":   {"SeedsInSlurry", "SeedsInJar"},
	"ChanceLow":     {"ChanceBounds"},
	"ChanceHigh":    {"ChanceBounds"},
	"GateFlow":      {"NewCurve", "Curve.FlowAt"},
	"GateOpening":   {"NewCurve", "Curve.OpeningFor"},
}

func one[A, R ~float64](f func(A) (R, error)) func(*example) (float64, error) {
	return func(e *example) (float64, error) {
		r, err := f(A(e.given[0].base()))
		return float64(r), err
	}
}

func two[A, B, R ~float64](f func(A, B) (R, error)) func(*example) (float64, error) {
	return func(e *example) (float64, error) {
		r, err := f(A(e.given[0].base()), B(e.given[1].base()))
		return float64(r), err
	}
}

func three[A, B, C, R ~float64](f func(A, B, C) (R, error)) func(*example) (float64, error) {
	return func(e *example) (float64, error) {
		r, err := f(A(e.given[0].base()), B(e.given[1].base()), C(e.given[2].base()))
		return float64(r), err
	}
}

// noExample lists exported functions without a worked example, each with why.
var noExample = map[string]string{
	"Measured":           "says how a flow was come by; tested through the chat",
	"FlowOfMark":         "a run or Curve.FlowAt; gate_test.go",
	"SameMarks":          "a length in another unit; gate_test.go",
	"Returns":            "BypassOf for each run; gate_test.go",
	"SplitRuns":          "sorts facts into gate runs and the rest; tested through the chat",
	"PastSpan":           "a calendar, tested in season_test.go",
	"Answer":             "the question layer; tested topic by topic in answer_test.go",
	"Follows":            "the question layer; answer_test.go",
	"Usual":              "reads the table of bands; plausible_test.go",
	"Plausible":          "judges against the table of bands; plausible_test.go",
	"RunsIn":             "picks facts; done_test.go",
	"LoadDone":           "AreaOfLoad and SeedFor over a chat's facts; done_test.go",
	"Contradiction":      "compares runs; done_test.go",
	"SlotNamed":          "a name look-up",
	"Slots":              "a listing",
	"Crops":              "a listing",
	"Sources":            "a listing",
	"SourceNamed":        "a name look-up",
	"Manures":            "a listing",
	"ManureNamed":        "a name look-up",
	"Schemes":            "a listing",
	"Methods":            "a listing",
	"Rules":              "a listing",
	"Soils":              "a listing",
	"Moistures":          "a listing",
	"Band.Known":         "says whether there is a value",
	"Crop.HighestRate":   "the greater of two table values; plausible_test.go",
	"Crop.Wet":           "reads the kind",
	"Crop.SeedBy":        "calendar arithmetic; timing_test.go",
	"Crop.TooCold":       "compares with a table value; timing_test.go",
	"Window.Days":        "calendar arithmetic; timing_test.go",
	"Tally.Plus":         "a sum; day_test.go",
	"DaySeries.Summed":   "a running sum; series_test.go",
	"DaySeries.Pace":     "PaceOf over a day's loads; series_test.go",
	"DaySeries.Wanted":   "a line; series_test.go",
	"Curve.Line":         "Curve.FlowAt in steps; series_test.go",
	"ChanceBand":         "held against the Poisson sum term by term; series_test.go",
	"Spread.Uneven":      "compares with a constant; answer_test.go",
	"TankSeries.Through": "TurnoversUntil and MixedAfter in steps; series_test.go",
	"Seasons":            "a listing",
	"SeasonSpan":         "calendar arithmetic; season_test.go",
	"LastSeason":         "calendar arithmetic; season_test.go",
	"ThisSeason":         "calendar arithmetic; season_test.go",
	"Fact.Range":         "compares two numbers",
	"Fact.Base":          "goes through the unit table, which is checked against GNU units",
	"Facts.Find":         "a look-up",
	"Facts.First":        "a look-up",
	"Facts.Of":           "a look-up",
	"Origin.String":      "a name",
	"Slot.String":        "a name",
	"Slot.Dim":           "a table look-up",
	"Slot.MarshalText":   "a name",
	"Slot.UnmarshalText": "a name",
	"Units.UnitFor":      "a table look-up; unit choice is tested with the wording",
	"Problem.Error":      "text for logs",
}
