package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
)

// handle is a database with its statements prepared.
type handle struct {
	*sql.DB
	statements map[string]*sql.Stmt
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
	ctx context.Context
	h   *handle
	tx  *sql.Tx
}

// in runs f in one transaction.
func (h *handle) in(ctx context.Context, f func(*query) error) error {
	tx, err := h.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	if err := f(&query{ctx, h, tx}); err != nil {
		return errors.Join(err, tx.Rollback())
	}
	return tx.Commit()
}

func (q *query) statement(text string) *sql.Stmt {
	return q.tx.StmtContext(q.ctx, q.h.statements[text])
}

// exec runs a statement and returns how many rows it touched.
func (q *query) exec(text string, args ...any) (int64, error) {
	r, err := q.statement(text).ExecContext(q.ctx, args...)
	if err != nil {
		return 0, err
	}
	return r.RowsAffected()
}

// one scans the only row into dest; found is false when there is none.
func (q *query) one(text string, args []any, dest ...any) (found bool, err error) {
	err = q.statement(text).QueryRowContext(q.ctx, args...).Scan(dest...)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	return err == nil, err
}

// each calls f for every row.
func (q *query) each(text string, args []any, f func(scanner) error) error {
	rows, err := q.statement(text).QueryContext(q.ctx, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := f(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// scanner is a row to be read.
type scanner interface{ Scan(dest ...any) error }

// object reads one JSON column into v, a pointer, and leaves v alone when there is
// no row.
func (q *query) object(v any, text string, args ...any) error {
	var raw string
	found, err := q.one(text, args, &raw)
	if err != nil || !found {
		return err
	}
	return q.read(raw, v)
}

// read reads JSON into v, a pointer.
func (q *query) read(raw string, v any) error {
	if err := json.Unmarshal([]byte(raw), v); err != nil {
		return err
	}
	sameUnits(reflect.ValueOf(v))
	return nil
}
