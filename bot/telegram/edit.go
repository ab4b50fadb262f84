package telegram

import (
	"hash/fnv"
	"io"
	"strings"

	"tankside/bot"
	"tankside/phrases"
)

// revised numbers a message's corrections apart from it and from all other messages:
// a chat's message numbers stay far below.
const revised = int64(1) << 32

// edited deals with a message whose text was changed. It is answered anew in place,
// and what the earlier text logged is corrected. A correction that is older than one
// already dealt with changes nothing, and neither does one of anything but text: a
// place that moves, or what is written under a voice note.
func (j *job) edited(m *message) error {
	if m.From == nil || m.ViaBot != nil || m.From.IsBot && !m.anonymous() || m.Voice != nil || m.words() == "" {
		return nil
	}
	chat, err := j.tx.Moved(m.Chat.ID)
	if err != nil {
		return err
	}
	turn, err := j.tx.Turn(chat, int64(m.ID))
	if err != nil {
		return err
	}
	if turn == nil {
		return j.message(m) // not for us before; perhaps it is now
	}
	when := moment(m.EditDate)
	text, _ := j.addressed(m)
	if when.Before(turn.Edited) || text == "" {
		return nil
	}
	p, err := j.place(m, m.From)
	if err != nil || !p.allowed {
		return err
	}
	key := int64(m.ID) + int64(turn.Edits+1)*revised
	k, err := j.know(p, key)
	if err != nil {
		return err
	}
	if command, rest, ok := cutCommand(text); ok {
		if text, ok = spelledOut(p.lang, command, rest); !ok {
			return nil // a command that is no words of the conversation is done when it is sent
		}
	}
	if turn.Said == said(text) {
		return nil // the server tells of changes that nobody sees, too
	}
	next := bot.Turn{Message: int64(m.ID), Key: key, Edits: turn.Edits + 1, Edited: when, Out: turn.Out, Said: said(text)}
	w, wish := bot.ReadWish(text, p.lang, p.at)
	if wish && (w.Due.IsZero() || w.What == "") {
		return j.say(p, line(p.lang, "telegram.remind_how", phrases.Fill{}))
	}
	if turn.Reminder != 0 {
		if err := j.tx.EndReminder(turn.Reminder); err != nil {
			return err
		}
	}
	if wish {
		return j.wishInstead(p, w, k, turn, next)
	}
	msg := bot.Message{Chat: p.chat, ID: key, Person: p.person, Text: text, At: p.at, Speaks: j.Speak != nil, Edited: true}
	d, err := bot.Revise(j.tx, msg, k, turn, bot.Terms{Owner: p.owner, Group: !p.private, Lang: p.lang})
	if err != nil {
		return err
	}
	j.count("edit", d, when)
	out, err := j.answer(p, d, text, turn.Out, tookBack(d))
	if err != nil {
		return err
	}
	if turn.Out == 0 {
		next.Out = out
	}
	if turn.Before != nil {
		next.Before = &d.Before
	}
	if err := j.tx.PutTurn(p.chat, next); err != nil {
		return err
	}
	return j.after(p, d)
}

// wishInstead keeps a reminder that the new text asks for. What the earlier text logged
// is undone.
func (j *job) wishInstead(p *place, w bot.Wish, k bot.Known, turn *bot.Turn, next bot.Turn) error {
	more := ""
	loads, err := j.tx.Logged(p.chat, turn.Key)
	if err != nil {
		return err
	}
	if len(loads) > 0 {
		undo := bot.Message{Chat: p.chat, ID: next.Key, Person: p.person, Text: phrases.Word(p.lang, "word.undo"), At: p.at, Edited: true}
		d, err := bot.Revise(j.tx, undo, k, turn, bot.Terms{Owner: p.owner, Group: !p.private, Lang: p.lang})
		if err != nil {
			return err
		}
		more = "\n" + phrases.HTML(d.Lang, d.Outcome)
		if err := j.after(p, d); err != nil {
			return err
		}
	}
	return j.remind(p, w, k.Memory, next, more)
}

// said is a number that words give: the same for the same words, however they are spaced.
func said(text string) int64 {
	h := fnv.New64a()
	for _, word := range strings.Fields(text) {
		io.WriteString(h, word+" ")
	}
	return int64(h.Sum64())
}

// tookBack says that loads of the earlier text no longer count, where the new text
// logs none in their place.
func tookBack(d *bot.Dealt) string {
	back, others, added := 0, 0, 0
	for _, e := range d.Effects {
		switch {
		case e.Cancel != nil && e.Why == "edited":
			back++
		case e.Cancel != nil:
			others++
		case e.Add != nil:
			added++
		}
	}
	if back -= max(added-others, 0); back <= 0 {
		return ""
	}
	return line(d.Lang, "telegram.edited", phrases.Fill{N: float64(back)})
}
