package bot

import (
	"strings"
	"testing"
	"time"

	"tankside/engine"
)

// talking holds a conversation without a store.
type talking struct {
	t  *testing.T
	m  Memory
	id int64
}

func (c *talking) say(msg Message) *Reply {
	c.t.Helper()
	c.id++
	msg.ID, msg.Person, msg.At = c.id, Person{ID: 1, Name: "Ann"}, time.Date(2026, 9, 14, 12, 0, 0, 0, time.UTC)
	d := Terms{}.Decide(msg, c.m, Book{})
	c.m = d.Memory
	r, err := d.reply(msg, Book{}, func(Recall) ([]Load, error) { return nil, nil })
	if err != nil {
		c.t.Fatal(err)
	}
	return r
}

func TestUnsureWords(t *testing.T) {
	c := talking{t: t}
	if r := c.say(Message{Text: "7000 per acre, how many acres a load?"}); r.Outcome.Status != engine.Asks {
		t.Fatalf("%s", r.Text)
	}
	for _, text := range []string{"four thousand gallons", "three thousand gallons"} { // the second in place of the first
		if r := c.say(Message{Text: text, Heard: true, Unsure: true}); r.Outcome.Problem != engine.ConfirmHeard || r.Outcome.Heard != "" || len(c.m.Facts) != 1 {
			t.Fatalf("%s: %d facts", r.Text, len(c.m.Facts))
		}
	}
	if r := c.say(Message{Text: "yes"}); !strings.HasPrefix(r.Text, "0.43 acres") {
		t.Errorf("after yes: %s", r.Text)
	}
	c.say(Message{Text: "make the tank nine thousand", Heard: true, Unsure: true})
	if r := c.say(Message{Text: "no"}); r.Outcome.Act != engine.ActDropped || c.m.Pending != nil {
		t.Errorf("after no: %s, pending %v", r.Text, c.m.Pending)
	}
	c.say(Message{Text: "make the tank nine thousand", Heard: true, Unsure: true})
	if r := c.say(Message{Text: "no, my tank is 5000 gallons"}); !strings.Contains(r.Text, "5,000") {
		t.Errorf("after a correction: %s", r.Text)
	}
	if r := c.say(Message{Text: "what's my tank?", Heard: true}); !strings.HasPrefix(r.Text, "I heard: “what's my tank?”\n") || strings.Contains(r.Text, "9,000") {
		t.Errorf("by voice: %s", r.Text)
	}
}

func TestSpeakOnAndOff(t *testing.T) {
	for _, c := range []struct {
		text     string
		voice    bool
		act      string
		problem  string
		speaking bool
	}{
		{"speak on", true, engine.ActSpeakOn, "", true},
		{"speak on", false, "", engine.NoVoice, false},
		{"speak off", true, engine.ActSpeakOff, "", false},
		{"speak off", false, engine.ActSpeakOff, "", false},
		{"activa la voz", true, engine.ActSpeakOn, "", true},
		{"con voz", true, engine.ActSpeakOn, "", true},
		{"desactiva la voz", true, engine.ActSpeakOff, "", false},
		{"voz apagada", true, engine.ActSpeakOff, "", false},
		{"sin voz", true, engine.ActSpeakOff, "", false},
	} {
		for _, before := range []bool{false, true} {
			talk := talking{t: t, m: Memory{Speak: before}}
			r := talk.say(Message{Text: c.text, Speaks: c.voice})
			if r.Outcome.Act != c.act || r.Outcome.Problem != c.problem || talk.m.Speak != c.speaking {
				t.Errorf("%q with a voice %v: act %q, problem %q, speaking %v", c.text, c.voice, r.Outcome.Act, r.Outcome.Problem, talk.m.Speak)
			}
		}
	}
}
