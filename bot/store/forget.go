package store

import (
	"context"
	"fmt"

	"tankside/bot"
)

// Forget deletes all that is kept of a chat, also under the number that it goes on
// under, and says how many rows that was. Other chats keep what its people said there:
// that is those chats' log. In a file nothing is left to be read from the disk;
// PostgreSQL overwrites the room in time, and what is in back-ups goes with them.
func (s *Store) Forget(ctx context.Context, chat int64) (rows int64, err error) {
	err = s.Do(ctx, func(t bot.Tx) error {
		rows = 0
		now, err := t.Moved(chat)
		if err != nil {
			return err
		}
		q := t.(tx).query
		for _, id := range []int64{chat, now} {
			n, err := q.forget(id)
			if err != nil {
				return fmt.Errorf("forget chat %d: %w", id, err)
			}
			rows += n
		}
		return nil
	})
	if err == nil && s.config == nil {
		err = s.shrink(ctx)
	}
	return rows, err
}

func (q *query) forget(chat int64) (rows int64, err error) {
	if err := q.lock(chat); err != nil {
		return 0, err
	}
	for _, t := range tables {
		if t.of == "" {
			continue
		}
		n, err := q.exec(`delete from `+t.name+` where `+t.of, chat)
		if err != nil {
			return 0, err
		}
		rows += n
	}
	return rows, nil
}

// shrink writes the file anew, without what was deleted.
func (s *Store) shrink(ctx context.Context) error {
	for _, text := range []string{`vacuum`, `pragma wal_checkpoint(truncate)`} {
		if _, err := s.write.ExecContext(ctx, text); err != nil {
			return fmt.Errorf("%s: %w", text, err)
		}
	}
	return nil
}
