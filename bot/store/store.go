package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"tankside/bot"
)

// Store is a bot.Store over database/sql.
type Store struct {
	dialect
	write *handle // SQLite: one connection, since it has one writer at a time
	read  *handle // SQLite: the same handle when the database is in memory

	config *pgx.ConnConfig // PostgreSQL: for sessions beside the pool

	Now func() time.Time // when a message is stored and a load taken back
}

var _ bot.Store = (*Store)(nil)

// Open opens the log at a file path, at the address of a PostgreSQL database
// (postgres://…), or ":memory:" for one that is gone when closed. It makes the file
// and its folders as needed and brings the tables up to date; it refuses a log that a
// newer program has written, and one that is still being moved here.
func Open(ctx context.Context, path string) (*Store, error) {
	s, err := openAny(ctx, path)
	if err == nil {
		if err = s.whole(ctx); err == nil {
			return s, nil
		}
		err = errors.Join(err, s.Close())
	}
	return nil, fmt.Errorf("cannot open the log %s: %w", Printable(path), err)
}

// openAny opens a log, also one that is not whole yet.
func openAny(ctx context.Context, path string) (*Store, error) {
	s := &Store{Now: time.Now}
	open := s.openFile
	if IsServer(path) {
		open = s.openPostgres
	}
	if err := open(ctx, path); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

func (s *Store) openFile(ctx context.Context, path string) error {
	s.dialect = sqlite
	a, err := addressOf(path)
	if err != nil {
		return err
	}
	db, err := sql.Open(a.driver, a.write)
	if err != nil {
		return err
	}
	s.write = &handle{DB: db, dialect: s.dialect}
	s.write.SetMaxOpenConns(1)
	if err := s.migrate(ctx, db); err != nil {
		return err
	}
	if err := s.write.prepare(ctx, slices.Concat(readSQL, writeSQL, deskSQL)); err != nil {
		return err
	}
	s.read = s.write
	if a.read != "" {
		if db, err = sql.Open(a.driver, a.read); err != nil {
			return err
		}
		s.read = &handle{DB: db, dialect: s.dialect}
		s.read.SetMaxOpenConns(readers)
		s.read.SetMaxIdleConns(readers)
	}
	return s.read.prepare(ctx, readSQL)
}

// Close closes the database.
func (s *Store) Close() error {
	var err error
	if s.read != nil && s.read.DB != s.write.DB {
		err = s.read.Close()
	}
	if s.write != nil {
		err = errors.Join(err, s.write.Close())
	}
	return err
}

// Load returns the chat's memory and book as of at, and the reply that message id
// got when it has been dealt with before. All of it is one snapshot.
func (s *Store) Load(ctx context.Context, chat, id int64, at time.Time) (bot.Memory, bot.Book, *bot.Reply, error) {
	var m bot.Memory
	var book bot.Book
	var seen *bot.Reply
	err := s.read.in(ctx, func(q *query) (err error) {
		m, book, seen, err = q.load(chat, id, at)
		return err
	})
	if err != nil {
		return bot.Memory{}, bot.Book{}, nil, fmt.Errorf("chat %d: %w", chat, err)
	}
	return m, book, seen, nil
}

func (q *query) load(chat, id int64, at time.Time) (m bot.Memory, book bot.Book, seen *bot.Reply, err error) {
	if err = q.lock(chat); err != nil {
		return m, book, seen, err
	}
	var memory, reply sql.NullString
	if _, err = q.one(getChat, []any{chat, id}, &memory, &reply); err != nil {
		return m, book, seen, fmt.Errorf("read the memory: %w", err)
	}
	if err = q.read(memory, &m); err != nil {
		return m, book, seen, fmt.Errorf("read the memory: %w", err)
	}
	if err = q.read(reply, &seen); err != nil {
		return m, book, seen, fmt.Errorf("read the reply to message %d: %w", id, err)
	}
	book, err = q.book(chat, &m, at)
	return m, book, seen, err
}

// Apply saves memory, effects and the reply of message id in one transaction. A
// message that was applied before changes nothing.
func (s *Store) Apply(ctx context.Context, chat, id int64, m bot.Memory, effects []bot.Effect, r *bot.Reply) error {
	memory, reply, err := written(m, r)
	if err != nil {
		return fmt.Errorf("chat %d: %w", chat, err)
	}
	err = s.write.in(ctx, func(q *query) error { return q.save(chat, id, memory, reply, effects, s.Now()) })
	if err != nil {
		return fmt.Errorf("chat %d: save message %d: %w", chat, id, err)
	}
	return nil
}

// written are memory and reply as they are stored.
func written(m bot.Memory, r *bot.Reply) (memory, reply string, err error) {
	if r == nil {
		r = &bot.Reply{}
	}
	a, err := json.Marshal(m)
	if err != nil {
		return "", "", fmt.Errorf("write the memory: %w", err)
	}
	b, err := json.Marshal(r)
	if err != nil {
		return "", "", fmt.Errorf("write the reply: %w", err)
	}
	return string(a), string(b), nil
}

// save does all that a message comes to, once.
func (q *query) save(chat, id int64, memory, reply string, effects []bot.Effect, now time.Time) error {
	if err := q.lock(chat); err != nil {
		return err
	}
	fresh, err := q.exec(addMessage, chat, id, now.UnixMicro(), reply)
	if err != nil || fresh == 0 {
		return err
	}
	if _, err := q.exec(putMemory, chat, memory); err != nil {
		return err
	}
	for _, e := range effects {
		if err := q.apply(chat, e, now); err != nil {
			return err
		}
	}
	return nil
}

// apply does one effect: what is cancelled goes first, so that a correction may
// take its place.
func (q *query) apply(chat int64, e bot.Effect, now time.Time) error {
	if e.Cancel != nil {
		if err := q.cancel(chat, e.Cancel, e.Why, now); err != nil {
			return fmt.Errorf("cancel load %d.%d: %w", e.Cancel.ID, e.Cancel.Part, err)
		}
	}
	if e.Add != nil {
		if err := q.add(chat, e.Add); err != nil {
			return fmt.Errorf("add load %d.%d: %w", e.Add.ID, e.Add.Part, err)
		}
	}
	return nil
}
