package telegram

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"time"

	"tankside/bot"
)

// pollTimeout is how long the server may hold a poll open.
const pollTimeout = 50 * time.Second

// pollTerm polls while it is this program's turn.
func (b *Bot) pollTerm(ctx context.Context) {
	b.pulse.polled(b.now())
	b.polling.Store(true)
	defer b.polling.Store(false)
	b.pollLoop(ctx)
}

// leastPoll is how long an empty poll takes at least.
const leastPoll = 250 * time.Millisecond

// pollLoop asks for updates. The offset that confirms a batch is only sent once the
// batch is in the inbox.
func (b *Bot) pollLoop(ctx context.Context) {
	var next int64
	err := b.Desk.Do(ctx, func(tx bot.Tx) (err error) { next, err = tx.Offset(); return err })
	for wait := time.Duration(0); ; {
		var more int64
		began := b.now()
		if err == nil {
			more, err = b.pollOnce(ctx, next)
		}
		if ctx.Err() != nil {
			return
		}
		if err == nil {
			wait = 0
			if more != 0 {
				next = more
			}
			b.pulse.polled(b.now())
			if more == 0 && b.now().Sub(began) < leastPoll {
				sleep(ctx, leastPoll) // a server that does not hold polls open is not to be hammered
			}
			continue
		}
		wait = b.pollAgain(err, wait)
		err = nil
		if !sleep(ctx, wait) {
			return
		}
	}
}

// pollAgain says how long to wait after a failed poll: as long as the server says,
// else a little longer each time, and long when asking again cannot help soon.
func (b *Bot) pollAgain(err error, last time.Duration) time.Duration {
	wait := min(max(2*last, 250*time.Millisecond), 5*time.Second)
	kind := "poll"
	var f *failure
	if errors.As(err, &f) {
		kind = fmt.Sprintf("poll_%d", f.Code)
		if f.Code == http.StatusUnauthorized || f.Code == http.StatusNotFound {
			wait = 30 * time.Second // the token is wrong
		}
		wait = max(wait, time.Duration(f.Parameters.RetryAfter)*time.Second)
	}
	wait += time.Duration(rand.Int64N(int64(wait / 4)))
	b.Metrics.problem(kind)
	b.Log.Warn("poll", "error", b.clean(err), "again in", wait.String())
	return wait
}

// failure is what the server says when it will not.
type failure struct {
	Code        int    `json:"error_code"`
	Description string `json:"description"`
	Parameters  struct {
		RetryAfter int `json:"retry_after"`
	} `json:"parameters"`
}

func (f *failure) Error() string { return fmt.Sprintf("getUpdates: %d %s", f.Code, f.Description) }

// pollOnce gets a batch, stores it, and gives the number to ask for next; 0: as before.
func (b *Bot) pollOnce(ctx context.Context, next int64) (int64, error) {
	raws, err := b.getUpdates(ctx, next)
	if err != nil || len(raws) == 0 {
		return 0, err
	}
	in := make([]bot.Incoming, 0, len(raws))
	last := int64(0)
	for _, raw := range raws {
		one, ok := incoming(raw)
		if !ok {
			b.Metrics.problem("no_number")
			b.Log.Error("an update without a number was passed over")
			continue
		}
		in, last = append(in, one), max(last, one.Number)
	}
	if len(in) == 0 {
		return 0, fmt.Errorf("getUpdates: none of %d updates has a number", len(raws))
	}
	return last + 1, b.take(ctx, in, last+1)
}

func (b *Bot) getUpdates(ctx context.Context, next int64) ([]json.RawMessage, error) {
	ask := map[string]any{"limit": 100, "timeout": int(pollTimeout / time.Second), "allowed_updates": wanted}
	if next != 0 {
		ask["offset"] = next
	}
	body, err := json.Marshal(ask)
	if err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(ctx, pollTimeout+callTimeout)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, b.API+"/bot"+b.Token+"/getUpdates", bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	req.Header.Set("Content-Type", "application/json")
	resp, err := b.poll.Do(req)
	if err != nil {
		return nil, err
	}
	defer resp.Body.Close()
	return readUpdates(resp.Body)
}

// mostPolled is more than a hundred updates can be.
const mostPolled = 64 << 20

func readUpdates(r io.Reader) ([]json.RawMessage, error) {
	var answer struct {
		OK     bool              `json:"ok"`
		Result []json.RawMessage `json:"result"`
		failure
	}
	data, err := io.ReadAll(io.LimitReader(r, mostPolled))
	if err != nil {
		return nil, fmt.Errorf("getUpdates: %w", err)
	}
	if err := json.Unmarshal(data, &answer); err != nil {
		return nil, fmt.Errorf("getUpdates: the answer is not JSON: %.60q", data)
	}
	if !answer.OK {
		return nil, &answer.failure
	}
	return answer.Result, nil
}
