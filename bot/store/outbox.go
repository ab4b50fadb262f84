package store

import (
	"cmp"
	"slices"
	"time"

	"tankside/bot"
)

func (t tx) Send(o bot.Outgoing) (id int64, err error) {
	t.posted = true
	_, err = t.one(addOut, []any{o.Chat, o.Rank, string(o.Body), o.Edits, micros(o.Due), micros(o.Until)}, &id)
	return id, err
}

// Unsent gives what waits, each thing once in a term: by what it has given, not by the
// last number, since numbers given at the same time are not seen in their order.
func (t tx) Unsent(term int64, limit int) (list []bot.Outgoing, err error) {
	text := claimBy(t.h.skipLocked)
	err = t.each(text, []any{term, limit}, func(r scanner) error {
		var o bot.Outgoing
		var due, until int64
		err := r.Scan(&o.ID, &o.Chat, &o.Rank, &o.Body, &o.Edits, &due, &until, &o.Tries)
		o.Due, o.Until = moment(due), moment(until)
		list = append(list, o)
		return err
	})
	slices.SortFunc(list, func(a, b bot.Outgoing) int { return cmp.Compare(a.ID, b.ID) })
	return list, err
}

func (t tx) Sent(id, message int64) error {
	_, err := t.exec(markSent, id, t.now.UnixMicro(), message)
	return err
}

func (t tx) Retry(id int64, tries int, due time.Time) error {
	_, err := t.exec(markRetry, id, tries, micros(due))
	return err
}

func (t tx) GiveUp(id int64, why string) error {
	_, err := t.exec(markDead, id, t.now.UnixMicro(), why)
	return err
}

func (t tx) SentAs(id int64) (message int64, found bool, err error) {
	found, err = t.one(sentAs, []any{id}, &message)
	return message, found, err
}

func (t tx) Guest(id int64) (bot.Guest, error) {
	g := bot.Guest{ID: id}
	err := t.each(getGuest, []any{id}, func(r scanner) (err error) { g, err = scanGuest(r); return err })
	return g, err
}

func (t tx) Guests() (list []bot.Guest, err error) {
	err = t.each(allGuests, nil, func(r scanner) error {
		g, err := scanGuest(r)
		list = append(list, g)
		return err
	})
	return list, err
}

func scanGuest(r scanner) (g bot.Guest, err error) {
	var told int64
	err = r.Scan(&g.ID, &g.Role, &g.Name, &told, &g.Tries, &g.Silent, &g.Asked, &g.Soak, &g.Nudge, &g.Day)
	g.Told = moment(told)
	return g, err
}

func (t tx) PutGuest(g bot.Guest) error {
	_, err := t.exec(putGuest, g.ID, string(g.Role), g.Name, micros(g.Told), g.Tries, flag(g.Silent), flag(g.Asked), flag(g.Soak), flag(g.Nudge), g.Day)
	return err
}

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (t tx) PutCode(code string, gives bot.Role, by int64, until time.Time) error {
	_, err := t.exec(addCode, code, string(gives), by, micros(until))
	return err
}

func (t tx) UseCode(code string, by int64, at time.Time) (gives bot.Role, ok bool, err error) {
	ok, err = t.one(useCode, []any{code, by, micros(at)}, &gives)
	return gives, ok, err
}

func (t tx) DropCodes(gives bot.Role) error {
	_, err := t.exec(dropCodes, string(gives))
	return err
}

func (t tx) Remind(r bot.Reminder) (id int64, err error) {
	_, err = t.one(addReminder, []any{r.Chat, r.Thread, r.Person, r.Kind, r.Text, micros(r.Due), r.Zone}, &id)
	return id, err
}

func (t tx) Due(now time.Time, limit int) ([]bot.Reminder, error) {
	return t.reminders(dueReminders+t.h.skipLocked, micros(now), limit)
}

func (t tx) Reminders(chat int64) ([]bot.Reminder, error) { return t.reminders(chatReminders, chat) }

func (t tx) reminders(text string, args ...any) (list []bot.Reminder, err error) {
	err = t.each(text, args, func(row scanner) error {
		var r bot.Reminder
		var due int64
		err := row.Scan(&r.ID, &r.Chat, &r.Thread, &r.Person, &r.Kind, &r.Text, &due, &r.Zone)
		r.Due = moment(due)
		list = append(list, r)
		return err
	})
	return list, err
}

func (t tx) EndReminder(id int64) error {
	_, err := t.exec(endReminder, id, t.now.UnixMicro())
	return err
}

func (t tx) CancelReminders(chat int64, kinds ...string) (int, error) {
	total := 0
	for _, kind := range slices.Compact(kinds) {
		n, err := t.exec(endKind, chat, kind, t.now.UnixMicro())
		if err != nil {
			return total, err
		}
		total += int(n)
	}
	return total, nil
}
