package telegram

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"
	"time"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"tankside/bot"
	"tankside/phrases"
)

// A voice note is fetched and heard outside the transaction, and its chat waits
// meanwhile; all other chats go on. What was heard is kept in memory: after a crash
// it is heard again.
const (
	longestVoice = 60      // seconds
	largestVoice = 2 << 20 // bytes
	mostHearing  = 2
	hearTimeout  = 90 * time.Second
)

var hearing = make(chan struct{}, mostHearing)

// hearingResult is what became of a voice note.
type hearingResult struct {
	heard Heard
	err   error
}

// ready says whether an update can be dealt with now.
func (b *Bot) ready(in bot.Incoming) bool {
	_, waits := b.busy.Load(in.Chat)
	return !waits
}

var errListening = errors.New("listening")

// voice deals with a voice note: it is sent off to be heard, or what was heard is
// dealt with like any other message.
func (j *job) voice(p *place, m *message, k bot.Known) error {
	if j.Hear == nil {
		return j.say(p, line(p.lang, "telegram.no_voice", phrases.Fill{}))
	}
	if m.Voice.Duration > longestVoice || m.Voice.Size > largestVoice {
		return j.say(p, line(p.lang, "telegram.long_voice", phrases.Fill{N: longestVoice}))
	}
	result, ok := j.heard.LoadAndDelete(j.number)
	if !ok {
		return j.listen(p, m)
	}
	r := result.(hearingResult)
	text := strings.TrimSpace(r.heard.Text)
	if r.err != nil || text == "" {
		j.Log.Warn("voice note not understood", "update", j.number, "error", j.clean(r.err))
		return j.say(p, line(p.lang, "telegram.not_heard", phrases.Fill{}))
	}
	if w, ok := bot.ReadWish(text, p.lang, p.at); ok && !r.heard.Unsure {
		return j.wish(p, m.ID, text, w, k.Memory)
	}
	return j.deal(p, bot.Message{Chat: p.chat, ID: int64(m.ID), Person: p.person, Text: text, At: p.at, Heard: true, Unsure: r.heard.Unsure, Speaks: j.Speak != nil}, k)
}

// listen has a voice note heard. The update stays in the inbox until then.
func (j *job) listen(p *place, m *message) error {
	number, chat, lang := j.number, m.Chat.ID, p.lang
	j.busy.Store(chat, true)
	j.hearing.Go(func() {
		hearing <- struct{}{}
		defer func() { <-hearing }()
		ctx, cancel := context.WithTimeout(context.Background(), hearTimeout)
		defer cancel()
		typing, stop := context.WithCancel(ctx)
		go j.keepTyping(typing, p.chat, p.thread)
		heard, err := j.fetchAndHear(ctx, lang, m.Voice)
		stop()
		j.heard.Store(number, hearingResult{heard, err})
		j.busy.Delete(chat)
		j.wakeWorker()
	})
	return errListening
}

func (b *Bot) fetchAndHear(ctx context.Context, lang string, v *voice) (Heard, error) {
	file, err := b.api.GetFile(ctx, &tg.GetFileParams{FileID: v.FileID})
	if err != nil {
		return Heard{}, fmt.Errorf("getFile: %w", err)
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, b.api.FileDownloadLink(file), nil)
	if err != nil {
		return Heard{}, err
	}
	resp, err := b.poll.Do(req)
	if err != nil {
		return Heard{}, err
	}
	defer resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		return Heard{}, fmt.Errorf("fetch the voice note: %s", resp.Status)
	}
	return b.Hear(ctx, lang, io.LimitReader(resp.Body, largestVoice))
}

// keepTyping shows that something is being done; the server shows it for five seconds.
func (b *Bot) keepTyping(ctx context.Context, chat int64, thread int) {
	for {
		_, err := b.api.SendChatAction(ctx, &tg.SendChatActionParams{ChatID: chat, MessageThreadID: thread, Action: models.ChatActionTyping})
		if err != nil || !sleep(ctx, 4*time.Second) {
			return
		}
	}
}
