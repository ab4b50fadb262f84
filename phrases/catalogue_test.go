package phrases

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"tankside/engine"
	"tankside/engine/unit"
)

func TestNoGaps(t *testing.T) {
	for _, gap := range Gaps() {
		t.Error(gap)
	}
}

// TestSamePlaceholders holds each text to the placeholders of its English twin,
// so that no language leaves a number out.
func TestSamePlaceholders(t *testing.T) {
	english := catalogue["en"]
	for _, code := range Languages()[1:] {
		for section, texts := range english.texts {
			for name, text := range texts {
				other := catalogue[code].texts[section][name]
				if other == nil {
					continue // TestNoGaps says so
				}
				if a, b := text.shown.uses, other.shown.uses; a != b {
					t.Errorf("%s %s.%s: placeholders differ from English", code, section, name)
				}
			}
		}
	}
}

// awkward are the numbers that wording breaks on.
var awkward = []float64{0, 1, 2, 0.5, 1.5, 21, 100, 101, 999.96, 1000, 21000, 1e6, 1234567.891, 0.0004, 1e-9, 1e15, 1e22, 12.999, -3}

// TestEveryTextWithAwkwardNumbers renders every text of every language.
func TestEveryTextWithAwkwardNumbers(t *testing.T) {
	o := &engine.Outcome{Given: engine.Facts{tank, rate}, Conflict: []engine.Slot{engine.TankVolume, engine.Speed},
		Choices: []engine.Choice{{Slot: engine.Width, Unit: unit.Must("ft"), Min: 1, Max: 1}, {Word: "a <b>"}}, Words: []string{"7 & 8"}}
	for _, lang := range Languages() {
		for section, texts := range catalogue[lang].texts {
			for name, text := range texts {
				for _, v := range awkward {
					a := amount{min: v, max: v, unit: unit.Must("lb/acre")}
					x := params{a: a, b: a, c: a, n: v, m: v, crop: ryegrass, word: "12 <x> & \"y\"", other: "3/4", field: "N° 7", who: "Sam", at: "2:15",
						slot: engine.PumpFlow, unit: unit.Must("lb/1000gal")}
					sayInAllForms(t, lang, section+"."+name, text, &x, o)
				}
			}
		}
	}
}

func sayInAllForms(t *testing.T, lang, name string, text *text, x *params, o *engine.Outcome) {
	t.Helper()
	var out [3]string
	for f := range out {
		p := page{lang: languageNamed(lang), form: form(f), o: o}
		p.say(text, x)
		p.finish()
		out[f] = string(p.buf)
	}
	if bad := notForTheEar.FindString(out[spoken]); bad != "" {
		t.Errorf("%s %s: %q for the ear in %q", lang, name, bad, out[spoken])
	}
	if strings.ContainsAny(out[plain], "{}") {
		t.Errorf("%s %s: %q", lang, name, out[plain])
	}
	checkHTML(t, name, Answer{Text: out[plain], HTML: out[html]})
}

// TestEverySlot renders each quantity as a result, a bound, a given value and a
// question, in every system of units.
func TestEverySlot(t *testing.T) {
	systems := []engine.Units{{}, {System: unit.Imperial}, metric, {System: unit.Metric, Litres: true}}
	for _, lang := range Languages() {
		for _, s := range engine.Slots() {
			for _, units := range systems {
				for _, v := range awkward {
					v = math.Abs(v)
					u := units.UnitFor(s)
					for _, o := range []*engine.Outcome{
						{Status: engine.Answered, Units: units, Results: []engine.Value{val(s, ryegrass, v), span(s, "", v, 2*v+1), limit(s, v)}},
						{Status: engine.Answered, Units: units, Given: engine.Facts{{Slot: s, Of: ryegrass, Min: v, Max: v, Unit: u, Implied: true}, {Slot: s, Min: v, Max: v + 1, Unit: u, Origin: engine.Assumed, About: true}}},
						{Status: engine.Asks, Units: units, Missing: []engine.Slot{s}, MissingOf: []string{ryegrass}},
					} {
						checkForms(t, s.String(), lang, o)
					}
				}
			}
		}
	}
}

func TestEveryUnit(t *testing.T) {
	for _, lang := range Languages() {
		for _, u := range unit.All() {
			if u.Symbol == "" {
				continue
			}
			for _, v := range awkward {
				o := &engine.Outcome{Status: engine.Answered, Results: []engine.Value{{Slot: engine.Converted, Min: u.ToBase(v), Max: u.ToBase(v), Unit: u}}}
				checkForms(t, u.Symbol, lang, o)
			}
			if one, many := UnitWord(lang, u, 1), UnitWord(lang, u, 2); one == "" || many == "" || notForTheEar.MatchString(one+many) {
				t.Errorf("%s %s: %q %q", lang, u.Symbol, one, many)
			}
		}
	}
}

func TestEveryNoteActAndInfo(t *testing.T) {
	for _, lang := range Languages() {
		for _, id := range engine.NoteIDs {
			bare := note(id, engine.Caution, ryegrass)
			full := noteOf(id, engine.Caution, engine.ApplicationRate, ryegrass, 7000, 6000)
			for _, n := range []engine.Note{bare, full} {
				o := &engine.Outcome{Status: engine.Answered, Notes: []engine.Note{n}}
				checkForms(t, id, lang, o)
				if n == bare && strings.Contains(Text(lang, o), " 0") {
					t.Errorf("%s: note %s without numbers says %q", lang, id, Text(lang, o))
				}
			}
		}
		for _, act := range engine.Acts {
			for _, l := range []*engine.Summary{nil, {}, {Field: "N° 7", Seq: 2, At: "2:05", Lines: []engine.LogLine{{Seq: 2, Volume: 1, Area: 1}}}} {
				checkForms(t, act, lang, &engine.Outcome{Status: engine.Done, Act: act, Log: l, Given: engine.Facts{tank}, Started: "07:15"})
			}
		}
		for _, key := range engine.InfoKeys {
			checkForms(t, key, lang, &engine.Outcome{Status: engine.Answered, Info: []string{key}})
		}
		for _, c := range engine.Crops() {
			checkForms(t, c.Name, lang, &engine.Outcome{Status: engine.Answered, Topics: topics(engine.TopicCrop), Crops: []string{c.Name}, Source: true,
				Results: []engine.Value{by(val(engine.UsualRate, c.Name, 12), "", c.Drilled.Source)}})
		}
	}
}

func TestEverySourceIsCited(t *testing.T) {
	for _, lang := range Languages() {
		for _, s := range engine.Sources() {
			checkForms(t, s.Key, lang, &engine.Outcome{Status: engine.Answered, Source: true, Results: []engine.Value{by(val(engine.Speed, "", 3), "", s.Key)}})
		}
	}
}

// TestEveryFormulaIsWorded reads the formulas out of the engine's source: each is
// made of quantities, numbers and signs, or has words of its own.
func TestEveryFormulaIsWorded(t *testing.T) {
	files, err := filepath.Glob("../engine/*.go")
	if err != nil || len(files) == 0 {
		t.Fatal("no engine", err)
	}
	written := regexp.MustCompile(`Formula\{"([^"]+)"`)
	word := regexp.MustCompile(`[\p{L}_²]+`)
	found := 0
	for _, name := range files {
		source, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range written.FindAllStringSubmatch(string(source), -1) {
			found++
			if catalogue["en"].texts["expr"][m[1]] != nil {
				continue
			}
			for _, w := range word.FindAllString(m[1], -1) {
				if engine.SlotNamed(w) == engine.NoSlot {
					t.Errorf("formula %q: no words for %q; add expr.%s", m[1], w, m[1])
				}
			}
		}
	}
	if found < 20 {
		t.Errorf("only %d formulas found", found)
	}
}

// TestStepsInMetric: the line of values must be right as it stands, in the units
// of the chat.
func TestStepsInMetric(t *testing.T) {
	o := &engine.Outcome{Status: engine.Answered, Topics: topics(engine.TopicFlow), Units: metric, Show: true,
		Given:   engine.Facts{said(engine.ApplicationRate, "", 13, "m3/ha"), said(engine.Speed, "", 6, "km/h"), said(engine.Width, "", 4.9, "m")},
		Results: []engine.Value{by(val(engine.Flow, "", 637/3.785411784), "application_rate × speed × width ÷ 495", "EXACT")}}
	if got, want := Text("en", o), "13,000 L/ha × 6 km/h × 4.9 m ÷ 600 = 637 L/min"; !strings.Contains(got, want) {
		t.Errorf("got %s\nwant %s", got, want)
	}
	o.Results = []engine.Value{by(val(engine.ApplicationRate, "", 13*106.90663), "flow × 495 ÷ (speed × width)", "EXACT")}
	o.Given[0] = said(engine.Flow, "", 637, "L/min")
	if got, want := Text("en", o), "637 L/min × 600 ÷ (6 km/h × 4.9 m) = 13,000 L/ha = 13 m³/ha"; !strings.Contains(got, want) {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

// TestMetricNeverMeetsAGallon: a metric chat reads no US unit that nobody said.
func TestMetricNeverMeetsAGallon(t *testing.T) {
	foreign := regexp.MustCompile(`(?i)\b(gal|gallons?|galon(es)?|galones|gpm|acres?|lb|libras?|mph|feet|pies|ft|°F)\b`)
	check := func(lang, name string, o *engine.Outcome) {
		o.Units = metric
		for _, s := range []string{Text(lang, o), Spoken(lang, o)} {
			if bad := foreign.FindString(s); bad != "" {
				t.Errorf("%s %s: %q in %s", lang, name, bad, s)
			}
		}
	}
	for _, lang := range Languages() {
		for _, key := range engine.InfoKeys {
			check(lang, key, &engine.Outcome{Status: engine.Answered, Info: []string{key}})
		}
		for _, code := range engine.Problems {
			if code != engine.UnknownUnit { // names units of every system on purpose
				check(lang, code, &engine.Outcome{Status: engine.Refused, Problem: code})
			}
		}
		for _, act := range engine.Acts {
			check(lang, act, &engine.Outcome{Status: engine.Done, Act: act})
		}
		for _, s := range engine.Slots() {
			check(lang, s.String(), &engine.Outcome{Status: engine.Answered, Results: []engine.Value{val(s, ryegrass, 3)}})
			check(lang, s.String(), &engine.Outcome{Status: engine.Asks, Missing: []engine.Slot{s}})
		}
		for _, c := range engine.Crops() {
			check(lang, c.Name, &engine.Outcome{Status: engine.Answered, Topics: topics(engine.TopicCrop), Crops: []string{c.Name}, Results: []engine.Value{val(engine.UsualRate, c.Name, 12)}})
		}
	}
}
