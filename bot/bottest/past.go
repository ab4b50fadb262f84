package bottest

import (
	"context"
	"slices"

	"tankside/bot"
)

// Past returns the loads that a recall is about and that stand, oldest first.
func (s *Store) Past(_ context.Context, chat int64, r bot.Recall) ([]bot.Load, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var loads []bot.Load
	for _, row := range s.chat(chat).rows {
		outside := row.When.Before(r.From) || !r.To.IsZero() && !row.When.Before(r.To)
		if row.Cancelled.IsZero() && !outside && (len(r.Fields) == 0 || slices.Contains(r.Fields, row.Field)) {
			loads = append(loads, row.Load)
		}
	}
	slices.SortStableFunc(loads, func(a, b bot.Load) int { return a.When.Compare(b.When) })
	return loads, nil
}
