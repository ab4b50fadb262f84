package telegram

import (
	"context"

	"tankside/bot"
)

// arrival is something that came in and waits to be stored; next is the offset that
// is stored with it, 0 for none. done is told when all of it is in the inbox.
type arrival struct {
	in   []bot.Incoming
	next int64
	done chan error
}

// mostArrivals are stored in one transaction.
const mostArrivals = 256

// receive stores what arrives, all that waits in one transaction: a durable commit
// costs the same for one update as for many.
func (b *Bot) receive(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case first := <-b.arrive:
			b.store(ctx, b.gather(first))
		}
	}
}

func (b *Bot) gather(first arrival) []arrival {
	all := []arrival{first}
	for len(all) < mostArrivals {
		select {
		case a := <-b.arrive:
			all = append(all, a)
		default:
			return all
		}
	}
	return all
}

func (b *Bot) store(ctx context.Context, all []arrival) {
	fresh, again := 0, 0
	err := b.Desk.Do(ctx, func(tx bot.Tx) error {
		fresh, again = 0, 0
		for _, a := range all {
			for _, in := range a.in {
				isNew, err := tx.Receive(in)
				if err != nil {
					return err
				}
				if isNew {
					fresh++
				} else {
					again++
				}
			}
			if a.next != 0 {
				if err := tx.SetOffset(a.next); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil && ctx.Err() == nil {
		b.Metrics.problem("store")
		b.Log.Error("cannot store updates; the server keeps them", "error", err)
	} else {
		b.Metrics.received(fresh, again)
		b.pulse.stored(b.now())
	}
	for _, a := range all {
		a.done <- err
	}
	b.wakeWorker()
}

// take hands updates over to be stored and waits until they are.
func (b *Bot) take(ctx context.Context, in []bot.Incoming, next int64) error {
	done := make(chan error, 1)
	select {
	case <-ctx.Done():
		return ctx.Err()
	case b.arrive <- arrival{in, next, done}:
	}
	select {
	case <-ctx.Done():
		return ctx.Err()
	case err := <-done:
		return err
	}
}
