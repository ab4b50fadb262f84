package phrases

import (
	"encoding/xml"
	"flag"
	unescape "html"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"tankside/engine"
)

var update = flag.Bool("update", false, "rewrite the golden files; read the diff line by line")

// problems gives each code an outcome as its cause would make it.
func problems() map[string]*engine.Outcome {
	out := make(map[string]*engine.Outcome)
	for _, code := range engine.Problems {
		out[code] = &engine.Outcome{Status: engine.Refused, Problem: code}
	}
	tankOrRate := []engine.Choice{{Slot: engine.ApplicationRate, Unit: rate.Unit, Min: 7000, Max: 7000}, {Slot: engine.TankVolume, Unit: tank.Unit, Min: 7000, Max: 7000}}
	set := func(code string, o engine.Outcome) { o.Problem = code; out[code] = &o }
	set(engine.Ambiguous, engine.Outcome{Status: engine.Asks, Choices: tankOrRate})
	set(engine.ConflictCode, engine.Outcome{Status: engine.Asks, Conflict: []engine.Slot{engine.Speed, engine.Flow}, Given: engine.Facts{rate, said(engine.Width, "", 12, "ft"), said(engine.Speed, "", 6, "mph"), said(engine.Flow, "", 500, "gal/min")}})
	set(engine.Vague, engine.Outcome{Status: engine.Asks, Words: []string{"a few"}, Given: engine.Facts{rate}})
	set(engine.UnknownCrop, engine.Outcome{Status: engine.Asks, Words: []string{"zorg"}, Given: engine.Facts{tank}})
	set(engine.RyeOrRyegrass, engine.Outcome{Status: engine.Asks, Given: engine.Facts{tank, rate}})
	set(engine.UnknownUnit, engine.Outcome{Status: engine.Asks, Words: []string{"12 hogsheads"}})
	set(engine.AmbiguousUnit, engine.Outcome{Status: engine.Asks, Words: []string{"2 t"}, Choices: []engine.Choice{{Word: "2 tons"}, {Word: "2 tonnes"}}})
	set(engine.WrongUnit, engine.Outcome{Status: engine.Asks, Words: []string{"3000 acres"}, Missing: []engine.Slot{engine.TankVolume}})
	set(engine.NumberForm, engine.Outcome{Status: engine.Asks, Words: []string{"three oh five"}, Choices: []engine.Choice{{Word: "305"}, {Word: "3.05"}}})
	set(engine.WhichOfTwo, engine.Outcome{Status: engine.Asks, Words: []string{"6000/8000"}, Choices: []engine.Choice{{Slot: engine.ApplicationRate, Unit: rate.Unit, Min: 6000, Max: 6000}, {Slot: engine.ApplicationRate, Unit: rate.Unit, Min: 8000, Max: 8000}}})
	set(engine.LooseNumber, engine.Outcome{Status: engine.Asks, Words: []string{"17"}, Given: engine.Facts{tank}})
	set(engine.Absurd, engine.Outcome{Status: engine.Refused, Missing: []engine.Slot{engine.TankVolume}, Given: engine.Facts{said(engine.TankVolume, "", 3e6, "gal"), rate}})
	set(engine.NotPositive, engine.Outcome{Status: engine.Refused, Missing: []engine.Slot{engine.ApplicationRate}, Given: engine.Facts{tank}, Words: []string{"0 per acre"}})
	set(engine.ConfirmUnusual, engine.Outcome{Status: engine.Asks, Missing: []engine.Slot{engine.TankVolume}, Given: engine.Facts{said(engine.TankVolume, "", 30000, "gal")}})
	set(engine.PumpTooSmall, *flows()["pump_too_small"])
	set(engine.Extrapolation, engine.Outcome{Status: engine.Refused, Focus: []engine.Slot{engine.Flow}, Given: engine.Facts{said(engine.Flow, "", 950, "gal/min")}})
	set(engine.Negated, engine.Outcome{Status: engine.Asks, Words: []string{"not 7000"}})
	set(engine.NoLoad, engine.Outcome{Status: engine.Refused, Words: []string{"9"}})
	set(engine.NoField, engine.Outcome{Status: engine.Refused, Words: []string{"back forty"}})
	set(engine.RunsContradict, engine.Outcome{Status: engine.Refused, Runs: []engine.Run{{Opening: 3, Flow: 620}, {Opening: 4, Flow: 500}}})
	set(engine.WhichField, engine.Outcome{Status: engine.Asks, Choices: []engine.Choice{{Word: "north forty"}, {Word: "north creek"}}})
	set(engine.OldFact, engine.Outcome{Status: engine.Asks, Missing: []engine.Slot{engine.TankVolume}, Given: engine.Facts{kept(engine.TankVolume, "", 3000, "gal", 4)}})
	set(engine.NotKnown, engine.Outcome{Status: engine.Asks, Missing: []engine.Slot{engine.PumpFlow}})
	set(engine.OverFull, engine.Outcome{Status: engine.Refused, Missing: []engine.Slot{engine.LoadVolume}, Given: engine.Facts{said(engine.LoadVolume, "", 3500, "gal"), tank}})
	set(engine.ConfirmHeard, engine.Outcome{Status: engine.Asks, Words: []string{"log to loads"}})
	set(engine.CannotConvert, engine.Outcome{Status: engine.Refused, Missing: []engine.Slot{engine.Area}, Given: engine.Facts{said(engine.Area, "", 40, "acre")}})
	return out
}

func TestGolden(t *testing.T) {
	if n := len(answers()); n < 40 {
		t.Fatalf("only %d answers", n)
	}
	for _, lang := range Languages() {
		for name, o := range answers() {
			golden(t, filepath.Join("answers", lang, name), lang, o)
		}
		for code, o := range problems() {
			golden(t, filepath.Join("problems", lang, code), lang, o)
		}
	}
}

func golden(t *testing.T, name, lang string, o *engine.Outcome) {
	t.Helper()
	path := filepath.Join("..", "testdata", name+".golden")
	got := Text(lang, o) + "\n-- spoken --\n" + Spoken(lang, o) + "\n"
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s:\n got: %s\nwant: %s", name, got, want)
	}
}

// TestGoldenFilesAllUsed finds golden files that no case makes.
func TestGoldenFilesAllUsed(t *testing.T) {
	known := map[string]bool{}
	for name := range answers() {
		known["answers/"+name] = true
	}
	for code := range problems() {
		known["problems/"+code] = true
	}
	for _, kind := range []string{"answers", "problems"} {
		found, err := filepath.Glob(filepath.Join("..", "testdata", kind, "*", "*.golden"))
		if err != nil || len(found) == 0 {
			t.Fatalf("no golden files in %s: %v", kind, err)
		}
		for _, path := range found {
			if name := kind + "/" + strings.TrimSuffix(filepath.Base(path), ".golden"); !known[name] {
				t.Errorf("no case for %s", path)
			}
		}
	}
}

var notForTheEar = regexp.MustCompile(`[^\p{L}\p{M} ,.?!']`)

// checkForms holds a rendering to what every one must keep.
func checkForms(t *testing.T, name, lang string, o *engine.Outcome) {
	t.Helper()
	a := Say(lang, o)
	if bad := notForTheEar.FindString(a.Spoken); bad != "" {
		t.Errorf("%s %s: %q in spoken: %s", lang, name, bad, a.Spoken)
	}
	if strings.Contains(a.Spoken, "  ") || strings.Contains(a.Spoken, " ,") || strings.Contains(a.Spoken, " .") || strings.Contains(a.Spoken, ",,") {
		t.Errorf("%s %s: bad spacing in spoken: %q", lang, name, a.Spoken)
	}
	for _, line := range strings.Split(a.Text, "\n") {
		if strings.Contains(line, "  ") || strings.TrimSpace(line) != line || strings.Contains(line, "{") {
			t.Errorf("%s %s: bad spacing: %q", lang, name, line)
		}
	}
	if strings.Contains(a.Text, "NaN") || strings.Contains(a.Text, "Inf") || strings.Contains(a.Text, "%!") {
		t.Errorf("%s %s: %s", lang, name, a.Text)
	}
	checkHTML(t, name, a)
}

// checkHTML parses the HTML and compares its text with the plain form.
func checkHTML(t *testing.T, name string, a Answer) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader("<r>" + a.HTML + "</r>"))
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("%s: HTML does not parse: %v\n%s", name, err, a.HTML)
		}
	}
	bare := unescape.UnescapeString(strings.NewReplacer("<b>", "", "</b>", "").Replace(a.HTML))
	if bare != a.Text {
		t.Errorf("%s: HTML says %q, plain %q", name, bare, a.Text)
	}
}

func TestForms(t *testing.T) {
	for _, lang := range Languages() {
		for name, o := range answers() {
			checkForms(t, name, lang, o)
		}
		for code, o := range problems() {
			checkForms(t, code, lang, o)
		}
	}
}

func TestNotEmpty(t *testing.T) {
	for _, lang := range Languages() {
		for code, o := range problems() {
			if Text(lang, o) == "" || Spoken(lang, o) == "" {
				t.Errorf("%s %s says nothing", lang, code)
			}
		}
	}
}

// TestTogether renders from many goroutines at once; it is for -race.
func TestTogether(t *testing.T) {
	var wg sync.WaitGroup
	o := loadAnswer()
	want := Say("es", o)
	for range 8 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for range 50 {
				if Say("es", o) != want {
					t.Error("two renderings differ")
				}
			}
		}()
	}
	wg.Wait()
}

func TestUnknownLanguageIsEnglish(t *testing.T) {
	if Text("xx", loadAnswer()) != Text("en", loadAnswer()) {
		t.Error("not English")
	}
}
