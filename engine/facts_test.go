package engine

import (
	"strconv"
	"strings"
	"testing"

	"tankside/engine/unit"
)

// facts reads "slot(of)=value_unit slot=lo..hi_unit", blanks inside names written
// with a low line, as in the corpus.
func facts(t testing.TB, text string) Facts {
	t.Helper()
	var out Facts
	for _, word := range strings.Fields(text) {
		f, err := readFact(word)
		if err != "" {
			t.Fatalf("%s: %s", word, err)
		}
		out = append(out, f)
	}
	return out
}

func readFact(word string) (f Fact, problem string) {
	name, value, hasValue := strings.Cut(word, "=")
	if base, of, ok := strings.Cut(strings.TrimSuffix(name, ")"), "("); ok {
		name, f.Of = base, strings.ReplaceAll(of, "_", " ")
	}
	if f.Slot = SlotNamed(name); f.Slot == NoSlot {
		return f, "no such slot"
	}
	if !hasValue {
		return f, ""
	}
	number, symbol, _ := strings.Cut(value, "_")
	if f.Unit = unit.Find(strings.ReplaceAll(symbol, "_", " ")); f.Unit == nil {
		return f, "no such unit"
	}
	lo, hi, ranged := strings.Cut(number, "..")
	var err error
	if f.Min, err = strconv.ParseFloat(lo, 64); err != nil {
		return f, err.Error()
	}
	f.Max = f.Min
	if ranged {
		if f.Max, err = strconv.ParseFloat(hi, 64); err != nil {
			return f, err.Error()
		}
	}
	return f, ""
}

// result finds a result by slot and crop.
func (r *Reckoning) result(s Slot, of string) *Value {
	for i := range r.Results {
		if r.Results[i].Slot == s && r.Results[i].Of == of {
			return &r.Results[i]
		}
	}
	return nil
}

func (r *Reckoning) noted(id string) bool {
	for _, n := range r.Notes {
		if n.ID == id {
			return true
		}
	}
	return false
}

// names joins slots, once each in a row, for comparing with a line of a table.
func names(slots []Slot) string {
	var out []string
	for _, s := range slots {
		if n := s.String(); len(out) == 0 || out[len(out)-1] != n {
			out = append(out, n)
		}
	}
	return strings.Join(out, " ")
}
