package store

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"time"

	"tankside/bot"
)

// book fills what Decide may know of the log, from sums and an index.
func (q *query) book(chat int64, m *bot.Memory, at time.Time) (bot.Book, error) {
	fields, err := q.fields(chat, m)
	if err != nil {
		return bot.Book{}, fmt.Errorf("sum the fields: %w", err)
	}
	b := bot.Book{At: m.Field, Field: fields[m.Field], ByField: map[int64]bot.Totals{}}
	for _, f := range m.Fields {
		if f.Closed.IsZero() {
			b.ByField[f.ID] = fields[f.ID]
		}
	}
	today, year := dayOf(at), at.Year()
	newYear := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC)
	days, err := q.totals(chat, byDay, dayOf(newYear), dayOf(newYear.AddDate(1, 0, -1)))
	if err != nil {
		return bot.Book{}, fmt.Errorf("sum the season: %w", err)
	}
	b.Today, b.Season = days[today], all(days)
	if b.Recent, err = q.recent(chat); err != nil {
		return bot.Book{}, fmt.Errorf("read the last loads: %w", err)
	}
	return b, nil
}

// fields sums the open fields and the one in hand. Numbers grow, so the fields of
// past years, closed long ago, are mostly below the range that is read.
func (q *query) fields(chat int64, m *bot.Memory) (map[int64]bot.Totals, error) {
	from, to := int64(math.MaxInt64), int64(math.MinInt64)
	for _, f := range m.Fields {
		if f.Closed.IsZero() {
			from, to = min(from, f.ID), max(to, f.ID)
		}
	}
	if from <= m.Field && m.Field <= to {
		return q.totals(chat, byField, from, to)
	}
	inHand, err := q.totals(chat, byField, m.Field, m.Field)
	if err != nil || from > to {
		return inHand, err
	}
	fields, err := q.totals(chat, byField, from, to)
	if err != nil {
		return nil, err
	}
	fields[m.Field] = inHand[m.Field]
	return fields, nil
}

// totals reads the sums of a scope for the keys from one to another.
func (q *query) totals(chat int64, in scope, from, to int64) (map[int64]bot.Totals, error) {
	out := map[int64]bot.Totals{}
	err := q.each(sums, []any{chat, string(in), from, to}, func(r scanner) error {
		var key int64
		var one bot.Totals
		var crop string
		var first, last stamp
		err := r.Scan(&key, &crop, &one.Loads, &one.Count, &one.Volume, &one.Area, &first.micros, &first.zone, &last.micros, &last.zone)
		if one.Count == 0 {
			t := out[key]
			t.Seeds = append(t.Seeds, bot.Seed{Crop: crop, Weight: one.Loads})
			out[key] = t
			return err
		}
		one.First, one.Last, one.Seeds = first.time(), last.time(), out[key].Seeds
		out[key] = one
		return err
	})
	return out, err
}

// all adds sums up, in the order of their keys so that the result does not wander
// in its last digits.
func all(sums map[int64]bot.Totals) bot.Totals {
	keys := make([]int64, 0, len(sums))
	for k := range sums {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(i, j int) bool { return keys[i] < keys[j] })
	var total bot.Totals
	for _, k := range keys {
		t := sums[k]
		if total.Count == 0 || t.First.Before(total.First) {
			total.First = t.First
		}
		if total.Count == 0 || t.Last.After(total.Last) {
			total.Last = t.Last
		}
		total.Loads += t.Loads
		total.Count += t.Count
		total.Volume += t.Volume
		total.Area += t.Area
		for _, s := range t.Seeds {
			total.Seeds = addSeedWeight(total.Seeds, s)
		}
	}
	sort.Slice(total.Seeds, func(i, j int) bool { return total.Seeds[i].Crop < total.Seeds[j].Crop })
	return total
}

func addSeedWeight(seeds []bot.Seed, s bot.Seed) []bot.Seed {
	for i := range seeds {
		if seeds[i].Crop == s.Crop {
			seeds[i].Weight += s.Weight
			return seeds
		}
	}
	return append(seeds, s)
}

// recent reads the newest loads that stand, newest first.
func (q *query) recent(chat int64) ([]bot.Load, error) { return q.loads(recent, chat) }

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
