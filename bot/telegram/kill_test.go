package telegram_test

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/store"
	"tankside/bot/telegram"
	"tankside/bot/telegram/apitest"
)

// The process that runs the bot until it is killed is this test program itself.
const childOf = "TANKSIDE_TEST_BOT_CHILD" // "server address,database"

func TestMain(m *testing.M) {
	if told := os.Getenv(childOf); told != "" {
		api, path, _ := strings.Cut(told, ",")
		fmt.Fprintln(os.Stderr, runChild(api, path))
		os.Exit(1)
	}
	if told := os.Getenv(echoOf); told != "" {
		api, _, _ := strings.Cut(told, ",")
		fmt.Fprintln(os.Stderr, runEcho(api))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

func runChild(api, path string) error {
	ctx := context.Background()
	s, err := store.Open(ctx, path)
	if err != nil {
		return err
	}
	b, err := telegram.New(telegram.Config{Token: apitest.Token, API: api, Desk: s, Zone: time.UTC, Limits: telegram.Limits{Off: true},
		Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	if err != nil {
		return err
	}
	return b.Run(ctx)
}

// kills is how often the bot is killed; TANKSIDE_TEST_KILLS=200 is the long run.
func kills(t *testing.T) int {
	if n, err := strconv.Atoi(os.Getenv("TANKSIDE_TEST_KILLS")); err == nil {
		return n
	}
	if testing.Short() {
		return 5
	}
	return 15
}

// Whenever the bot is killed: each load that was said is in the log exactly once, and
// each message is answered.
func TestKilledUnderLoad(t *testing.T) {
	w := newWorld(t)
	w.patience = 3 * time.Minute // a busy machine leaves a long queue behind
	chats := w.letIn(-600, 8)
	stop, said := make(chan struct{}), make(chan map[int64][]int)
	go func() { said <- w.chatter(chats, stop) }()
	for i := range kills(t) {
		child := exec.Command(os.Args[0])
		child.Env = append(os.Environ(), childOf+"="+w.server.URL+","+w.path)
		child.Stderr = os.Stderr
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		if i%2 == 1 { // every other one is killed in its work, however slow the machine is to start it
			w.awaitAnswer(chats, w.answers(chats))
		}
		time.Sleep(40*time.Millisecond + time.Duration(rand.Int64N(int64(160*time.Millisecond))))
		if err := child.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		child.Wait()
	}
	close(stop)
	all := <-said
	answered := w.answers(chats)
	w.start()
	w.settle()
	twice := 0
	for chat, ids := range all {
		twice += w.checkChat(chat, ids)
	}
	total := 0
	for _, ids := range all {
		total += len(ids)
	}
	t.Logf("%d kills, %d loads, %d answered before the last start, %d answers twice", kills(t), total, answered, twice)
	if answered == 0 {
		t.Error("nothing was answered between the kills: the test shows nothing")
	}
}

// answers is how many messages the bot has sent to the chats.
func (w *world) answers(chats []int64) (n int) {
	for _, chat := range chats {
		n += len(w.server.Messages(chat))
	}
	return n
}

// awaitAnswer waits until the bot has sent more than it had before.
func (w *world) awaitAnswer(chats []int64, before int) {
	w.t.Helper()
	for end := time.Now().Add(w.patience); w.answers(chats) == before; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			w.t.Fatal("the bot answers nothing")
		}
	}
}

// letIn makes groups that may use the bot.
func (w *world) letIn(first int64, n int) (chats []int64) {
	w.t.Helper()
	s, err := store.Open(w.t.Context(), w.path)
	if err != nil {
		w.t.Fatal(err)
	}
	defer s.Close()
	err = s.Do(w.t.Context(), func(tx bot.Tx) error {
		for i := range int64(n) {
			chats = append(chats, first-i)
			w.server.Group(first-i, "Crew")
			if err := tx.PutGuest(bot.Guest{ID: first - i, Role: bot.Member, Asked: true}); err != nil {
				return err
			}
		}
		return tx.PutGuest(bot.Guest{ID: 7, Role: bot.Owner})
	})
	if err != nil {
		w.t.Fatal(err)
	}
	return chats
}

// chatter logs loads in all chats until it is stopped; some updates come twice.
func (w *world) chatter(chats []int64, stop chan struct{}) map[int64][]int {
	said := map[int64][]int{}
	bob := w.server.Person(8, "Bob")
	for {
		select {
		case <-stop:
			return said
		case <-time.After(time.Millisecond):
		}
		chat := chats[rand.IntN(len(chats))]
		m := bob.Say(chat, "/log")
		said[chat] = append(said[chat], m["message_id"].(int))
		if rand.IntN(10) == 0 {
			w.server.Push(chat, map[string]any{"message": m})
		}
	}
}

// checkChat holds a chat's log and answers to what was said in it. It counts the
// answers that came twice: a crash between sending and marking.
func (w *world) checkChat(chat int64, ids []int) (twice int) {
	w.t.Helper()
	answers := map[int]int{}
	for _, m := range w.server.Messages(chat) {
		answers[m.ReplyTo]++
	}
	rows := map[int64]int{}
	order := int64(0)
	for _, r := range w.loads(chat) {
		rows[r.ID]++
		if r.ID < order {
			w.t.Errorf("chat %d: load %d was logged after load %d", chat, r.ID, order)
		}
		order = r.ID
	}
	for _, id := range ids {
		if rows[int64(id)] != 1 {
			w.t.Errorf("chat %d, message %d: in the log %d times", chat, id, rows[int64(id)])
		}
		if answers[id] == 0 {
			w.t.Errorf("chat %d, message %d: not answered", chat, id)
		}
		twice += max(answers[id]-1, 0)
	}
	if len(rows) != len(ids) {
		w.t.Errorf("chat %d: %d loads of %d messages", chat, len(rows), len(ids))
	}
	return twice
}
