package store

import (
	"context"
	"errors"
	"hash/fnv"
	"time"

	"github.com/jackc/pgx/v5"
)

const (
	outboxChannel = "tankside_outbox"

	// leadClass keeps the locks of roles apart from those of chats: PostgreSQL has a
	// space of its own for locks with two numbers.
	leadClass = 7366
)

// How roles change hands. The server frees the role of a program that has gone silent
// after 10 s (sessionSettings), and that program gives it up by itself after lookAfter
// and answerWithin, so there are never two.
const (
	tryAgain     = 250 * time.Millisecond
	lookAfter    = 2 * time.Second
	answerWithin = 3 * time.Second
	settle       = time.Second // for what the one before still has to write down
)

// Lead runs f while this program has the role. On SQLite there is one program.
func (s *Store) Lead(ctx context.Context, role string, wake func(), f func(ctx context.Context)) {
	if s.config == nil {
		f(ctx)
		return
	}
	l := &leader{config: s.config, role: role, wake: wake, f: f}
	for ctx.Err() == nil {
		l.session(ctx)
		pause(ctx, tryAgain)
	}
}

// leader wants a role. Having it is a lock of a session of its own: it goes when the
// program dies or the server does.
type leader struct {
	config *pgx.ConnConfig
	role   string
	wake   func()
	f      func(ctx context.Context)
	others bool // somebody else has had the role since
}

// session is one connection: it waits for the role and keeps it while it can. Trouble
// with the database is not reported here: whoever works with it reports it.
func (l *leader) session(ctx context.Context) {
	c, err := pgx.ConnectConfig(ctx, l.config)
	if err != nil {
		return
	}
	defer closeSession(c)
	if _, err := c.Exec(ctx, "listen "+outboxChannel); err != nil {
		return
	}
	for ctx.Err() == nil {
		got, err := l.try(ctx, c)
		if err != nil {
			return
		}
		if got {
			l.lead(ctx, c)
			return
		}
		l.others = true
		pause(ctx, tryAgain)
	}
}

func closeSession(c *pgx.Conn) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	c.Close(ctx)
}

func (l *leader) try(ctx context.Context, c *pgx.Conn) (got bool, err error) {
	ctx, cancel := context.WithTimeout(ctx, answerWithin)
	defer cancel()
	h := fnv.New32a()
	h.Write([]byte(l.role))
	err = c.QueryRow(ctx, "select pg_try_advisory_lock($1, $2)", leadClass, int32(h.Sum32())).Scan(&got)
	return got, err
}

// lead runs f until ctx ends or the session does. f has returned before the session is
// closed, so what it had to write down is written before another begins.
func (l *leader) lead(ctx context.Context, c *pgx.Conn) {
	if l.others {
		pause(ctx, settle)
		l.others = false
	}
	ctx, cancel := context.WithCancel(ctx)
	done := make(chan struct{})
	go func() {
		defer close(done)
		l.f(ctx)
		cancel()
	}()
	for l.holds(ctx, c) {
		if l.wake != nil {
			l.wake()
		}
	}
	cancel()
	<-done
}

// holds waits for news and tells whether the session still stands.
func (l *leader) holds(ctx context.Context, c *pgx.Conn) bool {
	wait, cancel := context.WithTimeout(ctx, lookAfter)
	defer cancel()
	_, err := c.WaitForNotification(wait)
	if err == nil {
		return true
	}
	if ctx.Err() != nil || !errors.Is(err, context.DeadlineExceeded) || c.IsClosed() {
		return false
	}
	ping, cancel := context.WithTimeout(ctx, answerWithin)
	defer cancel()
	return c.Ping(ping) == nil
}

func pause(ctx context.Context, d time.Duration) {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-ctx.Done():
	case <-timer.C:
	}
}
