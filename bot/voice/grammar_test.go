package voice

import (
	"bytes"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

func mustRead(t *testing.T, text string) grammar {
	t.Helper()
	g, err := readGrammar(text)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestReadGrammar(t *testing.T) {
	g := mustRead(t, "<message> = /3/ how [much] <x> | /1/ ( a | b ) c ; // said\n<x> = seed ;")
	if got, want := g["message"].jsgf(), "( /3/ how [ much ] <x> | /1/ ( /1/ a | /1/ b ) c )"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got, want := g.words("message"), []string{"a", "b", "c", "how", "much", "seed"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	seen := map[string]int{}
	for _, s := range g.sentences(4000) {
		seen[strings.Join(s, " ")]++
	}
	for sentence, share := range map[string]float64{"how much seed": 0.375, "how seed": 0.375, "a c": 0.125, "b c": 0.125} {
		if got := float64(seen[sentence]) / 4000; math.Abs(got-share) > 0.03 {
			t.Errorf("%q is drawn in %.3f, want %.3f", sentence, got, share)
		}
	}
	if len(seen) != 4 {
		t.Errorf("drawn: %v", seen)
	}
}

func TestBrokenGrammars(t *testing.T) {
	for _, text := range []string{"x = a ;", "<x> a ;", "<x> = ( a ;", "<x> = a ) ;", "<x> = [ a ;", "<x> = /none/ a | b ;", "<x> = /0/ a | b ;"} {
		if g, err := readGrammar(text); err == nil {
			t.Errorf("%q was read as %v", text, g)
		}
	}
}

// Whatever comes before, the words that may follow must have probabilities that add
// up to one.
func TestModelAddsUp(t *testing.T) {
	g := mustRead(t, "<message> = <n> gallon tank [ <n> an acre ] | how much [ seed ] ; <n> = two | three | four thousand ;")
	var b bytes.Buffer
	if err := learn(g.sentences(500)).write(&b); err != nil {
		t.Fatal(err)
	}
	m := readARPA(t, b.String())
	for before := range m.away {
		sum := 0.0
		for w := range m.p {
			if !strings.Contains(w, " ") && w != "<s>" {
				sum += math.Pow(10, m.of(before, w))
			}
		}
		if math.Abs(sum-1) > 0.01 {
			t.Errorf("after %q: %v", before, sum)
		}
	}
	if m.of("how", "much") < m.of("how", "tank")+1 {
		t.Error("what was never said is as likely as what was")
	}
}

// arpaModel is a model as a recogniser reads it.
type arpaModel struct{ p, away map[string]float64 }

// of is the logarithm of the probability of a word after others.
func (m arpaModel) of(before, w string) float64 {
	if before == "" {
		return m.p[w]
	}
	if p, ok := m.p[before+" "+w]; ok {
		return p
	}
	return m.away[before] + m.of(later(before), w)
}

func readARPA(t *testing.T, text string) arpaModel {
	t.Helper()
	m := arpaModel{map[string]float64{}, map[string]float64{}}
	for line := range strings.Lines(text) {
		cells := strings.Split(strings.TrimSpace(line), "\t")
		if len(cells) < 2 {
			continue
		}
		p, err := strconv.ParseFloat(cells[0], 64)
		if err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		m.p[cells[1]] = p
		if len(cells) == 3 {
			if m.away[cells[1]], err = strconv.ParseFloat(cells[2], 64); err != nil {
				t.Fatalf("%q: %v", line, err)
			}
		}
	}
	return m
}

func TestLexiconWords(t *testing.T) {
	sounds := map[string]string{"gallon": "G", "gallons": "GS", "galon": "G2", "ryegrass": "RG", "rye grass": "RG", "rye crass": "RC", "annual ryegrass": "ARG", "foot": "F", "feet": "FI"}
	say := func(p string, _ bool) (string, bool) { s, ok := sounds[p]; return s, ok }
	for _, c := range []struct {
		in   Entry
		want []string
	}{
		{Entry{"unit", "gal", []string{"gallon", "galon", "gallons", "us gal"}}, []string{"gallon", "gallons"}},
		{Entry{"unit", "ft", []string{"foot", "feet", "footer"}}, []string{"foot", "feet"}},
		{Entry{"crop", "annual ryegrass", []string{"annual ryegrass", "rygrass", "ryegrass", "rye - grass", "rye crass"}}, []string{"annual ryegrass", "ryegrass"}},
	} {
		if got := spoken(c.in, say); !slices.Equal(got, c.want) {
			t.Errorf("%v: got %v, want %v", c.in, got, c.want)
		}
	}
}

func TestSayable(t *testing.T) {
	for in, want := range map[string]string{"North 40": "north forty", "Lot-3b": "lot three b", "O'Dell's": "o'dell's", "": "", "  12 acres ": "twelve acres", "field 107": "field one hundred seven", "<x>;|": "x"} {
		if got := sayable(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

func TestPhones(t *testing.T) {
	for in, want := range map[string]string{"tɹˈɪɾɪkˌeɪl": "T R IH T IH K EY L", " fəsˈiːliə\n": "F AH S IY L IY AH", "vˈɛtʃ": "V EH CH"} {
		if got := phones(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

func TestVocabulary(t *testing.T) {
	need(t, "espeak-ng")
	lex := botLexicon(t)
	lex.Fields = []string{"North 40", "Zwetschgen"}
	v, err := NewVocabulary(lex, SphinxModel)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []string{"thousand", "ryegrass", "festulolium", "gallons", "north", "zwetschgen", "undo"} {
		if !slices.Contains(v.Words(), w) {
			t.Errorf("%q is not listened for", w)
		}
		if !strings.Contains("\n"+v.dict, "\n"+w+" ") {
			t.Errorf("%q has no pronunciation", w)
		}
	}
	for _, w := range []string{"galons", "crass", "rygrass", "acers"} {
		if slices.Contains(v.Words(), w) {
			t.Errorf("the misspelling %q is listened for", w)
		}
	}
	if len(v.Guessed) == 0 {
		t.Error("the name in no dictionary is not reported")
	}
	again, err := NewVocabulary(lex, SphinxModel)
	if err != nil {
		t.Fatal(err)
	}
	var a, b bytes.Buffer
	if err := v.model.write(&a); err != nil {
		t.Fatal(err)
	}
	if err := again.model.write(&b); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) || v.loop != again.loop || v.dict != again.dict {
		t.Error("the same lexicon gave another vocabulary")
	}
}

func TestTell(t *testing.T) {
	tell := newTeller(botLexicon(t))
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"three thousand gallon tank", "three thousand gallons in the tank", true},
		{"eight thousand an acre", "a thousand an acre", false},
		{"fifteen pounds of oats", "fifty pounds of oats", false},
		{"twelve pounds red clover", "twelve pounds white clover", false},
		{"six hundred gallons a minute", "six hundred gallons per minute", true},
		{"half a load", "have a load", false},
	} {
		if got := tell.same(c.a, c.b); got != c.same {
			t.Errorf("%q, %q: same is %v: %v, %v", c.a, c.b, got, tell.tell(c.a), tell.tell(c.b))
		}
	}
}

func TestBears(t *testing.T) {
	tell := newTeller(botLexicon(t))
	for _, c := range []struct {
		loop, model string
		bears       bool
	}{
		{"three thousand gallon tank", "my tank is three thousand gallons", true},
		{"three thousand gallon two tank", "three thousand gallon tank", true},
		{"two three thousand gallon ten tank", "three thousand gallon tank", false},
		{"three thousand tank", "three thousand gallon tank", false},
		{"fifty pounds of oats", "fifteen pounds of oats", false},
		{"pounds fifty", "fifty pounds", false},
		{"", "log load", true},
	} {
		if got := tell.bears(c.loop, c.model); got != c.bears {
			t.Errorf("%q bears %q: %v", c.loop, c.model, got)
		}
	}
}

func TestRival(t *testing.T) {
	tell := newTeller(botLexicon(t))
	for want, r := range map[string]reading{
		"fifty pounds": {"fifteen pounds", []guess{{"fifteen pounds", -1000}, {"fifty pounds", -1250}, {"sixty pounds", -1299}}},
		"nine":         {"twenty five", []guess{{"five", -4000}, {"nine", -3000}}}, // the words are not among the guesses
		"":             {"fifteen pounds", []guess{{"fifty pounds", -1300}, {"at fifteen pounds", -1010}, {"fifteen pounds", -1000}}},
	} {
		if got, ok := tell.rival(r); ok != (want != "") || ok && got != want {
			t.Errorf("%q: rival %q, %v", r.text, got, ok)
		}
	}
}

func TestJudge(t *testing.T) {
	s := Sphinx{tell: newTeller(botLexicon(t))}
	sure := reading{"fifty pounds", []guess{{"fifty pounds", -1000}}}
	for _, c := range []struct {
		name          string
		first, second reading
		text          string
		doubtful      bool
	}{
		{"both sure", sure, reading{text: "fifty pounds"}, "fifty pounds", false},
		{"the loop lacks it", sure, reading{text: "fifteen pounds"}, "fifty pounds", true},
		{"a near guess", reading{"fifty pounds", []guess{{"fifty pounds", -1000}, {"fifteen pounds", -1001}}}, sure, "fifty pounds", true},
		{"heard by the loop only", reading{}, sure, "fifty pounds", true},
		{"a scale without its number", reading{"tank thousand", []guess{{"tank thousand", -9}}}, reading{text: "tank thousand"}, "tank thousand", true},
	} {
		if got := s.judge(c.first, c.second); got.Text != c.text || got.Doubtful() != c.doubtful {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// What the recogniser wrote is taken as far as it can be read.
func TestReadGuesses(t *testing.T) {
	got := readGuesses("log load -4821\n\n -3\nbroken\nundo that -5000\n")
	if want := []guess{{"log load", -4821}, {"undo that", -5000}}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestLame(t *testing.T) {
	tell := newTeller(botLexicon(t))
	for text, want := range map[string]bool{
		"two hundred feet": false, "a hundred feet": false, "twelve hundred": false, "half a thousand": false, "two hundred thousand": false,
		"hundred feet": true, "drove you hundred feet": true, "tank thousand gallons": true, "log load": false,
	} {
		if got := tell.lame(text); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}
