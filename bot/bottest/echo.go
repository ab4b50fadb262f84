package bottest

import (
	"context"
	"sync"

	"tankside/bot"
	"tankside/engine"
)

// Echo is a handler that answers each message with its own text and keeps what it
// was given. A message that comes twice is marked as a repeat, as by the real bot.
type Echo struct {
	mu  sync.Mutex
	Got []bot.Message
	Err error // returned instead of an answer
}

// Handle answers with the message's own text.
func (e *Echo) Handle(_ context.Context, m bot.Message) (*bot.Reply, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.Err != nil {
		return nil, e.Err
	}
	r := &bot.Reply{Outcome: &engine.Outcome{Status: engine.Answered}, Lang: "en", Text: m.Text, Spoken: m.Text}
	for _, old := range e.Got {
		if old.Chat == m.Chat && old.ID == m.ID {
			r.Repeat = true
			return r, nil
		}
	}
	e.Got = append(e.Got, m)
	return r, nil
}
