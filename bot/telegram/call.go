package telegram

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"tankside/bot"
)

// call is one outgoing call as the outbox keeps it. The chat is in the outbox's row,
// so that a chat that moves takes it along.
type call struct {
	Method  string    `json:"m"`
	Text    string    `json:"t,omitempty"` // HTML, but for the short texts of presses
	Plain   string    `json:"p,omitempty"` // the same for when the server does not take the HTML
	Thread  int       `json:"th,omitempty"`
	ReplyTo int       `json:"r,omitempty"`
	Keys    *keyboard `json:"k,omitempty"`
	Force   bool      `json:"f,omitempty"` // in a group: the next message is a reply to this one
	Message int       `json:"id,omitempty"`
	Query   string    `json:"q,omitempty"` // of a press or an inline query
	Cards   []card    `json:"c,omitempty"`
	Media   *media    `json:"md,omitempty"`
}

// The methods of the outbox.
const (
	sendMessage = "sendMessage"
	editText    = "editMessageText"
	editMarkup  = "editMessageReplyMarkup"
	answerPress = "answerCallbackQuery"
	answerQuery = "answerInlineQuery"
	sendLog     = "sendDocument"
)

// The library's own button type sends an empty copy_text with every button, so these
// are ours.
type keyboard struct {
	Rows [][]key `json:"inline_keyboard"`
}

type key struct {
	Text  string  `json:"text"`
	Data  string  `json:"callback_data,omitempty"`
	Share *string `json:"switch_inline_query,omitempty"`
}

type forceReply struct {
	Force     bool `json:"force_reply"`
	Selective bool `json:"selective"`
}

type card struct {
	ID    string `json:"id"`
	Title string `json:"t"`
	About string `json:"a"`
	HTML  string `json:"h"`
}

// chatless calls belong to no chat's order and to no chat's limit.
func (c *call) chatless() bool { return c.Method == answerPress || c.Method == answerQuery }

// do makes the call through the library and gives the number of the message that it
// made, if any.
func (b *Bot) do(ctx context.Context, chat int64, c *call) (int64, error) {
	switch c.Method {
	case sendMessage:
		return number(b.api.SendMessage(ctx, b.sendParams(chat, c)))
	case editText:
		p := &tg.EditMessageTextParams{ChatID: chat, MessageID: c.Message, Text: c.Text, ParseMode: models.ParseModeHTML, LinkPreviewOptions: noPreview()}
		if c.Keys != nil {
			p.ReplyMarkup = c.Keys
		}
		return number(b.api.EditMessageText(ctx, p))
	case editMarkup:
		_, err := b.api.EditMessageReplyMarkup(ctx, &tg.EditMessageReplyMarkupParams{ChatID: chat, MessageID: c.Message})
		return 0, err
	case answerPress:
		_, err := b.api.AnswerCallbackQuery(ctx, &tg.AnswerCallbackQueryParams{CallbackQueryID: c.Query, Text: c.Text})
		return 0, err
	case answerQuery:
		_, err := b.api.AnswerInlineQuery(ctx, cardParams(c))
		return 0, err
	case sendPhoto, sendVoice:
		return b.doMedia(ctx, chat, c)
	case sendLog:
		var file bytes.Buffer
		if err := b.Export(ctx, chat, &file); err != nil {
			return 0, fmt.Errorf("export: %w", err)
		}
		return number(b.api.SendDocument(ctx, &tg.SendDocumentParams{ChatID: chat, MessageThreadID: c.Thread, Caption: c.Text, ParseMode: models.ParseModeHTML,
			Document: &models.InputFileUpload{Filename: "log.csv", Data: bytes.NewReader(file.Bytes())}}))
	}
	return 0, fmt.Errorf("%w: no such call: %s", tg.ErrorBadRequest, c.Method)
}

func (b *Bot) sendParams(chat int64, c *call) *tg.SendMessageParams {
	p := &tg.SendMessageParams{ChatID: chat, MessageThreadID: c.Thread, Text: c.Text, ParseMode: models.ParseModeHTML, LinkPreviewOptions: noPreview()}
	if c.ReplyTo != 0 {
		p.ReplyParameters = &models.ReplyParameters{MessageID: c.ReplyTo, AllowSendingWithoutReply: true}
	}
	switch {
	case c.Keys != nil:
		p.ReplyMarkup = c.Keys
	case c.Force:
		p.ReplyMarkup = forceReply{Force: true, Selective: true}
	}
	return p
}

func noPreview() *models.LinkPreviewOptions {
	off := true
	return &models.LinkPreviewOptions{IsDisabled: &off}
}

func cardParams(c *call) *tg.AnswerInlineQueryParams {
	p := &tg.AnswerInlineQueryParams{InlineQueryID: c.Query, IsPersonal: true, CacheTime: 1, Results: []models.InlineQueryResult{}}
	for _, card := range c.Cards {
		p.Results = append(p.Results, &models.InlineQueryResultArticle{ID: card.ID, Title: card.Title, Description: card.About,
			InputMessageContent: &models.InputTextMessageContent{MessageText: card.HTML, ParseMode: models.ParseModeHTML}})
	}
	return p
}

func number(m *models.Message, err error) (int64, error) {
	if err != nil {
		return 0, err
	}
	return int64(m.ID), nil
}

// put places a call in the outbox.
func put(tx bot.Tx, o bot.Outgoing, c call) (int64, error) {
	body, err := json.Marshal(c)
	if err != nil {
		return 0, err
	}
	o.Body = body
	return tx.Send(o)
}
