package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// Backup writes a copy of the log, as it stands at one moment, to a new file. The
// log may be in use meanwhile. The copy is complete or not there at all.
func (s *Store) Backup(ctx context.Context, path string) error {
	if s.config != nil {
		return errOwnBackup
	}
	if _, err := os.Lstat(path); err == nil {
		return fmt.Errorf("%s is there already", path)
	}
	part := path + ".part"
	if err := os.Remove(part); err != nil && !errors.Is(err, os.ErrNotExist) {
		return reason(err)
	}
	if err := writable(part); err != nil { // ours alone, before anything is in it
		return err
	}
	if _, err := s.write.ExecContext(ctx, `vacuum into $1`, part); err != nil {
		return errors.Join(err, os.Remove(part))
	}
	if err := sound(ctx, part); err != nil {
		return errors.Join(err, os.Remove(part))
	}
	return os.Rename(part, path)
}

// errOwnBackup: what PostgreSQL has for this knows more than a program beside it can.
var errOwnBackup = errors.New("PostgreSQL makes back-ups itself: use pg_dump -Fc and pg_restore, or pg_basebackup; to have it in a file, use tankside move-log")

// sound opens a log and has the database look through all of it.
func sound(ctx context.Context, path string) (err error) {
	s, err := Open(ctx, path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	return s.Sound(ctx)
}

// Sound has the database look through the whole log for damage. PostgreSQL has checksums
// of its own for that (initdb --data-checksums, pg_amcheck); there it is looked whether
// loads and sums tell the same.
func (s *Store) Sound(ctx context.Context) error {
	if s.config != nil {
		return s.sumsAgree(ctx)
	}
	var verdict string
	if err := s.write.QueryRowContext(ctx, `pragma integrity_check(1)`).Scan(&verdict); err != nil {
		return err
	}
	if verdict != "ok" {
		return fmt.Errorf("the log is damaged: %s", verdict)
	}
	return nil
}

// sumsAgree adds all loads up.
func (s *Store) sumsAgree(ctx context.Context) error {
	var loads, sums int64
	err := s.read.QueryRowContext(ctx, `select (select count(*) from loads) - (select count(*) from cancels),
		(select coalesce(sum(rows_n), 0)::bigint from sums where scope = 'field')`).Scan(&loads, &sums)
	if err == nil && loads != sums {
		err = fmt.Errorf("the log is damaged: %d loads stand, the sums say %d", loads, sums)
	}
	return err
}

// Restore puts a back-up in the place of a log that is not in use. The log that was
// there is kept beside it; its name is returned. A back-up that is damaged or that a
// newer program has written is refused, and nothing is changed.
func Restore(ctx context.Context, backup, path string) (kept string, err error) {
	if IsServer(path) {
		return "", errOwnBackup
	}
	path, err = filepath.Abs(path)
	if err != nil {
		return "", err
	}
	fresh := path + ".restore"
	if err := copyFile(backup, fresh); err != nil {
		return "", fmt.Errorf("read the back-up: %w", reason(err))
	}
	defer func() { err = errors.Join(err, removeLog(fresh)) }()
	if err := sound(ctx, fresh); err != nil {
		return "", fmt.Errorf("%s is no good back-up: %w", backup, err)
	}
	if _, err := os.Stat(path); err == nil {
		if kept, err = keepAside(ctx, path); err != nil {
			return "", fmt.Errorf("keep the log that was there: %w", err)
		}
	}
	return kept, os.Rename(fresh, path)
}

// keepAside moves a log out of the way, with what its journal holds.
func keepAside(ctx context.Context, path string) (string, error) {
	if s, err := Open(ctx, path); err == nil { // closing it empties the journal
		if err := s.Close(); err != nil {
			return "", err
		}
	}
	for n := 1; ; n++ {
		kept := fmt.Sprintf("%s.before-restore-%d", path, n)
		if _, err := os.Lstat(kept); err == nil {
			continue
		}
		for _, end := range []string{"-wal", "-shm"} {
			if err := os.Rename(path+end, kept+end); err != nil && !errors.Is(err, os.ErrNotExist) {
				return "", err
			}
		}
		return kept, os.Rename(path, kept)
	}
}

func removeLog(path string) error {
	var all error
	for _, end := range []string{"", "-wal", "-shm"} {
		if err := os.Remove(path + end); err != nil && !errors.Is(err, os.ErrNotExist) {
			all = errors.Join(all, err)
		}
	}
	return all
}

func copyFile(from, to string) (err error) {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	if err := writable(to); err != nil {
		return err
	}
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, out.Close()) }()
	if _, err := io.Copy(out, in); err != nil {
		return err
	}
	return out.Sync()
}
