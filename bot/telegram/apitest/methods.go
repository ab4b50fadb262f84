package apitest

import (
	"bytes"
	"image"
	_ "image/png" // to look at photos
	"net/http"
	"sort"
	"strings"
	"time"
)

// do does a call. What the table does not allow is a problem of the test as well as
// an answer of 400.
func (s *Server) do(r *http.Request, method string, p map[string]any) (any, *apiError) {
	if s.looks() {
		if err := s.table.check(method, p); err != nil {
			s.problem("%s: %v", method, err)
			return nil, bad("%v", err)
		}
	}
	switch method {
	case "getMe":
		return map[string]any{"id": BotID, "is_bot": true, "first_name": "Tankside", "username": BotName}, nil
	case "getUpdates":
		return s.getUpdates(r, p)
	case "setWebhook", "deleteWebhook", "getWebhookInfo":
		return s.hookCall(method, p)
	case "setMyCommands":
		return s.setCommands(p)
	case "answerCallbackQuery":
		return s.answerOnce(s.presses, "query is too old and response timeout expired or query ID is invalid", p["callback_query_id"])
	case "answerInlineQuery":
		if err := s.checkCards(p); err != nil {
			return nil, err
		}
		return s.answerOnce(s.inlines, "query is too old and response timeout expired or query ID is invalid", p["inline_query_id"])
	case "getFile":
		return s.getFile(p)
	}
	return s.inChat(method, p)
}

func (s *Server) setCommands(p map[string]any) (any, *apiError) {
	for _, c := range p["commands"].([]any) {
		name := c.(map[string]any)["command"].(string)
		about := c.(map[string]any)["description"].(string)
		if name == "" || len(name) > 32 || strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789_") != "" || about == "" || units(about) > 256 {
			s.problem("setMyCommands: %q %q", name, about)
			return nil, bad("BOT_COMMAND_INVALID")
		}
	}
	return true, nil
}

// queryLasts is how long the server waits for the answer to a press.
const queryLasts = 150 * time.Second

func (s *Server) answerOnce(open map[string]time.Time, what string, id any) (any, *apiError) {
	s.mu.Lock()
	defer s.mu.Unlock()
	key, _ := id.(string)
	at, ok := open[key]
	if !ok || s.now().Sub(at) > queryLasts {
		return nil, bad("%s", what)
	}
	delete(open, key)
	return true, nil
}

func (s *Server) checkCards(p map[string]any) *apiError {
	for _, c := range p["results"].([]any) {
		m := c.(map[string]any)
		content, ok := m["input_message_content"].(map[string]any)
		text, _ := content["message_text"].(string)
		if id, _ := m["id"].(string); !ok || id == "" || len(id) > 64 || text == "" {
			s.problem("answerInlineQuery: a card without content: %v", m)
			return bad("RESULT_INVALID")
		}
		plain, err := plainOf(text)
		if err != nil || units(plain) > 4096 {
			s.problem("answerInlineQuery: %v", err)
			return bad("%v", err)
		}
	}
	return nil
}

func (s *Server) getFile(p map[string]any) (any, *apiError) {
	s.mu.Lock()
	defer s.mu.Unlock()
	id := p["file_id"].(string)
	data, ok := s.files[id]
	if !ok {
		return nil, bad("invalid file_id")
	}
	return map[string]any{"file_id": id, "file_unique_id": id, "file_size": len(data), "file_path": id}, nil
}

// inChat does the calls that a chat sees.
func (s *Server) inChat(method string, p map[string]any) (any, *apiError) {
	s.mu.Lock()
	id, _ := p["chat_id"].(float64)
	c, known := s.chats[int64(id)]
	switch {
	case !known:
		s.mu.Unlock()
		s.problem("%s: chat %v is not known", method, p["chat_id"])
		return nil, bad("chat not found")
	case c.MovedTo != 0:
		s.mu.Unlock()
		return nil, &apiError{Code: 400, Text: "Bad Request: group chat was upgraded to a supergroup chat", MoveTo: c.MovedTo}
	case c.Blocked:
		s.mu.Unlock()
		return nil, &apiError{Code: 403, Text: "Forbidden: bot was blocked by the user"}
	}
	var m *Message
	var err *apiError
	switch method {
	case "sendMessage", "sendDocument", "sendPhoto", "sendVoice":
		m, err = s.send(c, method, p)
	case "editMessageText", "editMessageReplyMarkup":
		m, err = s.edit(c, method, p)
	case "sendChatAction", "setMessageReaction", "leaveChat", "deleteMessage":
		s.mu.Unlock()
		return true, nil
	default:
		err = bad("method %s is not in this server", method)
	}
	hear := s.onSend
	s.mu.Unlock()
	if err != nil {
		if err.Code == 400 && !strings.Contains(err.Text, "not modified") && !strings.Contains(err.Text, "not found") {
			s.problem("%s: %s", method, err.Text)
		}
		return nil, err
	}
	if hear != nil && method != "editMessageReplyMarkup" {
		hear(c.ID, m)
	}
	return s.shown(c, m), nil
}

// shown is a message as the server answers with it, with the one that it quotes as that
// was sent.
func (s *Server) shown(c *Chat, m *Message) map[string]any {
	out := map[string]any{"message_id": m.ID, "date": m.At.Unix(), "text": m.Text, "from": map[string]any{"id": BotID, "is_bot": true, "first_name": "Tankside"},
		"chat": map[string]any{"id": c.ID, "type": c.Type}}
	s.mu.Lock()
	defer s.mu.Unlock()
	if quoted := c.said[m.ReplyTo]; quoted != nil {
		out["reply_to_message"] = quoted
	}
	return out
}

func (s *Server) send(c *Chat, method string, p map[string]any) (*Message, *apiError) {
	m := &Message{At: s.now()}
	text, limit := "text", 4096
	if method != "sendMessage" {
		text, limit = "caption", 1024
		m.Document, _ = p["document"].(file)
		m.Photo, _ = p["photo"].(file)
		m.Voice, _ = p["voice"].(file)
		if err := checkMedia(method, m); err != nil {
			return nil, err
		}
	}
	m.Silent = p["disable_notification"] == true
	if err := setText(m, p, text, limit); err != nil {
		return nil, err
	}
	if err := setMarkup(m, p); err != nil {
		return nil, err
	}
	if r, ok := p["reply_parameters"].(map[string]any); ok {
		m.ReplyTo = int(r["message_id"].(float64))
	}
	if t, ok := p["message_thread_id"].(float64); ok {
		m.Thread = int(t)
	}
	c.NextID++
	m.ID = c.NextID
	c.Messages[m.ID], c.Order = m, append(c.Order, m.ID)
	return m, nil
}

// checkMedia looks at what was uploaded, as the server does: a photo has to be a picture
// of a decent shape, and only ogg is shown as a voice note.
func checkMedia(method string, m *Message) *apiError {
	switch method {
	case "sendPhoto":
		shape, _, err := image.DecodeConfig(bytes.NewReader(m.Photo))
		if err != nil || len(m.Photo) > 10<<20 {
			return bad("IMAGE_PROCESS_FAILED")
		}
		if shape.Width+shape.Height > 10000 || shape.Width > 20*shape.Height || shape.Height > 20*shape.Width {
			return bad("PHOTO_INVALID_DIMENSIONS")
		}
	case "sendVoice":
		if !bytes.HasPrefix(m.Voice, []byte("OggS")) {
			return bad("wrong type of the voice note")
		}
	}
	return nil
}

func setText(m *Message, p map[string]any, field string, limit int) *apiError {
	text, _ := p[field].(string)
	m.HTML = text
	if p["parse_mode"] == "HTML" {
		plain, err := plainOf(text)
		if err != nil {
			return bad("%v", err)
		}
		text = plain
	}
	if strings.TrimSpace(text) == "" && field == "text" {
		return bad("message text is empty")
	}
	if units(text) > limit {
		return bad("message is too long")
	}
	m.Text = text
	return nil
}

func setMarkup(m *Message, p map[string]any) *apiError {
	m.Buttons, m.Force = nil, false
	markup, ok := p["reply_markup"].(map[string]any)
	if !ok {
		return nil
	}
	m.Force = markup["force_reply"] == true
	rows, _ := markup["inline_keyboard"].([]any)
	for _, row := range rows {
		for _, b := range row.([]any) {
			button := b.(map[string]any)
			if len(button) != 2 {
				return bad("a button must have exactly one action: %v", button)
			}
			out := Button{Text: button["text"].(string)}
			out.Data, _ = button["callback_data"].(string)
			out.Share, _ = button["switch_inline_query"].(string)
			if len(out.Data) > 64 || out.Text == "" || units(out.Share) > 256 {
				return bad("BUTTON_DATA_INVALID")
			}
			m.Buttons = append(m.Buttons, out)
		}
	}
	return nil
}

func (s *Server) edit(c *Chat, method string, p map[string]any) (*Message, *apiError) {
	id, _ := p["message_id"].(float64)
	m := c.Messages[int(id)]
	if m == nil {
		return nil, bad("message to edit not found")
	}
	next := *m
	if method == "editMessageText" {
		if err := setText(&next, p, "text", 4096); err != nil {
			return nil, err
		}
	}
	if err := setMarkup(&next, p); err != nil {
		return nil, err
	}
	if next.Text == m.Text && sameButtons(next.Buttons, m.Buttons) {
		return nil, bad("message is not modified: specified new message content and reply markup are exactly the same as a current content and reply markup of the message")
	}
	next.Edits++
	*m = next
	return m, nil
}

func sameButtons(a, b []Button) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// chat finds a chat, or makes one: private for numbers above zero.
func (s *Server) chat(id int64) *Chat {
	c := s.chats[id]
	if c == nil {
		kind := "private"
		if id < -1000000000000 {
			kind = "supergroup"
		} else if id < 0 {
			kind = "group"
		}
		c = &Chat{ID: id, Type: kind, Title: "Crew", Messages: map[int]*Message{}, said: map[int]map[string]any{}}
		s.chats[id] = c
	}
	return c
}

// Chats lists the numbers of all chats.
func (s *Server) Chats() (ids []int64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for id := range s.chats {
		ids = append(ids, id)
	}
	sort.Slice(ids, func(i, j int) bool { return ids[i] < ids[j] })
	return ids
}
