package store

import (
	"database/sql"
	"fmt"
	"math"
	"slices"
	"time"

	"tankside/bot"
)

// book fills what Decide may know of the log, from sums and an index.
func (q *query) book(chat int64, m *bot.Memory, at time.Time) (bot.Book, error) {
	totals, err := q.totals(chat, m, at)
	if err != nil {
		return bot.Book{}, fmt.Errorf("read the sums: %w", err)
	}
	fields := totals[byField]
	b := bot.Book{At: m.Field, Field: fields[m.Field], ByField: map[int64]bot.Totals{},
		Today: totals[byDay][dayOf(at)], Season: totals[byYear][int64(at.Year())]}
	for _, f := range m.Fields {
		if f.Closed.IsZero() {
			b.ByField[f.ID] = fields[f.ID]
		}
	}
	if b.Recent, err = q.recent(chat); err != nil {
		return bot.Book{}, fmt.Errorf("read the last loads: %w", err)
	}
	return b, nil
}

// totals reads the sums of the field in hand and the open ones, of a day and its year.
// Fields' numbers grow, so those of past years, closed long ago, are mostly below the
// range that is read.
func (q *query) totals(chat int64, m *bot.Memory, at time.Time) (map[scope]map[int64]bot.Totals, error) {
	from, to := int64(math.MaxInt64), int64(math.MinInt64)
	for _, f := range m.Fields {
		if f.Closed.IsZero() {
			from, to = min(from, f.ID), max(to, f.ID)
		}
	}
	out := map[scope]map[int64]bot.Totals{byField: {}, byDay: {}, byYear: {}}
	err := q.each(sums, []any{chat, m.Field, from, to, dayOf(at), at.Year()}, func(r scanner) error {
		var in scope
		var key int64
		var one bot.Totals
		var crop string
		var first, last stamp
		err := r.Scan(&in, &key, &crop, &one.Loads, &one.Count, &one.Volume, &one.Area, &first.micros, &first.zone, &last.micros, &last.zone)
		if one.Count == 0 {
			t := out[in][key]
			t.Seeds = append(t.Seeds, bot.Seed{Crop: crop, Weight: one.Loads})
			out[in][key] = t
			return err
		}
		one.First, one.Last = first.time(), last.time()
		out[in][key] = one // the crops follow
		return err
	})
	return out, err
}

// recent reads the newest loads that stand, newest first.
func (q *query) recent(chat int64) ([]bot.Load, error) {
	var loads []bot.Load
	last := int64(-1)
	err := q.each(recent, []any{chat}, func(r scanner) error {
		var crop sql.NullString
		var rate, weight sql.NullFloat64
		n, l, err := scanRow(r, &crop, &rate, &weight)
		if n != last {
			loads, last = append(loads, l), n
		}
		if crop.Valid {
			l := &loads[len(loads)-1]
			l.Seeds = append(l.Seeds, bot.Seed{Crop: crop.String, Rate: rate.Float64, Weight: weight.Float64})
		}
		return err
	})
	return loads, err
}

// loads reads the loads that a statement lists, in its order.
func (q *query) loads(text string, chat int64, rest ...any) ([]bot.Load, error) {
	var loads []bot.Load
	var numbers []int64
	err := q.each(text, append([]any{chat}, rest...), func(r scanner) error {
		n, l, err := scanRow(r)
		loads, numbers = append(loads, l), append(numbers, n)
		return err
	})
	if err != nil || len(loads) == 0 {
		return loads, err
	}
	seeds, err := q.seeds(chat, slices.Min(numbers), slices.Max(numbers))
	for i, n := range numbers {
		loads[i].Seeds = seeds[n]
	}
	return loads, err
}
