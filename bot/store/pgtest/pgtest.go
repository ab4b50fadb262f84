//go:build unix

// Package pgtest starts real PostgreSQL servers for tests, and puts faults between
// them and a program. A server lives in a temporary folder, listens on a socket in it
// and nowhere else.
//
// A test that needs PostgreSQL fails where there is none; it is never skipped.
package pgtest

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver "pgx"
)

// Server is a PostgreSQL server of our own.
type Server struct {
	dir, bin string
	durable  bool
	cmd      *exec.Cmd
	ended    chan struct{}
}

// ErrMissing says what to install.
var ErrMissing = errors.New("no PostgreSQL server on this machine: these tests need one (Debian, Ubuntu: apt-get install postgresql)")

// Programs is the folder of initdb and postgres.
func Programs() (string, error) {
	if found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb"); len(found) > 0 {
		slices.SortFunc(found, func(a, b string) int { return version(a) - version(b) })
		return filepath.Dir(found[len(found)-1]), nil
	}
	path, err := exec.LookPath("initdb")
	if err != nil {
		return "", ErrMissing
	}
	return filepath.Dir(path), nil
}

func version(initdb string) int {
	n, _ := strconv.Atoi(filepath.Base(filepath.Dir(filepath.Dir(initdb))))
	return n
}

// Start makes a server and starts it. It does not wait for the disk.
func Start() (*Server, error) { return start(false) }

// StartDurable starts one that does, as a farm's server must: for measurements.
func StartDurable() (*Server, error) { return start(true) }

func start(durable bool) (*Server, error) {
	bin, err := Programs()
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "tankside-pg") // not the test's folder: only its user may enter that
	if err != nil {
		return nil, err
	}
	s := &Server{dir: dir, bin: bin, durable: durable}
	if id := credential(); id != nil {
		if err := os.Chown(dir, int(id.Uid), int(id.Gid)); err != nil {
			return nil, err
		}
	}
	out, err := s.command("initdb", "-D", s.data(), "-U", "postgres", "-A", "trust", "-E", "UTF8", "--no-sync", "--no-instructions").CombinedOutput()
	if err != nil {
		return nil, errors.Join(fmt.Errorf("initdb: %w\n%s", err, out), os.RemoveAll(dir))
	}
	if err := s.Up(); err != nil {
		return nil, errors.Join(err, os.RemoveAll(dir))
	}
	return s, nil
}

func (s *Server) data() string { return filepath.Join(s.dir, "data") }

// Socket is what the server listens on.
func (s *Server) Socket() string { return filepath.Join(s.dir, ".s.PGSQL.5432") }

// credential is who the server runs as: it refuses to be root.
func credential() *syscall.Credential {
	if os.Geteuid() != 0 {
		return nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		if u, err := user.Lookup(name); err == nil {
			uid, _ := strconv.Atoi(u.Uid)
			gid, _ := strconv.Atoi(u.Gid)
			return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
		}
	}
	return nil
}

// command is a program of PostgreSQL, run as the server's user.
func (s *Server) command(name string, args ...string) *exec.Cmd {
	cmd := exec.Command(filepath.Join(s.bin, name), args...)
	cmd.Dir = s.dir
	cmd.Env = []string{"LC_ALL=C.UTF-8", "HOME=" + s.dir, "PATH=" + os.Getenv("PATH")}
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: credential()}
	return cmd
}

// Up starts the server and waits until it answers.
func (s *Server) Up() error {
	args := []string{"-D", s.data(), "-k", s.dir, "-c", "listen_addresses=", "-c", "max_connections=200"}
	if !s.durable {
		args = append(args, "-F") // a test's server need not survive a power cut
	}
	cmd := s.command("postgres", args...)
	log, err := os.OpenFile(filepath.Join(s.dir, "log"), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	defer log.Close()
	cmd.Stdout, cmd.Stderr = log, log
	setDeathSignal(cmd)
	if err := cmd.Start(); err != nil {
		return err
	}
	s.cmd, s.ended = cmd, make(chan struct{})
	go func(ended chan struct{}) { cmd.Wait(); close(ended) }(s.ended)
	db, err := sql.Open("pgx", s.URL("postgres"))
	if err != nil {
		return err
	}
	defer db.Close()
	for deadline := time.Now().Add(30 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		if err = db.Ping(); err == nil {
			return nil
		}
		select {
		case <-s.ended:
			return fmt.Errorf("postgres ended: %s", s.Log())
		default:
		}
		if time.Now().After(deadline) {
			return errors.Join(fmt.Errorf("postgres does not answer: %w", err), s.Down())
		}
	}
}

// Log is what the server has said.
func (s *Server) Log() string {
	text, _ := os.ReadFile(filepath.Join(s.dir, "log"))
	return string(text[max(0, len(text)-4000):])
}

// Down stops the server as an operator would in a hurry: whoever is connected is cut off.
func (s *Server) Down() error {
	if err := s.cmd.Process.Signal(syscall.SIGINT); err != nil && !errors.Is(err, os.ErrProcessDone) {
		return err
	}
	<-s.ended
	return nil
}

// Close stops the server and removes it.
func (s *Server) Close() error { return errors.Join(s.Down(), os.RemoveAll(s.dir)) }

// URL is the address of a database, through the socket.
func (s *Server) URL(database string) string {
	return "postgres:///" + database + "?" + url.Values{"host": {s.dir}, "user": {"postgres"}}.Encode()
}

// URLAt is the address of a database through something that listens on a port.
func (s *Server) URLAt(address, database string) string {
	return "postgres://postgres@" + address + "/" + database + "?sslmode=disable"
}

var databases atomic.Int64

// Create makes an empty database and returns its name.
func (s *Server) Create(ctx context.Context) (string, error) {
	db, err := sql.Open("pgx", s.URL("postgres"))
	if err != nil {
		return "", err
	}
	defer db.Close()
	name := fmt.Sprintf("t%d", databases.Add(1))
	_, err = db.ExecContext(ctx, "create database "+name)
	return name, err
}

// Run runs one of PostgreSQL's own programs against the server, such as pg_dump.
func (s *Server) Run(name string, args ...string) ([]byte, error) {
	cmd := s.command(name, append([]string{"-h", s.dir, "-U", "postgres"}, args...)...)
	out, err := cmd.CombinedOutput()
	if err != nil {
		err = fmt.Errorf("%s: %w\n%s", name, err, out)
	}
	return out, err
}

// Dir is a folder that the server's programs may write to.
func (s *Server) Dir() string { return s.dir }

var (
	shared     *Server
	sharedOnce sync.Once
	errShared  error
)

// Database gives a test an empty database on a server that the package's tests share.
// Whoever calls it has a TestMain that ends with StopShared.
func Database(t testing.TB) string {
	t.Helper()
	s := Shared(t)
	name, err := s.Create(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return s.URL(name)
}

// Shared is the server that the package's tests share.
func Shared(t testing.TB) *Server {
	t.Helper()
	sharedOnce.Do(func() { shared, errShared = Start() })
	if errShared != nil {
		t.Fatal(errShared)
	}
	return shared
}

// StopShared stops the shared server, if there is one.
func StopShared() {
	if shared != nil {
		if err := shared.Close(); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
	}
}
