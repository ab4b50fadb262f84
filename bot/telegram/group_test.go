package telegram_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/telegram/apitest"
)

const crew = int64(-500)

// group makes a group that its owner has let the bot into.
func (w *world) group(owner *apitest.Person) {
	w.t.Helper()
	w.server.Group(crew, "The crew")
	owner.Member(crew, "member")
	w.settle()
}

func TestGroup(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.group(ann)
	bob := w.server.Person(8, "Bob")
	// Talk that is not for the bot, with the privacy mode off.
	for _, text := range []string{"morning all", "see you at 7", "log load", "who has the 40 acre field?", "undo", "ok 3000", "/help@some_other_bot", "@tankside_bots hello 3000 gallons", ""} {
		bob.Say(crew, text)
	}
	w.settle()
	if got := w.server.Messages(crew); len(got) != 0 {
		t.Fatalf("the bot spoke unasked: %+v", got)
	}
	var asked map[string]any
	m := w.hear(crew, "0.43", func() { asked = bob.Say(crew, "3000 gallon tank, 7000 per acre, ryegrass 12 lb") })
	if m.ReplyTo != asked["message_id"] {
		t.Errorf("quotes %d, want %v", m.ReplyTo, asked["message_id"])
	}
	w.hear(crew, "Load 1 logged", func() { bob.Say(crew, "@"+apitest.BotName+" log load") })
	w.hear(crew, "Load 2 logged", func() { ann.Say(crew, "/log@Tankside_Bot") })
	w.hear(crew, "Somebody else", func() { bob.Say(crew, "/undo") }) // Ann's load, Bob is no owner
	w.hear(crew, "Load 2 taken back", func() { ann.Say(crew, "undo", apitest.ReplyTo(m.ID)) })
	w.hear(crew, "Load 1 taken back", func() { bob.Say(crew, "/undo") }) // his own
	w.hear(crew, "4,000", func() { bob.Say(crew, "@tankside_bot my tank is 4000 gallons") })
	w.hear(crew, "0.57", func() { bob.Say(crew, "/log") })
	w.hear(crew, "7,000 gal spread", func() { ann.Say(crew, "/log") }) // Ann: 3,000 after Bob's 4,000
	w.settle()
	rows := w.loads(crew)
	if len(rows) != 2 || rows[0].Who.Name != "Bob" || rows[1].Who.Name != "Ann" {
		t.Errorf("rows: %+v", rows)
	}
	if len(w.loads(7)) != 0 || len(w.loads(8)) != 0 {
		t.Error("a group's loads are in private logs")
	}
	// A question back waits for a reply, so that the privacy mode lets it through.
	m = w.hear(crew, "?", func() { ann.Say(crew, "@tankside_bot how many loads for the field") })
	if !m.Force && len(m.Buttons) == 0 {
		t.Errorf("nothing to answer with: %+v", m)
	}
}

func TestGroupOfStrangers(t *testing.T) {
	w := newWorld(t)
	w.owner(7, "Ann")
	eve := w.server.Person(666, "Eve")
	w.server.Group(crew, "Not ours")
	eve.Member(crew, "member")
	eve.Say(crew, "3000 gallon tank, 7000 per acre, ryegrass 12 lb")
	w.settle()
	if got := w.server.Messages(crew); len(got) != 0 {
		t.Errorf("spoke: %+v", got)
	}
	w.hear(crew, "one farm", func() { eve.Say(crew, "/log") })
	eve.Say(crew, "/log")
	eve.Say(crew, "@tankside_bot totals")
	w.settle()
	if got := w.server.Messages(crew); len(got) != 1 {
		t.Errorf("spoke %d times", len(got))
	}
	ann := &apitest.Person{Server: w.server, ID: 7, Name: "Ann"}
	w.hear(crew, "Welcome", func() { ann.Say(crew, "/invite@"+apitest.BotName) })
	w.hear(crew, "Load 1", func() { eve.Say(crew, "/log") })
}

func TestTopics(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.group(ann)
	m := w.hear(crew, "Load 1", func() { ann.Say(crew, "/log", apitest.InTopic(42)) })
	if m.Thread != 42 {
		t.Errorf("answered in topic %d", m.Thread)
	}
	m = w.hear(crew, "Load 2", func() { ann.Say(crew, "/log") })
	if m.Thread != 0 {
		t.Errorf("answered in topic %d", m.Thread)
	}
	// A topic that only its keepers may write in: what was logged is told to the group.
	w.server.Fail("sendMessage", apitest.Fault{Status: 400, Body: `{"ok":false,"error_code":400,"description":"Bad Request: TOPIC_CLOSED"}`})
	m = w.hear(crew, "Load 3", func() { ann.Say(crew, "/log", apitest.InTopic(42)) })
	if m.Thread != 0 || m.ReplyTo != 0 {
		t.Errorf("answered in topic %d, quoting %d", m.Thread, m.ReplyTo)
	}
}

func TestMovedGroup(t *testing.T) {
	const super = int64(-1001234567890)
	for _, told := range []bool{true, false} {
		t.Run(fmt.Sprint("told ", told), func(t *testing.T) {
			w := newWorld(t)
			ann := w.owner(7, "Ann")
			w.group(ann)
			w.hear(crew, "Got it", func() { ann.Say(crew, "@tankside_bot my tank is 3000 gallons") })
			w.hear(crew, "Load 1", func() { ann.Say(crew, "/log") })
			w.hear(crew, "Load 2", func() { ann.Say(crew, "/log") })
			w.hear(crew, "remind you", func() { ann.Say(crew, "@tankside_bot remind me in 2 hours to eat") })
			w.server.Move(crew, super, told)
			w.settle()
			if !told {
				ann.Say(crew, "/totals") // the answer finds the chat gone, and follows it
				w.await("an answer in the new chat", func() bool { return len(w.server.Messages(super)) == 1 })
			}
			// Numbers start again in the new chat: these are the old chat's first ones.
			w.hear(super, "Load 3", func() { ann.Say(super, "/log") })
			w.hear(super, "Load 4", func() { ann.Say(super, "/log") })
			w.hear(super, "Load 4 taken back", func() { ann.Say(super, "/undo") })
			w.settle()
			if n := len(w.loads(super)); n != 3 {
				t.Errorf("%d loads", n)
			}
			w.do(func(tx bot.Tx) error {
				list, err := tx.Reminders(super)
				if len(list) != 1 {
					t.Errorf("%d reminders moved", len(list))
				}
				return err
			})
		})
	}
}

func TestRemovedAndBack(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.group(ann)
	w.hear(crew, "Load 1", func() { ann.Say(crew, "/log") })
	ann.Member(crew, "kicked")
	ann.Member(crew, "member")
	ann.Say(crew, "", apitest.With("new_chat_title", "Night crew"))
	w.hear(crew, "Load 2", func() { ann.Say(crew, "/log") })
	w.do(func(tx bot.Tx) error {
		g, err := tx.Guest(crew)
		if g.Name != "Night crew" || g.Silent || g.Role != bot.Member {
			t.Errorf("the group: %+v", g)
		}
		return err
	})
}

// One who blocks the bot is not written to, and the rest of the world goes on.
func TestBlocked(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "remind you", func() { ann.Say(7, "remind me in 1 minute to eat") })
	w.server.Block(7, true)
	ann.Say(7, "log load")
	w.await("silence", func() bool {
		silent := false
		w.do(func(tx bot.Tx) error { g, err := tx.Guest(7); silent = g.Silent; return err })
		return silent
	})
	w.settle()
	if len(w.loads(7)) != 1 {
		t.Error("the load of one who cannot be answered is lost")
	}
	w.server.Block(7, false)
	w.hear(7, "1 load", func() { ann.Say(7, "totals today") })
}

func TestClearingIsAsked(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "3,000", func() { ann.Say(7, "my tank is 3000 gallons") })
	m := w.hear(7, "Clear it?", func() { ann.Say(7, "/clear") })
	w.hear(7, "Nothing changed", func() { ann.Press(7, m.ID, m.Buttons[1].Data) })
	w.hear(7, "3,000", func() { ann.Say(7, "/setup") })
	m = w.hear(7, "Clear it?", func() { ann.Say(7, "forget everything") })
	w.hear(7, "", func() { ann.Press(7, m.ID, m.Buttons[0].Data) })
	w.hear(7, "Nothing is remembered", func() { ann.Say(7, "/setup") })
	w.hear(7, "", func() { ann.Say(7, "new field north forty, 40 acres") })
	w.hear(7, "Load 1", func() { ann.Say(7, "log load") })
	w.hear(7, "Forget the field", func() { ann.Say(7, "/forget north forty") })
	w.hear(7, "stay in the log", func() { ann.Say(7, "yes") })
	m = w.hear(7, "whole log", func() { ann.Say(7, "/export") })
	w.hear(7, "every row", func() { ann.Press(7, m.ID, m.Buttons[0].Data) })
	if got := string(w.last(7).Document); !strings.HasPrefix(got, "message,acres\n") || strings.Count(got, "\n") != 2 {
		t.Errorf("the file: %q", got)
	}
}

func TestSpanish(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	ann.Language = "es-419"
	w.hear(7, "Carga 1", func() { ann.Say(7, "/carga") })
	w.hear(7, "Carga 2", func() { ann.Say(7, "/media") })
	w.hear(7, "anulada", func() { ann.Say(7, "/deshacer") })
	w.hear(7, "recuerdo a las", func() { ann.Say(7, "recuérdame en 20 minutos que mire el balde") })
	calls := w.server.Calls("setMyCommands")
	if len(calls) != 3 || calls[2].Params["language_code"] != "es" {
		t.Errorf("commands: %+v", calls)
	}
}

func TestOldUpdatesGetOneSummary(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.settle()
	w.halt()
	then := time.Now().Add(-30 * time.Hour)
	for i := range 5 {
		ann.Say(7, "log load", apitest.At(then.Add(time.Duration(i)*20*time.Minute)))
	}
	before := len(w.server.Messages(7))
	w.start()
	w.await("the summary", func() bool { return len(w.server.Messages(7)) > before })
	w.settle()
	time.Sleep(1500 * time.Millisecond)
	got := w.server.Messages(7)[before:]
	if len(got) != 1 || !strings.Contains(got[0].Text, "5 messages") {
		t.Errorf("answers: %+v", got)
	}
	rows := w.loads(7)
	if len(rows) != 5 || rows[0].When.Unix() != then.Unix() {
		t.Errorf("%d loads, the first at %v, want %v", len(rows), rows[0].When, then)
	}
}
