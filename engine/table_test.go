package engine

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"tankside/engine/unit"
)

func areaOf(v float64) unit.Area { return unit.Area(v) }

// contractCrops are the names that the answer contract promises.
const contractCrops = `annual ryegrass, perennial ryegrass, festulolium, cereal rye, winter wheat, oats, barley, triticale, red clover,
white clover, crimson clover, berseem clover, alsike clover, alfalfa, hairy vetch, oilseed radish, turnip, rapeseed, mustard, buckwheat,
sorghum-sudangrass, phacelia, field pea, sunflower, flax, orchardgrass, tall fescue, timothy`

func TestCropsOfTheContract(t *testing.T) {
	want := strings.Split(strings.ReplaceAll(contractCrops, "\n", " "), ", ")
	if len(want) != len(Crops()) {
		t.Errorf("%d crops in the table, %d in the contract", len(Crops()), len(want))
	}
	for _, name := range want {
		if CropNamed(strings.TrimSpace(name)) == nil {
			t.Errorf("no crop %q", name)
		}
	}
}

// sane are the widest values that a column may hold.
var sane = map[string][2]float64{"seeds": {1000, 2e6}, "drilled": {1, 200}, "broadcast": {1, 200}, "depth": {0, 4},
	"soil": {30, 70}, "bushel": {10, 65}, "emergence": {2, 30}, "frost weeks": {2, 12}}

func TestCropTable(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Crops() {
		if seen[c.Name] {
			t.Errorf("%s twice", c.Name)
		}
		seen[c.Name] = true
		if !contains([]string{string(Floats), string(Mixes), string(Large), string(PoorFit)}, string(c.Kind)) {
			t.Errorf("%s: kind %q", c.Name, c.Kind)
		}
		checkCite(t, c.Name, c.KindBy)
		checkCite(t, c.Name, c.WinterBy)
		bands := map[string]Band{"seeds": c.Seeds, "drilled": c.Drilled, "broadcast": c.Broadcast, "depth": c.SeedDepth,
			"soil": c.MinSoil, "bushel": c.TestWeight, "emergence": c.Emergence, "frost weeks": c.FrostWeeks}
		for name, b := range bands {
			if !b.Known() {
				continue
			}
			checkCite(t, c.Name+" "+name, Cite{b.Source, b.Confidence})
			if b.Lo > b.Hi || b.Lo < sane[name][0] || b.Hi > sane[name][1] {
				t.Errorf("%s: %s is %g to %g", c.Name, name, b.Lo, b.Hi)
			}
		}
		for name, b := range map[string]Band{"seeds": c.Seeds, "drilled": c.Drilled, "depth": c.SeedDepth, "emergence": c.Emergence} {
			if !b.Known() {
				t.Errorf("%s: no %s", c.Name, name)
			}
		}
		if c.TestWeight.Known() && (c.Bushel < c.TestWeight.Lo || c.Bushel > c.TestWeight.Hi) {
			t.Errorf("%s: a bushel of %g is outside %v", c.Name, c.Bushel, c.TestWeight)
		}
		for _, w := range c.Windows {
			checkCite(t, c.Name+" window", w.Cite)
			if w.From >= w.To || w.Place == "" {
				t.Errorf("%s: window %v", c.Name, w)
			}
		}
	}
}

func checkCite(t *testing.T, what string, c Cite) {
	t.Helper()
	s := SourceNamed(c.Source)
	if s == nil {
		t.Errorf("%s: no source %q", what, c.Source)
		return
	}
	if !contains([]string{"H", "M", "L"}, c.Confidence) {
		t.Errorf("%s: confidence %q", what, c.Confidence)
	}
	if s.Status == "memory" && c.Confidence == "H" {
		t.Errorf("%s: high confidence in %s, which was not read", what, c.Source)
	}
}

func TestOtherTables(t *testing.T) {
	for _, m := range Manures() {
		checkCite(t, m.Kind, m.Cite)
		if m.Ammonium > m.TotalN || m.TotalN <= 0 || m.TotalN > 100 || m.Phosphate > 80 || m.Potash > 80 {
			t.Errorf("%s: %+v", m.Kind, m)
		}
		if ManureNamed(m.Kind) != m {
			t.Errorf("%s: not found by name", m.Kind)
		}
	}
	for _, s := range shares {
		checkCite(t, s.scheme+" "+s.class+" "+s.method, s.Cite)
		if s.Total > 1 || s.Kept > 1 || s.Ammonium > 1 || s.Organic > 1 || s.Whole == (s.Organic > 0) || !contains(Methods(), s.method) {
			t.Errorf("%s %s %s: %+v", s.scheme, s.class, s.method, s.Shares)
		}
	}
	for _, r := range Rules() {
		checkCite(t, r.Kind+" "+r.Texture, r.Cite)
		if r.Value <= 0 || r.Unit == nil {
			t.Errorf("%s %s: %g", r.Kind, r.Texture, r.Value)
		}
	}
	if len(Soils()) != 4 || len(Moistures()) != 4 {
		t.Errorf("soils %v, moistures %v", Soils(), Moistures())
	}
	for _, soil := range Soils() {
		for _, m := range Moistures() {
			if _, _, ok := SoilRoomFor(soil, m); !ok {
				t.Errorf("no room for %s, %s", soil, m)
			}
		}
	}
}

// Two-step and whole-method schemes answer for every delay; nothing falls between
// two rows.
func TestSharesCoverEveryDelay(t *testing.T) {
	for _, scheme := range Schemes() {
		for _, class := range []string{"dairy", "swine"} {
			if _, ok := SharesFor(scheme, class, MethodSurface, 0); !ok {
				t.Errorf("%s says nothing of %s left on top", scheme, class)
			}
			last := unit.Fraction(2)
			for _, hours := range []float64{0, 0.5, 1, 6, 12, 12.5, 24, 30, 36, 48, 72, 96, 108, 120, 156, 200, 1000} {
				if scheme == "iowa" && hours > 24 {
					continue // its table has no later row
				}
				s, ok := SharesFor(scheme, class, MethodIncorporated, hours)
				share := s.Total*s.Kept + s.Ammonium
				if !ok || share > last {
					t.Errorf("%s, %s, %g hours: %v, %g after %g", scheme, class, hours, ok, share, last)
				}
				last = share
			}
		}
	}
	if _, ok := SharesFor("own:0.7:0.3", "", MethodSurface, 0); !ok {
		t.Error("a scheme set by hand was not read")
	}
	for _, bad := range []string{"own:", "own:a:b", "own:2:0.3", "own:0.5", "nobody"} {
		if _, ok := SharesFor(bad, "", MethodSurface, 0); ok {
			t.Errorf("scheme %q was read", bad)
		}
	}
}

var cited = regexp.MustCompile(`"([A-Z][A-Z0-9]+(?:-[A-Z0-9]+)*)"`)

// Every source is cited somewhere: by a table, a formula or a worked example.
func TestSourcesAreUsed(t *testing.T) {
	used := map[string]bool{}
	var all strings.Builder
	for _, file := range []string{"crops.csv", "windows.csv", "manure.csv", "availability.csv", "limits.csv"} {
		b, err := files.ReadFile("tables/" + file)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(b)
	}
	for _, key := range regexp.MustCompile(`([A-Z][A-Z0-9]+(?:-[A-Z0-9]+)*)/[HML]`).FindAllStringSubmatch(all.String(), -1) {
		used[key[1]] = true
	}
	for _, e := range readExamples(t) {
		used[e.source] = true
	}
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		b, err := os.ReadFile(e.Name())
		if err != nil {
			t.Fatal(err)
		}
		for _, key := range cited.FindAllStringSubmatch(string(b), -1) {
			used[key[1]] = true
		}
	}
	seen := map[string]bool{}
	for _, s := range Sources() {
		if seen[s.Key] {
			t.Errorf("source %s twice", s.Key)
		}
		seen[s.Key] = true
		if !used[s.Key] {
			t.Errorf("source %s is not used", s.Key)
		}
		if s.Title == "" || s.Status != "read" && s.Status != "memory" || (s.Status == "read") != (s.Address != "" && s.Seen != "") && s.Key != "OSU-ANR21" {
			t.Errorf("source %s: title, status, address or date", s.Key)
		}
	}
}
