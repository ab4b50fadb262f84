package telegram

import (
	"context"
	"crypto/sha256"
	"crypto/subtle"
	"fmt"
	"io"
	"net/http"
	"time"

	tg "github.com/go-telegram/bot"

	"tankside/bot"
)

// Webhook says where the server is to bring updates, and how it shows who it is.
type Webhook struct {
	URL    string // as the server sees it
	Secret string
	Most   int // connections at a time; 0: the server's 40
}

// largestUpdate is more than an update can be.
const largestUpdate = 1 << 20

// WebhookHandler takes updates from the server. It answers 200 only when the update
// is in the inbox; else the server brings it again.
func (b *Bot) WebhookHandler() http.Handler {
	want := sha256.Sum256([]byte(b.Webhook.Secret))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		got := sha256.Sum256([]byte(r.Header.Get("X-Telegram-Bot-Api-Secret-Token")))
		if subtle.ConstantTimeCompare(got[:], want[:]) != 1 {
			b.Metrics.problem("webhook_secret")
			w.WriteHeader(http.StatusUnauthorized)
			return
		}
		if r.Method != http.MethodPost {
			w.WriteHeader(http.StatusMethodNotAllowed)
			return
		}
		w.WriteHeader(b.bring(r.Context(), http.MaxBytesReader(w, r.Body, largestUpdate)))
	})
}

func (b *Bot) bring(ctx context.Context, body io.Reader) (status int) {
	raw, err := io.ReadAll(body)
	if err != nil {
		return http.StatusBadRequest
	}
	in, ok := incoming(raw)
	if !ok {
		b.Metrics.problem("no_number")
		b.Log.Error("an update without a number was passed over")
		return http.StatusOK // bringing it again would not help
	}
	ctx, cancel := context.WithTimeout(ctx, callTimeout)
	defer cancel()
	if err := b.take(ctx, []bot.Incoming{in}, 0); err != nil {
		return http.StatusServiceUnavailable
	}
	b.pulse.polled(b.now())
	return http.StatusOK
}

// setWebhook makes the server bring updates, or, for long polling, no longer do so.
// Updates that wait there are kept either way.
func (b *Bot) setWebhook(ctx context.Context) error {
	if b.Webhook == nil {
		info, err := b.api.GetWebhookInfo(ctx)
		if err != nil {
			return fmt.Errorf("getWebhookInfo: %w", err)
		}
		if info.URL != "" {
			if _, err := b.api.DeleteWebhook(ctx, &tg.DeleteWebhookParams{}); err != nil {
				return fmt.Errorf("deleteWebhook: %w", err)
			}
		}
		return nil
	}
	_, err := b.api.SetWebhook(ctx, &tg.SetWebhookParams{URL: b.Webhook.URL, SecretToken: b.Webhook.Secret, AllowedUpdates: wanted, MaxConnections: b.Webhook.Most})
	if err != nil {
		return fmt.Errorf("setWebhook: %w", err)
	}
	return nil
}

// pulse is when things last went well, for the health endpoints.
type pulse struct{ lastStored, lastPolled, lastWorked atomicTime }

func (p *pulse) stored(t time.Time) { p.lastStored.set(t) }
func (p *pulse) polled(t time.Time) { p.lastPolled.set(t) }
func (p *pulse) worked(t time.Time) { p.lastWorked.set(t) }
