package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"

	"github.com/pressly/goose/v3"
)

//go:embed migrations
var migrations embed.FS

// migrate brings the tables up to date, forward only.
func migrate(ctx context.Context, db *sql.DB) error {
	folder, err := fs.Sub(migrations, "migrations/sqlite")
	if err != nil {
		return err
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, db, folder, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	// Programs that start together race for a step; the loser sees it done and
	// goes on with the next.
	for {
		before, want, err := p.GetVersions(ctx)
		if err != nil {
			return err
		}
		if before > want {
			return fmt.Errorf("it was written by a newer tankside (tables %d, this program knows %d); update this program", before, want)
		}
		if before == want {
			return nil
		}
		if _, err := p.UpByOne(ctx); err != nil {
			after, _, again := p.GetVersions(ctx)
			if again != nil || after == before {
				return fmt.Errorf("step %d of the tables: %w", before+1, err)
			}
		}
	}
}
