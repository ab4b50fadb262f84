package parse

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"tankside/engine"
	"tankside/engine/unit"
)

// nasty are messages that no person writes and every program gets.
var nasty = []string{"", " ", "\x00", "\xff\xfe12\xc3", "½", "½½½", "1/0", "0/0", "999999999999999999999999999999 gal", "1e309 gal", "-0 acres", "--5", "3.4.5.6", "1,,2", "...",
	"???", "a a a a an an the", "to to to to", "and and and", "per per per acre", "/ / /", "$ $ 5", "no no no no 7 no 8 no 9", "not not 7", "or or 7 or", "7 or 8 or 9",
	"between and", "between 6 and", "thousand thousand thousand", "hundred million thousand gal", "point point point five", "oh oh oh", "half half half a half", "1/2 1/2 1/2",
	"12 lb oats rye 12 lb oats rye", "<b>3000</b> gal", "=SUM(A1) 7000", "'; drop table loads; --", "../../etc/passwd 12", "🚜 3000 🚜 gal", "３０００ gal", "٣٠٠٠ gal", "3\u202f000 L",
	"note", "new field", "switch to", "call it", "log", "log log log 2 3", "half past", "quarter to", "at at at 2:15:30", "25:61", "hace", "ago", "ten ago", "a las", "a la una y", "las dos menos",
	"1-2-3-4-5", "31-15-19-4 lb per 1000 gal", "jars 1 2 3 / 4 - 5 and 6", "gate gate 4 4", "6-8-10k", "3.000~4", "twenty twenty twenty twenty", "one oh oh oh", "doble doble", "dos y dos y dos",
	"cuarenta y y dos", "12 lb 8 oz 3 oz", "12 ft 6 in 3 in", "ten dollars ten cents ten", "$45 a bag a load", "3½½ in", "12# # #4", "4\" 4' 4″", "k k k 7 k k"}

func fuzzSeeds(f *testing.F) {
	for _, s := range nasty {
		f.Add(s)
	}
	for _, messages := range corpusMessages(f) {
		for i := 0; i < len(messages); i += 9 {
			f.Add(messages[i])
		}
	}
}

// Whatever the message, reading it ends, its places lie in it, its values are
// numbers with units, and every number that it holds is accounted for.
func FuzzParse(f *testing.F) {
	fuzzSeeds(f)
	contexts := []Context{{}, {Lang: "es"}, {Lang: "en", Fields: []string{"North 40", "oats", "3", "", "lote"}, UnitOf: map[string]string{"ton": "ton", "m": "m"}}}
	f.Fuzz(func(t *testing.T, text string) {
		for _, ctx := range contexts {
			checkRead(t, text, ctx)
		}
	})
}

func checkRead(t testing.TB, text string, ctx Context) {
	req := Parse(text, ctx)
	if len(text) > MaxLength {
		if req.Problem == nil || req.Problem.Code != "too_long" || len(req.Facts) > 0 {
			t.Fatalf("%d bytes were read: %v", len(text), req.Problem)
		}
		return
	}
	if req.Problem != nil && req.Problem.Code == "broken" {
		t.Fatalf("%q: %v", text, req.Problem)
	}
	if req.Lang != "en" && req.Lang != "es" {
		t.Fatalf("%q: language %q", text, req.Lang)
	}
	for i := range req.Facts {
		f := &req.Facts[i]
		if f.Unit == nil || f.Slot.String() == "" || math.IsNaN(f.Min) || math.IsInf(f.Max, 0) || f.Min > f.Max {
			t.Fatalf("%q: fact %+v", text, f)
		}
		if f.Unit.Dim != unit.None && f.Unit.Dim != f.Slot.Dim() && f.Slot.Dim() != unit.None && !takesBesides(f) {
			t.Fatalf("%q: %s is not in %s", text, f.Slot, f.Unit.Symbol)
		}
	}
	checkPlaces(t, text, ctx, req)
	if gone := lost(t, text, ctx, req); len(gone) > 0 {
		t.Fatalf("%q in %q: nothing accounts for %q", text, ctx.Lang, gone)
	}
	if ex := Explain(text, ctx); !strings.Contains(ex, "tokens") {
		t.Fatalf("%q is not explained: %q", text, ex)
	}
}

// takesBesides says whether a quantity is also said in another dimension: a price by
// the bag, the work by the hour, a lab value in percent or by weight.
func takesBesides(f *engine.Fact) bool {
	if f.Slot.Dim() == unit.DimMassPerVolume {
		return f.Unit.Dim == unit.DimFraction || f.Unit.Dim == unit.DimMassPerMass
	}
	if f.Slot == engine.CustomCost { // by the hour, the load or the volume too
		return f.Unit.Dim == unit.DimMoney || f.Unit.Dim == unit.DimMoneyPerTime || f.Unit.Dim == unit.DimMoneyPerVolume
	}
	return f.Slot == engine.SeedPrice && f.Unit.Dim == unit.DimMoney
}

// A message that is one byte too long is refused whole; one that just fits is read.
func TestLongestMessage(t *testing.T) {
	fits := strings.Repeat("a", MaxLength-len(" 3000 gallon tank")) + " 3000 gallon tank"
	if req := Parse(fits, in("en")); len(fits) != MaxLength || len(req.Facts) != 1 {
		t.Errorf("%d bytes: %v", len(fits), req.Facts)
	}
	checkRead(t, fits+".", in("en"))
	if !utf8.ValidString(fold(fits).text) {
		t.Error("not UTF-8")
	}
}

func TestNastyMessages(t *testing.T) {
	for _, s := range nasty {
		checkRead(t, s, in("en"))
		checkRead(t, s, in("es"))
		if n := MaxLength / (len(s) + 1); s != "" {
			checkRead(t, strings.Repeat(s+" ", n), in("en"))
		}
	}
}
