package record

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"tankside/bot"
	"tankside/engine"
)

const aSetup = `item,name,value,unit
tank,,"3,000",gal
rate,,7000,gal/acre
seed,annual ryegrass,12,lb/acre
seed,Oats,40,lbs/ac
pump,,1600,gpm
width,,12,ft
fill,,10,min
field,north forty,38.5,acre
field,"creek, lower",12,acres

gate,4,620,gpm
gate,2,300,gal/min
total n,,25,lb/1000gal
`

func TestReadSetup(t *testing.T) {
	for name, text := range map[string]string{"commas": aSetup, "from a spreadsheet": "\ufeff" + strings.ReplaceAll(aSetup, "\n", "\r\n")} {
		s, err := ReadSetup(strings.NewReader(text), false)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if len(s.Facts) != 8 || len(s.Fields) != 2 || len(s.Runs) != 2 {
			t.Fatalf("%s: %+v", name, s)
		}
		if f := s.Facts.Find(engine.SeedRate, "oats"); f == nil || f.Min != 40 || f.Unit.Symbol != "lb/acre" {
			t.Errorf("%s: oats %+v", name, f)
		}
		if s.Fields[1].Name != "creek, lower" || s.Fields[1].Area != 12 || s.Runs[0] != (engine.Run{Opening: 4, Flow: 620}) {
			t.Errorf("%s: %+v", name, s)
		}
	}
}

func TestReadSetupInSpanish(t *testing.T) {
	s, err := ReadSetup(strings.NewReader("unidad;valor;nombre;dato\nL;12000;;tanque\nhectáreas;4.5;cañada;campo\nkg/ha;14;ballico anual;semilla\n"), false)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Facts) != 2 || s.Facts[1].Of != "annual ryegrass" || s.Fields[0].Name != "cañada" || s.Fields[0].Area < 11.1 || s.Fields[0].Area > 11.2 {
		t.Errorf("%+v", s)
	}
}

func TestSetupTrouble(t *testing.T) {
	const heads = "item,name,value,unit\n"
	for text, want := range map[string]string{
		"":                                       "line 1: there are no headings",
		"item,name,value\n":                      `line 1: the heading "unit" is missing`,
		"item,name,value,unit,unit\n":            `line 1: the heading "unit" is there twice`,
		"item,name,value,unit,colour\n":          `line 1: no heading is called "colour"`,
		heads:                                    "nothing in it",
		heads + "tonk,,3000,gal":                 `line 2: no item is called "tonk"`,
		heads + "tank,,,gal":                     "line 2: the value is missing",
		heads + "tank,,3000,":                    "line 2: the unit is missing",
		heads + "tank,,3000,galoons":             `line 2: no unit is called "galoons"`,
		heads + "tank,,3000,acre":                `line 2: "acre" does not measure this`,
		heads + "tank,,3.000,gal":                `line 2: "3.000" can be read in two ways`,
		heads + `tank,,"3000,5",gal`:             `line 2: "3000,5": write decimals with a point`,
		heads + "tank,,=1+1,gal":                 `line 2: "=1+1" is no number`,
		heads + "tank,,NaN,gal":                  `line 2: "NaN" is no number`,
		heads + "tank,,0,gal":                    "line 2: 0: it has to be more than zero",
		heads + "tank,,-5,gal":                   "line 2: -5: it has to be more than zero",
		heads + "tank,,40000,gal":                "line 2: 40000 gal is unusual for tank",
		heads + "tank,,9000000,gal":              "line 2: 9000000 gal cannot be right for tank",
		heads + "tank,big,3000,gal":              `line 2: tank has no name: "big"`,
		heads + "tank,,3,000,gal":                "line 2: it has 5 cells",
		heads + "tank,,3000,gal\ntank,,4000,gal": "line 3: tank  is on line 2 already",
		heads + "seed,,12,lb/acre":               `line 2: no crop is called ""`,
		heads + "seed,weeds,12,lb/acre":          `line 2: no crop is called "weeds"`,
		heads + "field,,12,acre":                 "line 2: the field has no name",
		heads + "field," + strings.Repeat("x", 61) + ",12,acre": "line 2: the name is longer than 60",
		heads + "field,\"a\nb\",12,acre\ntonk,,1,gal":           "line 4: no item",
		heads + "gate,,620,gpm":                                 "line 2: the gate's mark goes under name",
		heads + "tank,,3000,gal\nfield,\"x,12,acre\n":           "line 3: the quotes do not match",
		heads + "tank,,\xff,gal":                                "not UTF-8",
		strings.Repeat("x", mostBytes+5):                        "longer than a set-up",
		heads + strings.Repeat("tank,,3000,gal\n", 2100):        "more than 2000 lines",
	} {
		_, err := ReadSetup(strings.NewReader(text), false)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.60q: %.200v, want %s", text, err, want)
		}
	}
	// every line that is wrong is named, with its number
	_, err := ReadSetup(strings.NewReader(heads+"tonk,,1,gal\ntank,,3000,gal\nrate,,x,gal/acre\n"), false)
	var one *LineError
	if err == nil || !errors.As(err, &one) || one.Line != 2 || !strings.Contains(err.Error(), "line 4") || strings.Contains(err.Error(), "line 3") {
		t.Errorf("%v", err)
	}
	if s, err := ReadSetup(strings.NewReader(heads+"tank,,40000,gal"), true); err != nil || s.Facts[0].Min != 40000 {
		t.Errorf("unusual and wanted: %v", err)
	}
}

func TestSetupIntoMemory(t *testing.T) {
	m := &bot.Memory{Next: 2, Fields: []bot.Field{{ID: 1, Name: "North Forty", Area: 30}, {ID: 2, Name: "creek, lower", Closed: at(1, 8, 0)}},
		Runs: []engine.Run{{Opening: 4, Flow: 500}}, Facts: []bot.Remembered{{Fact: engine.Fact{Slot: engine.TankVolume, Min: 2000}}, {Fact: engine.Fact{Slot: engine.Speed, Min: 4}}}}
	s, err := ReadSetup(strings.NewReader(aSetup), false)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Into(m, at(14, 7, 0), "Ann"); err != nil {
		t.Fatal(err)
	}
	if len(m.Fields) != 3 || m.Fields[0].Area != 38.5 || m.Fields[0].ID != 1 || m.Fields[2].ID != 3 || m.Fields[2].Name != "creek, lower" || m.Next != 3 {
		t.Errorf("fields %+v", m.Fields)
	}
	if !slices.Equal(m.Runs, []engine.Run{{Opening: 4, Flow: 620}, {Opening: 2, Flow: 300}}) {
		t.Errorf("runs %v", m.Runs)
	}
	if len(m.Facts) != 9 || m.Facts[0].Fact.Slot != engine.Speed || m.Facts[1].Fact.Min != 3000 || m.Facts[1].Who != "Ann" {
		t.Errorf("facts %+v", m.Facts)
	}
	before := len(m.Facts)
	bad := &Setup{Runs: []engine.Run{{Opening: 5, Flow: 100}}, Facts: engine.Facts{{Slot: engine.Width, Min: 12}}}
	if err := bad.Into(m, at(14, 7, 0), ""); err == nil || len(m.Facts) != before || len(m.Runs) != 2 {
		t.Errorf("%v; %v", err, m.Runs)
	}
}

// Every word that an item can be said by names a quantity that has a unit.
func TestSetupItems(t *testing.T) {
	for word, item := range setupItems {
		if word != plain(word) || item.slot == engine.NoSlot {
			t.Errorf("%q: %+v", word, item)
		}
	}
	for word, symbol := range unitWords {
		if word != plain(word) {
			t.Errorf("%q cannot be found", word)
		}
		if u, _ := unitFor(word, engine.NoSlot); u != nil {
			t.Errorf("%q measures nothing", word)
		}
		if symbol == "" {
			t.Errorf("%q has no symbol", word)
		}
	}
}
