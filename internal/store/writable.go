package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// NotWritable says that a file or folder the plans need cannot be written to.
type NotWritable struct {
	Path  string
	Cause error
	about string // whose it is, and how to mend that; sentences
}

// Error names the file, its owner and the way out.
func (n *NotWritable) Error() string {
	return fmt.Sprintf("nothing can be written to %s (%v)%s", n.Path, reason(n.Cause), n.about)
}

// Unwrap returns what the system said.
func (n *NotWritable) Unwrap() error { return n.Cause }

// reason takes the path out of a file error, since the message has it already.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// notWritable explains an error met in writing to a file or folder. Other
// errors than of rights it passes on.
func notWritable(path string, err error) error {
	switch {
	case err == nil:
		return nil
	case isFull(err):
		return fmt.Errorf("the disk is full, so Evenfall cannot start in %s: free some space and start it again", filepath.Dir(path))
	case errors.Is(err, syscall.EROFS):
		return &NotWritable{path, err, ": its disk is there for reading only. Make the disk writable, or choose another folder with --data"}
	case errors.Is(err, fs.ErrPermission):
		return &NotWritable{path, err, whoMayWrite(path)}
	}
	return fmt.Errorf("the data folder cannot be used: %w; choose another with --data", err)
}

// The names of the file that tries the folder out.
const probeName = "evenfall.probe"

// tryOut writes, syncs and renames a file in the folder, as saving does, and
// opens for writing what is there already. SQLite's own words for a file it may
// not write to are "unable to open database file", which helps nobody.
func (f *folder) tryOut() error {
	probe, renamed := filepath.Join(f.dir, probeName), filepath.Join(f.dir, probeName+"d")
	err := writeAndSync(probe)
	if err == nil {
		err = os.Rename(probe, renamed)
	}
	if err != nil {
		drop(probe) // where it could not be made it cannot be deleted
		return notWritable(f.dir, err)
	}
	if err := drop(renamed); err != nil {
		return notWritable(f.dir, err)
	}
	for _, name := range []string{fileName, fileName + "-wal", fileName + "-shm", markerName, addressName} {
		path := filepath.Join(f.dir, name)
		file, err := os.OpenFile(path, os.O_RDWR, 0)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err == nil {
			err = file.Close()
		}
		if err != nil {
			return notWritable(path, err)
		}
	}
	return nil
}

func writeAndSync(path string) error {
	file, err := os.OpenFile(path, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = file.WriteString("Evenfall tries whether it can write here.\n")
	return errors.Join(err, file.Sync(), file.Close())
}

// drop deletes a file that may be gone already.
func drop(path string) error {
	err := os.Remove(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
