package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net"
	"net/url"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
	sqlitedriver "modernc.org/sqlite"

	"tankside/bot"
)

// dialect is what differs between the two databases, beside the migrations.
type dialect struct {
	name     string
	goose    goose.Dialect
	locker   func() (lock.SessionLocker, error) // nil: steps are taken one by one
	lasting  func(error) bool                   // an error that trying again would not help
	collided func(error) bool                   // a transaction that another one was in the way of

	// Empty where one writer at a time makes them needless.
	lockChat   string // nobody else touches the chat until the transaction ends
	lockFree   string // the same for those of some chats that nobody holds; never waits
	skipLocked string // ends a select of rows that are claimed by it
	announce   string // tells who sends that there is something to send
}

var sqlite = dialect{
	name:     "sqlite",
	goose:    goose.DialectSQLite3,
	lasting:  lastingInSQLite,
	collided: func(error) bool { return false },
}

var postgres = dialect{
	name:     "postgres",
	goose:    goose.DialectPostgres,
	locker:   migrationLock,
	lasting:  lastingInPostgres,
	collided: func(err error) bool { return strings.HasPrefix(pgCode(err), "40") },

	lockChat:   `select pg_advisory_xact_lock($1)`,
	lockFree:   `select chat from unnest($1::bigint[]) as chat where pg_try_advisory_xact_lock(chat)`,
	skipLocked: ` for update skip locked`,
	announce:   `select pg_notify('` + outboxChannel + `', '')`,
}

// failed marks errors of a database that is away, busy or full, so that nobody takes
// them for a fault of what was to be done.
func (d dialect) failed(err error) error {
	if err == nil || errors.Is(err, bot.ErrNotNow) || d.lasting(err) {
		return err
	}
	return fmt.Errorf("%w: %w", bot.ErrNotNow, err)
}

// lastingInSQLite: a statement that is wrong or that a rule of the tables forbids.
func lastingInSQLite(err error) bool {
	const wrong, tooBig, constraint, mismatch, misuse, outOfRange = 1, 18, 19, 20, 21, 25
	var e *sqlitedriver.Error
	if !errors.As(err, &e) {
		return !errors.Is(err, driver.ErrBadConn) && !errors.Is(err, context.DeadlineExceeded)
	}
	switch e.Code() & 0xff {
	case wrong, tooBig, constraint, mismatch, misuse, outOfRange:
		return true
	}
	return false
}

// lockedInSQLite says whether another program held the file.
func lockedInSQLite(err error) bool {
	const busy = 5
	var e *sqlitedriver.Error
	return errors.As(err, &e) && e.Code()&0xff == busy
}

// lastingInPostgres: by the standard's classes, data (22), rules of the tables (23),
// statements (42) and what the server cannot do (0A). Anything that did not come from
// the server is of the way to it.
func lastingInPostgres(err error) bool {
	code := pgCode(err)
	if code == "" {
		return !ofTheWay(err)
	}
	return strings.HasPrefix(code, "22") || strings.HasPrefix(code, "23") || strings.HasPrefix(code, "42") || strings.HasPrefix(code, "0A")
}

func pgCode(err error) string {
	var e *pgconn.PgError
	if errors.As(err, &e) {
		return e.Code
	}
	return ""
}

func ofTheWay(err error) bool {
	var n net.Error
	var c *pgconn.ConnectError
	for _, e := range []error{driver.ErrBadConn, sql.ErrConnDone, sql.ErrTxDone, io.EOF, io.ErrUnexpectedEOF, net.ErrClosed, context.DeadlineExceeded} {
		if errors.Is(err, e) {
			return true
		}
	}
	return errors.As(err, &n) || errors.As(err, &c) || pgconn.SafeToRetry(err) || strings.Contains(err.Error(), "conn closed")
}

// migrationLock keeps replicas that start together from migrating together. Its number
// is none that a chat can have.
func migrationLock() (lock.SessionLocker, error) {
	return lock.NewPostgresSessionLocker(lock.WithLockID(0x74616e6b73696465), lock.WithLockTimeout(1, 300))
}

// IsServer tells an address of a database server from a file.
func IsServer(path string) bool {
	return strings.HasPrefix(path, "postgres://") || strings.HasPrefix(path, "postgresql://")
}

// What keeps a faulty network from holding things up: nobody waits longer than a
// transaction may take, and the server ends a session whose program has gone silent,
// with the locks that it holds.
const (
	mostConnections = 12
	mostTransaction = 15 * time.Second
	mostConnect     = 5 * time.Second
)

var sessionSettings = map[string]string{
	"application_name":                    "tankside",
	"idle_in_transaction_session_timeout": "15s",
	"tcp_keepalives_idle":                 "5",
	"tcp_keepalives_interval":             "2",
	"tcp_keepalives_count":                "3",
	"tcp_user_timeout":                    "10s",
}

func (s *Store) openPostgres(ctx context.Context, address string) error {
	s.dialect = postgres
	if _, err := url.Parse(address); err != nil {
		return errors.New("that is no address of a database") // the error would show the password
	}
	config, err := pgx.ParseConfig(address)
	if err != nil {
		return err
	}
	if config.ConnectTimeout == 0 {
		config.ConnectTimeout = mostConnect
	}
	for name, value := range sessionSettings {
		if config.RuntimeParams[name] == "" {
			config.RuntimeParams[name] = value
		}
	}
	s.config = config
	db := stdlib.OpenDB(*config)
	db.SetMaxOpenConns(mostConnections)
	db.SetMaxIdleConns(mostConnections)
	db.SetConnMaxIdleTime(5 * time.Minute)
	s.write = &handle{DB: db, dialect: s.dialect, most: mostTransaction}
	s.read = &handle{DB: db, dialect: s.dialect, most: mostTransaction,
		options: &sql.TxOptions{Isolation: sql.LevelRepeatableRead, ReadOnly: true}} // one snapshot
	return s.migrate(ctx, db)
}
