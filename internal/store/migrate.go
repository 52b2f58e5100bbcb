package store

import (
	"context"
	"fmt"
	"io/fs"
	"log/slog"

	"github.com/pressly/goose/v3"

	"evenfall/migrations"
)

// newestVersion returns the highest schema version this program knows.
func newestVersion() (int64, error) {
	files, err := fs.Glob(migrations.Files, "*.sql")
	if err != nil {
		return 0, fmt.Errorf("store: %w", err)
	}
	var newest int64
	for _, name := range files {
		v, err := goose.NumericComponent(name)
		if err != nil {
			return 0, fmt.Errorf("store: migration %s: %w", name, err)
		}
		newest = max(newest, v)
	}
	return newest, nil
}

// migrate brings the schema from the given version to the newest, each change
// in a transaction of its own, after a backup of what was there.
func (s *Store) migrate(ctx context.Context, version int64) error {
	newest, err := newestVersion()
	if err != nil {
		return err
	}
	if version == newest {
		return nil
	}
	if version > 0 {
		if _, err := s.backup(ctx, beforeName(version, s.now())); err != nil {
			return fmt.Errorf("the data file has to be brought up to date, but no backup of it could be made first: %w", err)
		}
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, s.write, migrations.Files,
		goose.WithSlog(slog.New(slog.DiscardHandler)), goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return fmt.Errorf("store: %w", err)
	}
	if _, err := p.Up(ctx); err != nil {
		return fmt.Errorf("the data file could not be brought up to date: %w", explain(err))
	}
	return nil
}
