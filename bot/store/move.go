package store

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
)

// Moved is what Move says of a table.
type Moved struct {
	Table string
	Sum         // of both logs: they are the same
	Fresh int64 // rows copied by this call
}

// Move copies a whole log to another place, SQLite or PostgreSQL either way, and
// compares the two at the end. It may be broken off at any time and called again: it
// goes on where it stopped, and until it is done nobody else opens the new log. The
// old one is not changed.
func Move(ctx context.Context, from, to string) (moved []Moved, err error) {
	m := &mover{source: canonical(from)}
	if m.source == canonical(to) {
		return nil, errors.New("that is the same log")
	}
	if m.from, err = Open(ctx, from); err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, m.from.Close()) }()
	if m.to, err = openAny(ctx, to); err != nil {
		return nil, fmt.Errorf("cannot open the log %s: %w", Printable(to), err)
	}
	defer func() { err = errors.Join(err, m.to.Close()) }()
	for _, s := range []*Store{m.from, m.to} {
		if err := s.alone(ctx); err != nil {
			return nil, err
		}
	}
	if err := m.begin(ctx); err != nil {
		return nil, err
	}
	for _, t := range tables {
		one, err := m.move(ctx, t)
		if err != nil {
			return nil, fmt.Errorf("table %s: %w", t.name, err)
		}
		moved = append(moved, one)
	}
	return moved, m.end(ctx)
}

// canonical is one spelling of where a log is, without its password.
func canonical(path string) string {
	if !IsServer(path) {
		if abs, err := filepath.Abs(path); err == nil {
			return abs
		}
	}
	return Printable(path)
}

// alone refuses a database that a bot runs on: one of its replicas has the role of
// sending. A file is locked by who opens it for this.
func (s *Store) alone(ctx context.Context) error {
	if s.config == nil {
		return nil
	}
	var roles int
	err := s.write.QueryRowContext(ctx, `select count(*) from pg_locks where locktype = 'advisory' and classid = $1 and objsubid = 2
		and database = (select oid from pg_database where datname = current_database())`, leadClass).Scan(&roles)
	if err == nil && roles > 0 {
		err = fmt.Errorf("a bot is running on %s; stop all of its replicas first", Printable(s.config.ConnString()))
	}
	return err
}

type mover struct {
	source   string
	from, to *Store
}

// begin marks the new log as not whole yet. It must be empty, or have been begun from
// the same source.
func (m *mover) begin(ctx context.Context) error {
	begun, err := m.to.movingFrom(ctx)
	switch {
	case err != nil:
		return err
	case begun == m.source:
		return nil
	case begun != "":
		return fmt.Errorf("a log from %s is being moved there already", begun)
	}
	for _, t := range tables {
		last, err := m.to.lastKey(ctx, t)
		if err != nil {
			return err
		}
		if last != nil {
			return errors.New("there is a log in that place already; a move needs an empty one")
		}
	}
	return m.to.write.in(ctx, func(q *query) error {
		_, err := q.exec(`insert into moving (source) values ($1)`, m.source)
		return err
	})
}

// move copies one table and compares it. Where the old log was written to between two
// calls, rows that come late among those copied make the sums differ: then the table
// is copied once more from its beginning.
func (m *mover) move(ctx context.Context, t table) (Moved, error) {
	one := Moved{Table: t.name}
	for try := range 2 {
		after := []any(nil)
		var err error
		if t.adds && try == 0 {
			after, err = m.to.lastKey(ctx, t)
		} else {
			err = m.to.empty(ctx, t)
		}
		if err != nil {
			return one, err
		}
		n, err := m.copy(ctx, t, after)
		one.Fresh += n
		if err != nil {
			return one, err
		}
		a, err := m.from.sum(ctx, t)
		if err != nil {
			return one, err
		}
		b, err := m.to.sum(ctx, t)
		if err != nil {
			return one, err
		}
		if one.Sum = a; a == b {
			return one, nil
		}
	}
	return one, errors.New("the two logs differ; is one of them being written to?")
}

// copy copies the rows after a key, a page in a transaction.
func (m *mover) copy(ctx context.Context, t table, after []any) (rows int64, err error) {
	err = m.from.pages(ctx, t, after, func(p *rowsPage) error {
		rows += int64(len(p.rows))
		return m.to.write.in(ctx, func(q *query) error { return q.insert(t, p) })
	})
	return rows, err
}

// insert adds the rows of a page, many with one statement.
func (q *query) insert(t table, p *rowsPage) error {
	const most = 10_000 // parameters; SQLite takes 32,766 and PostgreSQL 65,535
	for rows := range slices.Chunk(p.rows, most/len(p.columns)) {
		var values []string
		var args []any
		for _, row := range rows {
			values = append(values, "("+places(len(args), len(row))+")")
			args = append(args, row...)
		}
		text := `insert into ` + t.name + ` (` + strings.Join(p.columns, ", ") + `) values ` + strings.Join(values, ", ")
		if _, err := q.exec(text, args...); err != nil {
			return err
		}
	}
	return nil
}

// places are n parameters after the first so many: "$4, $5".
func places(after, n int) string {
	all := make([]string, n)
	for i := range all {
		all[i] = fmt.Sprintf("$%d", after+i+1)
	}
	return strings.Join(all, ", ")
}

// end lets the new log be used.
func (m *mover) end(ctx context.Context) error {
	return m.to.write.in(ctx, func(q *query) error {
		if m.to.config != nil { // a row that is given its number does not move the next one
			for _, name := range numberedTables {
				var next int64
				if _, err := q.one(`select setval(pg_get_serial_sequence('`+name+`', 'id'), (select coalesce(max(id), 0) + 1 from `+name+`), false)`, nil, &next); err != nil {
					return err
				}
			}
		}
		_, err := q.exec(`delete from moving`)
		return err
	})
}
