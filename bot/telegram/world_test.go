package telegram_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/store"
	"tankside/bot/telegram"
	"tankside/bot/telegram/apitest"
)

var central = mustZone("America/Chicago")

func mustZone(name string) *time.Location {
	z, err := time.LoadLocation(name)
	if err != nil {
		panic(err)
	}
	return z
}

// world is a server, a database that outlives the bot, and a bot that can be stopped
// and started again.
type world struct {
	t        *testing.T
	server   *apitest.Server
	path     string
	config   telegram.Config
	patience time.Duration // how long is waited at most; 0: 15 seconds
	notice   *safeBuffer
	logs     *safeBuffer

	wrap  func(bot.Desk) bot.Desk // puts something between the bot and its database
	store *store.Store
	bot   atomic.Pointer[telegram.Bot]
	stop  func()
}

type safeBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *safeBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *safeBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

func newWorld(t *testing.T) *world {
	t.Helper()
	server, err := apitest.Start()
	if err != nil {
		t.Fatal(err)
	}
	w := &world{t: t, server: server, path: filepath.Join(t.TempDir(), "log.db"), notice: &safeBuffer{}, logs: &safeBuffer{}}
	w.config = telegram.Config{Token: apitest.Token, API: server.URL, Zone: central, Notice: w.notice, Limits: telegram.Limits{Off: true},
		Log: slog.New(slog.NewTextHandler(w.logs, nil))}
	t.Cleanup(func() {
		if w.stop != nil {
			w.halt()
		}
		server.Close()
		for _, p := range server.Problems() {
			t.Errorf("the Bot API would not take: %s", p)
		}
		if strings.Contains(w.logs.String(), apitest.Token) {
			t.Error("the token is in the log")
		}
		if t.Failed() {
			t.Log(w.logs.String())
		}
	})
	return w
}

// start starts the bot on what the database has.
func (w *world) start() {
	w.t.Helper()
	s, err := store.Open(w.t.Context(), w.path)
	if err != nil {
		w.t.Fatal(err)
	}
	w.store = s
	c := w.config
	c.Desk = s
	if w.wrap != nil {
		c.Desk = w.wrap(s)
	}
	c.Export = func(ctx context.Context, chat int64, out io.Writer) error {
		fmt.Fprintln(out, "message,acres")
		return s.Loads(ctx, chat, func(r bot.Row) error { _, err := fmt.Fprintf(out, "%d,%g\n", r.ID, r.Area); return err })
	}
	b, err := telegram.New(c)
	if err != nil {
		w.t.Fatal(err)
	}
	w.bot.Store(b)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() {
		defer close(done)
		if err := b.Run(ctx); err != nil {
			w.t.Error(err)
		}
	}()
	w.stop = func() { cancel(); <-done }
}

func (w *world) halt() {
	w.t.Helper()
	began := time.Now()
	w.stop()
	if took := time.Since(began); took > 10*time.Second {
		w.t.Errorf("stopping took %v", took)
	}
	if err := w.store.Close(); err != nil {
		w.t.Error(err)
	}
	w.stop = nil
}

// owner starts the bot and makes somebody its owner by the printed code.
func (w *world) owner(id int64, name string) *apitest.Person {
	w.t.Helper()
	w.start()
	p := w.server.Person(id, name)
	w.hear(p.ID, "own this bot", func() { p.Say(id, w.code()) })
	return p
}

func (w *world) code() string {
	w.t.Helper()
	w.await("the owner's code", func() bool { return strings.Contains(w.notice.String(), "/start ") })
	_, code, _ := strings.Cut(w.notice.String(), "/start ")
	return "/start " + code[:8]
}

// hear does something and waits for the bot's next written message in a chat, which
// must hold want.
func (w *world) hear(chat int64, want string, do func()) apitest.Message {
	w.t.Helper()
	before := len(w.written(chat))
	do()
	w.await(fmt.Sprintf("a message with %q in %d", want, chat), func() bool { return len(w.written(chat)) > before })
	m := w.written(chat)[before]
	if !strings.Contains(m.Text, want) {
		w.t.Fatalf("chat %d: got %q, want %q in it", chat, m.Text, want)
	}
	return m
}

// written are the messages of a chat without the pictures and voice notes, which come
// in their own time.
func (w *world) written(chat int64) []apitest.Message {
	return slices.DeleteFunc(w.server.Messages(chat), func(m apitest.Message) bool { return m.Photo != nil || m.Voice != nil })
}

func (w *world) await(what string, ok func() bool) {
	w.t.Helper()
	for deadline := time.Now().Add(max(w.patience, 15*time.Second)); ; {
		if ok() {
			return
		}
		if time.Now().After(deadline) {
			w.t.Fatalf("waited in vain for %s", what)
		}
		time.Sleep(2 * time.Millisecond)
	}
}

// settle waits until nothing waits, in or out, and for a little silence.
func (w *world) settle() {
	w.t.Helper()
	w.await("silence", func() bool {
		in, out := 1, 1
		w.do(func(tx bot.Tx) (err error) { in, out, err = tx.Queues(); return err })
		return w.server.Pending() == 0 && in == 0 && out == 0
	})
}

func (w *world) do(f func(bot.Tx) error) {
	w.t.Helper()
	if err := w.store.Do(w.t.Context(), f); err != nil {
		w.t.Fatal(err)
	}
}

// loads are the loads of a chat that stand.
func (w *world) loads(chat int64) (out []bot.Row) {
	w.t.Helper()
	err := w.store.Loads(w.t.Context(), chat, func(r bot.Row) error {
		if r.Cancelled.IsZero() {
			out = append(out, r)
		}
		return nil
	})
	if err != nil {
		w.t.Fatal(err)
	}
	return out
}

// flaky is a database that can be made to refuse.
type flaky struct {
	bot.Desk
	fail atomic.Bool
}

func (f *flaky) Do(ctx context.Context, do func(bot.Tx) error) error {
	if f.fail.Load() {
		return errors.New("disk full")
	}
	return f.Desk.Do(ctx, do)
}

// tripped panics when one message is to be saved.
type tripped struct {
	bot.Desk
	id int64
}

func (d *tripped) Do(ctx context.Context, do func(bot.Tx) error) error {
	return d.Desk.Do(ctx, func(tx bot.Tx) error { return do(trippedTx{tx, d.id}) })
}

type trippedTx struct {
	bot.Tx
	id int64
}

func (t trippedTx) Apply(chat, id int64, m bot.Memory, effects []bot.Effect, r *bot.Reply) error {
	if err := t.Tx.Apply(chat, id, m, effects, r); err != nil || id != t.id {
		return err
	}
	panic("tripped after saving")
}

func (w *world) last(chat int64) apitest.Message {
	all := w.server.Messages(chat)
	if len(all) == 0 {
		return apitest.Message{}
	}
	return all[len(all)-1]
}
