package telegram

import (
	"encoding/json"
	"time"

	"tankside/bot"
)

// update is the part of a Bot API update that this bot uses. It is our own rather
// than the library's, because the library refuses a whole update for one kind of
// media, origin or member state that is newer than itself.
type update struct {
	ID       int64     `json:"update_id"`
	Message  *message  `json:"message"`
	Edited   *message  `json:"edited_message"`
	Callback *callback `json:"callback_query"`
	Inline   *inline   `json:"inline_query"`
	Member   *member   `json:"my_chat_member"`
}

// wanted are the kinds of updates that the server is asked for.
var wanted = []string{"message", "edited_message", "callback_query", "inline_query", "my_chat_member"}

type user struct {
	ID       int64  `json:"id"`
	IsBot    bool   `json:"is_bot"`
	First    string `json:"first_name"`
	Last     string `json:"last_name"`
	Username string `json:"username"`
	Language string `json:"language_code"`
}

type chat struct {
	ID    int64  `json:"id"`
	Type  string `json:"type"`
	Title string `json:"title"`
}

func (c *chat) private() bool { return c.Type == "private" }

type message struct {
	ID       int      `json:"message_id"`
	Thread   int      `json:"message_thread_id"`
	IsTopic  bool     `json:"is_topic_message"`
	From     *user    `json:"from"`
	Sender   *chat    `json:"sender_chat"` // an anonymous admin, a channel
	Chat     chat     `json:"chat"`
	Date     int64    `json:"date"`
	EditDate int64    `json:"edit_date"`
	ReplyTo  *message `json:"reply_to_message"`
	ViaBot   *user    `json:"via_bot"`
	Text     string   `json:"text"`
	Caption  string   `json:"caption"`
	Entities []entity `json:"entities"`
	Voice    *voice   `json:"voice"`
	MoveTo   int64    `json:"migrate_to_chat_id"`
	MoveFrom int64    `json:"migrate_from_chat_id"`
	NewTitle string   `json:"new_chat_title"`

	// What we cannot read, and say so.
	Photo, Sticker, Video, Audio, Animation, Document, Location, Contact, Poll, Dice, Story, Checklist json.RawMessage

	VideoNote json.RawMessage `json:"video_note"`
	PaidMedia json.RawMessage `json:"paid_media"`
}

// unreadable says whether somebody sent something that is no text and no voice note.
func (m *message) unreadable() bool {
	for _, raw := range []json.RawMessage{m.Photo, m.Sticker, m.Video, m.Audio, m.Animation, m.Document, m.Location, m.Contact,
		m.Poll, m.Dice, m.Story, m.Checklist, m.VideoNote, m.PaidMedia} {
		if len(raw) > 0 {
			return true
		}
	}
	return false
}

// anonymous says whether an admin wrote in the group's own name; the server puts a
// bot in the person's place.
func (m *message) anonymous() bool { return m.Sender != nil && m.Sender.ID == m.Chat.ID }

// thread is the topic to answer in; 0: none.
func (m *message) thread() int {
	if m.IsTopic {
		return m.Thread
	}
	return 0
}

// words are what was written.
func (m *message) words() string {
	if m.Text != "" {
		return m.Text
	}
	return m.Caption
}

type entity struct {
	Type   string `json:"type"`
	Offset int    `json:"offset"` // in UTF-16 units, like Length
	Length int    `json:"length"`
	User   *user  `json:"user"`
}

type voice struct {
	FileID   string `json:"file_id"`
	Duration int    `json:"duration"`
	Size     int64  `json:"file_size"`
}

type callback struct {
	ID      string   `json:"id"`
	From    user     `json:"from"`
	Message *message `json:"message"` // with nothing but chat and number when it is very old
	Data    string   `json:"data"`
}

type inline struct {
	ID    string `json:"id"`
	From  user   `json:"from"`
	Query string `json:"query"`
}

type member struct {
	Chat chat `json:"chat"`
	From user `json:"from"`
	New  struct {
		Status string `json:"status"`
	} `json:"new_chat_member"`
}

// incoming is what the inbox keeps of an update: its number, its chat for the order,
// and all of it as it came. An update that does not decode is kept too, under no
// chat, so that it can be set aside and the ones behind it are reached; one without
// even a number cannot be confirmed and is passed over.
func incoming(raw json.RawMessage) (in bot.Incoming, ok bool) {
	var u update
	err := json.Unmarshal(raw, &u)
	if err != nil {
		var number struct {
			ID int64 `json:"update_id"`
		}
		if json.Unmarshal(raw, &number) != nil || number.ID == 0 {
			return in, false
		}
		u = update{ID: number.ID}
	}
	return bot.Incoming{Number: u.ID, Chat: u.chat(), Raw: raw}, u.ID != 0
}

// chat is where an update belongs; an inline query belongs to its asker.
func (u *update) chat() int64 {
	switch {
	case u.Message != nil:
		return u.Message.Chat.ID
	case u.Edited != nil:
		return u.Edited.Chat.ID
	case u.Callback != nil && u.Callback.Message != nil:
		return u.Callback.Message.Chat.ID
	case u.Callback != nil:
		return u.Callback.From.ID
	case u.Inline != nil:
		return u.Inline.From.ID
	case u.Member != nil:
		return u.Member.Chat.ID
	}
	return 0
}

// person is who it was, for the log.
func (u *user) person() bot.Person {
	name := u.First
	if u.Last != "" {
		name += " " + u.Last
	}
	if name == "" {
		name = u.Username
	}
	return bot.Person{ID: u.ID, Name: name}
}

func moment(unix int64) time.Time { return time.Unix(unix, 0) }
