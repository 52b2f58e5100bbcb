package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/gofrs/flock"
)

// The small files beside the data file.
const (
	lockName    = "evenfall.lock"
	addressName = "evenfall.address"
	markerName  = "evenfall.folder"
)

const markerText = "This folder holds the plans of Evenfall. Its data file is " + fileName + ";\n" +
	"copy the files in " + backupName + " to keep the plans somewhere else.\n"

// InUse says that another Evenfall has the data folder.
type InUse struct {
	Dir     string
	Address string // where it serves; "" when it has not said yet
}

// Error says so, with the address to open.
func (e *InUse) Error() string {
	if e.Address == "" {
		return fmt.Sprintf("another Evenfall is just starting on the data folder %s; use that one, or give this one another folder with --data", e.Dir)
	}
	return fmt.Sprintf("Evenfall is already running on the data folder %s: open %s, or give this one another folder with --data", e.Dir, e.Address)
}

// folder is a data folder this program has the lock of.
type folder struct {
	dir  string
	lock *flock.Flock
}

// takeFolder makes the folder if need be and locks it. The lock is one the
// system drops with the program, so that a killed one leaves nothing behind.
func takeFolder(dir string) (*folder, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, notWritable(dir, err)
	}
	f := &folder{dir: dir, lock: flock.New(filepath.Join(dir, lockName), flock.SetPermissions(0o600))}
	ours, err := f.lock.TryLock()
	if err != nil {
		return nil, notWritable(lockedOut(dir), err)
	}
	if !ours {
		return nil, errors.Join(&InUse{Dir: dir, Address: readAddress(dir)}, f.lock.Close())
	}
	if err := f.tryOut(); err != nil {
		return nil, errors.Join(err, f.release())
	}
	if err := f.makePrivate(); err != nil {
		return nil, errors.Join(err, f.release())
	}
	return f, nil
}

// lockedOut returns what could not be written to when the lock could not be
// taken: the lock's file, or the folder it is to be made in.
func lockedOut(dir string) string {
	lock := filepath.Join(dir, lockName)
	if _, err := os.Stat(lock); err != nil {
		return dir
	}
	return lock
}

// readAddress returns what the running program announced, "" if nothing.
func readAddress(dir string) string {
	b, err := os.ReadFile(filepath.Join(dir, addressName))
	if err != nil {
		return "" // it has not got that far
	}
	return strings.TrimSpace(string(b))
}

// makePrivate closes the folder to other users of the machine when it is ours
// alone: new, or marked by us. A folder with other things in it is left as its
// owner set it; the data file itself is private either way.
func (f *folder) makePrivate() error {
	entries, err := os.ReadDir(f.dir)
	if err != nil {
		return fmt.Errorf("the data folder cannot be read: %w", err)
	}
	others := 0
	for _, e := range entries {
		if e.Name() != lockName && e.Name() != addressName {
			others++
		}
	}
	if others > 0 && !f.marked() {
		return nil
	}
	if err := os.Chmod(f.dir, 0o700); err != nil {
		return fmt.Errorf("the data folder cannot be made private: %w", err)
	}
	return nil
}

// marked reports whether a data file was once made here.
func (f *folder) marked() bool { return isMarked(f.dir) }

func isMarked(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, markerName))
	return err == nil
}

// mark notes that a data file was made here, so that an empty one found later
// is known for a loss and not taken for a first start.
func (f *folder) mark() error {
	if f.marked() {
		return nil
	}
	if err := os.WriteFile(filepath.Join(f.dir, markerName), []byte(markerText), 0o600); err != nil {
		return fmt.Errorf("the data folder cannot be marked: %w", err)
	}
	return nil
}

func (f *folder) announce(address string) error {
	if err := os.WriteFile(filepath.Join(f.dir, addressName), []byte(address+"\n"), 0o600); err != nil {
		return fmt.Errorf("the address cannot be written down: %w", err)
	}
	return nil
}

// release takes the address away and frees the lock.
func (f *folder) release() error {
	err := os.Remove(filepath.Join(f.dir, addressName))
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return errors.Join(err, f.lock.Unlock())
}
