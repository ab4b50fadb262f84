package store

import (
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	_ "modernc.org/sqlite" // the driver "sqlite", in pure Go
)

// readers is how many connections read at the same time, beside the writer.
const readers = 4

// address is where a database is, for its driver. An empty read means that there
// can be only one connection.
type address struct{ driver, write, read string }

// The settings: what is confirmed survives a power cut (FULL), readers do not wait
// for the writer (WAL), another program's write is waited for (busy_timeout), and a
// writer takes its lock at the start, so that it never fails halfway (immediate).
const (
	writeSettings = "_pragma=busy_timeout(5000)&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_txlock=immediate"
	readSettings  = "_pragma=busy_timeout(5000)&_pragma=query_only(1)"
)

// addressOf reads a file path, and makes the folders that lead to it.
func addressOf(path string) (address, error) {
	if path == ":memory:" {
		return address{driver: "sqlite", write: "file::memory:?" + writeSettings}, nil
	}
	if kind, _, ok := strings.Cut(path, "://"); ok {
		return address{}, fmt.Errorf("%s:// is not a kind of log that this program knows; give a file path", kind)
	}
	if path == "" {
		return address{}, errors.New("no file name")
	}
	path, err := filepath.Abs(path)
	if err != nil {
		return address{}, err
	}
	if err := writable(path); err != nil {
		return address{}, err
	}
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") { // a drive letter
		slashed = "/" + slashed
	}
	file := (&url.URL{Scheme: "file", Path: slashed}).String()
	return address{"sqlite", file + "?" + writeSettings, file + "?" + readSettings}, nil
}

// Printable is the address without its password.
func Printable(path string) string {
	if kind, _, ok := strings.Cut(path, "://"); ok {
		u, err := url.Parse(path)
		if err != nil {
			return kind + "://…"
		}
		return u.Redacted()
	}
	return path
}

// writable makes the folders and the file, since the database's own message for
// "cannot" does not say why. The log is the farm's business: others may not read it.
func writable(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return reason(err)
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return reason(err)
	}
	return f.Close()
}

// reason leaves out the path, which the caller names.
func reason(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}
