package telegram_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"tankside/bot/telegram/apitest"
)

func TestPrivateChat(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	m := w.hear(7, "0.43 acres", func() { ann.Say(7, "3000 gallon tank, 7000 per acre, ryegrass 12 lb") })
	if len(m.Buttons) != 3 || m.Buttons[0].Data == "" || m.Buttons[2].Share == "" {
		t.Errorf("buttons: %+v", m.Buttons)
	}
	if !strings.HasPrefix(m.HTML, "<b>") {
		t.Errorf("HTML: %q", m.HTML)
	}
	w.hear(7, "Load 1 logged", func() { ann.Say(7, "log load") })
	w.hear(7, "Load 2 logged", func() { ann.Say(7, "/log") })
	w.hear(7, "taken back", func() { ann.Say(7, "/undo@"+apitest.BotName) })
	w.settle()
	if n := len(w.loads(7)); n != 1 {
		t.Errorf("%d loads stand", n)
	}
	if l := w.loads(7)[0]; l.Who.Name != "Ann" || l.Who.ID != 7 {
		t.Errorf("logged by %+v", l.Who)
	}
}

func TestStrangerIsToldOnce(t *testing.T) {
	w := newWorld(t)
	w.owner(7, "Ann")
	eve := w.server.Person(666, "Eve")
	w.hear(666, "one farm", func() { eve.Say(666, "3000 gallon tank, 7000 per acre") })
	for _, text := range []string{"log load", "totals", "/people", "/export", "/start ABCDEFGH", "ABCDEFGH", "/start 22222222", "/invite", "<b>hi</b>", "/log@" + apitest.BotName} {
		eve.Say(666, text)
	}
	eve.Ask("3000 gallon tank, 7000 per acre")
	w.settle()
	if all := w.server.Messages(666); len(all) != 1 {
		t.Errorf("a stranger was answered %d times: %+v", len(all), all)
	}
	if calls := w.server.Calls("answerInlineQuery"); len(calls) != 1 || len(calls[0].Params["results"].([]any)) != 0 {
		t.Errorf("a stranger got a card: %+v", calls)
	}
	if len(w.loads(666)) != 0 {
		t.Error("a stranger logged")
	}
	// Too many wrong codes: now even a right one is not looked at for a day.
	for range 6 {
		eve.Say(666, "/start 33333333")
	}
	ann := &apitest.Person{Server: w.server, ID: 7, Name: "Ann"}
	invitation := w.hear(7, "/start ", func() { ann.Say(7, "/invite") })
	_, code, _ := strings.Cut(invitation.Text, "/start ")
	eve.Say(666, "/start "+code[:8])
	w.settle()
	if len(w.server.Messages(666)) != 1 {
		t.Error("codes can be guessed without end")
	}
}

func TestInvitations(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	bob := w.server.Person(8, "Bob")
	m := w.hear(7, "/start ", func() { ann.Say(7, "/invite") })
	_, code, _ := strings.Cut(m.Text, "/start ")
	code = code[:8]
	w.hear(8, "one farm", func() { bob.Say(8, "hello") })
	w.hear(8, "Welcome", func() { bob.Say(8, "/start "+code) })
	w.hear(8, "Load 1", func() { bob.Say(8, "log load") })
	w.hear(8, "Only an owner", func() { bob.Say(8, "/invite") })
	carl := w.server.Person(9, "Carl")
	w.hear(9, "one farm", func() { carl.Say(9, "/start "+code) }) // a code works once
	w.hear(7, "/remove 8", func() { ann.Say(7, "/people") })
	w.hear(7, "last owner", func() { ann.Say(7, "/remove 7") })
	w.hear(7, "No longer", func() { ann.Say(7, "/remove 8") })
	bob.Say(8, "log load")
	w.settle()
	if n := len(w.loads(8)); n != 1 {
		t.Errorf("%d loads after Bob was put out", n)
	}
	if strings.Count(w.notice.String(), "/start") != 1 {
		t.Errorf("notices: %q", w.notice.String())
	}
	w.halt()
	w.start() // there is an owner: no new code
	w.settle()
	if strings.Count(w.notice.String(), "/start") != 1 {
		t.Errorf("a new owner's code although there is an owner: %q", w.notice.String())
	}
}

func TestButtons(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	m := w.hear(7, "0.43", func() { ann.Say(7, "3000 gallon tank, 7000 per acre, ryegrass 12 lb") })
	first := m.Buttons[0].Data
	logged := w.hear(7, "Load 1 logged", func() { ann.Press(7, m.ID, first) })
	if len(logged.Buttons) != 3 || logged.Buttons[2].Text != "Undo" {
		t.Errorf("after logging: %+v", logged.Buttons)
	}
	for range 20 { // a storm
		ann.Press(7, m.ID, first)
	}
	ann.Press(7, m.ID, m.Buttons[1].Data) // used together with the first
	w.settle()
	if n := len(w.loads(7)); n != 1 {
		t.Errorf("%d loads after a storm of presses", n)
	}
	calls := w.server.Calls("answerCallbackQuery")
	if len(calls) != 22 || calls[0].Params["text"] != "Load 1 logged · at "+strings.TrimPrefix(calls[0].Params["text"].(string), "Load 1 logged · at ") {
		t.Errorf("%d presses answered: %v", len(calls), calls[0].Params)
	}
	if got := calls[21].Params["text"]; got != "Already done." {
		t.Errorf("used: %v", got)
	}
	w.halt()
	w.start()
	undone := w.hear(7, "taken back", func() { ann.Press(7, logged.ID, logged.Buttons[2].Data) }) // survives a restart
	w.hear(7, "acres", func() { ann.Say(7, "what about 8000 per acre?") })
	m = w.hear(7, "0.43", func() { ann.Say(7, "3000 gallon tank, 7000 per acre, ryegrass 12 lb") })
	w.hear(7, "acre", func() { ann.Say(7, "40 acres in hectares") })
	ann.Press(7, m.ID, m.Buttons[0].Data) // something was said since
	ann.Press(7, undone.ID, "bzzzz")
	ann.Press(7, undone.ID, "<script>")
	w.settle()
	calls = w.server.Calls("answerCallbackQuery")
	for _, c := range calls[len(calls)-3:] {
		if !strings.Contains(c.Params["text"].(string), "from before") {
			t.Errorf("old: %v", c.Params)
		}
	}
	if n := len(w.loads(7)); n != 0 {
		t.Errorf("%d loads stand", n)
	}
}

func TestEditedMessages(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "3,000", func() { ann.Say(7, "my tank is 3000 gallons") })
	w.hear(7, "7,000", func() { ann.Say(7, "7000 per acre") })
	var said map[string]any
	answer := w.hear(7, "Load 1 logged", func() { said = ann.Say(7, "log load") })
	now := time.Now()
	ann.Edit(said, "log 2 loads", now.Add(time.Second))
	w.settle()
	count := len(w.server.Messages(7))
	again := w.server.Messages(7)[count-1]
	if again.ID != answer.ID || again.Edits != 1 || !strings.Contains(again.Text, "2 loads") {
		t.Errorf("answered anew: %+v", again)
	}
	rows := w.loads(7)
	if len(rows) != 2 || rows[0].Replaces != int64(said["message_id"].(int)) || rows[0].Area == 0 {
		t.Errorf("after the edit %d loads: %+v", len(rows), rows)
	}
	ann.Edit(said, "log half a load", now.Add(3*time.Second))
	ann.Edit(said, "log 9 loads", now.Add(2*time.Second)) // came late: older than the one before
	w.settle()
	if rows = w.loads(7); len(rows) != 1 || rows[0].Fraction != 0.5 {
		t.Errorf("after the second edit: %+v", rows)
	}
	ann.Edit(said, "40 acres in hectares", now.Add(4*time.Second))
	w.settle()
	if rows = w.loads(7); len(rows) != 0 {
		t.Errorf("after an edit that logs nothing: %+v", rows)
	}
	if last := w.server.Messages(7)[count-1]; !strings.Contains(last.Text, "taken back") || len(w.server.Messages(7)) != count {
		t.Errorf("says: %q", last.Text)
	}
}

// An edit takes back what its earlier text did to the log, and nothing else.
func TestEditTakesBackItsOwn(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "0.43", func() { ann.Say(7, "3000 gallon tank, 7000 per acre") })
	at := time.Now()
	edit := func(m map[string]any, text string) {
		at = at.Add(time.Second)
		ann.Edit(m, text, at)
		w.settle()
	}
	say := func(text string) (m map[string]any) {
		w.hear(7, "", func() { m = ann.Say(7, text) })
		return m
	}
	want := func(when string, fractions ...float64) {
		t.Helper()
		var got []float64
		for _, r := range w.loads(7) {
			got = append(got, r.Fraction)
		}
		if slices.Sort(got); !slices.Equal(got, fractions) {
			t.Errorf("%s: loads %v, want %v", when, got, fractions)
		}
	}
	first, three := say("log load"), say("log 3 loads")
	edit(first, "undo")
	want("an older load undone", 1, 1, 1)
	edit(three, "undo")
	want("three loads undone")
	if last := w.last(7); strings.Contains(last.Text, "−0") || !strings.Contains(last.Text, "0 acres") {
		t.Errorf("says: %q", last.Text)
	}
	edit(three, "log 2 loads")
	want("an undo made a load again", 1, 1)
	note := say("note lot oats 9-B")
	edit(note, "note lot oats 9-C")
	edit(note, "note lot oats 9-D")
	want("a note edited", 1, 1)
	if rows := w.loads(7); rows[0].Note+rows[1].Note != "lot oats 9-D" {
		t.Errorf("notes: %q, %q", rows[0].Note, rows[1].Note)
	}
	edit(note, "totals")
	want("a note edited away", 1, 1)
	if rows := w.loads(7); rows[0].Note+rows[1].Note != "" {
		t.Errorf("notes: %q, %q", rows[0].Note, rows[1].Note)
	}
	half := say("that was half a load")
	edit(half, "that was a third of a load")

	want("a correction corrected", 1./3, 1)
	edit(half, "undo")
	want("a correction undone", 1, 1)
	edit(half, "that was half a load")
	edit(half, "40 acres in hectares")
	want("a correction edited away", 1, 1)
	load := say("log load")
	say("note gate 4")
	edit(load, "log half a load")
	want("a load with a later note edited", 0.5, 1, 1)
	if rows := w.loads(7); rows[2].Note != "gate 4" {
		t.Errorf("notes: %+v", rows)
	}
	say("that was 1000 gallons")
	edit(load, "undo")
	want("a load put right later undone", 1, 1)
}

// Whatever is edited in whatever order, the log holds what the messages now say.
func TestManyEdits(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "0.43", func() { ann.Say(7, "3000 gallon tank, 7000 per acre") })
	loads := map[string]int{"log load": 1, "log 2 loads": 2, "half load": 1, "note gate 4": 0, "note lot 9-C": 0, "totals": 0, "undo": 0}
	texts := slices.Sorted(maps.Keys(loads))
	type message struct {
		sent map[string]any
		text string
	}
	var said []message
	seed := rand.Uint64()
	dice, at := rand.New(rand.NewPCG(seed, 0)), time.Now()
	pick := func(now string) string { // "undo" is of what the message logged, else of something else
		for {
			if text := texts[dice.IntN(len(texts))]; text != "undo" || loads[now] > 0 {
				return text
			}
		}
	}
	for i := range 150 {
		what := ""
		if len(said) < 3 || dice.IntN(3) == 0 {
			what = pick("")
			said = append(said, message{ann.Say(7, what), what})
		} else {
			m := &said[max(len(said)-1-dice.IntN(5), 0)]
			was := m.text
			m.text, at = pick(was), at.Add(time.Second)
			ann.Edit(m.sent, m.text, at)
			what = was + " → " + m.text
		}
		w.settle()
		want := 0
		for _, m := range said {
			want += loads[m.text]
		}
		if got := len(w.loads(7)); got != want {
			t.Fatalf("seed %d, step %d, %q: %d loads, want %d", seed, i, what, got, want)
		}
	}
}

// The server tells of changes that nobody sees, too: a message that says what it said
// stays logged as it was, whatever the chat has learned since.
func TestEditThatChangesNothing(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "0.43", func() { ann.Say(7, "3000 gallon tank, 7000 per acre") })
	var load map[string]any
	answer := w.hear(7, "Load 1", func() { load = ann.Say(7, "log load") })
	w.hear(7, "8,000", func() { ann.Say(7, "make it 8000 per acre") })
	ann.Edit(load, " log  load", time.Now().Add(time.Second))
	w.settle()
	if rows := w.loads(7); len(rows) != 1 || rows[0].ID != int64(load["message_id"].(int)) || math.Round(rows[0].Rate) != 7000 {
		t.Errorf("loads: %+v", rows)
	}
	for _, m := range w.written(7) {
		if m.ID == answer.ID && m.Edits != 0 {
			t.Errorf("answered anew: %q", m.Text)
		}
	}
}

// A command that is words of the conversation is corrected like them; any other is done
// when it is sent.
func TestEditedCommands(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "0.43", func() { ann.Say(7, "3000 gallon tank, 7000 per acre") })
	var said map[string]any
	answer := w.hear(7, "Load 1 logged", func() { said = ann.Say(7, "/log") })
	for i, text := range []string{"/log 2 loads", "/export yes", "/half"} {
		ann.Edit(said, text, time.Now().Add(time.Duration(i)*time.Second))
		w.settle()
		if i == 0 && len(w.loads(7)) != 2 {
			t.Errorf("%q: loads: %+v", text, w.loads(7))
		}
	}
	rows, last := w.loads(7), w.last(7)
	if len(rows) != 1 || rows[0].Fraction != 0.5 || last.ID != answer.ID || last.Edits != 2 {
		t.Errorf("%d edits, %q, loads: %+v", last.Edits, last.Text, rows)
	}
}

func TestInlineCards(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "tank", func() { ann.Say(7, "my tank is 3000 gallons") })
	asked := ann.Ask("7000 per acre, ryegrass 12 lb, acres per load")
	ann.Ask("log load")
	ann.Ask("")
	w.settle()
	calls := w.server.Calls("answerInlineQuery")
	if len(calls) != 3 {
		t.Fatalf("%d answers", len(calls))
	}
	var cards []any
	for _, c := range calls {
		results := c.Params["results"].([]any)
		if c.Params["inline_query_id"] == asked {
			cards = results
		} else if len(results) != 0 {
			t.Errorf("a card for nothing: %v", c.Params)
		}
	}
	if len(cards) != 1 {
		t.Fatalf("%d cards", len(cards))
	}
	text := cards[0].(map[string]any)["input_message_content"].(map[string]any)["message_text"].(string)
	for _, want := range []string{"0.43", "3,000", "7,000", "12 lb"} {
		if !strings.Contains(text, want) {
			t.Errorf("the card lacks %s: %q", want, text)
		}
	}
	if len(w.loads(7)) != 0 {
		t.Error("an inline query logged a load")
	}
	m := w.hear(7, "0.43", func() { ann.Say(7, "acres per load at 7000 per acre") })
	share := m.Buttons[len(m.Buttons)-1].Share
	if !strings.Contains(share, "3000") {
		t.Errorf("what is shared lacks the tank that was remembered: %q", share)
	}
}
