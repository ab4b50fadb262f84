package bot_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/bottest"
)

// What went on a field in an earlier season, a year, a week or yesterday is told
// from the log with its days; a place that is no field of this chat is asked about.
func TestThePastIsTold(t *testing.T) {
	store := &bottest.Store{}
	b := bot.New(store)
	id := int64(0)
	say := func(at time.Time, text string) *bot.Reply {
		id++
		r, err := b.Handle(context.Background(), bot.Message{Chat: 1, ID: id, Person: bot.Person{ID: 1, Name: "Ana"}, Text: text, At: at})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	lastFall := time.Date(2025, 10, 5, 9, 0, 0, 0, time.UTC)
	say(lastFall, "3000 gallon tank, 7000 per acre, ryegrass 12 lb")
	say(lastFall, "new field north forty, 40 acres")
	for i := range 5 {
		say(lastFall.AddDate(0, 0, i/3).Add(time.Duration(i)*time.Hour), "log load")
	}
	say(lastFall.AddDate(0, 0, 1), "field done")
	yesterday := time.Date(2026, 11, 24, 9, 0, 0, 0, time.UTC)
	say(yesterday, "new field creek, 20 acres")
	say(yesterday, "log 2 loads")
	now := yesterday.AddDate(0, 0, 1)
	for text, want := range map[string][]string{
		"what did we put on the north forty last fall?":  {"North forty", "October 5, 2025", "5 loads", "2.14 acres", "15,000"},
		"how many loads did we do last year":             {"5 loads", "October 6, 2025"},
		"how many loads yesterday?":                      {"2 loads", "November 24, 2026"},
		"what did we put on creek last fall?":            {"Creek", "0 loads", "2025"},
		"¿qué pusimos en north forty el otoño pasado?":   {"North forty", "5 de octubre de 2025", "5 cargas"},
		"what rate did we run on north forty last fall?": {"North forty", "7,000"},
		"how many gallons did we spread last week?":      {"0 loads"},
		"what did we put on the moon patch last fall?":   {"no field called", "moon patch"},
		"¿cuántas cargas hicimos ayer?":                  {"2 cargas", "24 de noviembre"},
		"how many acres did we cover this month?":        {"2 loads", "November 24, 2026"},
	} {
		r := say(now, text)
		for _, w := range want {
			if !strings.Contains(r.Text, w) {
				t.Errorf("%q lacks %q:\n%s", text, w, r.Text)
			}
		}
	}
}

// A question about another field leaves the field in hand: the next load goes where
// the driver is.
func TestAQuestionMovesNobody(t *testing.T) {
	store := &bottest.Store{}
	b := bot.New(store)
	at := time.Date(2026, 9, 14, 9, 0, 0, 0, time.UTC)
	say := func(text string) *bot.Reply {
		at = at.Add(time.Minute)
		r, err := b.Handle(context.Background(), bot.Message{Chat: 1, ID: at.Unix(), Text: text, At: at})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	say("3000 gallon tank, 7000 per acre")
	say("new field north forty, 40 acres")
	say("log 2 loads")
	say("new field creek, 10 acres")
	for _, question := range []string{"totals for north forty", "what's left in north forty", "what did we put on north forty today"} {
		if r := say(question); !strings.Contains(r.Text, "North forty") || !strings.Contains(r.Text, "2 loads") {
			t.Errorf("%q: %s", question, r.Text)
		}
	}
	if r := say("log load"); !strings.Contains(r.Text, "in creek logged") {
		t.Errorf("the load went elsewhere: %s", r.Text)
	}
}

// A limit is no rate to work with, and a logged rate that passes it is warned of.
func TestALimitIsKept(t *testing.T) {
	at := time.Date(2026, 9, 14, 9, 0, 0, 0, time.UTC)
	var m bot.Memory
	say := func(text string) bot.Decision {
		at = at.Add(time.Minute)
		d := bot.Decide(bot.Message{Chat: 1, ID: at.Unix(), Text: text, At: at}, m, bot.Book{})
		m = d.Memory
		return d
	}
	say("my limit is 9000 gal an acre")
	say("4000 gal tank")
	if d := say("how many acres a load"); len(d.Outcome.Missing) == 0 {
		t.Errorf("the limit was taken for the rate: %s", bot.Say(d).Text)
	}
	say("10000 per acre")
	if text := bot.Say(say("log load")).Text; !strings.Contains(text, "over your limit of 9,000") {
		t.Errorf("no warning: %s", text)
	}
}
