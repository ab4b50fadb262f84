// Package telegram is the transport of Telegram: updates in, messages out, and
// nothing decided about what they mean.
//
// Nothing is lost and nothing is doubled, because each step is a transaction in the
// log's own database. What comes in is stored before the server is told that it has
// arrived (receive.go, poll.go, webhook.go). Working on it writes its effects, its
// replies and the mark that it is done together (work.go). What is to go out is
// marked when it has gone (send.go). Only a crash between sending and marking can
// say something twice; the Bot API has no way around that.
//
// Outgoing calls go through the library. Its poller and its webhook handler are not
// used: they confirm an update before it has been handled.
//
// Deliberately not here: SQL, and any reading of what a message means.
package telegram

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	tg "github.com/go-telegram/bot"

	"tankside/bot"
	"tankside/bot/remind"
)

// Config is what a Bot needs.
type Config struct {
	Token   string
	API     string // address of the Bot API server; empty: Telegram's own
	Desk    bot.Desk
	Zone    *time.Location // of chats that have not said theirs
	Export  func(ctx context.Context, chat int64, w io.Writer) error
	Hear    func(ctx context.Context, lang string, ogg io.Reader) (Heard, error)              // nil: no voice notes
	Speak   func(ctx context.Context, lang, text string) (ogg []byte, seconds int, err error) // nil: no spoken answers
	Log     *slog.Logger
	Metrics *Metrics
	Limits  Limits

	Webhook *Webhook  // nil: long polling
	Notice  io.Writer // where the first owner's code is printed
	LogText bool      // log what people write; off: privacy
}

// Heard is what a voice note says. Unsure: some of it is a guess.
type Heard struct {
	Text   string
	Unsure bool
}

// Bot runs the conversation on Telegram.
type Bot struct {
	Config
	api  *tg.Bot
	poll *http.Client
	name atomic.Pointer[string] // user name, without @; nil until the server has been reached
	id   atomic.Int64

	arrive  chan arrival
	work    chan struct{} // something waits in the inbox
	out     chan struct{} // something waits in the outbox
	hearing sync.WaitGroup
	batch   int // how much work is done in one transaction; the worker's own
	polling atomic.Bool
	busy    sync.Map // chats whose voice note is being heard
	heard   sync.Map // update number → hearing result
	now     func() time.Time
	pulse   pulse
}

// callTimeout is how long one outgoing call may take.
const callTimeout = 20 * time.Second

// New makes a bot. It does not reach for the network.
func New(c Config) (*Bot, error) {
	if !looksLikeToken(c.Token) {
		return nil, errors.New("the token does not look like one: it should be digits, a colon, and about 35 letters and digits")
	}
	if c.API == "" {
		c.API = "https://api.telegram.org"
	}
	c.API = strings.TrimRight(c.API, "/")
	if c.Zone == nil {
		c.Zone = time.Local
	}
	if c.Metrics == nil {
		c.Metrics = NewMetrics(nil)
	}
	if c.Notice == nil {
		c.Notice = io.Discard
	}
	transport := http.DefaultTransport.(*http.Transport).Clone()
	transport.MaxIdleConnsPerHost = inFlight
	transport.ResponseHeaderTimeout = callTimeout
	polls := transport.Clone()
	polls.ResponseHeaderTimeout = pollTimeout + callTimeout
	b := &Bot{Config: c, poll: &http.Client{Transport: polls}, arrive: make(chan arrival, mostArrivals),
		work: make(chan struct{}, 1), out: make(chan struct{}, 1), now: time.Now}
	api, err := tg.New(c.Token, tg.WithSkipGetMe(), tg.WithServerURL(c.API), tg.WithHTTPClient(callTimeout, brief{&http.Client{Transport: transport}}),
		tg.WithErrorsHandler(func(err error) { c.Log.Warn("telegram library", "error", b.clean(err)) }))
	if err != nil {
		return nil, b.clean(err)
	}
	b.api = api
	return b, nil
}

func looksLikeToken(s string) bool {
	id, secret, ok := strings.Cut(s, ":")
	if !ok || id == "" || len(secret) < 20 || len(s) > 200 {
		return false
	}
	for _, r := range id {
		if r < '0' || r > '9' {
			return false
		}
	}
	return !strings.ContainsFunc(secret, func(r rune) bool {
		return !(r == '_' || r == '-' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z')
	})
}

// clean takes the token out of an error, wherever it came from.
func (b *Bot) clean(err error) error {
	if err == nil || !strings.Contains(err.Error(), b.Token) {
		return err
	}
	return errors.New(strings.ReplaceAll(err.Error(), b.Token, "***"))
}

// Run receives, works and sends until ctx ends, then finishes what it has begun.
func (b *Bot) Run(ctx context.Context) error {
	if err := b.firstOwner(ctx); err != nil && ctx.Err() == nil {
		return fmt.Errorf("codes: %w", err)
	}
	var receiving, working sync.WaitGroup
	workCtx, stopWork := context.WithCancel(context.WithoutCancel(ctx))
	defer stopWork()
	reminders := remind.Loop{Desk: b.Desk, Teller: b, Log: b.Log, Told: b.wakeSender}
	receiving.Go(func() { b.receive(ctx) })
	receiving.Go(func() { b.getStarted(ctx) })
	if b.Webhook == nil {
		receiving.Go(func() { b.lead(ctx, "updates", nil, b.pollTerm) })
	}
	working.Go(func() { b.workLoop(workCtx) })
	working.Go(func() { reminders.Run(workCtx) })
	working.Go(func() { b.housekeeping(workCtx) })
	sending := make(chan struct{})
	go func() {
		defer close(sending)
		b.lead(workCtx, "outbox", b.wakeSender, func(ctx context.Context) { newSender(b).run(ctx) })
	}()
	<-ctx.Done()
	receiving.Wait() // what has been confirmed is in the inbox
	stopWork()
	working.Wait()
	<-sending
	b.hearing.Wait()
	return nil
}

// lead does what only one of all programs on a database may do at a time: asking for
// updates, since the server ends all polls but the newest, and sending, since the
// limits are of the token and not of the program.
func (b *Bot) lead(ctx context.Context, role string, wake func(), f func(ctx context.Context)) {
	if d, ok := b.Desk.(bot.Leads); ok {
		d.Lead(ctx, role, wake, f)
		return
	}
	f(ctx)
}

// getStarted asks who we are and tells the server which commands there are, until
// it answers.
func (b *Bot) getStarted(ctx context.Context) {
	for wait := time.Second; ; wait = min(2*wait, time.Minute) {
		err := b.hello(ctx)
		if err == nil || ctx.Err() != nil {
			return
		}
		b.Metrics.problem("hello")
		b.Log.Error("cannot reach the Bot API", "error", b.clean(err), "again in", wait.String())
		if !sleep(ctx, wait) {
			return
		}
	}
}

func (b *Bot) hello(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, callTimeout)
	defer cancel()
	me, err := b.api.GetMe(ctx)
	if err != nil {
		return fmt.Errorf("getMe: %w", err)
	}
	b.id.Store(me.ID)
	b.name.Store(&me.Username)
	if err := b.setWebhook(ctx); err != nil {
		return err
	}
	b.Log.Info("ready", "bot", me.Username)
	return b.setCommands(ctx)
}

// housekeeping drops what was finished long ago.
func (b *Bot) housekeeping(ctx context.Context) {
	const keep = 31 * 24 * time.Hour
	for {
		err := b.Desk.Do(ctx, func(tx bot.Tx) error { return tx.Prune(b.now().Add(-keep)) })
		if err != nil && ctx.Err() == nil {
			b.Log.Error("housekeeping", "error", err)
		}
		if !sleep(ctx, 6*time.Hour) {
			return
		}
	}
}

func (b *Bot) wakeWorker() { wake(b.work) }
func (b *Bot) wakeSender() { wake(b.out) }

func wake(c chan struct{}) {
	select {
	case c <- struct{}{}:
	default:
	}
}

// sleep waits; false: ctx ended.
func sleep(ctx context.Context, d time.Duration) bool {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-timer.C:
		return true
	}
}
