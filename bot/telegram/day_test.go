package telegram_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/telegram/apitest"
)

// A whole day: two operators in a group and two in private chats at the same time,
// updates that come twice and late, presses in storms, a stranger who tries doors, a
// server that has bad moments, and restarts in the middle. In the evening every log
// holds exactly what was said in its chat, and every message was answered.
func TestWholeDay(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.group(ann)
	bob, carl, eve := w.server.Person(8, "Bob"), w.server.Person(9, "Carl"), w.server.Person(666, "Eve")
	w.do(func(tx bot.Tx) error { return tx.PutGuest(bot.Guest{ID: 9, Role: bot.Member}) })
	want := map[int64]int{}
	var said []map[string]any
	say := func(p *apitest.Person, chat int64, text string, loads int) {
		said = append(said, p.Say(chat, text))
		want[chat] += loads
		if rand.IntN(4) == 0 { // some updates come again, under another number
			w.server.Push(chat, map[string]any{"message": said[rand.IntN(len(said))]})
		}
	}
	morning := []string{"3000 gallon tank, 7000 per acre, ryegrass 12 lb", "new field north forty, 40 acres"}
	for _, text := range morning {
		say(ann, crew, "@tankside_bot "+text, 0)
		say(ann, 7, text, 0)
		say(carl, 9, strings.ReplaceAll(text, "3000", "5000"), 0)
	}
	for hour := range 6 {
		switch hour {
		case 1:
			w.server.Fail("sendMessage", apitest.Fault{Status: 500, Times: 2})
		case 2:
			w.halt()
		case 3:
			w.start()
			w.server.Fail("getUpdates", apitest.Fault{Half: true})
		case 4:
			w.server.Fail("sendMessage", apitest.Fault{Status: 429, RetryAfter: 1, Chat: crew})
		}
		say(ann, crew, "/log", 1)
		say(bob, crew, "@tankside_bot log 2 loads", 2)
		say(bob, crew, "/undo", -2)
		say(bob, crew, "see you at the pit", 0)
		say(carl, 9, "log load", 1)
		say(carl, 9, "half load", 1)
		say(ann, 7, fmt.Sprintf("log load, note gate %d", hour), 1)
		say(ann, 7, "what's left", 0)
		eve.Say(666, []string{"totals", "/people", "/start AAAAAAAA", "/export", "log 5 loads", "/remove 7"}[hour])
		eve.Press(666, 1, fmt.Sprintf("b%d.0", hour+1)) // another chat's button
		eve.Press(crew, 1, fmt.Sprintf("b%d.0", hour+1))
		if hour != 2 {
			w.storm(bob, crew, want)
		}
	}
	w.settle()
	for chat, loads := range want {
		if got := len(w.loads(chat)); got != loads {
			t.Errorf("chat %d: %d loads stand, want %d", chat, got, loads)
		}
		last := int64(0)
		for _, r := range w.loads(chat) {
			if r.ID > 0 && r.ID < last {
				t.Errorf("chat %d: load %d after load %d", chat, r.ID, last)
			}
			last = max(last, r.ID)
		}
	}
	if n := len(w.server.Messages(666)); n != 1 || len(w.loads(666)) != 0 {
		t.Errorf("the stranger: %d messages, %d loads", n, len(w.loads(666)))
	}
	answers := map[string]int{}
	for _, m := range w.server.Messages(crew) {
		answers[fmt.Sprint(m.ReplyTo)]++
	}
	for _, m := range said {
		if text := m["text"].(string); m["chat"].(map[string]any)["id"] == crew && strings.ContainsAny(text, "/@") && answers[fmt.Sprint(m["message_id"])] != 1 {
			t.Errorf("%q was answered %d times", text, answers[fmt.Sprint(m["message_id"])])
		}
	}
	for _, r := range w.loads(crew) {
		if r.Who.Name != "Ann" && r.Who.Name != "Bob" {
			t.Errorf("logged by %+v", r.Who)
		}
	}
}

// storm presses all buttons of the chat's last answer with buttons many times at once.
func (w *world) storm(p *apitest.Person, chat int64, want map[int64]int) {
	w.t.Helper()
	w.settle()
	w.hear(chat, "0.43", func() { p.Say(chat, "@tankside_bot 3000 gallon tank, 7000 per acre, ryegrass 12 lb") })
	m := w.last(chat)
	if len(m.Buttons) < 2 {
		w.t.Fatalf("no buttons: %+v", m)
	}
	for range 8 {
		for _, b := range m.Buttons[:2] {
			p.Press(chat, m.ID, b.Data)
		}
	}
	want[chat]++ // one of them counts
	w.settle()
	time.Sleep(5 * time.Millisecond)
}
