package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"tankside/bot"
)

// scope is what a sum is over.
type scope string

const (
	byField scope = "field"
	byDay   scope = "day"
	byYear  scope = "year"
)

var errNoLoad = errors.New("it is not in this chat's log")

// add adds a load and counts it. A load that is there already changes nothing.
func (q *query) add(chat int64, l *bot.Load) error {
	var n int64
	spread, said, day := stampOf(l.When), stampOf(l.Said), dayOf(l.When)
	fresh, err := q.one(addLoad, []any{chat, l.ID, l.Part, l.Replaces, l.Field, l.FieldName, l.Seq, l.Fraction,
		l.Volume, l.Area, l.Rate, spread.micros, spread.zone, day, said.micros, said.zone, l.Who.ID, l.Who.Name, l.Note}, &n)
	if err != nil || !fresh {
		return err
	}
	var seeds [][]any
	for i, seed := range l.Seeds {
		seeds = append(seeds, []any{chat, n, i, seed.Crop, seed.Rate, seed.Weight})
	}
	if err := q.insertRows(addSeed, seeds); err != nil {
		return err
	}
	return q.count(chat, map[scope]int64{byField: l.Field, byDay: day, byYear: int64(l.When.Year())}, l, spread)
}

// count adds a load to the sums of its field, its day and its year.
func (q *query) count(chat int64, keys map[scope]int64, l *bot.Load, spread stamp) error {
	var sums, seeds [][]any
	for in, key := range keys {
		sums = append(sums, []any{chat, string(in), key, l.Fraction, 1, l.Volume, l.Area, spread.micros, spread.zone, spread.micros, spread.zone})
		first := len(seeds)
		for _, seed := range l.Seeds {
			same := slices.IndexFunc(seeds[first:], func(row []any) bool { return row[3] == seed.Crop })
			if same < 0 {
				seeds = append(seeds, []any{chat, string(in), key, seed.Crop, 1, seed.Weight})
				continue
			}
			row := seeds[first+same] // one statement can touch a row only once
			row[4], row[5] = row[4].(int)+1, row[5].(float64)+seed.Weight
		}
	}
	if err := q.insertRows(plusSum, sums); err != nil {
		return err
	}
	return q.insertRows(plusSeed, seeds)
}

// stored is what taking a load out of the sums needs of it.
type stored struct {
	n, field, day          int64
	fraction, volume, area float64
	zone                   int64
	seeds                  []bot.Seed
}

// cancel takes a load back. One that was taken back already changes nothing.
func (q *query) cancel(chat int64, l *bot.Load, why string, now time.Time) error {
	var was stored
	found, err := q.one(findLoad, []any{chat, l.ID, l.Part}, &was.n, &was.field, &was.day,
		&was.fraction, &was.volume, &was.area, &was.zone)
	if err != nil {
		return err
	}
	if !found {
		return errNoLoad
	}
	fresh, err := q.exec(addCancel, chat, was.n, now.UnixMicro(), was.zone, why)
	if err != nil || fresh == 0 {
		return err
	}
	seeds, err := q.seeds(chat, was.n, was.n)
	if err != nil {
		return err
	}
	was.seeds = seeds[was.n]
	for _, s := range [...]struct {
		in  scope
		key int64
	}{{byField, was.field}, {byDay, was.day}, {byYear, int64(yearOf(was.day))}} { // a year's ends are its days'
		if err := q.uncount(chat, s.in, s.key, &was); err != nil {
			return err
		}
	}
	return nil
}

// uncount takes a load out of a sum. Where it was the last one, or the last one with
// a crop, the sum goes with it, so that no crumbs of floating point are left.
func (q *query) uncount(chat int64, in scope, key int64, was *stored) error {
	for _, seed := range was.seeds {
		if _, err := q.exec(minusSeed, chat, in, key, seed.Crop, seed.Weight); err != nil {
			return err
		}
	}
	if _, err := q.exec(dropSeeds, chat, in, key); err != nil {
		return err
	}
	within := []any{chat, key}
	if in == byYear {
		first, last := daysOf(int(key))
		within = []any{chat, first, last}
	}
	var first, last stamp
	found, err := q.one(ends[in].first, within, &first.micros, &first.zone)
	if err != nil {
		return err
	}
	if !found {
		_, err := q.exec(dropSum, chat, in, key)
		return err
	}
	if _, err := q.one(ends[in].last, within, &last.micros, &last.zone); err != nil {
		return err
	}
	_, err = q.exec(minusSum, chat, in, key, was.fraction, was.volume, was.area,
		first.micros, first.zone, last.micros, last.zone)
	return err
}

// seeds reads the seeds of the chat's rows from one to another.
func (q *query) seeds(chat, from, to int64) (map[int64][]bot.Seed, error) {
	seeds := map[int64][]bot.Seed{}
	err := q.each(seedsOf, []any{chat, from, to}, func(r scanner) error {
		var n int64
		var s bot.Seed
		if err := r.Scan(&n, &s.Crop, &s.Rate, &s.Weight); err != nil {
			return err
		}
		seeds[n] = append(seeds[n], s)
		return nil
	})
	return seeds, err
}

// scanRow reads the columns of a load, and whatever follows them into rest.
func scanRow(r scanner, rest ...any) (n int64, l bot.Load, err error) {
	var spread, said stamp
	err = r.Scan(append([]any{&n, &l.ID, &l.Part, &l.Replaces, &l.Field, &l.FieldName, &l.Seq, &l.Fraction,
		&l.Volume, &l.Area, &l.Rate, &spread.micros, &spread.zone, &said.micros, &said.zone,
		&l.Who.ID, &l.Who.Name, &l.Note}, rest...)...)
	l.When, l.Said = spread.time(), said.time()
	return n, l, err
}

// Loads calls f with each row of the chat's log, cancelled ones too, in the order
// in which they were logged, until f returns an error. It reads page by page, so
// that a long export neither fills the memory nor holds up the writer.
func (s *Store) Loads(ctx context.Context, chat int64, f func(bot.Row) error) error {
	for last := int64(0); ; {
		rows, next, err := s.page(ctx, chat, last)
		if err != nil {
			return fmt.Errorf("chat %d: read the log: %w", chat, err)
		}
		if len(rows) == 0 {
			return nil
		}
		for _, row := range rows {
			if err := f(row); err != nil {
				return err
			}
		}
		last = next
	}
}

func (s *Store) page(ctx context.Context, chat, after int64) (rows []bot.Row, last int64, err error) {
	err = s.read.in(ctx, func(q *query) error {
		var numbers []int64
		err := q.each(page, []any{chat, after}, func(r scanner) error {
			var row bot.Row
			var cancelled stamp
			var isCancelled bool
			n, l, err := scanRow(r, &cancelled.micros, &cancelled.zone, &row.Why, &isCancelled)
			if isCancelled {
				row.Cancelled = cancelled.time()
			}
			row.Load, last = l, n
			rows, numbers = append(rows, row), append(numbers, n)
			return err
		})
		if err != nil || len(rows) == 0 {
			return err
		}
		seeds, err := q.seeds(chat, numbers[0], last)
		for i, n := range numbers {
			rows[i].Seeds = seeds[n]
		}
		return err
	})
	return rows, last, err
}
