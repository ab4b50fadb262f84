package bot

import (
	"fmt"
	"math"
	"regexp"
	"sort"
	"strings"
	"testing"

	"tankside/engine"
	"tankside/engine/unit"
	"tankside/parse"
)

// A message in US units and its twin in metric ones give the same results.
func TestMetricTwinGivesTheSameResults(t *testing.T) {
	n := 0
	for lang, lines := range corpusLines(t) {
		for _, l := range lines {
			twin, ok := metricTwin(lang, l.text)
			if !ok {
				continue
			}
			us, metric := askText(l.text).Outcome, askText(twin).Outcome
			if us.Status != engine.Answered {
				continue
			}
			n++
			if bad := differentResults(us, metric); bad != "" {
				t.Errorf("%s: %q and %q: %s", l.at, l.text, twin, bad)
			}
		}
	}
	enough(t, n, 120)
}

// twinUnit is the metric unit that a US unit is turned into, and how it is written.
var twinUnit = map[string][2]string{"gal": {"L", "L"}, "gal/acre": {"L/ha", "L/ha"}, "gal/min": {"L/min", "L/min"}, "acre": {"ha", "ha"}, "lb/acre": {"kg/ha", "kg/ha"},
	"ft": {"m", "metros"}, "mph": {"km/h", "km/h"}, "lb": {"kg", "kg"}}

// metricTwin writes each amount of a message anew in its metric unit. Only messages
// whose amounts all carry their unit in the text can be turned.
func metricTwin(lang, text string) (string, bool) {
	req := parse.Parse(text, parse.Context{Lang: lang})
	if len(req.Facts) < 2 || len(req.Loose)+len(req.Unread)+len(req.Withdrawn)+len(req.Acts)+len(req.Fixes) > 0 || req.Problem != nil || req.Convert != nil || req.WhatIf {
		return "", false
	}
	facts := append(engine.Facts(nil), req.Facts...)
	sort.Slice(facts, func(i, j int) bool { return facts[i].At[0] > facts[j].At[0] })
	for i := range facts {
		f := &facts[i]
		if f.Range() || f.Implied || f.About || i > 0 && f.At[1] > facts[i-1].At[0] {
			return "", false
		}
		to, ok := twinUnit[f.Unit.Symbol]
		if !ok {
			if f.Unit.Dim != unit.DimTime && f.Unit.Dim != unit.DimFraction && f.Unit.Dim != unit.None {
				return "", false
			}
			continue
		}
		said, plain := amountIn(text[f.At[0]:f.At[1]])
		if !plain {
			return "", false
		}
		value := unit.Must(to[0]).FromBase(f.Unit.ToBase(f.Min))
		anew := strings.Replace(text[f.At[0]:f.At[1]], said, fmt.Sprintf("%.9f %s", value, to[1]), 1)
		text = text[:f.At[0]] + anew + text[f.At[1]:]
	}
	return text, true
}

// usAmount is a plain number in digits with a US unit.
var usAmount = regexp.MustCompile(`(?i)(\d[\d,]*(?:\.\d+)?|\.\d+)[ -]?(gallons per acre|gallons an acre|gal/acre|gal/ac|gpa|galones por acre|gal por acre|gallons per minute|gal/min|gpm|` +
	`galones por minuto|gallons?|gal|galones|acres?|ac|lb/acre|lb/ac|lbs? per acre|lbs? an acre|pounds per acre|pounds an acre|libras por acre|ft|feet|foot|pies|mph|millas por hora|lbs?|pounds|libras)\b`)

// amountIn finds the one amount of a stretch of text; false when there are several
// numbers or it is written in another way.
func amountIn(s string) (string, bool) {
	found := usAmount.FindAllString(s, -1)
	if len(found) != 1 || strings.ContainsAny(strings.Replace(s, found[0], "", 1), "0123456789½¼¾") {
		return "", false
	}
	return found[0], true
}

// differentResults says in what two outcomes differ by more than a millionth. A pail is
// a common size of its own in either system.
func differentResults(a, b *engine.Outcome) string {
	if a.Status != b.Status {
		return fmt.Sprintf("%s is %s (%s)", a.Status, b.Status, b.Problem)
	}
	if len(a.Results) != len(b.Results) {
		return fmt.Sprintf("%d results and %d", len(a.Results), len(b.Results))
	}
	for i, v := range a.Results {
		w := b.Results[i]
		if v.Slot == engine.Pails || v.Slot == engine.SoakWater {
			continue
		}
		if v.Slot != w.Slot || v.Of != w.Of || !close6(v.Min, w.Min) || !close6(v.Max, w.Max) {
			return fmt.Sprintf("%s %s %.9g..%.9g is %s %s %.9g..%.9g", v.Slot, v.Of, v.Min, v.Max, w.Slot, w.Of, w.Min, w.Max)
		}
	}
	return ""
}

func close6(a, b float64) bool { return math.Abs(a-b) <= 1e-6*math.Max(math.Abs(a), math.Abs(b))+1e-12 }
