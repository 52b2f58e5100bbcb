package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/mattn/go-sqlite3"

	"evenfall/internal/plan"
)

// Store is an open data folder. Its methods may be called from many goroutines.
type Store struct {
	dir    string
	now    func() time.Time
	folder *folder
	write  *sql.DB // one connection, so that writers queue in Go and never meet a busy file
	read   *sql.DB // query-only connections

	free  func(folder string) (bytes uint64, known bool) // space left on its disk
	after func(step string) error                        // called by a restore; tests cut it short there
	sound sound
	close sync.Once

	// New is true on the very first start in a folder.
	New bool
	// Warnings are things the user should know although the folder opened, such
	// as a backup that could not be made.
	Warnings []string
}

// Option changes how Open works.
type Option func(*Store)

// WithClock gives the clock that dates steps and backups, in place of time.Now.
func WithClock(now func() time.Time) Option {
	return func(s *Store) { s.now = now }
}

// The names of what lies in a data folder.
const (
	fileName   = "evenfall.db"
	backupName = "backups"
)

// busyMillis is how long a statement waits for another program that has the
// file, such as a backup tool. Ours never meet: see Store.write.
const busyMillis = "5000"

// Open opens the data folder, making it on first use, and brings its schema up
// to date. It returns *InUse when another Evenfall has the folder and *Unusable
// when the data file is not one it may write to; in both cases nothing there is
// changed. Close the store to release the folder.
func Open(ctx context.Context, dir string, opts ...Option) (_ *Store, err error) {
	s, err := closed(dir, opts)
	if err != nil {
		return nil, err
	}
	dir = s.dir
	if s.folder, err = takeFolder(dir); err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, s.release())
		}
	}()
	if err := s.clearCut(); err != nil {
		return nil, err
	}
	version, err := inspect(ctx, dir)
	if err != nil {
		return nil, err
	}
	s.New = version == 0
	if err := createPrivate(s.File()); err != nil {
		return nil, err
	}
	if s.write, err = connect(ctx, s.File(), "rw", 1); err != nil {
		return nil, err
	}
	if version > 0 {
		if err := s.unseal(ctx); err != nil {
			return nil, err
		}
	}
	if err := s.migrate(ctx, version); err != nil {
		return nil, err
	}
	if err := s.countContents(ctx); err != nil {
		return nil, err
	}
	if s.read, err = connect(ctx, s.File(), "ro", 4); err != nil {
		return nil, err
	}
	if err := s.folder.mark(); err != nil {
		return nil, err
	}
	s.Warnings = append(s.Warnings, risks(dir)...)
	if err := s.BackUpDaily(ctx); err != nil {
		s.Warnings = append(s.Warnings, plan.Capital(err.Error())+".")
	}
	return s, nil
}

// closed returns a store on a data folder that has nothing open yet.
func closed(dir string, opts []Option) (*Store, error) {
	whole, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("the data folder %s is named from a folder that is gone (%w); name it whole with --data", dir, err)
	}
	s := &Store{dir: whole, now: time.Now, free: freeSpace}
	for _, o := range opts {
		o(s)
	}
	return s, nil
}

// File returns the path of the data file.
func (s *Store) File() string { return filepath.Join(s.dir, fileName) }

// Dir returns the data folder.
func (s *Store) Dir() string { return s.dir }

// Announce writes down the address this program serves at, so that a second one
// started on the same folder can tell its user where the first is.
func (s *Store) Announce(address string) error { return s.folder.announce(address) }

// Close folds the write-ahead log into the data file and releases the folder.
// Closing again does nothing, and what is still asked of a closed store is
// answered with an error.
func (s *Store) Close() (err error) {
	s.close.Do(func() {
		err = s.read.Close()
		_, fold := s.write.Exec("PRAGMA wal_checkpoint(TRUNCATE)")
		err = errors.Join(err, fold, s.release())
	})
	return err
}

// release closes what is open and frees the folder, once.
func (s *Store) release() error {
	var err error
	for _, db := range []*sql.DB{s.read, s.write} {
		if db != nil {
			err = errors.Join(err, db.Close())
		}
	}
	return errors.Join(err, s.folder.release())
}

// connect opens the data file with the settings everything here relies on, and
// refuses to go on unless they can be read back: the driver's own defaults are
// weaker (synchronous NORMAL, foreign keys off).
func connect(ctx context.Context, file, mode string, conns int) (*sql.DB, error) {
	settings := url.Values{
		"mode":          {mode},
		"_journal_mode": {"WAL"},
		"_synchronous":  {"FULL"},
		"_foreign_keys": {"on"},
		"_busy_timeout": {busyMillis},
		"_txlock":       {"immediate"},
	}
	if mode == "ro" {
		settings.Set("_query_only", "on")
		settings.Del("_journal_mode") // it is in the file already
	}
	db, err := openFile(file, settings, conns)
	if err != nil {
		return nil, err
	}
	if err := readBack(ctx, db); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return db, nil
}

// readBack compares the settings in force with those asked for.
func readBack(ctx context.Context, db *sql.DB) error {
	for _, want := range []struct{ query, name, value string }{
		{"PRAGMA journal_mode", "journal_mode", "wal"},
		{"PRAGMA synchronous", "synchronous", "2"},
		{"PRAGMA foreign_keys", "foreign_keys", "1"},
		{"PRAGMA busy_timeout", "busy_timeout", busyMillis},
	} {
		var got string
		if err := db.QueryRowContext(ctx, want.query).Scan(&got); err != nil {
			return fmt.Errorf("store: read back %s: %w", want.name, explain(err))
		}
		if !strings.EqualFold(got, want.value) {
			return fmt.Errorf("the data file does not take the setting %s=%s (it says %s), so saving would not be safe; nothing was changed", want.name, want.value, got)
		}
	}
	return nil
}

// openFile opens a database with settings of the driver.
func openFile(file string, settings url.Values, conns int) (*sql.DB, error) {
	whole, err := filepath.Abs(file) // a URI has no working folder
	if err != nil {
		return nil, fmt.Errorf("store: open %s: %w", file, err)
	}
	db, err := sql.Open("sqlite3", dsn(whole, settings))
	if err != nil {
		return nil, fmt.Errorf("store: open %s: %w", file, err)
	}
	db.SetMaxOpenConns(conns)
	db.SetMaxIdleConns(conns)
	return db, nil
}

// dsn names a file for SQLite as a URI, so that no character of the path, which
// must be absolute, can be taken for a setting.
func dsn(file string, settings url.Values) string {
	path := filepath.ToSlash(file)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path // a drive letter
	}
	u := url.URL{Scheme: "file", Path: path, RawQuery: settings.Encode()}
	return u.String()
}

// createPrivate makes the data file, empty, for this user alone; SQLite gives
// its log files the same rights. A file that is there keeps what is in it.
func createPrivate(file string) error {
	f, err := os.OpenFile(file, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return fmt.Errorf("the data file cannot be made: %w", err)
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("store: %w", err)
	}
	if err := os.Chmod(file, 0o600); err != nil {
		return fmt.Errorf("the data file cannot be made private: %w", err)
	}
	return nil
}

// openToCopy opens a data file another program may be writing to, to make a copy
// of it. It cannot be written to by this; SQLite's "query only" would forbid the
// copy as well.
func openToCopy(file string) (*sql.DB, error) {
	return openFile(file, url.Values{"mode": {"ro"}, "_busy_timeout": {busyMillis}}, 1)
}

// openAlone opens a file that nobody else knows of, to be written to without the
// means that guard against being cut short.
func openAlone(file string) (*sql.DB, error) {
	return openFile(file, url.Values{"mode": {"rw"}, "_journal_mode": {"MEMORY"}, "_synchronous": {"OFF"}}, 1)
}

// explain turns the driver's "no more space" into plan.ErrNoRoom. It comes as
// one of two codes: a full disk has its own, a limit on the size of files or a
// quota shows as an input/output error with the system's number.
func explain(err error) error {
	var e sqlite3.Error
	if errors.As(err, &e) && (e.Code == sqlite3.ErrFull || isFull(e.SystemErrno)) {
		return fmt.Errorf("%w (%w)", plan.ErrNoRoom, err)
	}
	return err
}

// isFull reports whether the system says that a file can take no more.
func isFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EFBIG) || errors.Is(err, syscall.EDQUOT)
}
