package parse

import (
	"strings"
	"testing"

	"tankside/engine"
	"tankside/engine/unit"
)

var everyFile = append([]string{"common"}, Languages...)

// One word has one meaning within a class of a file: of two the file's order would
// choose, and nobody would see it.
func TestLexiconWordsDoNotClash(t *testing.T) {
	for _, file := range everyFile {
		rows, err := lexiconRows(file)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]string{}
		for _, row := range rows {
			if classNamed[row[0]] == cWord && row[0] != "word" {
				t.Errorf("%s: no class %q", file, row[0])
			}
			for _, phrase := range strings.Split(row[2], "|") {
				at := row[0] + " " + phrase
				if old, ok := seen[at]; ok && old != row[1] {
					t.Errorf("%s: %q is both %s %q and %q", file, phrase, row[0], old, row[1])
				}
				seen[at] = row[1]
			}
		}
	}
}

// Words are written as messages are after folding; otherwise no message has them.
func TestLexiconWordsAreFolded(t *testing.T) {
	for _, file := range everyFile {
		rows, _ := lexiconRows(file)
		for _, row := range rows {
			for _, phrase := range strings.Split(row[2], "|") {
				if got := fold(phrase).text; got != phrase || strings.TrimSpace(phrase) == "" {
					t.Errorf("%s: %s %s: %q folds to %q", file, row[0], row[1], phrase, got)
				}
			}
		}
	}
}

// Every crop of the tables has words in every language, and each of the words is
// read as that crop.
func TestEveryCropHasWords(t *testing.T) {
	for _, lang := range Languages {
		rows, _ := lexiconRows(lang)
		has := map[string]bool{}
		for _, row := range rows {
			if row[0] != "crop" {
				continue
			}
			has[row[1]] = true
			if engine.CropNamed(row[1]) == nil {
				t.Errorf("%s: the tables have no crop %q", lang, row[1])
			}
			for _, phrase := range strings.Split(row[2], "|") {
				req := Parse(phrase, in(lang))
				if len(req.Crops) != 1 || req.Crops[0].Name != row[1] {
					t.Errorf("%s: %q is read as %v, want %s", lang, phrase, req.Crops, row[1])
				}
			}
		}
		for _, c := range engine.Crops() {
			if !has[c.Name] {
				t.Errorf("%s has no word for %s", lang, c.Name)
			}
		}
	}
}

// answerUnits are only answered in: nobody says them.
var answerUnits = map[string]string{"": "a bare number", "seeds/ft2": "seed density", "seeds/m2": "seed density", "seeds/gal": "seed density", "seeds/imp gal": "seed density",
	"seeds/L": "seed density", "seeds/lb": "of the crop table", "seeds/kg": "of the crop table", "1/h": "loads an hour"}

// Every unit can be said in every language, by a word of its own or as one per another.
func TestEveryUnitHasWords(t *testing.T) {
	for _, lang := range Languages {
		for _, u := range unit.All() {
			if answerUnits[u.Symbol] != "" {
				continue
			}
			if tried := waysToSay(lang, u.Symbol); !anyReadsAs(t, lang, tried, u.Symbol) {
				t.Errorf("%s: %q cannot be said (tried %d ways)", lang, u.Symbol, len(tried))
			}
		}
	}
}

func waysToSay(lang, symbol string) []string {
	out := wordsOf(lang, symbol)
	per := map[string]string{"en": " per ", "es": " por "}[lang]
	if head, of, ok := strings.Cut(symbol, "/"); ok {
		for _, h := range wordsOf(lang, head) {
			if n, isThousand := strings.CutPrefix(of, "1000"); isThousand {
				for _, w := range wordsOf(lang, n) {
					out = append(out, h+per+"1000 "+w)
				}
				continue
			}
			for _, w := range wordsOf(lang, of) {
				out = append(out, h+per+w)
			}
		}
	}
	return out
}

// wordsOf are the words of a language, signs included, that name a unit by itself.
func wordsOf(lang, symbol string) (out []string) {
	for _, file := range [...]string{lang, "common"} {
		rows, _ := lexiconRows(file)
		for _, row := range rows {
			if c := classNamed[row[0]]; (c == cUnit || c == cUnitIn || c == cMoney || c == cClash) && strings.TrimSuffix(row[1], "?") == symbol {
				out = append(out, strings.Split(row[2], "|")...)
			}
		}
	}
	return out
}

func anyReadsAs(t *testing.T, lang string, words []string, symbol string) bool {
	for _, w := range words {
		if _, qs := readWords(t, "12 "+w, in(lang)); len(qs) == 1 && qs[0].unit != nil && qs[0].unit.Symbol == symbol {
			return true
		}
	}
	return false
}

// The keys that the rules look for have words in every language.
func TestEveryRuleHasWords(t *testing.T) {
	for _, lang := range Languages {
		keys := map[string]bool{}
		for _, file := range [...]string{lang, "common"} {
			list, err := LexiconKeys(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, k := range list {
				keys[k] = true
			}
		}
		need := func(class, key string) {
			if !keys[class+" "+key] {
				t.Errorf("%s has no word for %s %s", lang, class, key)
			}
		}
		for key := range roleSlots {
			need("role", key)
		}
		for key := range nounAsk {
			need("noun", key)
		}
		for key := range takesText {
			need("act", key)
		}
		for key := range shortWords {
			need("act", key)
		}
		for _, key := range engine.InfoKeys {
			if strings.HasPrefix(key, "safety_") {
				need("info", key)
			}
		}
		for _, key := range engine.Soils() {
			need("soil", key)
		}
		for _, key := range engine.Moistures() {
			need("moist", key)
		}
	}
}

// A chat's own field names come before any word of a language.
func TestFieldNamesComeFirst(t *testing.T) {
	ctx := Context{Lang: "en", Fields: []string{"Oats", "North 40", "River piece", "Ñandú", "12", "gate"}}
	for _, c := range []struct{ text, want string }{{"switch to oats", "Oats"}, {"log load on north 40", "North 40"}, {"what's left on the river piece", "River piece"},
		{"totals for ÑANDU", "Ñandú"}, {"oats", "Oats"}, {"gate", "gate"}} {
		req := Parse(c.text, ctx)
		got := req.Field
		for _, a := range req.Acts {
			if a.Name == "field_switch" {
				got = a.Text
			}
		}
		if got != c.want || len(req.Loose)+len(req.Facts)+len(req.Crops) > 0 {
			t.Errorf("%q: field %q, facts %v, loose %v, crops %v; want %q alone", c.text, got, req.Facts, req.Loose, req.Crops, c.want)
		}
	}
	if req := Parse("oats 60 lb", Context{Lang: "en"}); req.Field != "" || len(req.Facts) != 1 {
		t.Errorf("without such a field oats are no crop: %+v", req)
	}
}

// The longest phrase wins, and of two languages the message's own.
func TestLongestPhraseWins(t *testing.T) {
	for _, c := range []struct{ lang, text, token, key string }{{"en", "12 lb crimson clover per acre", "crimson clover", "crimson clover"},
		{"en", "40 lb winter rye", "winter rye", "cereal rye"}, {"en", "12 lb annual rye grass", "annual rye grass", "annual ryegrass"},
		{"es", "12 libras de trebol rojo", "trebol rojo", "red clover"}, {"es", "3 metros cubicos", "metros cubicos", "m3"}} {
		r, _ := readWords(t, c.text, in(c.lang))
		if tok := tokenOf(t, r, c.token); tok.key != c.key {
			t.Errorf("%q: %q is %q, want %q", c.text, c.token, tok.key, c.key)
		}
	}
}

func TestLanguageOfAMessage(t *testing.T) {
	for _, c := range []struct{ chat, text, want string }{{"", "3000 gallon tank", "en"}, {"", "tanque de 3000 galones", "es"}, {"es", "7000", "es"}, {"en", "7000", "en"},
		{"", "7000", "en"}, {"es", "how many acres per load", "en"}, {"en", "cuantas cargas para 40 acres", "es"}, {"es", "", "es"}, {"", "12 lb/ac x 40", "en"}} {
		if got := Parse(c.text, in(c.chat)).Lang; got != c.want {
			t.Errorf("%q in a chat in %q is taken for %q", c.text, c.chat, got)
		}
	}
}
