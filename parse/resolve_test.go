package parse

import "testing"

// What each word that could be several things comes to beside its neighbours: one
// row for every branch of a rule.
func TestResolve(t *testing.T) {
	for _, c := range []struct {
		lang, text, token string
		class             class
		key               string
	}{
		// to, too, two
		{"en", "to thousand gallon tank", "to", cNum, "2"}, {"en", "too thousand gallon tank", "too", cNum, "2"}, {"en", "to loads done", "to", cNum, "2"},
		{"en", "six to eight thousand per acre", "to", cRange, "-"}, {"en", "10 lb to 12 lb ryegrass", "to", cRange, "-"}, {"en", "10 lb to 12 ft", "to", cConv, "to"},
		{"en", "convert 40 acres to hectares", "to", cConv, "to"}, {"en", "talk to him", "to", cFiller, "to"},
		// for, four, fore
		{"en", "for acres done", "for", cNum, "4"}, {"en", "for thousand gallon tank", "for", cNum, "4"}, {"en", "done for to go", "for", cNum, "4"},
		{"en", "done for too go", "too", cFiller, "to"},
		{"en", "seed for 40 acres", "for", cFiller, "for"}, {"en", "how much seed for acres", "for", cFiller, "for"}, {"en", "for a load", "for", cFiller, "for"},
		// ate, won, tree
		{"en", "ate thousand per acre", "ate", cNum, "8"}, {"en", "won load", "won", cNum, "1"}, {"en", "tree tanks", "tree", cNum, "3"}, {"en", "we won", "won", cFiller, "won"},
		{"en", "he ate lunch", "ate", cFiller, "ate"},
		// a, an, the
		{"en", "a hundred acres", "a", cNum, "1"}, {"en", "7000 an acre", "an", cPer, "per"}, {"en", "12 lb/a ryegrass", "a", cUnit, "acre"}, {"en", "5 lb a load", "a", cPerLoad, "load"},
		{"en", "a half tank", "a", cSkip, "a"}, {"en", "a tank", "a", cFiller, "a"}, {"en", "12 ft the tank", "the", cFiller, "the"}, {"en", "an acre and a half", "an", cNum, "1"},
		{"en", "7000 the acre", "the", cPer, "per"},
		// of
		{"en", "a quarter of an acre", "of", cSkip, "of"}, {"en", "12 lb of oats", "of", cOf, "of"}, {"es", "un cuarto de acre", "de", cSkip, "of"},
		// in
		{"en", "gate 4 in", "in", cUnit, "in"}, {"en", "12 in the tank", "in", cUnitIn, "in"}, {"en", "200 ft in 45 seconds", "in", cUnitIn, "in"},
		// t, m, g, ton
		{"en", "12 t", "t", cClash, "t?"}, {"en", "don t", "t", cFiller, "t"}, {"en", "12 m wide", "m", cClash, "m?"}, {"en", "20 tons per acre", "tons", cClash, "ton?"},
		// signs
		{"en", "12# oats", "#", cUnit, "lb"}, {"en", "load #4", "4", cOrd, "4"}, {"en", "12' tool", "'", cUnit, "ft"}, {"en", `4" gate`, `"`, cUnit, "in"}, {"en", "the 'tank'", "'", cFiller, "'"},
		// per
		{"en", "7000 per acre", "per", cPer, "per"}, {"en", "7000 per the acre", "per", cPer, "per"}, {"en", "5 lb per load", "per", cPerLoad, "load"},
		{"en", "per usual", "per", cFiller, "per"}, {"es", "7000 el acre", "el", cPer, "per"}, {"es", "el tanque", "el", cFiller, "per"}, {"es", "7mil x acre", "x", cPer, "per"},
		{"en", "20 ft x 1452 ft", "x", cComma, "x"}, {"en", "12 lb each acre", "each", cPer, "per"},
		// slash, dash
		{"en", "rye/vetch 40/20", "/", cFiller, "per"}, {"en", "12 lb / acre", "/", cPer, "per"}, {"en", "6-8k", "-", cRange, "-"}, {"en", "3000-gallon tank", "-", cSkip, "-"},
		{"en", "sixty-five lb", "-", cSkip, "-"}, {"en", "31-15-19 lb per 1000 gal", "-", cSlash, "/"}, {"en", "2 - 50# bags", "-", cComma, "-"}, {"en", "10 lb - 12 lb oats", "-", cRange, "-"},
		{"en", "rate -5", "5", cNum, "-5"},
		// and
		{"en", "a hundred and sixty", "and", cAnd, "and"}, {"en", "three and a half", "and", cAnd, "and"}, {"es", "cuarenta y dos", "y", cAnd, "and"}, {"en", "12 and 40", "and", cSlash, "and"},
		{"en", "oats and vetch", "and", cComma, "and"}, {"es", "doce libras y media", "y", cAnd, "and"}, {"en", "speed 4 and 12", "and", cComma, "and"}, {"es", "dos cargas y media", "y", cAnd, "and"},
		// between, a, hasta
		{"en", "between 6 and 8 thousand", "and", cRange, "-"}, {"es", "entre cuarenta y dos y cincuenta acres", "y", cAnd, "and"}, {"es", "de 6 a 8 mil por acre", "a", cRange, "-"},
		{"es", "tanque de 3000 a 7000 por acre", "a", cAt, "at"}, {"es", "ballico 12 a 7000 por acre", "a", cAt, "at"}, {"es", "6 hasta 8 mil", "hasta", cRange, "-"}, {"es", "hasta el campo", "hasta", cFiller, "hasta"},
		{"es", "40 acres a hectareas", "a", cConv, "to"}, {"es", "voy a regar", "a", cFiller, "a"},
		// oh, point, coma, k
		{"en", "oh point five", "oh", cOh, "0"}, {"en", "five thousand oh fifty", "oh", cOh, "0"}, {"en", "oh 7000", "oh", cFiller, "oh"}, {"en", "point oh five", "oh", cOh, "0"},
		{"en", "the point is", "point", cFiller, "point"}, {"en", "one point five", "point", cPoint, "."}, {"es", "tres coma cinco", "coma", cPoint, "."}, {"es", "avena coma veza", "coma", cComma, ","},
		{"en", "n 31 k 19", "k", cNutQ, "k"}, {"en", "7k", "k", cScale, "1000"}, {"en", "n 31 at 4 k gal per acre", "k", cScale, "1000"},
		// couple, dozen, third
		{"en", "a couple loads", "couple", cNum, "2"}, {"en", "a couple things", "couple", cVague, "vague"}, {"en", "a dozen loads", "dozen", cNum, "12"}, {"en", "third load", "third", cOrd, "3"},
		{"en", "a third of a load", "third", cFrac, "0.3333333333333333"},
		// labels
		{"en", "load 4 done", "4", cOrd, "4"}, {"en", "load 1800 gallons", "1800", cNum, "1800"}, {"en", "loads 4", "4", cNum, "4"}, {"en", "log load 4 at 2:15", "4", cOrd, "4"}, {"en", "log 4 loads", "4", cNum, "4"}, {"en", "field 12 needs 40 acres", "12", cOrd, "12"},
		{"es", "carga 4 lista", "4", cOrd, "4"},
	} {
		r, _ := readWords(t, c.text, in(c.lang))
		if tok := tokenOf(t, r, c.token); tok.class != c.class || tok.key != c.key {
			t.Errorf("%q: %q is %s %q, want %s %q", c.text, c.token, className[tok.class], tok.key, className[c.class], c.key)
		}
	}
}

// What an amount is per stands before what it is of, however it was said.
func TestHoist(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		value      float64
	}{{"120 pounds of nitrogen an acre", "lb/acre", 120}, {"30 lb n per 1000 gal", "lb/1000gal", 30}, {"12 lb ryegrass/acre", "lb/acre", 12},
		{"40 lb of oats per acre", "lb/acre", 40}, {"30 kg oats per ha", "kg/ha", 30}, {"12 lb of seed an acre", "lb/acre", 12}} {
		_, qs := readWords(t, c.text, in("en"))
		if len(qs) != 1 || qs[0].unit == nil || qs[0].unit.Symbol != c.unit || qs[0].min != c.value {
			t.Errorf("%q: %+v, want %g %s", c.text, qs, c.value, c.unit)
		}
	}
}
