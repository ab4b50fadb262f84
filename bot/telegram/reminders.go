package telegram

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"tankside/bot"
	"tankside/phrases"
)

// wish keeps a reminder that somebody asked for.
func (j *job) wish(p *place, id int, text string, w bot.Wish, m bot.Memory) error {
	if w.Due.IsZero() || w.What == "" {
		return j.say(p, line(p.lang, "telegram.remind_how", phrases.Fill{}))
	}
	turn, err := j.tx.Turn(p.chat, int64(id))
	if err != nil || turn != nil {
		return err // asked for already
	}
	return j.remind(p, w, m, bot.Turn{Message: int64(id), Key: int64(id), Said: said(text)}, "")
}

// remind keeps a reminder and says so, in place of the turn's earlier answer, if any;
// more is a line below.
func (j *job) remind(p *place, w bot.Wish, m bot.Memory, turn bot.Turn, more string) (err error) {
	r := bot.Reminder{Chat: p.chat, Thread: p.thread, Person: p.person.ID, Kind: bot.RemindSaid, Text: w.What, Due: w.Due, Zone: bot.ZoneOf(m, j.Zone).String()}
	if turn.Reminder, err = j.tx.Remind(r); err != nil {
		return err
	}
	ask, err := j.askZone(p, m)
	if err != nil {
		return err
	}
	text := line(p.lang, "telegram.remind_set", phrases.Fill{Word: w.What, At: clock(w.Due)}) + more + ask
	c := call{Method: sendMessage, Text: text, Plain: plainOf(text), Thread: p.thread, ReplyTo: p.quote}
	if turn.Out != 0 {
		c.Method = editText
	}
	out, err := put(j.tx, bot.Outgoing{Chat: p.chat, Rank: rankAnswer, Edits: turn.Out}, c)
	if err != nil {
		return err
	}
	if turn.Out == 0 {
		turn.Out = out
	}
	return j.tx.PutTurn(p.chat, turn)
}

func (j *job) listReminders(p *place, rest string) error {
	switch strings.ToLower(rest) {
	case "off", "no", "clear", "borrar":
		n, err := j.tx.CancelReminders(p.chat, bot.RemindSaid, bot.RemindWet, bot.RemindPail, bot.RemindStop, bot.RemindGate)
		if err != nil {
			return err
		}
		return j.say(p, line(p.lang, "telegram.reminders_dropped", phrases.Fill{N: float64(n)}))
	}
	list, err := j.tx.Reminders(p.chat)
	if err != nil {
		return err
	}
	var lines []string
	for _, r := range list {
		if r.Kind != bot.RemindLate {
			lines = append(lines, line(p.lang, "telegram.reminder_line", phrases.Fill{At: clock(r.Due.In(p.at.Location())), Word: j.wordsOf(p.lang, r)}))
		}
	}
	if len(lines) == 0 {
		return j.say(p, line(p.lang, "telegram.reminders_none", phrases.Fill{}))
	}
	return j.say(p, strings.Join(lines, "\n"))
}

// wordsOf is what a reminder is about, plain.
func (b *Bot) wordsOf(lang string, r bot.Reminder) string {
	if r.Kind == bot.RemindSaid {
		return r.Text
	}
	return phrases.Word(lang, "telegram.about_"+r.Kind)
}

// day sets when the day's summary comes; "off" ends it.
func (j *job) day(p *place, rest string) error {
	if rest == "off" || rest == "no" {
		rest = ""
	} else if due, ok := clockSaid(rest); ok {
		rest = due
	} else {
		return j.say(p, line(p.lang, "telegram.day_how", phrases.Fill{}))
	}
	p.room.ID, p.room.Day = p.chat, rest
	if err := j.tx.PutGuest(p.room); err != nil {
		return err
	}
	if err := j.moveDay(p); err != nil {
		return err
	}
	if rest == "" {
		return j.say(p, line(p.lang, "telegram.day_off", phrases.Fill{}))
	}
	return j.say(p, line(p.lang, "telegram.day_set", phrases.Fill{At: rest}))
}

// clockSaid reads "19:00", "7 pm", "19".
func clockSaid(s string) (string, bool) {
	s = strings.ToUpper(strings.ReplaceAll(strings.TrimSpace(s), " ", ""))
	for _, layout := range []string{"15:04", "3:04PM", "3PM", "15"} {
		if t, err := time.Parse(layout, s); err == nil {
			return t.Format("15:04"), true
		}
	}
	return "", false
}

// moveDay puts the next summary at the chat's own time.
func (j *job) moveDay(p *place) error {
	if _, err := j.tx.CancelReminders(p.chat, bot.RemindDay); err != nil || p.room.Day == "" {
		return err
	}
	due, ok := bot.NextClock(p.room.Day, j.now.In(p.at.Location()))
	if !ok {
		return nil
	}
	_, err := j.tx.Remind(bot.Reminder{Chat: p.chat, Thread: p.thread, Kind: bot.RemindDay, Due: due, Zone: p.at.Location().String()})
	return err
}

// How long a pail and a stop take when neither the haul's times nor the day's pace
// tell: common practice, no source.
const (
	plainCycle  = 30 * time.Minute
	leastSoak   = 10 * time.Minute
	longStop    = 45 * time.Minute
	gateForgot  = 4 * time.Minute
	waitsForOne = bot.RemindWet
)

// after sets the reminders that follow from what was just logged, and ends those
// that waited for it.
func (j *job) after(p *place, d *bot.Dealt) error {
	var last *bot.Load
	changed := false
	for _, e := range d.Effects {
		changed = true
		if e.Add != nil {
			last = e.Add
		}
	}
	if !changed {
		return nil
	}
	if p.room.Soak || p.room.Nudge {
		if _, err := j.tx.CancelReminders(p.chat, waitsForOne, bot.RemindPail, bot.RemindStop, bot.RemindGate); err != nil {
			return err
		}
	}
	if last == nil || j.now.Sub(p.at) > time.Hour {
		return nil
	}
	book := d.Book
	book.Recent = append([]bot.Load{*last}, book.Recent...)
	cycle, spread := bot.Pace(d.Memory, book, p.at)
	if err := j.pails(p, last, cycle, spread); err != nil {
		return err
	}
	return j.nudges(p, cycle)
}

// pails: the next pail is wetted when the tank starts to spread, so that it soaks
// until the load is out.
func (j *job) pails(p *place, l *bot.Load, cycle, spread time.Duration) error {
	if !p.room.Soak || !bot.Floats(l) {
		return nil
	}
	if cycle <= 0 {
		cycle = plainCycle
	}
	if spread <= 0 || spread > cycle {
		spread = cycle / 2
	}
	wet := p.at.Add(cycle - spread)
	for kind, due := range map[string]time.Time{bot.RemindWet: wet, bot.RemindPail: wet.Add(max(spread, leastSoak))} {
		if _, err := j.tx.Remind(j.reminder(p, kind, due)); err != nil {
			return err
		}
	}
	return nil
}

func (j *job) nudges(p *place, cycle time.Duration) error {
	if !p.room.Nudge {
		return nil
	}
	for kind, due := range map[string]time.Time{bot.RemindGate: p.at.Add(gateForgot), bot.RemindStop: p.at.Add(max(2*cycle, longStop))} {
		if _, err := j.tx.Remind(j.reminder(p, kind, due)); err != nil {
			return err
		}
	}
	return nil
}

func (j *job) reminder(p *place, kind string, due time.Time) bot.Reminder {
	return bot.Reminder{Chat: p.chat, Thread: p.thread, Person: p.person.ID, Kind: kind, Due: due, Zone: p.at.Location().String()}
}

// later counts a message that came in long after it was said. One summary for all of
// them goes out when no more come.
func (j *job) later(p *place, d *bot.Dealt) error {
	list, err := j.tx.Reminders(p.chat)
	if err != nil {
		return err
	}
	messages, loads := 1, 0
	for _, e := range d.Effects {
		if e.Add != nil {
			loads++
		}
	}
	for _, r := range list {
		if r.Kind == bot.RemindLate {
			var m, l int
			if _, err := fmt.Sscan(r.Text, &m, &l); err != nil {
				return err
			}
			messages, loads = messages+m, loads+l
		}
	}
	if _, err := j.tx.CancelReminders(p.chat, bot.RemindLate); err != nil {
		return err
	}
	r := j.reminder(p, bot.RemindLate, j.now.Add(3*time.Second))
	r.Text = strconv.Itoa(messages) + " " + strconv.Itoa(loads)
	_, err = j.tx.Remind(r)
	return err
}

// Tell makes a reminder a message.
func (b *Bot) Tell(tx bot.Tx, r bot.Reminder, now time.Time) error {
	g, m, book, at, err := b.chatOf(tx, r.Chat, now)
	if err != nil {
		return err
	}
	lang := m.Lang
	if lang == "" {
		lang = phrases.Languages()[0]
	}
	text := ""
	var shown *bot.Reply
	switch r.Kind {
	case bot.RemindSaid:
		text = line(lang, "telegram.remind", phrases.Fill{Word: r.Text})
	case bot.RemindLate:
		var messages, loads float64
		if _, err := fmt.Sscan(r.Text, &messages, &loads); err != nil {
			return err
		}
		text = line(lang, "telegram.late", phrases.Fill{N: messages, M: loads})
	case bot.RemindDay:
		if shown, err = b.daySummary(tx, r, g, m, book, at); err != nil {
			return err
		}
		if shown != nil {
			text = phrases.HTML(shown.Lang, shown.Outcome)
		}
	default:
		text = line(lang, "telegram.about_"+r.Kind, phrases.Fill{})
	}
	if g.Silent || text == "" {
		return nil
	}
	b.Metrics.reminded(r.Kind)
	_, err = put(tx, bot.Outgoing{Chat: r.Chat, Rank: rankReminder}, call{Method: sendMessage, Text: text, Plain: plainOf(text), Thread: r.Thread})
	if err != nil || shown == nil {
		return err
	}
	return b.beside(tx, r.Chat, r.Thread, shown, m.Speak)
}

func (b *Bot) chatOf(tx bot.Tx, chat int64, now time.Time) (g bot.Guest, m bot.Memory, book bot.Book, at time.Time, err error) {
	if g, err = tx.Guest(chat); err != nil {
		return
	}
	if m, _, _, err = tx.Load(chat, 0, now); err != nil {
		return
	}
	at = now.In(bot.ZoneOf(m, b.Zone))
	_, book, _, err = tx.Load(chat, 0, at)
	return
}

// daySummary is the day's sums, when there are any, and sets the next day's.
func (b *Bot) daySummary(tx bot.Tx, r bot.Reminder, g bot.Guest, m bot.Memory, book bot.Book, at time.Time) (*bot.Reply, error) {
	next := r
	if due, ok := bot.NextClock(g.Day, at); ok {
		next.Due = due
		if _, err := tx.Remind(next); err != nil {
			return nil, err
		}
	}
	if book.Today.Count == 0 {
		return nil, nil
	}
	lang := m.Lang
	if lang == "" {
		lang = phrases.Languages()[0]
	}
	m.Pending, m.Warned = nil, at.Format(time.DateOnly)
	return bot.Tell(tx, bot.Message{Chat: r.Chat, Text: phrases.Word(lang, "telegram.say_totals"), At: at}, m, book)
}

// Missed says in one line what came too late to help.
func (b *Bot) Missed(tx bot.Tx, chat int64, missed []bot.Reminder, now time.Time) error {
	g, m, book, at, err := b.chatOf(tx, chat, now)
	if err != nil {
		return err
	}
	lang := m.Lang
	if lang == "" {
		lang = phrases.Languages()[0]
	}
	var what []string
	for _, r := range missed {
		if r.Kind == bot.RemindDay {
			if _, err := b.daySummary(tx, r, g, m, book, at); err != nil {
				return err
			}
		}
		what = append(what, line(lang, "telegram.reminder_line", phrases.Fill{At: clock(r.Due.In(at.Location())), Word: short(b.wordsOf(lang, r), 40)}))
	}
	if g.Silent {
		return nil
	}
	all := what
	if len(what) > 5 {
		all = append(what[:5:5], "…")
	}
	text := line(lang, "telegram.missed", phrases.Fill{N: float64(len(missed))}) + " " + strings.Join(all, " · ")
	_, err = put(tx, bot.Outgoing{Chat: chat, Rank: rankReminder}, call{Method: sendMessage, Text: text, Plain: plainOf(text), Thread: missed[0].Thread})
	return err
}
