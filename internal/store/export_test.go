package store

import "context"

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
