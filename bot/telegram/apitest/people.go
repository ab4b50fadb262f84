package apitest

import (
	"fmt"
	"strings"
	"time"
)

// Person is somebody at a phone.
type Person struct {
	Server   *Server
	ID       int64
	Name     string
	Language string
}

// Person makes a person.
func (s *Server) Person(id int64, name string) *Person {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.chat(id)
	return &Person{Server: s, ID: id, Name: name, Language: "en"}
}

// Group makes a group.
func (s *Server) Group(id int64, title string) int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.chat(id).Title = title
	return id
}

func (p *Person) user() map[string]any {
	return map[string]any{"id": p.ID, "is_bot": false, "first_name": p.Name, "language_code": p.Language}
}

func (s *Server) chatJSON(id int64) map[string]any {
	c := s.chat(id)
	return map[string]any{"id": id, "type": c.Type, "title": c.Title}
}

// Extra changes a message before it is sent.
type Extra func(m map[string]any)

// At makes a message old.
func At(t time.Time) Extra { return func(m map[string]any) { m["date"] = t.Unix() } }

// ReplyTo makes it a reply to a message of the bot.
func ReplyTo(id int) Extra {
	return func(m map[string]any) {
		m["reply_to_message"] = map[string]any{"message_id": id, "date": 1, "chat": m["chat"], "from": map[string]any{"id": BotID, "is_bot": true, "first_name": "Tankside"}}
	}
}

// InTopic puts it in a topic.
func InTopic(thread int) Extra {
	return func(m map[string]any) { m["message_thread_id"], m["is_topic_message"] = thread, true }
}

// Voice makes it a voice note.
func Voice(file string, seconds int) Extra {
	return func(m map[string]any) {
		delete(m, "text")
		m["voice"] = map[string]any{"file_id": file, "file_unique_id": file, "duration": seconds, "file_size": 1000}
	}
}

// With sets a field.
func With(field string, v any) Extra { return func(m map[string]any) { m[field] = v } }

func (p *Person) message(chat int64, text string, extra []Extra) map[string]any {
	s := p.Server
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.chat(chat)
	c.NextID++
	m := map[string]any{"message_id": c.NextID, "date": s.now().Unix(), "text": text, "from": p.user(), "chat": s.chatJSON(chat)}
	if command, _, _ := strings.Cut(text, " "); strings.HasPrefix(text, "/") {
		m["entities"] = []any{map[string]any{"type": "bot_command", "offset": 0, "length": units(command)}}
	}
	for _, f := range extra {
		f(m)
	}
	if s.keepLog {
		c.said[c.NextID] = m
	}
	return m
}

// Say writes a message in a chat; it gives the message, to be edited or sent again.
func (p *Person) Say(chat int64, text string, extra ...Extra) map[string]any {
	m := p.message(chat, text, extra)
	p.Server.Push(chat, map[string]any{"message": m})
	return m
}

// Edit changes a message's text.
func (p *Person) Edit(m map[string]any, text string, at time.Time) int64 {
	edited := map[string]any{}
	for k, v := range m {
		edited[k] = v
	}
	edited["text"], edited["edit_date"] = text, at.Unix()
	return p.Server.Push(m["chat"].(map[string]any)["id"].(int64), map[string]any{"edited_message": edited})
}

// Press presses a button of one of the bot's messages.
func (p *Person) Press(chat int64, message int, data string) string {
	s := p.Server
	s.mu.Lock()
	s.pressed++
	id := fmt.Sprint("press", s.pressed)
	s.presses[id] = s.now()
	c := s.chat(chat)
	m := map[string]any{"message_id": message, "date": s.now().Unix(), "chat": s.chatJSON(chat), "from": map[string]any{"id": BotID, "is_bot": true, "first_name": "Tankside"}}
	if shown := c.Messages[message]; shown != nil {
		m["text"] = shown.Text
	}
	s.mu.Unlock()
	s.Push(p.ID, map[string]any{"callback_query": map[string]any{"id": id, "from": p.user(), "message": m, "chat_instance": "1", "data": data}})
	return id
}

// Ask types after the bot's name in some other chat.
func (p *Person) Ask(query string) string {
	s := p.Server
	s.mu.Lock()
	s.pressed++
	id := fmt.Sprint("inline", s.pressed)
	s.inlines[id] = s.now()
	s.mu.Unlock()
	s.Push(p.ID, map[string]any{"inline_query": map[string]any{"id": id, "from": p.user(), "query": query, "offset": ""}})
	return id
}

// Member tells that the bot was let in or put out.
func (p *Person) Member(chat int64, status string) {
	p.Server.mu.Lock()
	c := p.Server.chatJSON(chat)
	p.Server.mu.Unlock()
	p.Server.Push(chat, map[string]any{"my_chat_member": map[string]any{"chat": c, "from": p.user(), "date": time.Now().Unix(),
		"old_chat_member": map[string]any{"status": "member", "user": p.user()}, "new_chat_member": map[string]any{"status": status, "user": map[string]any{"id": BotID, "is_bot": true, "first_name": "Tankside"}}}})
}

// Block makes a chat refuse everything.
func (s *Server) Block(chat int64, on bool) { s.mu.Lock(); s.chat(chat).Blocked = on; s.mu.Unlock() }

// Move makes a group a supergroup: the server says so in both chats, and calls to the
// old one fail.
func (s *Server) Move(from, to int64, tell bool) {
	s.mu.Lock()
	s.chat(from).MovedTo = to
	s.chat(to).Title = s.chat(from).Title
	a, b := s.chatJSON(from), s.chatJSON(to)
	s.chat(from).NextID++
	s.chat(to).NextID++
	user := map[string]any{"id": 1, "is_bot": false, "first_name": "Admin"}
	old := map[string]any{"message_id": s.chat(from).NextID, "date": s.now().Unix(), "chat": a, "from": user, "migrate_to_chat_id": to}
	fresh := map[string]any{"message_id": s.chat(to).NextID, "date": s.now().Unix(), "chat": b, "from": user, "migrate_from_chat_id": from}
	s.mu.Unlock()
	if tell {
		s.Push(from, map[string]any{"message": old})
		s.Push(to, map[string]any{"message": fresh})
	}
}
