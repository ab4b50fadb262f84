package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"time"
	"unicode/utf8"
)

// handle is a way to a database: its statements prepared, how its transactions are,
// and how long one may take.
type handle struct {
	*sql.DB
	dialect
	statements map[string]*sql.Stmt // empty where the driver itself keeps them
	options    *sql.TxOptions
	most       time.Duration // 0: as long as it takes
}

// prepare prepares the statements. It is done before any transaction, since a
// handle with one connection has none left to prepare on within one.
func (h *handle) prepare(ctx context.Context, texts []string) error {
	if h.statements == nil {
		h.statements = make(map[string]*sql.Stmt, len(texts))
	}
	for _, text := range texts {
		if h.statements[text] != nil {
			continue
		}
		st, err := h.PrepareContext(ctx, text)
		if err != nil {
			return fmt.Errorf("prepare %q: %w", text, err)
		}
		h.statements[text] = st
	}
	return nil
}

// query is one transaction.
type query struct {
	ctx    context.Context
	h      *handle
	tx     *sql.Tx
	locked map[int64]bool // chats that no other transaction can touch until this one ends
	posted bool           // something was put into the outbox
}

// mostTries is how often a transaction is begun again that the database broke off
// because of another one.
const mostTries = 5

// in runs f in one transaction; f may run more than once.
func (h *handle) in(ctx context.Context, f func(*query) error) error {
	for try := 1; ; try++ {
		err := h.once(ctx, f)
		if err == nil || try == mostTries || !h.collided(err) {
			return err
		}
	}
}

func (h *handle) once(ctx context.Context, f func(*query) error) error {
	if h.most > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, h.most)
		defer cancel()
	}
	tx, err := h.BeginTx(ctx, h.options)
	if err != nil {
		return h.failed(err)
	}
	q := &query{ctx: ctx, h: h, tx: tx}
	if err := f(q); err != nil {
		return errors.Join(err, rolledBack(tx))
	}
	if err := q.announce(); err != nil {
		return errors.Join(err, rolledBack(tx))
	}
	return h.failed(tx.Commit())
}

// rolledBack takes a transaction back. One whose connection is gone is back already.
func rolledBack(tx *sql.Tx) error {
	err := tx.Rollback()
	if errors.Is(err, sql.ErrTxDone) || errors.Is(err, driver.ErrBadConn) {
		return nil
	}
	return err
}

// exec runs a statement and returns how many rows it touched.
func (q *query) exec(text string, args ...any) (n int64, err error) {
	clean(args)
	var r sql.Result
	if st := q.h.statements[text]; st != nil {
		r, err = q.tx.StmtContext(q.ctx, st).ExecContext(q.ctx, args...)
	} else {
		r, err = q.tx.ExecContext(q.ctx, text, args...)
	}
	if err != nil {
		return 0, q.h.failed(err)
	}
	return r.RowsAffected()
}

// query runs a statement that lists rows.
func (q *query) query(text string, args []any) (rows *sql.Rows, err error) {
	clean(args)
	if st := q.h.statements[text]; st != nil {
		rows, err = q.tx.StmtContext(q.ctx, st).QueryContext(q.ctx, args...)
	} else {
		rows, err = q.tx.QueryContext(q.ctx, text, args...)
	}
	return rows, q.h.failed(err)
}

// one scans the only row into dest; found is false when there is none.
func (q *query) one(text string, args []any, dest ...any) (found bool, err error) {
	rows, err := q.query(text, args)
	if err != nil {
		return false, err
	}
	defer rows.Close()
	if !rows.Next() {
		return false, q.h.failed(rows.Err())
	}
	if err := rows.Scan(dest...); err != nil {
		return true, err
	}
	return true, q.h.failed(rows.Close())
}

// clean makes texts what both databases can keep: UTF-8 without zeros.
func clean(args []any) {
	for i, a := range args {
		if s, ok := a.(string); ok && (strings.IndexByte(s, 0) >= 0 || !utf8.ValidString(s)) {
			args[i] = strings.ToValidUTF8(strings.ReplaceAll(s, "\x00", ""), "\uFFFD")
		}
	}
}

// each calls f for every row.
func (q *query) each(text string, args []any, f func(scanner) error) error {
	rows, err := q.query(text, args)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := f(rows); err != nil {
			return err
		}
	}
	return q.h.failed(rows.Err())
}

// scanner is a row to be read.
type scanner interface{ Scan(dest ...any) error }

// read reads a JSON column into v, a pointer, and leaves v alone where there is none.
func (q *query) read(raw sql.NullString, v any) error {
	if !raw.Valid {
		return nil
	}
	if err := json.Unmarshal([]byte(raw.String), v); err != nil {
		return err
	}
	sameUnits(reflect.ValueOf(v))
	return nil
}
