package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
)

// applicationID marks a data file as ours; the first migration sets it.
const applicationID = 0x45564E46

// sqliteMagic opens every SQLite file (file format documentation, section 1.3).
var sqliteMagic = []byte("SQLite format 3\x00")

// Unusable says why a data file is not opened, or a backup not restored. The
// file was not written to.
type Unusable struct {
	File   string
	Reason string // a sentence
	Backup string // newest backup that passed its check; "" if none

	backup bool // File is a backup
}

// Error gives the file, the reason and the way back.
func (u *Unusable) Error() string {
	if u.backup {
		return fmt.Sprintf("the backup %s cannot be restored: %s Nothing was changed.", u.File, u.Reason)
	}
	s := fmt.Sprintf("the data file %s cannot be used: %s It was left untouched.", u.File, u.Reason)
	if u.Backup != "" {
		s += fmt.Sprintf(" The newest good backup is %s. To go on from it: %s", u.Backup, command("evenfall", "restore", u.Backup, "--data", filepath.Dir(u.File)))
	}
	return s
}

// inspect looks at the data file before anything may write to it. It returns
// the schema version, 0 for a first start.
func inspect(ctx context.Context, dir string) (int64, error) {
	file := filepath.Join(dir, fileName)
	refuse := func(format string, args ...any) error {
		return &Unusable{File: file, Reason: fmt.Sprintf(format, args...), Backup: newestBackup(ctx, dir)}
	}
	head, err := readHead(file)
	if err != nil {
		return 0, fmt.Errorf("the data file cannot be read: %w", err)
	}
	known := isMarked(dir) || len(backups(dir)) > 0
	switch {
	case len(head) == 0 && known:
		return 0, refuse("it is missing or empty, though this folder has held plans before.")
	case len(head) == 0:
		return 0, nil
	case !bytes.Equal(head, sqliteMagic):
		return 0, refuse("it is not a database, or its beginning is damaged.")
	}
	return examine(ctx, file, known, refuse)
}

// examine reads whose the file is, its version, and whether it is whole.
func examine(ctx context.Context, file string, known bool, refuse func(string, ...any) error) (int64, error) {
	db, err := openUnwritten(file)
	if err != nil {
		return 0, err
	}
	defer db.Close()
	var app, tables int64
	err = errors.Join(
		db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&app),
		db.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema WHERE name NOT LIKE 'goose%' AND name NOT LIKE 'sqlite%'").Scan(&tables),
	)
	switch {
	case err != nil:
		return 0, refuse("it is damaged (%v).", err)
	case app == 0 && tables == 0 && !known:
		return 0, nil // a first start that was cut short
	}
	version, err := whose(ctx, db)
	if err != nil {
		return 0, refuse("%v.", err)
	}
	if err := whole(ctx, db, version); err != nil {
		return 0, refuse("it is damaged (%v).", err)
	}
	var verdict string
	if err := db.QueryRowContext(ctx, "PRAGMA quick_check(1)").Scan(&verdict); err != nil || verdict != "ok" {
		return 0, refuse("it is damaged (%s).", firstOf(err, verdict))
	}
	return version, nil
}

// whole returns an error when a table is not there that a file of a version has.
// Without one neither the plans open nor a restore can tell how far they were.
func whole(ctx context.Context, db *sql.DB, version int64) error {
	for _, t := range []struct {
		name  string
		since int64
	}{{"plans", 1}, {"steps", 1}, {"blobs", 1}, {"meta", 1}, {"points", 2}} {
		var there bool
		err := db.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = ?", t.name).Scan(&there)
		if err != nil {
			return err
		}
		if !there && version >= t.since {
			return fmt.Errorf("its table %s is missing", t.name)
		}
	}
	return nil
}

// openUnwritten opens a database so that nothing can be written to it.
func openUnwritten(file string) (*sql.DB, error) {
	return openFile(file, url.Values{"mode": {"ro"}, "_query_only": {"on"}, "_busy_timeout": {busyMillis}}, 1)
}

// readHead returns the first bytes of a file, none if it is missing or empty.
func readHead(file string) ([]byte, error) {
	f, err := os.Open(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	head := make([]byte, len(sqliteMagic))
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, err
	}
	return head[:n], nil
}

func firstOf(err error, words string) string {
	if err != nil {
		return err.Error()
	}
	return words
}
