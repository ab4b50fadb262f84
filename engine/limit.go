package engine

import (
	"slices"

	"tankside/engine/unit"
)

// Rule is one line of limits.csv: a published figure, shown as an example that
// local code overrides.
type Rule struct {
	Kind, Texture string
	From, To      float64 // per cent of the soil's water room that is full
	Value         float64 // base units of Unit
	Unit          *unit.Unit
	Cite
}

// The kinds of rule that answers lean on.
const (
	RuleSoilRoom = "soil_room"
	RuleTileCap  = "tile_cap"
)

var limits = readLimits()

func readLimits() []Rule {
	var out []Rule
	for _, r := range readTable("limits.csv") {
		u := unit.Must(r.text("unit"))
		v, _ := r.number("value")
		from, _ := r.number("moisture_from")
		to, _ := r.number("moisture_to")
		out = append(out, Rule{r.text("kind"), r.text("texture"), from, to, u.ToBase(v), u, r.cite("source")})
	}
	return out
}

// Rules lists every published limit, in the order of the table.
func Rules() []Rule { return limits }

// Soils lists the textures of the soil-room table.
func Soils() []string {
	var out []string
	for _, r := range limits {
		if r.Kind == RuleSoilRoom && !slices.Contains(out, r.Texture) {
			out = append(out, r.Texture)
		}
	}
	return out
}

// moistures names the steps of the soil-room table, driest first.
var moistures = []string{"dry", "slightly_moist", "moist", "wet"}

// Moistures lists the steps of soil moisture, driest first: up to a quarter, half,
// three quarters, all of the soil's water room full.
func Moistures() []string { return moistures }

// SoilRoomFor returns the slurry that brings the top 8 inches of a soil to all the
// water that it holds. ok is false for a texture or moisture the table lacks.
//
// Source: OSU-ANR21, figures from memory. Worked example: testdata/worked/limits.txt.
func SoilRoomFor(texture, moisture string) (unit.VolumePerArea, Cite, bool) {
	step := slices.Index(moistures, moisture)
	for _, r := range limits {
		if r.Kind == RuleSoilRoom && r.Texture == texture && step >= 0 && r.From == float64(step)*25 {
			return unit.VolumePerArea(r.Value), r.Cite, true
		}
	}
	return 0, Cite{}, false
}

// TileCap returns the most that is advised in one pass on drained land, whatever
// the soil's room: a ceiling, not a target.
//
// Source: OH-SWCD. Worked example: testdata/worked/limits.txt.
func TileCap() (unit.VolumePerArea, Cite) {
	i := slices.IndexFunc(limits, func(r Rule) bool { return r.Kind == RuleTileCap })
	return unit.VolumePerArea(limits[i].Value), limits[i].Cite
}
