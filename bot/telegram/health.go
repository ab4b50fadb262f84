package telegram

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"tankside/bot"
)

// Health answers whether the program lives (/healthz) and whether it does its work
// (/readyz): it has reached the server, the database takes writes, and nothing has
// stuck. Nothing in it is anybody's business but the farm's.
func (b *Bot) Health() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /healthz", func(w http.ResponseWriter, _ *http.Request) { fmt.Fprintln(w, "ok") })
	mux.HandleFunc("GET /readyz", func(w http.ResponseWriter, r *http.Request) {
		faults, state := b.state(r.Context())
		if len(faults) > 0 {
			w.WriteHeader(http.StatusServiceUnavailable)
		}
		for _, f := range faults {
			fmt.Fprintln(w, f)
		}
		fmt.Fprint(w, state)
	})
	return mux
}

// stuck is how long polling or working may take before something is wrong: a poll is
// held open for pollTimeout.
const stuck = pollTimeout + 2*callTimeout

func (b *Bot) state(ctx context.Context) (faults []string, state string) {
	ctx, cancel := context.WithTimeout(ctx, 3*time.Second)
	defer cancel()
	var in, out int
	err := b.Desk.Do(ctx, func(tx bot.Tx) (err error) { in, out, err = tx.Queues(); return err })
	if err != nil {
		faults = append(faults, "database: "+err.Error())
	}
	now := b.now()
	if b.name.Load() == nil {
		faults = append(faults, "the Bot API has not been reached yet")
	} else if last := b.pulse.lastPolled.get(); b.polling.Load() && now.Sub(last) > stuck {
		faults = append(faults, "no poll has come back since "+last.Format(time.RFC3339))
	}
	if last := b.pulse.lastWorked.get(); in > 0 && now.Sub(last) > stuck {
		faults = append(faults, "nothing was dealt with since "+last.Format(time.RFC3339))
	}
	return faults, fmt.Sprintf("inbox %d\noutbox %d\n", in, out)
}
