package telegram_test

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/store"
	"tankside/bot/telegram"
	"tankside/bot/telegram/apitest"
)

// Whatever the server does to a call, the answer comes, once and in order.
func TestFaultsWhenSending(t *testing.T) {
	for name, f := range map[string]apitest.Fault{
		"429":          {Status: 429, RetryAfter: 1},
		"500":          {Status: 500},
		"502 page":     {Status: 502, Body: "<html><h1>Bad Gateway</h1></html>"},
		"three faults": {Status: 500, Times: 2},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			w := newWorld(t)
			ann := w.owner(7, "Ann")
			w.settle()
			before := len(w.server.Messages(7))
			w.server.Fail("sendMessage", f)
			ann.Say(7, "log load")
			ann.Say(7, "log load")
			w.settle()
			got := w.server.Messages(7)[before:]
			if len(got) != 2 || !strings.Contains(got[0].Text, "Load 1") || !strings.Contains(got[1].Text, "Load 2") {
				t.Errorf("answers: %+v", got)
			}
		})
	}
}

// When the call was done but its answer broke off, the message may come twice; the
// load does not.
func TestHalfAnswer(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.settle()
	before := len(w.server.Messages(7))
	w.server.Fail("sendMessage", apitest.Fault{Half: true})
	ann.Say(7, "log load")
	w.settle()
	if n := len(w.server.Messages(7)) - before; n < 1 || n > 2 || len(w.loads(7)) != 1 {
		t.Errorf("%d messages, %d loads", n, len(w.loads(7)))
	}
}

// The server answers with the message that ours quotes. Whatever is in it that nobody has
// heard of yet, ours has gone, and goes once.
func TestQuotesTheFuture(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.group(ann)
	ann.Say(crew, "/log", apitest.With("forward_origin", map[string]any{"type": "from_the_future", "date": 1}))
	ann.Say(crew, "/log", apitest.With("paid_media", map[string]any{"star_count": 1, "paid_media": []any{map[string]any{"type": "hologram"}}}))
	w.settle()
	got := w.server.Messages(crew)
	if len(got) != 2 || !strings.Contains(got[0].Text, "Load 1") || !strings.Contains(got[1].Text, "Load 2") {
		t.Errorf("answers: %+v", got)
	}
}

// An answer that was deleted cannot be edited: it is sent anew.
func TestEditedAnswerIsGone(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	for _, why := range []string{"message to edit not found", "message can't be edited", "MESSAGE_ID_INVALID"} {
		var said map[string]any
		w.hear(7, "3,000", func() { said = ann.Say(7, "my tank is 3000 gallons") })
		w.server.Fail("editMessageText", apitest.Fault{Status: 400, Body: `{"ok":false,"error_code":400,"description":"Bad Request: ` + why + `"}`})
		w.hear(7, "4,000", func() { ann.Edit(said, "my tank is 4000 gallons", time.Now()) })
	}
}

// A chat that is flooded does not hold up the others.
func TestFloodHoldsOneChat(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.group(ann)
	w.server.Fail("sendMessage", apitest.Fault{Status: 429, RetryAfter: 3, Chat: crew})
	ann.Say(crew, "/log")
	ann.Say(crew, "/log")
	began := time.Now()
	w.hear(7, "Load 1", func() { ann.Say(7, "log load") })
	if took := time.Since(began); took > time.Second {
		t.Errorf("the other chat waited %v", took)
	}
	w.settle()
	if got := w.server.Messages(crew); len(got) != 2 || got[0].At.Sub(began) < 2*time.Second {
		t.Errorf("the flooded chat: %+v", got)
	}
}

func TestFaultsWhenPolling(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.settle()
	for _, f := range []apitest.Fault{{Status: 502, Body: "<html>"}, {Half: true}, {Status: 429, RetryAfter: 1}, {Status: 409}} {
		w.server.Fail("getUpdates", f)
	}
	for i := range 8 {
		ann.Say(7, "log load")
		time.Sleep(time.Duration(i) * 10 * time.Millisecond)
	}
	w.settle()
	if n := len(w.loads(7)); n != 8 {
		t.Errorf("%d loads", n)
	}
}

// An update that does not decode is set aside, and the ones behind it are reached.
func TestPoison(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.settle()
	w.server.PushRaw(7, 5001, `{"update_id":5001,"message":{"message_id":"not a number","chat":7}}`)
	w.server.PushRaw(7, 5002, `{"update_id":5002,"message_reaction":{"chat":{"id":7},"new_reaction":[{"type":"telepathy"}]}}`)
	w.server.PushRaw(7, 5003, `{"update_id":5003,"something_new":{"from":[1,2]}}`)
	w.hear(7, "Load 1", func() {
		ann.Say(7, "log load", apitest.With("forward_origin", map[string]any{"type": "from_the_future"}), apitest.With("reply_to_message",
			map[string]any{"message_id": 1, "date": 1, "chat": map[string]any{"id": 7, "type": "private"}, "paid_media": map[string]any{"paid_media": []any{map[string]any{"type": "hologram"}}}}))
	})
	w.settle()
	if !strings.Contains(w.logs.String(), "set aside") {
		t.Error("the log does not say that an update was set aside")
	}
}

// An update that trips us is answered with "nothing was logged", and the rest of its
// batch is dealt with.
func TestPanicIsOneUpdateOnly(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.settle()
	w.halt()
	before := len(w.server.Messages(7))
	var tripping int64
	for i := range 6 {
		m := ann.Say(7, "log load")
		if i == 3 {
			tripping = int64(m["message_id"].(int))
		}
	}
	w.wrap = func(d bot.Desk) bot.Desk { return &tripped{Desk: d, id: tripping} }
	w.start()
	w.settle()
	got := w.server.Messages(7)[before:]
	if n := len(w.loads(7)); n != 5 || len(got) != 6 {
		t.Fatalf("%d loads, %d answers", n, len(got))
	}
	sorry := 0
	for _, m := range got {
		if strings.Contains(m.Text, "Nothing was logged") {
			sorry++
		}
	}
	if sorry != 1 {
		t.Errorf("told %d times that something broke", sorry)
	}
}

// Duplicates and updates out of their order change nothing, and each message is
// answered once.
func TestDuplicatesAndDisorder(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.settle()
	before := len(w.server.Messages(7))
	var said []map[string]any
	for range 30 {
		said = append(said, map[string]any{"message": ann.Say(7, "log load")})
	}
	w.settle()
	for i := range 100 {
		u := said[rand.IntN(len(said))]
		u["update_id"] = int64(2000 + i*7%100) // again, under other numbers, in disorder
		w.server.Push(7, u)
	}
	w.settle()
	if n, answers := len(w.loads(7)), len(w.server.Messages(7))-before; n != 30 || answers != 30 {
		t.Errorf("%d loads, %d answers", n, answers)
	}
}

// The database refuses for a while: the server is not told that anything arrived,
// and all of it is dealt with afterwards.
func TestDatabaseAway(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	away := &flaky{}
	w.wrap = func(d bot.Desk) bot.Desk { away.Desk = d; return away }
	ann := w.owner(7, "Ann")
	w.settle()
	away.fail.Store(true)
	for range 5 {
		ann.Say(7, "log load")
	}
	time.Sleep(700 * time.Millisecond)
	if w.server.Pending() != 5 {
		t.Errorf("%d of 5 updates wait at the server", w.server.Pending())
	}
	away.fail.Store(false)
	w.settle()
	if n := len(w.loads(7)); n != 5 {
		t.Errorf("%d loads", n)
	}
}

func TestWebhook(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	away := &flaky{}
	w.wrap = func(d bot.Desk) bot.Desk { away.Desk = d; return away }
	hook := httptest.NewServer(http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) { w.bot.Load().WebhookHandler().ServeHTTP(rw, r) }))
	defer hook.Close()
	defer hook.CloseClientConnections()
	w.config.Webhook = &telegram.Webhook{URL: hook.URL + "/hook", Secret: "s3cret"}
	ann := w.owner(7, "Ann")
	w.settle()
	away.fail.Store(true)
	for range 10 {
		ann.Say(7, "log load")
	}
	time.Sleep(300 * time.Millisecond)
	away.fail.Store(false)
	w.settle()
	if n := len(w.loads(7)); n != 10 {
		t.Errorf("%d loads", n)
	}
	post := func(secret, body string) int {
		req, err := http.NewRequest(http.MethodPost, hook.URL+"/hook", strings.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("X-Telegram-Bot-Api-Secret-Token", secret)
		resp, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		return resp.StatusCode
	}
	forged := `{"update_id":9999,"message":{"message_id":99,"date":1790000000,"text":"log load","from":{"id":7,"first_name":"Ann"},"chat":{"id":7,"type":"private"}}}`
	for _, c := range []struct {
		secret, body string
		want         int
	}{{"", forged, 401}, {"s3cre", forged, 401}, {"s3cret", strings.Repeat("x", 2<<20), 400}, {"s3cret", "not json", 200}} {
		if got := post(c.secret, c.body); got != c.want {
			t.Errorf("secret %q, %.20q: %d, want %d", c.secret, c.body, got, c.want)
		}
	}
	w.settle()
	if n := len(w.loads(7)); n != 10 {
		t.Errorf("%d loads after a forged update", n)
	}
	// Back to long polling: the webhook is taken away, and nothing that waits is lost.
	w.halt()
	w.config.Webhook = nil
	ann.Say(7, "log load")
	w.start()
	w.settle()
	if n := len(w.loads(7)); n != 11 {
		t.Errorf("%d loads after the change to polling", n)
	}
}

func TestPacing(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	w.config.Limits = telegram.Limits{All: 200, Private: 20, Group: 10}
	ann := w.owner(7, "Ann")
	w.group(ann)
	for range 15 {
		ann.Say(crew, "/log")
		ann.Say(7, "log load")
	}
	w.settle()
	for chat, least := range map[int64]time.Duration{7: 500 * time.Millisecond, crew: 900 * time.Millisecond} {
		all := w.server.Messages(chat)
		if took := all[len(all)-1].At.Sub(all[len(all)-15].At); took < least {
			t.Errorf("chat %d: 15 messages in %v", chat, took)
		}
		for i, m := range all[len(all)-15:] {
			if !strings.Contains(m.Text, fmt.Sprintf("Load %d ", i+1)) {
				t.Errorf("chat %d: message %d is %q", chat, i, m.Text)
			}
		}
	}
}

func TestVoiceHoldsOnlyItsChat(t *testing.T) {
	w := newWorld(t)
	goOn := make(chan struct{})
	w.config.Hear = func(ctx context.Context, lang string, ogg io.Reader) (telegram.Heard, error) {
		data, err := io.ReadAll(ogg)
		<-goOn
		return telegram.Heard{Text: string(data)}, err
	}
	ann := w.owner(7, "Ann")
	w.group(ann)
	w.server.AddFile("note", []byte("log two loads"))
	before := len(w.server.Messages(7))
	ann.Say(7, "", apitest.Voice("note", 3))
	ann.Say(7, "undo")
	w.hear(crew, "Load 1", func() { ann.Say(crew, "/log") })
	if len(w.server.Messages(7)) != before {
		t.Error("the chat did not wait for its voice note")
	}
	close(goOn)
	w.settle()
	got := w.server.Messages(7)[before:]
	if len(got) != 2 || !strings.Contains(got[0].Text, "2 loads") || !strings.Contains(got[1].Text, "taken back") {
		t.Errorf("answers: %+v", got)
	}
	if len(w.server.Calls("sendChatAction")) == 0 {
		t.Error("no sign of work")
	}
}

// With the limits on nothing is lost, and no chat is served before the others have
// had their turn.
func TestFairQueue(t *testing.T) {
	t.Parallel()
	const each = 6
	w := newWorld(t)
	chats := w.letIn(-700, 30)
	w.config.Limits = telegram.Limits{All: 30, Private: 100, Group: 100}
	w.fill(chats, each)
	w.start()
	total := func() (n int) {
		for _, chat := range chats {
			n += len(w.server.Messages(chat))
		}
		return n
	}
	w.await("half of the answers", func() bool { return total() >= len(chats)*each/2 })
	for _, chat := range chats {
		if n := len(w.server.Messages(chat)); n < each/2-2 || n > each/2+1 {
			t.Errorf("chat %d has had %d answers when half of all were out", chat, n)
		}
	}
	w.settle()
	if n := total(); n != len(chats)*each {
		t.Errorf("%d answers", n)
	}
}

// fill puts messages in the outbox: all of one chat before those of the next.
func (w *world) fill(chats []int64, each int) {
	w.t.Helper()
	s, err := store.Open(w.t.Context(), w.path)
	if err != nil {
		w.t.Fatal(err)
	}
	defer s.Close()
	err = s.Do(w.t.Context(), func(tx bot.Tx) error {
		for _, chat := range chats {
			for i := range each {
				if _, err := tx.Send(bot.Outgoing{Chat: chat, Rank: 1, Body: fmt.Appendf(nil, `{"m":"sendMessage","t":"%d"}`, i)}); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		w.t.Fatal(err)
	}
}

// What cannot be read is said once; what the server itself puts into a chat is not
// answered.
func TestOtherKindsOfMessages(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.group(ann)
	for _, kind := range []string{"photo", "poll", "checklist", "paid_media"} {
		w.hear(7, "I read text", func() { ann.Say(7, "", apitest.With(kind, map[string]any{})) })
	}
	w.hear(7, "0.43", func() {
		ann.Say(7, "", apitest.With("photo", []any{}), apitest.With("caption", "3000 gallon tank, 7000 per acre, ryegrass 12 lb"))
	})
	m := ann.Say(7, "", apitest.With("location", map[string]any{"latitude": 44.1, "longitude": -93.2, "live_period": 900}))
	w.settle()
	n := len(w.server.Messages(7))
	for i := range 3 {
		ann.Edit(m, "", time.Now().Add(time.Duration(i)*time.Second)) // the place moves
	}
	ann.Say(7, "", apitest.With("pinned_message", map[string]any{"message_id": 1, "date": 1, "chat": map[string]any{"id": 7, "type": "private"}}))
	ann.Say(crew, "", apitest.With("sticker", map[string]any{"emoji": "x"}))
	w.settle()
	if len(w.server.Messages(7)) != n || len(w.server.Messages(crew)) != 0 {
		t.Error("answered what nobody said")
	}
	admin := &apitest.Person{Server: w.server, ID: 1087968824, Name: "Group"}
	w.hear(crew, "Load 1", func() {
		admin.Say(crew, "/log", apitest.With("sender_chat", map[string]any{"id": crew, "type": "group"}),
			apitest.With("from", map[string]any{"id": 1087968824, "is_bot": true, "first_name": "Group"}))
	})
}
