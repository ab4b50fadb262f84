package store

import (
	"context"
	"fmt"
)

// whole refuses a log that is still being moved here.
func (s *Store) whole(ctx context.Context) error {
	from, err := s.movingFrom(ctx)
	if err == nil && from != "" {
		err = fmt.Errorf("it is still being moved here from %s; run move-log again, it goes on where it stopped", from)
	}
	return err
}

func (s *Store) movingFrom(ctx context.Context) (from string, err error) {
	err = s.write.in(ctx, func(q *query) error {
		_, err := q.one(`select source from moving`, nil, &from)
		return err
	})
	return from, err
}
