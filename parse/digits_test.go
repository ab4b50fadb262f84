package parse

import "testing"

func TestReadMarks(t *testing.T) {
	for in, want := range map[string]string{"3000": "3000", "3,000": "3000", "12,500": "12500", "7,5": "7.5", "0,5": "0.5", "3.5": "3.5", ".5": ".5",
		"1.234,5": "1234.5", "1,234.5": "1234.5", "1.234.567": "1234567", "1,234,567": "1234567", "1.234.567,8": "1234567.8", "3.000": "3000~3.000",
		"0.500": "0.500", "0,500": "0.500", "1234.567": "1234.567", "3.0000": "3.0000", "1.2.3": "?", "12,5,6": "?", "007": "007"} {
		if got := readMarks(in, false); got != want {
			t.Errorf("readMarks(%q) = %q, want %q", in, got, want)
		}
	}
	for in, want := range map[string]string{"3.000": "3000", "3,000": "3000~3.000", "3,5": "3.5", "0.5": "0.5", "1.234,5": "1234.5", "1,234,567": "1234567"} {
		if got := readMarks(in, true); got != want {
			t.Errorf("readMarks(%q) in a chat with decimal commas = %q, want %q", in, got, want)
		}
	}
}

func TestDecimalMark(t *testing.T) {
	for text, want := range map[string]byte{"tanque de 10.000 litros": ',', "3,2 kg por m3": ',', "3.2 kg/m3": '.', "3,000 gal tank": 0, "1,234.5 gal": '.',
		"tank 3000": 0, "0,3 ha y 2.5 km/h": 0, "0.300 ha": '.', "carga de 1.250,5 litros": ','} {
		if got := Parse(text, Context{}).DecimalMark; got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestFractionKey(t *testing.T) {
	sign := func(s string) rawToken { return rawToken{text: s, kind: 's', glued: true} }
	den := func(s string) rawToken { return rawToken{text: s, kind: 'd', glued: true} }
	for _, c := range []struct{ num, den, want string }{{"1", "2", "0.5"}, {"3", "4", "0.75"}, {"7", "8", "0.875"}, {"1", "16", "0.0625"}, {"2", "5", "0.4"},
		{"6000", "8000", ""}, {"40", "20", ""}, {"4", "2", ""}, {"0", "2", ""}, {"1", "7", ""}, {"9", "12", ""}} {
		if got := fractionKey(c.num, sign("/"), den(c.den)); got != c.want {
			t.Errorf("%s/%s = %q, want %q", c.num, c.den, got, c.want)
		}
	}
	if got := fractionKey("1", rawToken{text: "/", kind: 's'}, den("2")); got != "" {
		t.Errorf("1 /2 is read as %q", got)
	}
}

func TestClockKey(t *testing.T) {
	for _, c := range []struct{ h, m, want string }{{"2", "15", "135"}, {"0", "00", "0"}, {"14", "05", "845"}, {"24", "00", "1440"}, {"25", "00", ""}, {"2", "60", ""}} {
		if got := clockKey(c.h, c.m); got != c.want {
			t.Errorf("%s:%s = %q, want %q", c.h, c.m, got, c.want)
		}
	}
}

// What digits become together with what stands around them.
func TestDigitsInContext(t *testing.T) {
	for _, c := range []struct {
		text  string
		class class
		key   string
		token string
	}{
		{"3 000 gallons", cNum, "3000", "3 000"},
		{"12 500 gallons", cNum, "12500", "12 500"},
		{"gate 4 620 gallons", cNum, "620", "620"},
		{"load 2 500 gallons", cNum, "500", "500"},
		{"12 345", cNum, "345", "345"},
		{"3  000", cNum, "000", "000"},
		{"3k", cNum, "3", "3"},
		{"3km", cNum, "3", "3"},
		{"3 1/2", cNumFrac, "0.5", "1/2"},
		{"6000/8000", cNum, "6000", "6000"},
		{"at 2:15", cClock, "135", "2:15"},
		{"at 2:1", cNum, "2", "2"},
		{"1st load", cOrd, "1", "1st"},
		{"3ra carga", cOrd, "3", "3ra"},
		{"m3", cUnit, "m3", "m3"},
		{"p2o5", cNut, "phosphate", "p2o5"},
	} {
		r, _ := readWords(t, c.text, in("en"))
		if tok := tokenOf(t, r, c.token); tok.class != c.class || tok.key != c.key {
			t.Errorf("%q: %q is %s %q, want %s %q", c.text, c.token, className[tok.class], tok.key, className[c.class], c.key)
		}
	}
}
