package phrases

import (
	"math"

	"tankside/engine"
	"tankside/engine/unit"
)

// digits says how many decimals a value gets: below 10, below 100, and from there
// on. A value that would keep fewer than two digits keeps two, so that nothing
// small is shown as zero. Trailing zeros are not shown.
type digits struct{ small, middle, large int8 }

// direction says which way to round; a bound goes to its safe side.
type direction int8

const (
	near direction = iota
	down
	up
)

// decimalsOf is the rounding policy by the unit shown: what the scale, the meter
// or the monitor in front of the driver can show. Common practice, no source.
var decimalsOf = map[string]digits{
	"":    {2, 2, 1},
	"gal": {1, 0, 0}, "imp gal": {1, 0, 0}, "qt": {2, 1, 0}, "pt": {2, 1, 0}, "imp qt": {2, 1, 0}, "imp pt": {2, 1, 0}, "mL": {0, 0, 0}, "L": {1, 0, 0}, "m3": {2, 1, 1}, "ft3": {1, 0, 0}, "bu": {2, 1, 0},
	"acre": {2, 2, 2}, "ha": {2, 2, 2}, "ft2": {1, 0, 0}, "m2": {1, 0, 0},
	"lb": {2, 1, 0}, "kg": {2, 1, 0}, "oz": {1, 1, 0}, "g": {0, 0, 0}, "ton": {2, 2, 1}, "long ton": {2, 2, 1}, "t": {2, 2, 1}, "stone": {1, 1, 0},
	"ft": {1, 1, 0}, "in": {2, 1, 0}, "yd": {1, 1, 0}, "mi": {2, 1, 0}, "m": {1, 1, 0}, "cm": {1, 1, 0}, "mm": {1, 1, 0}, "km": {2, 1, 0},
	"min": {1, 1, 0}, "s": {1, 0, 0}, "h": {1, 1, 0}, "day": {1, 0, 0},
	"mph": {1, 1, 1}, "km/h": {1, 1, 1}, "ft/min": {0, 0, 0}, "ft/s": {1, 1, 1}, "m/s": {2, 1, 1},
	"gal/min": {1, 0, 0}, "gal/h": {0, 0, 0}, "imp gal/min": {1, 0, 0}, "L/min": {1, 0, 0}, "L/s": {1, 1, 0}, "m3/h": {1, 1, 0}, "m3/min": {2, 1, 0},
	"gal/acre": {1, 0, 0}, "imp gal/acre": {1, 0, 0}, "L/ha": {0, 0, 0}, "m3/ha": {1, 1, 0}, "gal/ha": {1, 0, 0}, "imp gal/ha": {1, 0, 0},
	"L/acre": {0, 0, 0}, "m3/acre": {1, 1, 0},
	"lb/acre": {1, 1, 0}, "kg/ha": {1, 1, 0}, "lb/ha": {1, 1, 0}, "kg/acre": {1, 1, 0}, "bu/acre": {2, 1, 0}, "t/ha": {2, 2, 1},
	"lb/1000gal": {1, 1, 0}, "lb/1000imp gal": {1, 1, 0}, "lb/gal": {2, 2, 1}, "kg/m3": {2, 1, 0}, "kg/L": {2, 2, 1}, "g/L": {2, 1, 0},
	"lb/ton": {1, 1, 0}, "kg/t": {1, 1, 0}, "ppm": {0, 0, 0},
	"%": {1, 0, 0}, "1/h": {1, 1, 0}, "acre/h": {2, 1, 0}, "ha/h": {2, 1, 0},
	"seeds/ft2": {1, 0, 0}, "seeds/m2": {0, 0, 0}, "seeds/gal": {1, 0, 0}, "seeds/imp gal": {1, 0, 0}, "seeds/L": {1, 0, 0},
	"seeds/lb": {0, 0, 0}, "seeds/kg": {0, 0, 0}, "°F": {0, 0, 0}, "°C": {1, 1, 0},
	"$": {2, 2, 2}, "$/acre": {2, 2, 2}, "$/ha": {2, 2, 2}, "$/lb": {2, 2, 2}, "$/kg": {2, 2, 2}, "$/1000gal": {2, 2, 2}, "$/m3": {2, 2, 2},
	"$/gal": {4, 4, 4}, "$/L": {4, 4, 4}, "$/imp gal": {4, 4, 4}, "$/1000imp gal": {2, 2, 2}, "$/h": {2, 2, 2},
}

// directionOf is the other half of the policy: quantities that are not rounded to
// the nearest. Whole loads never round up to one that is not there; pails,
// tankers and stirring time never down to too few.
var directionOf = map[engine.Slot]direction{
	engine.FullLoads: down, engine.Pails: up, engine.Tankers: up, engine.MixingTime: up, engine.SampleK: near,
}

// decimalsOfSlot are the quantities that the unit alone does not settle.
var decimalsOfSlot = map[engine.Slot]digits{
	engine.Converted: {3, 2, 1}, // the number itself was asked for
	engine.LoadsLeft: {1, 1, 0}, engine.SampleMean: {1, 1, 0}, engine.ExpectedCount: {1, 0, 0}, engine.PureLiveSeed: {1, 1, 1},
	engine.TotalN: nutrient, engine.AmmoniumN: nutrient, engine.OrganicN: nutrient, engine.AvailableN: nutrient, engine.Phosphate: nutrient, engine.Potash: nutrient,
	engine.TotalNPerLoad: nutrient, engine.AmmoniumNPerLoad: nutrient, engine.OrganicNPerLoad: nutrient, engine.AvailableNPerLoad: nutrient,
	engine.PhosphatePerLoad: nutrient, engine.PotashPerLoad: nutrient,
}

var nutrient = digits{1, 0, 0} // no lab and no spreader is finer

// rounded gives v, in unit u, as it is shown.
func rounded(s engine.Slot, u *unit.Unit, v float64, limit bool) float64 {
	d, ok := decimalsOf[symbolOf(u)]
	if !ok {
		d = digits{2, 2, 1}
	}
	if own, ok := decimalsOfSlot[s]; ok {
		d = own
	}
	way := near
	if limit {
		way = down
	} else if u == nil || u.Dim == unit.None || u.Dim == unit.DimTime {
		way = directionOf[s]
	}
	return roundTo(v, d, way)
}

func roundTo(v float64, d digits, way direction) float64 {
	size, n := math.Abs(v), int(d.large)
	switch {
	case size < 10:
		n = int(d.small)
	case size < 100:
		n = int(d.middle)
	}
	for n < 12 && size > 0 && size*math.Pow10(n) < 9.5 {
		n++
	}
	p := math.Pow10(n)
	const slack = 1e-9 // keeps 3 from becoming 2.9 when it is 2.9999999999
	switch x := v * p; {
	case math.IsInf(x, 0):
		return v
	case way == down:
		return math.Floor(x+slack*math.Max(1, math.Abs(x))) / p
	case way == up:
		return math.Ceil(x-slack*math.Max(1, math.Abs(x))) / p
	default:
		return math.Round(x) / p
	}
}

// asSaid rounds only the noise away: what people said is shown as they said it.
func asSaid(v float64) float64 { return roundTo(v, digits{4, 3, 3}, near) }

func symbolOf(u *unit.Unit) string {
	if u == nil {
		return ""
	}
	return u.Symbol
}
