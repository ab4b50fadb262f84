package parse

import "testing"

func respellOf(lang, w string) string {
	lx := lexicons()
	ctx := Context{Lang: lang}
	r := reader{ctx: &ctx, first: lx[lang], second: lx[otherLanguage(lang)]}
	return r.respell(w)
}

// meaningOf is what a word means in the first language that has it.
func meaningOf(w string) entry {
	for _, lang := range Languages {
		if e, ok := lexicons()[lang].entries[w]; ok {
			return e
		}
	}
	return entry{}
}

// A misspelling is mended where one word alone is nearly certain.
func TestRespell(t *testing.T) {
	for _, c := range []struct{ lang, said, want string }{
		{"en", "galllons", "gallons"}, {"en", "gallosn", "gallons"}, {"en", "thosand", "thousand"}, {"en", "buckwheet", "buckwheat"}, {"en", "tritcale", "triticale"},
		{"en", "hectrae", "hectare"}, {"en", "ryegrss", "ryegrass"}, {"en", "crimsom", "crimson"}, {"en", "alflafa", "alfalfa"}, {"en", "germnation", "germination"},
		{"es", "galonse", "galones"}, {"es", "avnea", "avena"}, {"es", "cebda", "cebada"}, {"es", "compuretas", "compuertas"}, {"es", "hectaraes", "hectareas"},
		{"en", "galonse", "galones"},
	} {
		got := respellOf(c.lang, c.said)
		if g, w := meaningOf(got), meaningOf(c.want); got == "" || g.class != w.class || g.key != w.key {
			t.Errorf("%s %q is read as %q, want %q", c.lang, c.said, got, c.want)
		}
	}
}

// What could be two things, is too short, or is far from everything stays as it is.
func TestRespellLeavesAlone(t *testing.T) {
	for _, w := range []string{"ry", "oas", "abc", "zorp", "quinoa", "sainfoin", "xxxxxxxx", "thirtteen", "averylongwordthatisnoword", ""} {
		got := respellOf("en", w)
		if w == "thirtteen" {
			if got != "thirteen" {
				t.Errorf("%q is read as %q", w, got)
			}
			continue
		}
		if got != "" {
			t.Errorf("%q is read as %q", w, got)
		}
	}
}

// A mended word never has a neighbour of another meaning that is as near: what the
// writer meant is not guessed across meanings.
func TestRespellNeverCrossesMeanings(t *testing.T) {
	for _, lang := range Languages {
		words := map[string]entry{}
		for _, lx := range lexicons() {
			for _, s := range lx.spelling() {
				words[s.word] = lx.entries[s.word]
			}
		}
		tried := 0
		for w, e := range words {
			for i := 1; i < len(w) && len(w) <= 10; i++ {
				said := w[:i] + w[i+1:] // a letter left out
				got := respellOf(lang, said)
				if got == "" {
					continue
				}
				tried++
				g, ok := words[got]
				if !ok {
					t.Fatalf("%q is read as %q, which is in no lexicon", said, got)
				}
				if (g.class != e.class || g.key != e.key) && distance(said, got, 3) >= distance(said, w, 3) {
					t.Errorf("%q, short of a letter, is read as %q: %q is as near and means something else", said, got, w)
				}
			}
		}
		if tried < 1000 {
			t.Errorf("%s: only %d misspellings were tried", lang, tried)
		}
	}
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"gallon", "gallon", 0}, {"galon", "gallon", 1}, {"glalon", "gallon", 1}, {"acer", "acre", 1}, {"oats", "oat", 1}, {"rye", "oats", 4}, {"abcd", "dcba", 3}} {
		if got := distance(c.a, c.b, 9); got != c.want {
			t.Errorf("%q to %q is %d, want %d", c.a, c.b, got, c.want)
		}
		if got := distance(c.b, c.a, 9); got != c.want {
			t.Errorf("%q to %q is %d, want %d", c.b, c.a, got, c.want)
		}
		if c.want > 1 {
			if got := distance(c.a, c.b, 1); got != 2 {
				t.Errorf("%q to %q with limit 1 is %d", c.a, c.b, got)
			}
		}
	}
}

// A fix is shown: what was said, as what it was read, and where.
func TestFixesAreShown(t *testing.T) {
	const text = "3000 galllon tank, 7000 per acre, crimsom clover 12 lb"
	req := Parse(text, in("en"))
	if len(req.Fixes) != 2 {
		t.Fatalf("fixes %v", req.Fixes)
	}
	for i, want := range [2][2]string{{"galllon", "gallon"}, {"crimsom clover", "crimson clover"}} {
		f := req.Fixes[i]
		if f.Said != want[0] || f.Read != want[1] || text[f.At[0]:f.At[1]] != want[0] {
			t.Errorf("fix %+v, want %q as %q", f, want[0], want[1])
		}
	}
}
