package telegram

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"sync/atomic"
	"time"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"tankside/bot"
	"tankside/engine"
	"tankside/phrases/chart"
)

// Pictures and spoken answers go beside an answer, never before it and never in its
// way: the outbox keeps what they are to show or say, they are made when their turn
// has come, and until then what is written passes them. One that cannot be made, or
// that the server does not take, is given up.

// media is what a picture shows or a voice note says.
type media struct {
	Lang    string          `json:"l"`
	Units   engine.Units    `json:"u,omitzero"`
	Picture *engine.Picture `json:"p,omitempty"`
	Say     string          `json:"s,omitempty"`

	begun bool
	made  atomic.Pointer[file]
}

// file is a picture or a voice note as it is sent, or why there is none.
type file struct {
	data    []byte
	caption string
	seconds int
	err     error
}

const (
	sendPhoto = "sendPhoto"
	sendVoice = "sendVoice"

	longestCaption = 1024 // the server's limit, in UTF-16 units
	mostMaking     = 2
	makeTimeout    = 20 * time.Second
	makeLook       = 50 * time.Millisecond // how often a lane looks whether its file is made
	mostMediaTries = 3                     // a late picture is worth less than the next answer
)

var (
	making    = make(chan struct{}, mostMaking)
	errUnmade = errors.New("not made")
)

// beside queues what goes with an answer that has been put in the outbox.
func (b *Bot) beside(tx bot.Tx, chat int64, thread int, r *bot.Reply, speak bool) error {
	queue := func(method string, m *media) error {
		_, err := put(tx, bot.Outgoing{Chat: chat, Rank: rankAnswer}, call{Method: method, Thread: thread, Media: m})
		return err
	}
	if speak && b.Speak != nil {
		if err := queue(sendVoice, &media{Lang: r.Lang, Say: r.Speech()}); err != nil {
			return err
		}
	}
	if r.Picture == nil {
		return nil
	}
	return queue(sendPhoto, &media{Lang: r.Lang, Units: r.Outcome.Units, Picture: r.Picture})
}

// standsBack says whether a lane passes on its turn because its next file gives way to
// what is written behind it, or is not made yet.
func (s *sender) standsBack(ctx context.Context, l *lane, now time.Time) bool {
	m := l.queue[0].call.Media
	if m == nil {
		return false
	}
	if i := slices.IndexFunc(l.queue, func(p *parcel) bool { return p.call.Media == nil }); i > 0 && !l.queue[i].Due.After(now) {
		s.ready.take()
		p := l.queue[i]
		l.queue = slices.Insert(slices.Delete(l.queue, i, i+1), 0, p)
		s.ready.put(l)
		return true
	}
	if m.made.Load() != nil {
		return false
	}
	if !m.begun {
		m.begun = true
		go s.makeFile(ctx, m)
	}
	s.ready.take()
	l.at = now.Add(makeLook)
	s.asleep.put(l)
	return true
}

// makeFile draws or speaks, a few at a time. When ctx ends it leaves nothing: the
// next sender begins anew.
func (b *Bot) makeFile(ctx context.Context, m *media) {
	select {
	case making <- struct{}{}:
	case <-ctx.Done():
		return
	}
	defer func() { <-making }()
	limited, cancel := context.WithTimeout(ctx, makeTimeout)
	defer cancel()
	f := b.draw(limited, m)
	if ctx.Err() == nil {
		m.made.Store(f)
	}
}

// draw makes the file. A fault of a drawing or speaking library costs the file only.
func (b *Bot) draw(ctx context.Context, m *media) (f *file) {
	defer func() {
		if p := recover(); p != nil {
			f = &file{err: fmt.Errorf("panic: %v", p)}
		}
	}()
	if m.Picture != nil {
		p, err := chart.Draw(m.Lang, m.Units, m.Picture)
		if err != nil {
			return &file{err: fmt.Errorf("draw: %w", err)}
		}
		return &file{data: p.PNG, caption: short(p.Caption, longestCaption)}
	}
	if b.Speak == nil {
		return &file{err: errors.New("speak: no voice")}
	}
	ogg, seconds, err := b.Speak(ctx, m.Lang, m.Say)
	if err != nil {
		return &file{err: fmt.Errorf("speak: %w", err)}
	}
	return &file{data: ogg, seconds: seconds}
}

// doMedia sends a file that has been made. The answer has rung the phone already.
func (b *Bot) doMedia(ctx context.Context, chat int64, c *call) (int64, error) {
	f := c.Media.made.Load()
	if f.err != nil {
		return 0, fmt.Errorf("%w: %w", errUnmade, f.err)
	}
	if c.Method == sendVoice {
		return number(b.api.SendVoice(ctx, &tg.SendVoiceParams{ChatID: chat, MessageThreadID: c.Thread, Duration: f.seconds, DisableNotification: true,
			Voice: &models.InputFileUpload{Filename: "answer.ogg", Data: bytes.NewReader(f.data)}}))
	}
	return number(b.api.SendPhoto(ctx, &tg.SendPhotoParams{ChatID: chat, MessageThreadID: c.Thread, Caption: f.caption, DisableNotification: true,
		Photo: &models.InputFileUpload{Filename: "picture.png", Data: bytes.NewReader(f.data)}}))
}

// unmade gives up a file that could not be made.
func (s *sender) unmade(r result) verdict {
	s.Metrics.problem("media")
	s.Log.Error("a picture or voice note could not be made", "outgoing", r.p.ID, "method", r.p.call.Method, "error", r.err)
	return verdict{marks: []mark{{id: r.p.ID, why: short(r.err.Error(), 200)}}}
}

// tooLateToTry says whether a file that did not go out is to be given up: it was
// tried enough, or something written waits behind it.
func (l *lane) tooLateToTry(p *parcel) bool {
	return p.call.Media != nil && (p.Tries > mostMediaTries || slices.ContainsFunc(l.queue[1:], func(q *parcel) bool { return q.call.Media == nil }))
}
