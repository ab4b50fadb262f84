package unit

import (
	"fmt"
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// gnu is each unit as GNU units writes it. Seeds and money have no unit there, so
// only what they are counted by is checked.
var gnu = map[string]string{
	"gal": "gallon", "qt": "quart", "pt": "pint", "mL": "milliliter", "imp qt": "brquart", "imp pt": "brpint", "imp gal": "brgallon", "L": "liter", "m3": "m^3", "ft3": "ft^3", "bu": "bushel",
	"acre": "intacre", "ha": "hectare", "ft2": "ft^2", "m2": "m^2",
	"lb": "lb", "oz": "oz", "ton": "shortton", "long ton": "longton", "stone": "stone", "kg": "kg", "g": "g", "t": "tonne",
	"ft": "ft", "in": "inch", "yd": "yard", "mi": "mile", "m": "m", "cm": "cm", "mm": "mm", "km": "km",
	"min": "minute", "s": "second", "h": "hour", "day": "day",
	"mph": "mile/hour", "km/h": "km/hour", "ft/min": "ft/minute", "ft/s": "ft/second", "m/s": "m/second",
	"gal/min": "gallon/minute", "gal/h": "gallon/hour", "imp gal/min": "brgallon/minute", "L/min": "liter/minute",
	"L/s": "liter/second", "m3/h": "m^3/hour", "m3/min": "m^3/minute",
	"gal/acre": "gallon/intacre", "imp gal/acre": "brgallon/intacre", "L/ha": "liter/hectare", "m3/ha": "m^3/hectare",
	"gal/ha": "gallon/hectare", "L/acre": "liter/intacre", "m3/acre": "m^3/intacre", "imp gal/ha": "brgallon/hectare",
	"lb/acre": "lb/intacre", "oz/acre": "oz/intacre", "stone/acre": "stone/intacre", "ton/acre": "shortton/intacre",
	"lb/ha": "lb/hectare", "kg/ha": "kg/hectare", "g/ha": "g/hectare", "kg/acre": "kg/intacre", "t/ha": "tonne/hectare", "g/m2": "g/m^2",
	"lb/1000gal": "lb/(1000 gallon)", "lb/1000imp gal": "lb/(1000 brgallon)", "lb/gal": "lb/gallon", "kg/m3": "kg/m^3",
	"g/L": "g/liter", "kg/L": "kg/liter", "mg/L": "mg/liter",
	"lb/ton": "lb/shortton", "kg/t": "kg/tonne", "ppm": "mg/kg", "%": "percent",
	"1/h": "1/hour", "acre/h": "intacre/hour", "ha/h": "hectare/hour",
	"seeds/ft2": "1/ft^2", "seeds/m2": "1/m^2", "seeds/gal": "1/gallon", "seeds/imp gal": "1/brgallon", "seeds/L": "1/liter",
	"seeds/lb": "1/lb", "seeds/kg": "1/kg",
	"$": "1", "$/acre": "1/intacre", "$/ha": "1/hectare", "$/lb": "1/lb", "$/kg": "1/kg", "$/ton": "1/shortton", "$/t": "1/tonne",
	"$/1000gal": "1/(1000 gallon)", "$/m3": "1/m^3", "": "1",
	"$/gal": "1/gallon", "$/L": "1/liter", "$/imp gal": "1/brgallon", "$/1000imp gal": "1/(1000 brgallon)", "$/h": "1/hour",
}

// notGNU are units that GNU units cannot check, each with why.
var notGNU = map[string]string{
	"bu/acre": "its weight is the crop's",
	"°F":      "not a factor; checked in TestTemperature",
	"°C":      "not a factor; checked in TestTemperature",
}

// Every pair of units of a kind, against GNU units.
func TestAgainstGNUUnits(t *testing.T) {
	program, err := exec.LookPath("units")
	if err != nil {
		t.Fatal("the program units (GNU units) is missing: run .ci/setup")
	}
	var from, to []*Unit
	var ask strings.Builder
	for _, a := range All() {
		for _, b := range All() {
			if a.Dim != b.Dim || gnu[a.Symbol] == "" || gnu[b.Symbol] == "" {
				continue
			}
			from, to = append(from, a), append(to, b)
			fmt.Fprintf(&ask, "%s\n%s\n", gnu[a.Symbol], gnu[b.Symbol])
		}
	}
	// -1 -d 17: the factor alone, with all its digits. One process for the grid.
	cmd := exec.Command(program, "--quiet", "--terse", "--one-line", "--digits", "17")
	cmd.Stdin = strings.NewReader(ask.String())
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Fields(string(text))
	if len(lines) != len(from) {
		t.Fatalf("%d answers to %d questions", len(lines), len(from))
	}
	for i, a := range from {
		want, err := strconv.ParseFloat(lines[i], 64)
		if err != nil {
			t.Fatalf("%s in %s: %v", a.Symbol, to[i].Symbol, err)
		}
		if got := to[i].FromBase(a.ToBase(1)); !near(got, want) {
			t.Errorf("1 %s is %.15g %s, GNU units says %.15g", a.Symbol, got, to[i].Symbol, want)
		}
	}
}

func TestEveryUnitIsChecked(t *testing.T) {
	seen := map[string]bool{}
	for _, u := range All() {
		if seen[u.Symbol] {
			t.Errorf("two units %q", u.Symbol)
		}
		seen[u.Symbol] = true
		if (gnu[u.Symbol] == "") == (notGNU[u.Symbol] == "") {
			t.Errorf("unit %q is to be checked against GNU units or to have a reason not to be", u.Symbol)
		}
		if Find(u.Symbol) != u || u.Base <= 0 {
			t.Errorf("unit %q: not found, or no factor", u.Symbol)
		}
	}
}

func TestTemperature(t *testing.T) {
	c := Must("°C")
	for celsius, fahrenheit := range map[float64]float64{0: 32, 100: 212, -40: -40, 10: 50} {
		if got := c.ToBase(celsius); !near(got, fahrenheit) {
			t.Errorf("%g °C is %g °F, want %g", celsius, got, fahrenheit)
		}
		if got := c.FromBase(fahrenheit); math.Abs(got-celsius) > 1e-9 {
			t.Errorf("%g °F is %g °C, want %g", fahrenheit, got, celsius)
		}
	}
}

func TestRoundTrip(t *testing.T) {
	for _, u := range All() {
		for _, v := range []float64{1e-6, 0.1, 1, 7000, 3.3e7} {
			if got := u.FromBase(u.ToBase(v)); !near(got, v) && math.Abs(got-v) > 1e-12*math.Max(v, math.Abs(u.Offset)) {
				t.Errorf("%g %s comes back as %g", v, u.Symbol, got)
			}
		}
		text, err := u.MarshalText()
		var back Unit
		if err != nil || back.UnmarshalText(text) != nil || back != *u {
			t.Errorf("unit %q does not survive being stored", u.Symbol)
		}
	}
	if new(Unit).UnmarshalText([]byte("furlong")) == nil {
		t.Error("an unknown unit was read")
	}
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Max(math.Abs(a), math.Abs(b)) }
