package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

// How many of the backups made unasked are kept. Those a user asked for, and
// what a restore replaced, stay until the user deletes them.
const (
	keepDaily  = 7
	keepWeekly = 4 // the first of each week, beyond the daily ones
	keepBefore = 3
)

// What the names of backups begin with; a date in UTC follows.
const (
	dailyPrefix   = "evenfall-day-"
	beforePrefix  = "evenfall-before-change-"
	byHandPrefix  = "evenfall-backup-"
	replacePrefix = "evenfall-before-restore-"
	backupSuffix  = ".db"
	unfinished    = ".unfinished" // after the name while it is being written
)

// stampLayout dates a file to the second.
const stampLayout = "2006-01-02-150405"

func dailyName(at time.Time) string {
	return dailyPrefix + at.UTC().Format(time.DateOnly) + backupSuffix
}

func beforeName(version int64, at time.Time) string {
	return fmt.Sprintf("%s%s-of-version-%d%s", beforePrefix, at.UTC().Format(stampLayout), version, backupSuffix)
}

// Backup is one backup in the data folder.
type Backup struct {
	File     string
	Made     time.Time
	Bytes    int64
	Contents Contents
	Trouble  error // why it cannot be restored; nil if it can
}

// Backups reads through every backup of a data folder, newest first.
func Backups(ctx context.Context, dir string) []Backup {
	var all []Backup
	for _, name := range newestFirst(dir) {
		b := Backup{File: name, Made: modified(name), Bytes: size(name)}
		b.Contents, b.Trouble = verify(ctx, name)
		if b.Trouble == nil && !b.Contents.Made.IsZero() {
			b.Made = b.Contents.Made
		}
		all = append(all, b)
	}
	return all
}

// backups returns the paths of the backups in a data folder, sorted by name.
func backups(dir string) []string {
	return filesNamed(filepath.Join(dir, backupName), "evenfall-")
}

// filesNamed returns the paths of the databases in a folder whose names begin
// with a prefix, sorted by name.
func filesNamed(folder, prefix string) []string {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil // no folder, no files
	}
	var found []string
	for _, e := range entries {
		if e.Type().IsRegular() && strings.HasPrefix(e.Name(), prefix) && strings.HasSuffix(e.Name(), backupSuffix) {
			found = append(found, filepath.Join(folder, e.Name()))
		}
	}
	return found
}

func newestFirst(dir string) []string {
	names := backups(dir)
	slices.SortStableFunc(names, func(a, b string) int { return modified(b).Compare(modified(a)) })
	return names
}

// newestBackup returns the newest backup that passes its check, rather one without
// damaged plans; "" if none.
func newestBackup(ctx context.Context, dir string) string {
	second := ""
	for _, name := range newestFirst(dir) {
		c, err := verify(ctx, name)
		switch {
		case err == nil && len(c.Damaged) == 0:
			return name
		case err == nil && second == "":
			second = name
		}
	}
	return second
}

func modified(name string) time.Time {
	info, err := os.Stat(name)
	if err != nil {
		return time.Time{} // sorts last
	}
	return info.ModTime()
}

// BackUpDaily makes today's backup unless there is one or there are no plans,
// and drops old ones. The day is that of UTC. A backup with something damaged in
// it is made and told about, and what can be mended is mended after it; older
// ones, which may hold it whole, then stay.
func (s *Store) BackUpDaily(ctx context.Context) error {
	name := dailyName(s.now())
	if _, err := os.Stat(filepath.Join(s.dir, backupName, name)); err == nil {
		return nil
	}
	var plans int
	if err := s.write.QueryRowContext(ctx, "SELECT count(*) FROM plans").Scan(&plans); err != nil {
		return fmt.Errorf("today's backup could not be made: %w", explain(err))
	}
	if plans == 0 {
		return nil
	}
	b, err := s.backup(ctx, name)
	switch {
	case err != nil:
		return fmt.Errorf("today's backup could not be made: %w", err)
	case len(b.Contents.Damaged) > 0:
		return s.afterDamage(ctx, b.Contents)
	}
	err = errors.Join(s.prune(func(string) bool { return true }), s.dropUnusedBlobs(ctx))
	if err != nil {
		return fmt.Errorf("today's backup was made, but not everything old could be cleared away: %w", err)
	}
	return nil
}

// BackUp copies the plans of a data folder into a file, or into the folder's own
// backups when to is "". It does not matter whether an Evenfall is running on the
// folder. A file that is there already is not touched.
func BackUp(ctx context.Context, dir, to string, opts ...Option) (Backup, error) {
	s, err := closed(dir, opts)
	if err != nil {
		return Backup{}, err
	}
	if _, err := os.Stat(s.File()); errors.Is(err, fs.ErrNotExist) && len(backups(s.dir)) == 0 && !isMarked(s.dir) {
		return Backup{}, fmt.Errorf("there are no plans in the data folder %s; name another with --data", s.dir)
	}
	version, err := inspect(ctx, s.dir)
	if err != nil {
		return Backup{}, err
	}
	if version == 0 {
		return Backup{}, fmt.Errorf("there are no plans in the data folder %s yet", s.dir)
	}
	if to == "" {
		if to, err = s.freshName(byHandPrefix); err != nil {
			return Backup{}, err
		}
	}
	return s.backupTo(ctx, to)
}

// freshName returns the path of a backup dated now that does not exist yet.
func (s *Store) freshName(prefix string) (string, error) {
	folder := filepath.Join(s.dir, backupName)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", fmt.Errorf("the folder for backups cannot be made: %w", err)
	}
	return s.freshPath(folder, prefix), nil
}

// freshPath returns a name dated now that is free in a folder.
func (s *Store) freshPath(folder, prefix string) string {
	base := filepath.Join(folder, prefix+s.now().UTC().Format(stampLayout))
	path := base + backupSuffix
	for n := 2; ; n++ {
		if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
			return path
		}
		path = fmt.Sprintf("%s-%d%s", base, n, backupSuffix)
	}
}

// backup makes a backup in the folder kept for them.
func (s *Store) backup(ctx context.Context, name string) (Backup, error) {
	folder := filepath.Join(s.dir, backupName)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return Backup{}, err
	}
	return s.backupTo(ctx, filepath.Join(folder, name))
}

// backupTo writes a copy of the whole data file that holds the latest step, reads
// it back and checks it, and only then gives it its name. A plain copy of the
// file would miss what is still in the write-ahead log.
func (s *Store) backupTo(ctx context.Context, to string) (Backup, error) {
	if err := s.room(filepath.Dir(to), size(s.File())); err != nil {
		return Backup{}, err
	}
	if _, err := os.Lstat(to); err == nil {
		return Backup{}, fmt.Errorf("there is a file %s already; it was left as it is. Give the backup another name", to)
	}
	draft := to + unfinished
	if err := os.Remove(draft); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return Backup{}, err
	}
	contents, err := s.draft(ctx, draft)
	if err == nil {
		err = settle(draft, to)
	}
	if err != nil {
		if gone := os.Remove(draft); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
			err = errors.Join(err, gone)
		}
		return Backup{}, err
	}
	return Backup{File: to, Made: s.now(), Bytes: size(to), Contents: contents}, nil
}

// draft writes and checks a copy under a name of its own. It is private from its
// first byte on.
func (s *Store) draft(ctx context.Context, file string) (Contents, error) {
	f, err := os.OpenFile(file, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o600)
	if err != nil {
		return Contents{}, fmt.Errorf("the backup cannot be written: %w", err)
	}
	if err := f.Close(); err != nil {
		return Contents{}, err
	}
	from, err := openToCopy(s.File()) // of its own, so that steps are stored meanwhile
	if err != nil {
		return Contents{}, err
	}
	_, err = from.ExecContext(ctx, "VACUUM INTO ?", file)
	if err := errors.Join(explain(err), from.Close()); err != nil {
		return Contents{}, err
	}
	if err := seal(ctx, file, s.now()); err != nil {
		return Contents{}, err
	}
	contents, err := verify(ctx, file)
	if err != nil {
		return contents, fmt.Errorf("the copy did not pass its check, so it was not kept: %w", err)
	}
	return contents, syncPath(file)
}

// settle gives a finished file its name, which must be free, for good.
func settle(draft, name string) error {
	if err := linkOrCopy(draft, name); err != nil {
		return err
	}
	return errors.Join(os.Remove(draft), syncFolder(filepath.Dir(name)))
}

// linkOrCopy gives a file a second name, which must be free. Where a disk has no
// second names it makes a copy.
func linkOrCopy(from, to string) error {
	err := os.Link(from, to)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	return copyFile(from, to)
}

// copyFile copies a file to a name that must be free, for this user alone, and
// puts it on the disk.
func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err == nil {
		err = out.Sync()
	}
	return errors.Join(err, out.Close())
}

// room refuses a copy of a file that would leave the disk with next to nothing:
// a backup must not be what fills it.
func (s *Store) room(folder string, bytes int64) error {
	free, known := s.free(folder)
	need := 2 * bytes
	if !known || free >= uint64(need) {
		return nil
	}
	return fmt.Errorf("there is too little space on the disk: a copy of the plans wants %s free in %s, twice what they take, and there is %s. Free some space and try again",
		inBytes(need), folder, inBytes(int64(free)))
}

// inBytes writes a number of bytes for people.
func inBytes(n int64) string {
	if n < 1<<20 {
		return fmt.Sprintf("%d KiB", (n+1023)>>10)
	}
	return fmt.Sprintf("%.1f MiB", float64(n)/(1<<20))
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

// syncFolder puts the names in a folder on the disk.
func syncFolder(path string) error {
	if runtime.GOOS == "windows" {
		return nil // a folder cannot be synced there
	}
	return syncPath(path)
}

// prune deletes the backups made unasked that are no longer kept and that may
// go, and what backups that were cut short have left behind.
func (s *Store) prune(mayGo func(path string) bool) error {
	var daily, before []string
	for _, path := range backups(s.dir) {
		switch name := filepath.Base(path); {
		case strings.HasPrefix(name, dailyPrefix):
			daily = append(daily, path)
		case strings.HasPrefix(name, beforePrefix):
			before = append(before, path)
		}
	}
	var err error
	for _, path := range append(surplusDays(daily), before[:max(0, len(before)-keepBefore)]...) {
		if mayGo(path) {
			err = errors.Join(err, os.Remove(path))
		}
	}
	return errors.Join(err, s.removeUnfinished())
}

// surplusDays returns the daily backups, oldest first, that are neither among
// the newest nor the first of one of the last weeks that have any.
func surplusDays(daily []string) []string {
	old := daily[:max(0, len(daily)-keepDaily)]
	var weekly, surplus []string
	lastWeek := ""
	for _, path := range old {
		at, err := time.Parse(dailyPrefix+time.DateOnly+backupSuffix, filepath.Base(path))
		if err != nil {
			continue // not a name of ours: left alone
		}
		year, n := at.ISOWeek()
		if week := fmt.Sprint(year, n); week != lastWeek {
			lastWeek = week
			weekly = append(weekly, path)
			continue
		}
		surplus = append(surplus, path)
	}
	return append(surplus, weekly[:max(0, len(weekly)-keepWeekly)]...)
}

// removeUnfinished deletes drafts of backups that nobody can be writing any more.
func (s *Store) removeUnfinished() error {
	left, err := os.ReadDir(filepath.Join(s.dir, backupName))
	for _, e := range left {
		path := filepath.Join(s.dir, backupName, e.Name())
		if strings.HasSuffix(e.Name(), unfinished) && s.now().Sub(modified(path)) > 24*time.Hour {
			err = errors.Join(err, os.Remove(path))
		}
	}
	return err
}
