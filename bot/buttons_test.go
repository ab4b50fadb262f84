package bot

import (
	"testing"
	"time"

	"tankside/engine"
)

// Every button, pressed, is understood: it does not lead to the question that offered
// it, nor to "I did not understand".
func TestButtonsAreUnderstood(t *testing.T) {
	noon := time.Date(2026, 9, 14, 12, 0, 0, 0, time.UTC)
	known := Memory{}
	for i, text := range []string{"my tank is 3000 gallons", "7000 per acre", "new field north forty, 40 acres", "new field creek, 20 acres"} {
		known = Decide(Message{ID: int64(i), Text: text, At: noon}, known, Book{}).Memory
	}
	offered := 0
	for _, text := range []string{
		"3000 gallon tank, 7000 per acre, ryegrass 12 lb", "half a tank?", "1800 gallons left, how many acres?", "ryegrass 12 lb, acres per load",
		"3000 gallon tank, 7000 per acre, rye 12 lb", "clover 10 lb, 3000 gallon tank, 7000 per acre",
		"make it 4500", "log load at 90000 per acre", "my tank is 30000 gallons", "log load", "list fields", "mis campos", "8000",
		"tanque de 3000 galones, 7000 por acre, raigrás 12 libras", "medio tanque?",
	} {
		for _, m := range []Memory{{}, known} {
			first := Decide(Message{ID: 100, Text: text, At: noon}, m, Book{})
			for i, b := range ButtonsFor(first.Lang, first.Outcome) {
				offered++
				d := Terms{}.Decide(Message{ID: int64(200 + i), Text: b.Say, At: noon}, first.Memory, Book{})
				if d.Outcome.Status == engine.NotUnderstood || d.Outcome.Status == engine.Asks && d.Outcome.Problem == first.Outcome.Problem && d.Outcome.Problem != "" {
					t.Errorf("%q offers %q, which comes to:\n%s", text, b.Say, Say(d).Text)
				}
			}
		}
	}
	if offered < 25 {
		t.Errorf("only %d buttons were offered", offered)
	}
}
