package main

import (
	"context"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"
	_ "time/tzdata" // time zones, where the machine has none

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"

	"tankside/bot"
	"tankside/bot/store"
	"tankside/bot/telegram"
)

type serve struct {
	dbFlag
	telegramFlags
	voiceFlags
	Zone       string `name:"zone" env:"TANKSIDE_ZONE" placeholder:"NAME" help:"Time zone of chats that have not said theirs, such as America/Chicago. Without it, the machine's."`
	WebhookURL string `name:"webhook-url" env:"TANKSIDE_WEBHOOK_URL" placeholder:"URL" help:"Have updates brought to this address, instead of asking for them."`
	Listen     string `name:"webhook-listen" env:"TANKSIDE_WEBHOOK_LISTEN" default:"127.0.0.1:8443" help:"Where to take them: plain HTTP, behind the proxy that has the certificate."`
	Health     string `name:"health" env:"TANKSIDE_HEALTH" default:"127.0.0.1:9464" help:"Where /healthz, /readyz and /metrics are; empty: nowhere."`
	LogText    bool   `name:"log-text" env:"TANKSIDE_LOG_TEXT" help:"Put replies into the log as well. They are the operators' business."`
	NoLimits   bool   `name:"no-limits" env:"TANKSIDE_NO_LIMITS" help:"Send as fast as the server takes it: for your own server, and for tests."`
}

// Run serves until the program is told to stop.
func (s *serve) Run(t *term) (err error) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	logger := slog.New(slog.NewJSONHandler(t.Err, nil))
	unlock, err := s.lock()
	if err != nil {
		return hinted{err, "stop the other one, or give this one a log of its own with --db PATH"}
	}
	defer func() { err = errors.Join(err, unlock()) }()
	db, err := s.open(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	registry := prometheus.NewRegistry()
	registry.MustRegister(collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	config, err := s.config(t, db, logger, registry)
	if err != nil {
		return err
	}
	config.Speak = speaking()
	hear, notNeeded, err := s.hearing(func(ctx context.Context) []string { return fieldNames(ctx, db) })
	if err != nil {
		return err
	}
	defer notNeeded()
	config.Hear = heardBy(hear)
	b, err := telegram.New(config)
	if err != nil {
		return err
	}
	done, err := s.listen(b, registry, logger)
	if err != nil {
		return err
	}
	defer done()
	return b.Run(ctx)
}

func (s *serve) config(t *term, db *store.Store, logger *slog.Logger, registry *prometheus.Registry) (c telegram.Config, err error) {
	token, err := s.token()
	if err != nil {
		return c, err
	}
	zone := time.Local
	if s.Zone != "" {
		if zone, err = time.LoadLocation(s.Zone); err != nil {
			return c, hinted{fmt.Errorf("no time zone is called %q", s.Zone), "use a name such as America/Chicago"}
		}
	}
	c = telegram.Config{Token: token, API: s.API, Desk: db, Zone: zone, Log: logger, LogText: s.LogText, Notice: t.Out,
		Metrics: telegram.NewMetrics(registry), Limits: telegram.DefaultLimits(),
		Export: func(ctx context.Context, chat int64, w io.Writer) error { return exportLog(ctx, db, chat, w) }}
	c.Limits.Off = s.NoLimits
	if s.WebhookURL != "" {
		c.Webhook = &telegram.Webhook{URL: s.WebhookURL, Secret: webhookSecret(token)}
	}
	return c, nil
}

// heardBy hands what is heard to Telegram's side.
func heardBy(hear hearing) func(context.Context, string, io.Reader) (telegram.Heard, error) {
	if hear == nil {
		return nil
	}
	return func(ctx context.Context, lang string, ogg io.Reader) (h telegram.Heard, err error) {
		h.Text, h.Unsure, err = hear(ctx, lang, ogg)
		return h, err
	}
}

// fieldNames are the names of all fields, for an ear to expect. Without them it hears
// a little worse, no more.
func fieldNames(ctx context.Context, db *store.Store) (names []string) {
	_ = db.Do(ctx, func(tx bot.Tx) error {
		names = nil
		guests, err := tx.Guests()
		for _, g := range guests {
			if m, _, _, err := tx.Load(g.ID, 0, time.Now()); err == nil {
				for _, f := range m.Fields {
					names = append(names, f.Name)
				}
			}
		}
		return err
	})
	return names
}

// webhookSecret shows the server's calls to be the server's. It follows from the
// token, so that there is nothing to set up, and does not give the token away.
func webhookSecret(token string) string {
	mac := hmac.New(sha256.New, []byte(token))
	io.WriteString(mac, "webhook secret")
	return hex.EncodeToString(mac.Sum(nil))
}

// listen opens the program's own addresses; done closes them.
func (s *serve) listen(b *telegram.Bot, registry *prometheus.Registry, logger *slog.Logger) (done func(), err error) {
	var open []*http.Server
	done = func() {
		ctx, cancel := context.WithTimeout(context.Background(), time.Second)
		defer cancel()
		for _, server := range open {
			server.Shutdown(ctx)
		}
	}
	if s.Health != "" {
		mux := http.NewServeMux()
		mux.Handle("/", b.Health())
		mux.Handle("/metrics", promhttp.HandlerFor(registry, promhttp.HandlerOpts{}))
		server, err := serveHTTP(s.Health, mux, logger)
		if err != nil {
			return done, hinted{err, "choose another address with --health ADDRESS"}
		}
		open = append(open, server)
	}
	if s.WebhookURL != "" {
		at, err := url.Parse(s.WebhookURL)
		if err != nil || at.Host == "" {
			return done, fmt.Errorf("%q is no address for a webhook", s.WebhookURL)
		}
		mux := http.NewServeMux()
		mux.Handle("/"+strings.TrimPrefix(at.Path, "/"), b.WebhookHandler())
		server, err := serveHTTP(s.Listen, mux, logger)
		if err != nil {
			return done, hinted{err, "choose another address with --webhook-listen ADDRESS"}
		}
		open = append(open, server)
	}
	return done, nil
}

func serveHTTP(address string, h http.Handler, logger *slog.Logger) (*http.Server, error) {
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return nil, err
	}
	server := &http.Server{Handler: h, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 30 * time.Second, IdleTimeout: 2 * time.Minute,
		ErrorLog: slog.NewLogLogger(logger.Handler(), slog.LevelWarn)}
	go server.Serve(listener)
	return server, nil
}
