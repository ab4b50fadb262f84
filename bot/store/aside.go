package store

import (
	"context"
	"fmt"
)

// Aside is what could not be dealt with or not be sent, and was set aside so that it
// holds nothing up. Housekeeping drops it after a month.
type Aside struct {
	Updates, Messages int      // how many of each
	Latest            []string // the newest few, and why
}

const (
	asideIn = `select number, chat, trouble from inbox where done_at > 0 and trouble <> '' order by number desc limit 3`
	asideTo = `select id, chat, why from outbox where state = 2 order by id desc limit 3`
)

// SetAside tells what was set aside.
func (s *Store) SetAside(ctx context.Context) (a Aside, err error) {
	err = s.read.in(ctx, func(q *query) error {
		a = Aside{}
		for _, kind := range []struct {
			count, latest, words string
			n                    *int
		}{
			{`select count(*) from inbox where done_at > 0 and trouble <> ''`, asideIn, "update %d of chat %d: %s", &a.Updates},
			{`select count(*) from outbox where state = 2`, asideTo, "message %d to chat %d: %s", &a.Messages},
		} {
			if _, err := q.one(kind.count, nil, kind.n); err != nil {
				return err
			}
			err := q.each(kind.latest, nil, func(r scanner) error {
				var number, chat int64
				var why string
				err := r.Scan(&number, &chat, &why)
				a.Latest = append(a.Latest, fmt.Sprintf(kind.words, number, chat, why))
				return err
			})
			if err != nil {
				return err
			}
		}
		return nil
	})
	return a, err
}
