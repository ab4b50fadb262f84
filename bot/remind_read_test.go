package bot

import (
	"testing"
	"time"
)

func TestReadWish(t *testing.T) {
	zone, err := time.LoadLocation("America/Chicago")
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 9, 14, 14, 20, 0, 0, zone)
	for text, want := range map[string]struct {
		what string
		due  string
	}{
		"remind me in 20 minutes to check the pail":        {"check the pail", "14:40"},
		"Remind me in twenty minutes to check the pail.":   {"check the pail", "14:40"},
		"in half an hour remind us that the pit is low":    {"the pit is low", "14:50"},
		"remind me to call the dealer in an hour":          {"call the dealer", "15:20"},
		"remind me in an hour and a half to eat":           {"eat", "15:50"},
		"please remind me at 5 to move the hose":           {"move the hose", "17:00"},
		"remind me at 2:15 to shut the gate":               {"shut the gate", "02:15"},
		"remind me at 3 pm about the trucks":               {"the trucks", "15:00"},
		"recuérdame en 20 minutos que mire el balde":       {"mire el balde", "14:40"},
		"avísame en media hora de cerrar la compuerta":     {"cerrar la compuerta", "14:50"},
		"recuérdame a las 17:30 que llame":                 {"llame", "17:30"},
		"remind me to wet 12 lb of ryegrass in 10 minutes": {"wet 12 lb of ryegrass", "14:30"},
		"remind me to check":                               {"check", ""},
	} {
		w, ok := ReadWish(text, "", at)
		due := ""
		if !w.Due.IsZero() {
			due = w.Due.Format("15:04")
		}
		if !ok || w.What != want.what || due != want.due {
			t.Errorf("%q: got %q at %q (%v), want %q at %q", text, w.What, due, ok, want.what, want.due)
		}
	}
	for _, text := range []string{"3000 gallon tank", "log load", ""} {
		if _, ok := ReadWish(text, "", at); ok {
			t.Errorf("%q is no wish for a reminder", text)
		}
	}
}

// A clock that is put forward or back still shows its time once.
func TestNextClockOverClockChange(t *testing.T) {
	zone, err := time.LoadLocation("America/Chicago")
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 10, 31, 19, 0, 0, 0, zone) // summer time ends that night
	due, ok := NextClock("19:00", at)
	if !ok || due.Sub(at) != 25*time.Hour || due.Format("15:04") != "19:00" {
		t.Errorf("got %v", due)
	}
}

func TestPlainlyTheJob(t *testing.T) {
	for text, want := range map[string]bool{
		"3000 gallon tank, 7000 per acre, ryegrass 12 lb":        true,
		"how fast at 7000 per acre, 12 ft, 500 gpm":              true,
		"how many acres does 3000 gallons at 7000 gal/ac cover?": true,
		"see you at 7":                  false,
		"lunch at 12?":                  false,
		"ok":                            false,
		"log load":                      false,
		"I bought 40 acres":             false,
		"who has the keys to the tank?": false,
	} {
		if got := PlainlyTheJob(text, Memory{}); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}

func TestOwnValuesInAGroup(t *testing.T) {
	terms := Terms{Group: true}
	noon := time.Date(2026, 9, 14, 12, 0, 0, 0, time.UTC)
	m, id := Memory{}, int64(0)
	say := func(person int64, text string) string {
		id++
		d := terms.Decide(Message{Chat: -5, ID: id, Person: Person{ID: person, Name: "P"}, Text: text, At: noon}, m, Book{})
		m = d.Memory
		return Say(d).Text
	}
	say(1, "the tank is 3000 gallons")
	say(2, "my tank is 4000 gallons")
	say(1, "7000 per acre")
	tank := func(person int64) float64 {
		for _, r := range (ownFacts{true, person}).lay(m).Facts {
			if r.Fact.Slot.String() == "tank_volume" {
				return r.Fact.Min
			}
		}
		return 0
	}
	if tank(1) != 3000 || tank(2) != 4000 || tank(3) != 3000 {
		t.Errorf("tanks %v, %v, %v", tank(1), tank(2), tank(3))
	}
	say(2, "make it 4500")
	say(1, "tank 3200 gallons") // the question back is not theirs to answer
	say(2, "4500 gal tank")
	if tank(1) != 3200 || tank(2) != 4500 || tank(3) != 3200 {
		t.Errorf("after changes: tanks %v, %v, %v", tank(1), tank(2), tank(3))
	}
}
