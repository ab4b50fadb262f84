package engine

import "strings"

// SeedKind is how a seed behaves in a slurry tank.
type SeedKind string

// The kinds of seed.
const (
	Floats  SeedKind = "floats" // light, traps air: wet it first
	Mixes   SeedKind = "mixes"  // small and dense: straight in with the pump running
	Large   SeedKind = "large"  // sinks fast; check the smallest passage
	PoorFit SeedKind = "poor"   // does not suit tubes or soaking
)

// Crop is one line of crops.csv. Bands are in the trade's units: seeds a pound,
// pounds an acre, inches, °F, pounds a bushel, days.
type Crop struct {
	Name string // as in the answer contract
	Kind SeedKind
	Hull bool // hull or shape holds air: between floating and sinking

	Seeds      Band // in a pound
	Drilled    Band
	Broadcast  Band
	SeedDepth  Band
	MinSoil    Band
	TestWeight Band
	Emergence  Band
	FrostWeeks Band    // weeks wanted ahead of a hard frost
	Bushel     float64 // the standard test weight; 0: none published

	Winter    string // key of how it takes winter
	Inoculant string // rhizobium group; empty: none
	Cautions  []string
	KindBy    Cite
	WinterBy  Cite
	Windows   []Window
}

// Window is a published seeding time. From and To are month-day.
type Window struct {
	From, To, Place string
	Cite
}

var (
	allCrops   = readCrops()
	cropByName = byKey(allCrops, func(c *Crop) string { return c.Name })
)

func readCrops() []*Crop {
	windows := make(map[string][]Window)
	for _, r := range readTable("windows.csv") {
		windows[r.text("crop")] = append(windows[r.text("crop")],
			Window{r.text("from"), r.text("to"), r.text("place"), r.cite("source")})
	}
	var out []*Crop
	for _, r := range readTable("crops.csv") {
		c := &Crop{Name: r.text("name"), Kind: SeedKind(r.text("kind")), Hull: r.text("hull") == "yes",
			Seeds: r.band("seeds"), Drilled: r.band("drill"), Broadcast: r.band("broad"), SeedDepth: r.band("depth"),
			MinSoil: r.band("soil"), TestWeight: r.band("bu"), Emergence: r.band("emerge"), FrostWeeks: r.band("frost_weeks"),
			Winter: r.text("winter"), Inoculant: r.text("inoculant"), Cautions: strings.Fields(r.text("cautions")),
			KindBy: r.cite("kind_src"), WinterBy: r.cite("winter_src"), Windows: windows[r.text("name")]}
		c.Bushel, _ = r.number("bu")
		out = append(out, c)
	}
	return out
}

// CropNamed finds a crop by its name in the contract; nil when there is none.
func CropNamed(name string) *Crop { return cropByName[name] }

// Crops lists every crop in the order of the table.
func Crops() []*Crop { return allCrops }

// HighestRate is the highest published rate, drilled or broadcast.
func (c *Crop) HighestRate() float64 { return max(c.Drilled.Hi, c.Broadcast.Hi) }

// Wet says whether the seed is better wetted before it goes in.
func (c *Crop) Wet() bool { return c.Kind == Floats }
