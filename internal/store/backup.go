package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	"evenfall/internal/plan"
)

// How many backups of each sort are kept.
const (
	keepDaily  = 7
	keepBefore = 3
)

const (
	dailyPrefix  = "evenfall-day-"
	beforePrefix = "evenfall-before-change-"
	backupSuffix = ".db"
)

func dailyName(at time.Time) string {
	return dailyPrefix + at.UTC().Format(time.DateOnly) + backupSuffix
}

func beforeName(version int64, at time.Time) string {
	return fmt.Sprintf("%s%s-of-version-%d%s", beforePrefix, at.UTC().Format("2006-01-02-150405"), version, backupSuffix)
}

// backups returns the paths of the backups in a data folder, newest name last
// within each sort.
func backups(dir string) []string {
	var found []string
	for _, prefix := range []string{beforePrefix, dailyPrefix} {
		names, err := filepath.Glob(filepath.Join(globQuote(dir), backupName, prefix+"*"+backupSuffix))
		if err != nil {
			continue // only a pattern that does not parse, and this one does
		}
		slices.Sort(names)
		found = append(found, names...)
	}
	return found
}

// globQuote takes the special meaning from the characters of a folder's path.
func globQuote(path string) string {
	if runtime.GOOS == "windows" {
		return path // no quoting there, and * and ? cannot be in a path
	}
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(path)
}

// newestBackup returns the newest backup that passes its check, "" if none.
func newestBackup(ctx context.Context, dir string) string {
	names := backups(dir)
	slices.SortStableFunc(names, func(a, b string) int { return modified(b).Compare(modified(a)) })
	for _, name := range names {
		if verify(ctx, name) == nil {
			return name
		}
	}
	return ""
}

func modified(name string) time.Time {
	info, err := os.Stat(name)
	if err != nil {
		return time.Time{} // sorts last
	}
	return info.ModTime()
}

// backupDaily makes today's backup unless there is one, and drops old ones.
func (s *Store) backupDaily(ctx context.Context) error {
	name := dailyName(s.now())
	if _, err := os.Stat(filepath.Join(s.dir, backupName, name)); err == nil {
		return nil
	}
	var plans int
	if err := s.write.QueryRowContext(ctx, "SELECT count(*) FROM plans").Scan(&plans); err != nil {
		return explain(err)
	}
	if plans == 0 {
		return nil
	}
	if _, err := s.backup(ctx, name); err != nil {
		return err
	}
	return prune(s.dir)
}

// backup writes a copy of the whole data file that holds the latest step, reads
// it back and checks it, and only then gives it its name. A plain copy of the
// file would miss what is still in the write-ahead log.
func (s *Store) backup(ctx context.Context, name string) (string, error) {
	folder := filepath.Join(s.dir, backupName)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", err
	}
	target, unfinished := filepath.Join(folder, name), filepath.Join(folder, name+".unfinished")
	if err := os.Remove(unfinished); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	if _, err := s.write.ExecContext(ctx, "VACUUM INTO ?", unfinished); err != nil {
		return "", explain(err)
	}
	if err := errors.Join(os.Chmod(unfinished, 0o600), verify(ctx, unfinished), syncPath(unfinished)); err != nil {
		return "", errors.Join(err, os.Remove(unfinished))
	}
	if err := os.Rename(unfinished, target); err != nil {
		return "", err
	}
	if runtime.GOOS == "windows" {
		return target, nil // a folder cannot be synced there
	}
	return target, syncPath(folder)
}

func syncPath(path string) error {
	f, err := os.Open(path)
	if runtime.GOOS == "windows" {
		f, err = os.OpenFile(path, os.O_RDWR, 0) // syncing needs the right to write there
	}
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// verify reads a copy through: the structure by SQLite's own check, each plan
// by its checksum (SQLite has none on its pages, so it misses changed bytes).
func verify(ctx context.Context, file string) error {
	db, err := openUnwritten(file)
	if err != nil {
		return err
	}
	defer db.Close()
	var verdict string
	if err := db.QueryRowContext(ctx, "PRAGMA integrity_check(1)").Scan(&verdict); err != nil {
		return err
	}
	if verdict != "ok" {
		return fmt.Errorf("the copy is damaged: %s", verdict)
	}
	rows, err := db.QueryContext(ctx, "SELECT id, doc, sha256 FROM plans ORDER BY id")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var id, sum string
		var doc []byte
		if err := rows.Scan(&id, &doc, &sum); err != nil {
			return err
		}
		if plan.Digest(doc) != sum {
			return &plan.Damaged{ID: id, Reason: "its checksum differs"}
		}
	}
	return rows.Err()
}

// prune deletes all but the newest backups of each sort.
func prune(dir string) error {
	var err error
	for _, sort := range []struct {
		prefix string
		keep   int
	}{{dailyPrefix, keepDaily}, {beforePrefix, keepBefore}} {
		var names []string
		for _, name := range backups(dir) {
			if strings.HasPrefix(filepath.Base(name), sort.prefix) {
				names = append(names, name)
			}
		}
		for len(names) > sort.keep {
			err = errors.Join(err, os.Remove(names[0]))
			names = names[1:]
		}
	}
	return err
}
