package store

import (
	"context"
	"database/sql"
	"errors"
	"sync/atomic"

	"github.com/mattn/go-sqlite3"
)

// CutAfter has a restore end after a step as if the program had been killed.
func CutAfter(step string) Option {
	return func(s *Store) {
		s.after = func(done string) error {
			if done == step {
				return errCut
			}
			return nil
		}
	}
}

// ErrCut is what a restore cut short returns.
var ErrCut = errCut

// RestoreSteps are the steps a restore can be cut short after.
var RestoreSteps = []string{"copy", "check", "fold", "pass", "keep", "swap", "mark"}

// FreeSpace has the disk have so much space left.
func FreeSpace(bytes uint64) Option {
	return func(s *Store) { s.free = func(string) (uint64, bool) { return bytes, true } }
}

// RowDigest sums up every row of a data file, as a backup is sealed with.
func RowDigest(ctx context.Context, file string) (string, error) {
	db, err := openUnwritten(file)
	if err != nil {
		return "", err
	}
	defer db.Close()
	return digest(ctx, db)
}

// Verify reads a data file or a backup through.
func Verify(ctx context.Context, file string) (Contents, error) { return verify(ctx, file) }

// Sums returns what addSums finds in a text.
func Sums(text string) map[string]bool {
	found := map[string]bool{}
	addSums(found, []byte(text))
	return found
}

// KindOf names a file system by its magic number.
func KindOf(magic uint32) string { return kindOf(magic) }

// NewestVersion is the newest version of the schema.
func NewestVersion() (int64, error) { return newestVersion() }

// DuringRestore calls f after each step of a restore.
func DuringRestore(f func(step string) error) Option {
	return func(s *Store) { s.after = f }
}

// CannotWrite explains an error met in writing to a file or folder.
func CannotWrite(path string, err error) error { return notWritable(path, err) }

// DiskKind names the file system of a folder if plans should not be kept there.
func DiskKind(folder string) string { return diskKind(folder) }

// FailStatement has the database refuse the nth of the statements (and parts of
// them) that the store hands to it from now on, none for n = 0. It returns whether
// it came to that.
func FailStatement(ctx context.Context, s *Store, n int64) (came func() bool, err error) {
	var met atomic.Int64
	refuse := func(op int, what, _, _ string) int {
		switch op {
		case sqlite3.SQLITE_SELECT, sqlite3.SQLITE_INSERT, sqlite3.SQLITE_UPDATE, sqlite3.SQLITE_DELETE, sqlite3.SQLITE_TRANSACTION:
			if what != "ROLLBACK" && met.Add(1) == n {
				return sqlite3.SQLITE_DENY
			}
		}
		return sqlite3.SQLITE_OK
	}
	for _, db := range []*sql.DB{s.read, s.write} {
		db.SetMaxOpenConns(1) // so that there is none without it
		conn, cerr := db.Conn(ctx)
		if cerr != nil {
			return nil, errors.Join(err, cerr)
		}
		err = errors.Join(err, conn.Raw(func(c any) error {
			c.(*sqlite3.SQLiteConn).RegisterAuthorizer(refuse)
			return nil
		}), conn.Close())
	}
	return func() bool { return met.Load() >= n }, err
}
