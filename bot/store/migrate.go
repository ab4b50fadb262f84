package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"time"

	"github.com/pressly/goose/v3"
)

//go:embed migrations
var migrations embed.FS

// migrate brings the tables up to date, forward only.
func (d dialect) migrate(ctx context.Context, db *sql.DB) error {
	folder, err := fs.Sub(migrations, "migrations/"+d.name)
	if err != nil {
		return err
	}
	options := []goose.ProviderOption{goose.WithDisableGlobalRegistry(true)}
	if d.locker != nil {
		locker, err := d.locker()
		if err != nil {
			return err
		}
		options = append(options, goose.WithSessionLocker(locker))
	}
	p, err := goose.NewProvider(d.goose, db, folder, options...)
	if err != nil {
		return err
	}
	if d.locker != nil {
		return underLock(ctx, p)
	}
	return stepByStep(ctx, p)
}

// underLock takes all steps while others wait.
func underLock(ctx context.Context, p *goose.Provider) error {
	if _, err := p.Up(ctx); err != nil {
		return err
	}
	have, want, err := p.GetVersions(ctx)
	if err == nil && have > want {
		err = newerLog(have, want)
	}
	return err
}

// stepByStep takes one step at a time. Programs that start together race for a step;
// the loser sees it done and goes on with the next. Making a new file a log in the first
// place is not waited for by the database, so that is tried again here.
func stepByStep(ctx context.Context, p *goose.Provider) error {
	const tries, pause = 100, 50 * time.Millisecond
	for try := 0; ; try++ {
		before, want, err := p.GetVersions(ctx)
		if lockedInSQLite(err) && try < tries {
			time.Sleep(pause)
			continue
		}
		if err != nil {
			return err
		}
		if before > want {
			return newerLog(before, want)
		}
		if before == want {
			return nil
		}
		if _, err := p.UpByOne(ctx); err != nil {
			if lockedInSQLite(err) && try < tries {
				time.Sleep(pause)
				continue
			}
			after, _, again := p.GetVersions(ctx)
			if again != nil || after == before {
				return fmt.Errorf("step %d of the tables: %w", before+1, err)
			}
		}
	}
}

func newerLog(have, want int64) error {
	return fmt.Errorf("it was written by a newer tankside (tables %d, this program knows %d); update this program", have, want)
}
