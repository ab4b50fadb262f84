package store

import "tankside/bot"

// lock keeps other programs away from a chat until the transaction ends. What they
// then read is all that this one has written: a statement that waited sees it.
func (q *query) lock(chat int64) error {
	if q.h.lockChat == "" || q.h.options != nil || q.locked[chat] {
		return nil
	}
	if _, err := q.exec(q.h.lockChat, chat); err != nil {
		return err
	}
	q.hold(chat)
	return nil
}

func (q *query) hold(chat int64) {
	if q.locked == nil {
		q.locked = map[int64]bool{}
	}
	q.locked[chat] = true
}

// lockFree locks those of the chats that nobody else holds.
func (q *query) lockFree(chats []int64) (got []int64, err error) {
	err = q.each(q.h.lockFree, []any{chats}, func(r scanner) error {
		var chat int64
		err := r.Scan(&chat)
		q.hold(chat)
		got = append(got, chat)
		return err
	})
	return got, err
}

// announce tells whoever sends, perhaps another program, that the outbox has grown.
func (q *query) announce() error {
	if !q.posted || q.h.announce == "" {
		return nil
	}
	_, err := q.exec(q.h.announce)
	return err
}

const (
	waitingChats = `select number, chat from inbox where done_at = 0 and number > $1 order by number limit $2`
	waitingIn    = `select number, chat, raw from inbox
		where done_at = 0 and chat = any($1) and number <= $2 order by number`
)

// waitingFree reads what waits of the chats that no other program works on, and holds
// them. They are read after they have been locked: what the other program was at when
// this one came by is done by then, or still there.
func (t tx) waitingFree(after int64, limit int) ([]bot.Incoming, error) {
	for {
		var chats []int64
		last, seen := int64(0), map[int64]bool{}
		err := t.each(waitingChats, []any{after, limit}, func(r scanner) error {
			var chat int64
			err := r.Scan(&last, &chat)
			if !seen[chat] {
				seen[chat], chats = true, append(chats, chat)
			}
			return err
		})
		if err != nil || len(chats) == 0 {
			return nil, err
		}
		free, err := t.lockFree(chats)
		if err != nil {
			return nil, err
		}
		list, err := t.incoming(waitingIn, free, last)
		if err != nil || len(list) > 0 {
			return list, err
		}
		after = last
	}
}

func (t tx) incoming(text string, args ...any) (list []bot.Incoming, err error) {
	err = t.each(text, args, func(r scanner) error {
		var in bot.Incoming
		err := r.Scan(&in.Number, &in.Chat, &in.Raw)
		list = append(list, in)
		return err
	})
	return list, err
}
