package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"

	"tankside/bot/store"
)

// dbFlag says which log.
type dbFlag struct {
	DB string `name:"db" env:"TANKSIDE_DB" placeholder:"PATH" help:"The log: a file, or the address of a PostgreSQL database (postgres://…). Without it, a file in your data folder."`
}

// logFlags say which log, and which chat in it.
type logFlags struct {
	dbFlag
	Chat int64 `name:"chat" default:"1" help:"Number of the chat; each chat has its own set-up and log."`
}

// open opens the log, in a new file if there is none.
func (f *dbFlag) open(ctx context.Context) (*store.Store, error) {
	path, err := f.path()
	if err != nil {
		return nil, err
	}
	s, err := store.Open(ctx, path)
	if err != nil {
		return nil, hinted{err, "choose another one with --db PATH or TANKSIDE_DB"}
	}
	return s, nil
}

// lock keeps a second bot, or a restore, away from a log in a file. A database server
// is made to be shared.
func (f *dbFlag) lock() (unlock func() error, err error) {
	path, err := f.path()
	if err != nil {
		return nil, err
	}
	if store.IsServer(path) {
		return func() error { return nil }, nil
	}
	return lockLog(path)
}

// path is the file of the log, or the address of its database.
func (f *dbFlag) path() (string, error) {
	if f.DB == "" {
		folder, err := dataFolder()
		if err != nil {
			return "", hinted{err, "say where with --db PATH or TANKSIDE_DB"}
		}
		f.DB = filepath.Join(folder, "log.db")
	}
	return f.DB, nil
}

// dataFolder is where the platform keeps a program's data.
func dataFolder() (string, error) {
	if runtime.GOOS == "windows" {
		if local := os.Getenv("LocalAppData"); local != "" {
			return filepath.Join(local, "tankside"), nil
		}
		return "", errors.New("no data folder: LocalAppData is not set")
	}
	if data := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(data) {
		return filepath.Join(data, "tankside"), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", errors.New("no data folder: HOME is not set")
	}
	if runtime.GOOS == "darwin" {
		return filepath.Join(home, "Library", "Application Support", "tankside"), nil
	}
	return filepath.Join(home, ".local", "share", "tankside"), nil
}
