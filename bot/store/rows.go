package store

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
)

// rowsPage are rows of a table as they are.
type rowsPage struct {
	columns []string
	rows    [][]any
}

const pageRows = 2000

// pages reads a table in the order of its key, from after a key on, page by page.
func (s *Store) pages(ctx context.Context, t table, after []any, f func(*rowsPage) error) error {
	for {
		var p *rowsPage
		err := s.read.in(ctx, func(q *query) (err error) {
			p, err = q.page(t, after)
			return err
		})
		if err != nil || len(p.rows) == 0 {
			return err
		}
		if err := f(p); err != nil {
			return err
		}
		if after = p.key(t, p.rows[len(p.rows)-1]); len(p.rows) < pageRows {
			return nil
		}
	}
}

func (q *query) page(t table, after []any) (*rowsPage, error) {
	where, key := "", strings.Join(t.key, ", ")
	if after != nil {
		where = ` where (` + key + `) > (` + places(0, len(after)) + `)`
	}
	rows, err := q.query(fmt.Sprintf(`select * from %s%s order by %s limit %d`, t.name, where, key, pageRows), after)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	p := &rowsPage{}
	if p.columns, err = rows.Columns(); err != nil {
		return nil, err
	}
	for rows.Next() {
		row, to := make([]any, len(p.columns)), make([]any, len(p.columns))
		for i := range row {
			to[i] = &row[i]
		}
		if err := rows.Scan(to...); err != nil {
			return nil, err
		}
		clean(row)
		p.rows = append(p.rows, row)
	}
	return p, rows.Err()
}

// key are the key columns of a row.
func (p *rowsPage) key(t table, row []any) []any {
	var key []any
	for _, name := range t.key {
		for i, column := range p.columns {
			if column == name {
				key = append(key, row[i])
			}
		}
	}
	return key
}

// lastKey is the greatest key of a table; nil: it is empty.
func (s *Store) lastKey(ctx context.Context, t table) (key []any, err error) {
	key = make([]any, len(t.key))
	to := make([]any, len(key))
	for i := range key {
		to[i] = &key[i]
	}
	found := false
	err = s.write.in(ctx, func(q *query) (err error) {
		found, err = q.one(`select `+strings.Join(t.key, ", ")+` from `+t.name+` order by `+strings.Join(t.key, " desc, ")+` desc limit 1`, nil, to...)
		return err
	})
	if !found {
		key = nil
	}
	return key, err
}

func (s *Store) empty(ctx context.Context, t table) error {
	return s.write.in(ctx, func(q *query) error {
		_, err := q.exec(`delete from ` + t.name)
		return err
	})
}

// Sum is how many rows a table has, and a number that follows from every value in them,
// whatever their order.
type Sum struct {
	Rows int64
	Hash uint64
}

func (s *Store) sum(ctx context.Context, t table) (sum Sum, err error) {
	var buf []byte
	err = s.pages(ctx, t, nil, func(p *rowsPage) error {
		for _, row := range p.rows {
			buf = buf[:0]
			for i, v := range row {
				if buf, err = appendValue(append(append(buf, p.columns[i]...), 0), v); err != nil {
					return err
				}
			}
			h := sha256.Sum256(buf)
			sum.Rows++
			sum.Hash += binary.BigEndian.Uint64(h[:])
		}
		return nil
	})
	return sum, err
}

// appendValue writes a value down so that only the same one is written the same.
func appendValue(buf []byte, v any) ([]byte, error) {
	switch v := v.(type) {
	case int64:
		return binary.BigEndian.AppendUint64(append(buf, 'i'), uint64(v)), nil
	case float64:
		return binary.BigEndian.AppendUint64(append(buf, 'f'), math.Float64bits(v)), nil
	case string:
		return append(binary.BigEndian.AppendUint64(append(buf, 's'), uint64(len(v))), v...), nil
	}
	return nil, fmt.Errorf("a %T in the log", v)
}
