package record

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// The kinds of item that a set-up can hold: a plain quantity, one of a crop, a
// field, a run of the gate.
const (
	kindPlain = ""
	kindCrop  = "crop"
	kindField = "field"
	kindGate  = "gate"
)

// setupItem is what an item's word stands for.
type setupItem struct {
	kind string
	slot engine.Slot
	of   string
}

// setupItems are the items by the words that people write in the first column, in
// both languages, and by the names of the quantities.
var setupItems = func() map[string]setupItem {
	items := map[string]setupItem{}
	add := func(item setupItem, words ...string) {
		for _, w := range words {
			items[w] = item
		}
	}
	add(setupItem{kind: kindField, slot: engine.Area}, "field", "campo", "potrero", "lote")
	add(setupItem{kind: kindGate, slot: engine.Flow}, "gate", "gate run", "compuerta")
	add(setupItem{kind: kindCrop, slot: engine.SeedRate}, "seed", "seed rate", "seed_rate", "semilla", "dosis de semilla")
	add(setupItem{kind: kindCrop, slot: engine.SeedPrice}, "seed price", "seed_price", "precio de semilla")
	add(setupItem{kind: kindCrop, slot: engine.Purity}, "purity", "pureza")
	add(setupItem{kind: kindCrop, slot: engine.Germination}, "germination", "germinacion")
	for part, words := range map[string][]string{"fill": {"fill", "llenado"}, "drive": {"drive", "drive out", "ida"}, "spread": {"spread", "aplicacion", "esparcido"},
		"return": {"return", "drive back", "regreso"}} {
		add(setupItem{slot: engine.Duration, of: part}, words...)
	}
	for slot, words := range map[engine.Slot][]string{
		engine.TankVolume: {"tank", "tanque"}, engine.ApplicationRate: {"rate", "dosis"}, engine.PumpFlow: {"pump", "bomba"}, engine.Flow: {"flow", "caudal"},
		engine.Width: {"width", "ancho"}, engine.Speed: {"speed", "velocidad"}, engine.HeelVolume: {"heel", "fondo"}, engine.Density: {"density", "densidad"},
		engine.TareWeight: {"tare", "tara"}, engine.PailVolume: {"pail", "cubeta"}, engine.JarVolume: {"jar", "frasco"}, engine.TargetN: {"target n"}, engine.TargetPhosphate: {"target phosphate"},
		engine.AnalysisTotalN: {"total n", "n total"}, engine.AnalysisAmmoniumN: {"ammonium n", "n amoniacal"}, engine.AnalysisOrganicN: {"organic n", "n organico"},
		engine.AnalysisPhosphate: {"phosphate", "fosfato"}, engine.AnalysisPotash: {"potash", "potasa"}, engine.AnalysisAvailableN: {"available n", "n disponible"},
		engine.AnalysisPhosphorus: {"phosphorus", "fosforo"}, engine.AnalysisPotassium: {"potassium", "potasio"}, engine.TargetPhosphorus: {"target phosphorus"},
		engine.LimitN: {"n limit", "limite de n"}, engine.LimitPhosphate: {"phosphate limit", "limite de fosfato"}, engine.LimitPhosphorus: {"phosphorus limit"},
		engine.NPrice: {"n price"}, engine.PhosphatePrice: {"phosphate price"}, engine.PotashPrice: {"potash price"},
	} {
		add(setupItem{slot: slot}, append(words, slot.String())...)
	}
	return items
}()

// unitWords are units as people write them beside the table's own symbols.
var unitWords = map[string]string{
	"gallon": "gal", "gallons": "gal", "galon": "gal", "galones": "gal", "us gal": "gal", "l": "L", "litre": "L", "liter": "L", "litres": "L", "liters": "L", "litros": "L",
	"m³": "m3", "gpa": "gal/acre", "gal/ac": "gal/acre", "gallons per acre": "gal/acre", "galones por acre": "gal/acre", "l/ha": "L/ha", "m³/ha": "m3/ha",
	"gpm": "gal/min", "gallons per minute": "gal/min", "galones por minuto": "gal/min", "l/min": "L/min",
	"acres": "acre", "ac": "acre", "hectare": "ha", "hectares": "ha", "hectarea": "ha", "hectareas": "ha",
	"lbs": "lb", "pounds": "lb", "libras": "lb", "lb/ac": "lb/acre", "lbs/acre": "lb/acre", "lbs/ac": "lb/acre", "kilos": "kg",
	"feet": "ft", "foot": "ft", "pies": "ft", "metros": "m", "minutes": "min", "minutos": "min", "hours": "h", "horas": "h", "kmh": "km/h", "kph": "km/h",
	"lb/1000 gal": "lb/1000gal", "lb/kgal": "lb/1000gal", "kg/m³": "kg/m3", "percent": "%", "dollar/lb": "$/lb",
}

// unitFor finds a unit by its symbol or its words, of the quantity's kind. An
// imperial gallon has to be named as one.
func unitFor(text string, slot engine.Slot) (*unit.Unit, string) {
	if text == "" {
		return nil, "the unit is missing"
	}
	u := unit.Find(text)
	if u == nil {
		if symbol, ok := unitWords[plain(text)]; ok {
			u = unit.Find(symbol)
		} else {
			u = unit.Find(plain(text))
		}
	}
	switch {
	case u == nil:
		return nil, fmt.Sprintf("no unit is called %q", text)
	case u.Symbol == "bu" || u.Symbol == "bu/acre" && slot != engine.SeedRate:
		return nil, "bushels have to be turned into pounds"
	case u.Dim != slot.Dim() && !byWeight(u, slot):
		return nil, fmt.Sprintf("%q does not measure this", text)
	}
	return u, ""
}

// byWeight: lab sheets also give their values by weight.
func byWeight(u *unit.Unit, slot engine.Slot) bool {
	return slot.Dim() == unit.DimMassPerVolume && (u.Dim == unit.DimMassPerMass || u.Dim == unit.DimFraction) && slot != engine.Density
}

// amount reads a line's value and unit.
func amount(l *setupLine, slot engine.Slot) (float64, *unit.Unit, string) {
	if l.value == "" {
		return 0, nil, "the value is missing"
	}
	v, trouble := numberIn(l.value)
	if trouble != "" {
		return 0, nil, trouble
	}
	u, trouble := unitFor(l.unit, slot)
	return v, u, trouble
}

var (
	grouped   = regexp.MustCompile(`^\d{1,3}(,\d{3})+(\.\d+)?$`)
	twoWays   = regexp.MustCompile(`^\d{1,3}\.\d{3}$`)
	commaTail = regexp.MustCompile(`^\d+,\d+$`)
)

// numberIn reads a number as people here write it. One that can be read in two ways
// is refused.
func numberIn(text string) (float64, string) {
	switch {
	case grouped.MatchString(text):
		text = strings.ReplaceAll(text, ",", "")
	case twoWays.MatchString(text):
		return 0, fmt.Sprintf("%q can be read in two ways: write it without a point for thousands", text)
	case commaTail.MatchString(text):
		return 0, fmt.Sprintf("%q: write decimals with a point", text)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, fmt.Sprintf("%q is no number", text)
	}
	return v, ""
}
