package telegram

import (
	"strconv"
	"strings"
	"time"

	"tankside/bot"
	"tankside/phrases"
)

// pressWait is how long the server waits for the answer to a press or an inline query.
const pressWait = 2 * time.Minute

// press deals with a button. It works once; what it says is then dealt with like a
// message of the person who pressed it.
func (j *job) press(c *callback) error {
	if c.Message == nil {
		return j.toast(c, spoken(c.From.Language), "telegram.old_button")
	}
	m := *c.Message
	m.Date, m.ReplyTo = 0, nil // the button was pressed now, whenever its message was sent
	p, err := j.place(&m, &c.From)
	if err != nil {
		return err
	}
	if !p.allowed {
		return j.toast(c, p.lang, "telegram.stranger_press")
	}
	id, which, ok := buttonOf(c.Data)
	k, err := j.know(p, -id)
	if err != nil {
		return err
	}
	if !ok {
		return j.toast(c, p.lang, "telegram.old_button")
	}
	say, state, err := j.tx.Press(p.chat, id, which)
	if err != nil {
		return err
	}
	switch state {
	case bot.ButtonUsed:
		return j.toast(c, p.lang, "telegram.used_button")
	case bot.ButtonLive:
		return j.pressedLive(p, c, id, say, k)
	}
	return j.toast(c, p.lang, "telegram.old_button")
}

func (j *job) pressedLive(p *place, c *callback, id int64, say string, k bot.Known) error {
	if _, err := put(j.tx, bot.Outgoing{Chat: p.chat, Rank: rankPress}, call{Method: editMarkup, Message: c.Message.ID}); err != nil {
		return err
	}
	if command, rest, ok := cutCommand(say); ok {
		if _, _, err := j.command(p, c.Message.ID, command, rest, k.Memory); err != nil {
			return err
		}
		return j.toastText(c, "")
	}
	// Presses are numbered below zero, where no message is.
	msg := bot.Message{Chat: p.chat, ID: -id, Person: p.person, Text: say, At: p.at, Speaks: j.Speak != nil}
	d, err := bot.Deal(j.tx, msg, k, bot.Terms{Owner: p.owner, Group: !p.private, Lang: p.lang})
	if err != nil {
		return err
	}
	j.count("press", d, j.now)
	out, err := j.answer(p, d, say, 0, "")
	if err != nil {
		return err
	}
	if err := j.toastText(c, firstLine(d.Text)); err != nil {
		return err
	}
	if err := j.tx.PutTurn(p.chat, bot.Turn{Message: -id, Key: -id, Out: out}); err != nil {
		return err
	}
	return j.after(p, d)
}

// buttonOf reads a button's data: which buttons, and which of them.
func buttonOf(data string) (id int64, which int, ok bool) {
	rest, ok := strings.CutPrefix(data, pressed)
	set, n, dotted := strings.Cut(rest, ".")
	if !ok || !dotted {
		return 0, 0, false
	}
	id, err := strconv.ParseInt(set, 36, 64)
	which, err2 := strconv.Atoi(n)
	return id, which, err == nil && err2 == nil && id > 0
}

func (j *job) toast(c *callback, lang, key string) error {
	return j.toastText(c, phrases.Word(lang, key))
}

// toastText answers a press at once; the server shows it over the chat.
func (j *job) toastText(c *callback, text string) error {
	_, err := put(j.tx, bot.Outgoing{Chat: c.From.ID, Rank: rankPress, Until: j.now.Add(pressWait)},
		call{Method: answerPress, Query: c.ID, Text: short(text, 190)})
	return err
}

// inline answers what somebody types after our name in any chat: a card with the
// answer. Their own set-up is used where they have one; nothing is remembered.
func (j *job) inline(q *inline) error {
	who, err := j.tx.Guest(q.From.ID)
	if err != nil {
		return err
	}
	c := call{Method: answerQuery, Query: q.ID}
	if who.Role != bot.Stranger && strings.TrimSpace(q.Query) != "" {
		if c.Cards, err = j.cards(q); err != nil {
			return err
		}
	}
	_, err = put(j.tx, bot.Outgoing{Chat: q.From.ID, Rank: rankPress, Until: j.now.Add(pressWait)}, c)
	return err
}

func (j *job) cards(q *inline) ([]card, error) {
	m, book, _, err := j.tx.Load(q.From.ID, 0, j.now)
	if err != nil {
		return nil, err
	}
	if m.Lang == "" {
		m.Lang = spoken(q.From.Language)
	}
	m.Pending = nil
	msg := bot.Message{Chat: q.From.ID, Person: q.From.person(), Text: q.Query, At: j.now.In(bot.ZoneOf(m, j.Zone))}
	return cardsOf(bot.Card(msg, m, book)), nil
}

// cardsOf makes the card of a reply; none when there is nothing worth sending.
func cardsOf(r *bot.Reply) []card {
	if r == nil {
		return nil
	}
	text := split(phrases.HTML(r.Lang, r.Outcome))[0]
	title, rest, _ := strings.Cut(plainOf(text), "\n")
	return []card{{ID: "1", Title: short(title, 60), About: short(firstLine(rest), 100), HTML: text}}
}
