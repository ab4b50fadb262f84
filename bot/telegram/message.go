package telegram

import (
	"strings"
	"time"
	"unicode/utf16"

	"tankside/bot"
	"tankside/engine"
	"tankside/phrases"
)

// place is where a message was said, by whom, and what they may do there.
type place struct {
	chat    int64
	private bool
	thread  int
	quote   int // the message to quote
	person  bot.Person
	owner   bool
	allowed bool
	lang    string // that the chat speaks, else that of the person's program
	at      time.Time
	room    bot.Guest // the chat
	who     bot.Guest // the person; the same in private
}

// place works out who may do what. A chat that moved is known by its new number.
func (j *job) place(m *message, from *user) (p *place, err error) {
	p = &place{chat: m.Chat.ID, private: m.Chat.private(), thread: m.thread(), person: from.person()}
	if !p.private {
		if p.chat, err = j.tx.Moved(m.Chat.ID); err != nil {
			return nil, err
		}
	}
	if p.room, err = j.tx.Guest(p.chat); err != nil {
		return nil, err
	}
	p.who = p.room
	if !p.private {
		p.quote = m.ID
		if p.who, err = j.tx.Guest(from.ID); err != nil {
			return nil, err
		}
	}
	p.owner = p.who.Role == bot.Owner
	p.allowed = p.owner || p.room.Role != bot.Stranger
	p.lang, p.at = spoken(from.Language), j.now
	if m.Date > 0 {
		p.at = moment(m.Date)
	}
	return p, nil
}

// know reads what the chat knows, and puts its language and its clock in.
func (j *job) know(p *place, id int64) (bot.Known, error) {
	k, at, err := bot.Know(j.tx, p.chat, id, p.at, j.Zone)
	if k.Memory.Lang != "" {
		p.lang = k.Memory.Lang
	}
	p.at = at
	return k, err
}

// spoken is a language that we speak, for a tag such as "es-419".
func spoken(tag string) string {
	short, _, _ := strings.Cut(strings.ToLower(tag), "-")
	for _, lang := range phrases.Languages() {
		if lang == short {
			return lang
		}
	}
	return phrases.Languages()[0]
}

// message deals with a new message.
func (j *job) message(m *message) error {
	if m.MoveTo != 0 || m.MoveFrom != 0 || m.NewTitle != "" {
		return j.service(m)
	}
	if m.From == nil || m.ViaBot != nil || (m.From.IsBot || m.Sender != nil) && !m.anonymous() {
		return nil // a channel, another bot, or a card of our own
	}
	p, err := j.place(m, m.From)
	if err != nil {
		return err
	}
	text, addressed := j.addressed(m)
	if !p.allowed {
		return j.stranger(p, text, addressed)
	}
	k, err := j.know(p, int64(m.ID))
	if err != nil {
		return err
	}
	if m.Voice != nil {
		if !addressed && !p.private {
			return nil
		}
		return j.voice(p, m, k)
	}
	if text == "" && p.private && m.unreadable() {
		return j.say(p, line(p.lang, "telegram.only_text", phrases.Fill{}))
	}
	if strings.TrimSpace(text) == "" || !addressed && !bot.PlainlyTheJob(text, k.Memory) {
		return nil
	}
	return j.said(p, m.ID, text, k)
}

// said deals with words addressed to us: a command, a wish for a reminder, or a
// message of the job.
func (j *job) said(p *place, id int, text string, k bot.Known) error {
	if command, rest, ok := cutCommand(text); ok {
		done, say, err := j.command(p, id, command, rest, k.Memory)
		if done || err != nil {
			return err
		}
		text = say
	}
	if w, ok := bot.ReadWish(text, p.lang, p.at); ok {
		return j.wish(p, id, text, w, k.Memory)
	}
	return j.deal(p, bot.Message{Chat: p.chat, ID: int64(id), Person: p.person, Text: text, At: p.at, Speaks: j.Speak != nil}, k)
}

// addressed takes out what addresses a message to us, and says whether anything does:
// a private chat, a command, our name, or a reply to one of our messages. A command
// for another bot is not ours even in reply to us.
func (j *job) addressed(m *message) (text string, ours bool) {
	text = m.words()
	name := ""
	if n := j.name.Load(); n != nil {
		name = *n
	}
	if command, rest, ok := cutCommand(text); ok {
		command, at, named := strings.Cut(command, "@")
		if named && !strings.EqualFold(at, name) {
			return "", false
		}
		return "/" + command + " " + rest, true
	}
	ours = m.Chat.private() || m.ReplyTo != nil && m.ReplyTo.From != nil && m.ReplyTo.From.ID == j.id.Load()
	for _, e := range m.Entities {
		if e.Type == "text_mention" && e.User != nil && e.User.ID == j.id.Load() {
			if from, to, ok := bytesOf(text, e.Offset, e.Length); ok {
				return strings.TrimSpace(text[:from] + " " + text[to:]), true
			}
		}
	}
	if i := indexName(text, name); i >= 0 {
		ours = true
		text = text[:i] + " " + text[i+1+len(name):]
	}
	return strings.Trim(text, " ,:\n\t"), ours
}

// indexName finds "@name" as a word of its own.
func indexName(text, name string) int {
	if name == "" {
		return -1
	}
	low, want := strings.ToLower(text), "@"+strings.ToLower(name)
	for from := 0; len(low) == len(text); {
		i := strings.Index(low[from:], want)
		if i < 0 {
			return -1
		}
		i += from
		end := i + len(want)
		if end == len(low) || !nameByte(low[end]) {
			return i
		}
		from = end
	}
	return -1
}

func nameByte(c byte) bool {
	return c == '_' || c >= '0' && c <= '9' || c >= 'a' && c <= 'z'
}

// bytesOf turns an entity's place in UTF-16 units into bytes.
func bytesOf(s string, offset, length int) (from, to int, ok bool) {
	from, to, at := -1, -1, 0
	for i, r := range s + "\x00" {
		if at == offset {
			from = i
		}
		if at == offset+length {
			to = i
		}
		at += utf16.RuneLen(r)
	}
	return from, to, from >= 0 && to >= from
}

// old is how old a message may be to be answered by itself.
const old = 24 * time.Hour

// deal has the conversation deal with a message, and puts the answer in the outbox.
func (j *job) deal(p *place, msg bot.Message, k bot.Known) error {
	d, err := bot.Deal(j.tx, msg, k, bot.Terms{Owner: p.owner, Group: !p.private, Lang: p.lang})
	if err != nil {
		return err
	}
	if d.Repeat {
		return nil // it has been answered
	}
	j.count("message", d, p.at)
	if j.now.Sub(p.at) > old {
		if err := j.later(p, d); err != nil {
			return err
		}
		return j.tx.PutTurn(p.chat, bot.Turn{Message: msg.ID, Key: msg.ID, Said: said(msg.Text)})
	}
	ask := ""
	if d.Outcome.Act == engine.ActLogged {
		if ask, err = j.askZone(p, d.Memory); err != nil {
			return err
		}
	}
	out, err := j.answer(p, d, msg.Text, 0, strings.TrimPrefix(ask, "\n"))
	if err != nil {
		return err
	}
	if err := j.tx.PutTurn(p.chat, bot.Turn{Message: msg.ID, Key: msg.ID, Out: out, Said: said(msg.Text), Before: &d.Before}); err != nil {
		return err
	}
	return j.after(p, d)
}

func (j *job) count(kind string, d *bot.Dealt, since time.Time) {
	j.tally = append(j.tally, tally{kind, string(d.Outcome.Status), since})
	if j.LogText {
		j.Log.Info("dealt", "update", j.number, "status", d.Outcome.Status, "reply", d.Text)
	}
}

// answer puts a reply in the outbox: in place of the message that edits is, if any.
// more is a line below it. It gives the outbox number of the first part.
func (j *job) answer(p *place, d *bot.Dealt, question string, edits int64, more string) (first int64, err error) {
	if err := j.tx.Retire(p.chat); err != nil {
		return 0, err
	}
	keys, err := j.keys(p, d, question)
	if err != nil {
		return 0, err
	}
	text := phrases.HTML(d.Lang, d.Outcome)
	if more != "" {
		text += "\n" + more
	}
	parts := split(text)
	for i, part := range parts {
		c := call{Method: sendMessage, Text: part, Plain: plainOf(part), Thread: p.thread}
		o := bot.Outgoing{Chat: p.chat, Rank: rankAnswer}
		if i == 0 {
			c.ReplyTo = p.quote
			if edits != 0 {
				c.Method, o.Edits = editText, edits
			}
		}
		if i == len(parts)-1 {
			c.Keys = keys
			c.Force = keys == nil && !p.private && d.Outcome.Status == engine.Asks && edits == 0
		}
		id, err := put(j.tx, o, c)
		if err != nil {
			return 0, err
		}
		if i == 0 {
			first = id
		}
	}
	if edits != 0 {
		return first, nil // its picture went with the first answer
	}
	return first, j.beside(j.tx, p.chat, p.thread, d.Reply, d.Memory.Speak)
}

// say puts a text of our own in the outbox.
func (j *job) say(p *place, text string) error { return j.sayWith(p, text, nil) }

func (j *job) sayWith(p *place, text string, keys *keyboard) error {
	_, err := put(j.tx, bot.Outgoing{Chat: p.chat, Rank: rankAnswer},
		call{Method: sendMessage, Text: text, Plain: plainOf(text), Thread: p.thread, ReplyTo: p.quote, Keys: keys})
	return err
}

// line is a text of the catalogue, for sending.
func line(lang, key string, f phrases.Fill) string {
	_, escaped := phrases.Line(lang, key, f)
	return escaped
}

// service deals with what happened to the chat itself.
func (j *job) service(m *message) error {
	switch {
	case m.MoveTo != 0:
		return j.tx.Move(m.Chat.ID, m.MoveTo)
	case m.MoveFrom != 0:
		return j.tx.Move(m.MoveFrom, m.Chat.ID)
	}
	g, err := j.tx.Guest(m.Chat.ID)
	if err != nil || g.Role == bot.Stranger {
		return err
	}
	g.Name = m.NewTitle
	return j.tx.PutGuest(g)
}

// member deals with being let in and put out. Nothing is dropped: who comes back
// finds everything as it was.
func (j *job) member(m *member) error {
	g, err := j.tx.Guest(m.Chat.ID)
	if err != nil {
		return err
	}
	out := m.New.Status == "left" || m.New.Status == "kicked"
	by, err := j.tx.Guest(m.From.ID)
	if err != nil {
		return err
	}
	if !out && !m.Chat.private() && by.Role == bot.Owner && g.Role == bot.Stranger {
		g.Role, g.Name = bot.Member, m.Chat.Title // an owner's own invitation
	}
	if g.Role == bot.Stranger && !out {
		return nil
	}
	g.Silent = out
	return j.tx.PutGuest(g)
}
