package store

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tankside/bot"
)

// The loads that stand of a field, or of every field, in a span of time. Each goes
// down an index of the log: by field and time, by day.
const (
	fieldPast = `select ` + columns + ` from loads l
		where l.chat = $1 and l.field = $2 and l.spread_at >= $3 and l.spread_at < $4 and ` + standing + ` order by l.spread_at, l.n`

	dayPast = `select ` + columns + ` from loads l
		where l.chat = $1 and l.day >= $2 and l.day <= $3 and l.spread_at >= $4 and l.spread_at < $5 and ` + standing + ` order by l.spread_at, l.n`
)

// Past reads the loads that a recall is about, oldest first.
func (s *Store) Past(ctx context.Context, chat int64, r bot.Recall) (loads []bot.Load, err error) {
	err = s.read.in(ctx, func(q *query) error {
		loads, err = q.past(chat, r)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("chat %d: read past loads: %w", chat, err)
	}
	return loads, nil
}

func (q *query) past(chat int64, r bot.Recall) ([]bot.Load, error) {
	from, to := int64(math.MinInt64), int64(math.MaxInt64)
	if !r.From.IsZero() {
		from = r.From.UnixMicro()
	}
	if !r.To.IsZero() {
		to = r.To.UnixMicro()
	}
	if len(r.Fields) == 0 {
		first, last := daysAround(r)
		return q.rows(dayPast, chat, first, last, from, to)
	}
	var loads []bot.Load
	for _, field := range r.Fields {
		more, err := q.rows(fieldPast, chat, field, from, to)
		if err != nil {
			return nil, err
		}
		loads = append(loads, more...)
	}
	slices.SortStableFunc(loads, func(a, b bot.Load) int { return a.When.Compare(b.When) })
	return loads, nil
}

// daysAround are the days that loads of a span can be on, in any zone.
func daysAround(r bot.Recall) (first, last int64) {
	first, last = math.MinInt64, math.MaxInt64
	if !r.From.IsZero() {
		first = dayOf(r.From.UTC()) - 1
	}
	if !r.To.IsZero() {
		last = dayOf(r.To.UTC()) + 1
	}
	return first, last
}

// numbered is a load with its place in the log.
type numbered struct {
	n int64
	bot.Load
}

// rows runs a statement that is too rare to be kept prepared, and adds the seeds.
func (q *query) rows(text string, chat int64, args ...any) ([]bot.Load, error) {
	rows, err := q.query(text, append([]any{chat}, args...))
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []numbered
	from, to := int64(math.MaxInt64), int64(math.MinInt64)
	for rows.Next() {
		n, l, err := scanRow(rows)
		if err != nil {
			return nil, err
		}
		all, from, to = append(all, numbered{n, l}), min(from, n), max(to, n)
	}
	if err := rows.Err(); err != nil || len(all) == 0 {
		return nil, err
	}
	seeds, err := q.seeds(chat, from, to)
	if err != nil {
		return nil, err
	}
	loads := make([]bot.Load, len(all))
	for i, a := range all {
		a.Seeds = seeds[a.n]
		loads[i] = a.Load
	}
	return loads, nil
}
