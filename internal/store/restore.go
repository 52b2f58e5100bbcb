package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/mattn/go-sqlite3"
)

// sideSuffix is added to the data file's name while a backup is brought in
// beside it.
const sideSuffix = ".restoring"

// asidePrefix begins the name of a data file that could not be opened and was
// replaced by a backup.
const asidePrefix = "evenfall-set-aside-"

// Restored says what a restore did.
type Restored struct {
	Contents Contents // of the backup
	Made     time.Time
	Kept     string // where the data file of before is; "" if there was none
	Whole    bool   // the data file of before is a good backup
}

// Restore puts a backup in the place of a data folder's plans. The backup is
// read through first; the plans of before are kept under another name. Whenever
// it is cut short, the folder has either the plans of before or those of the
// backup, whole. It returns *InUse when an Evenfall is running on the folder and
// *Unusable when the backup is not one to restore. A name without a folder is
// also looked for among the folder's own backups.
func Restore(ctx context.Context, dir, file string, opts ...Option) (_ Restored, err error) {
	s, err := closed(dir, opts)
	if err != nil {
		return Restored{}, err
	}
	if s.folder, err = takeFolder(s.dir); err != nil {
		return Restored{}, err
	}
	r := &restore{Store: s, side: s.File() + sideSuffix}
	if err = s.clearCut(); err == nil {
		r.from, err = s.findBackup(file)
	}
	if err == nil {
		err = r.run(ctx)
	}
	return r.done, errors.Join(err, s.release())
}

// clearCut clears away what a restore that was cut short has left: the copy it
// brought in, and the second name it gave to a data file that then was not
// replaced. With two names, the plans would go on being written into what is
// kept as their state of before, each name with a log of its own.
func (s *Store) clearCut() error {
	if err := removeData(s.File() + sideSuffix); err != nil {
		return fmt.Errorf("store: %w", err)
	}
	kept := append(filesNamed(s.dir, asidePrefix), filesNamed(filepath.Join(s.dir, backupName), replacePrefix)...)
	for _, path := range kept {
		if !sameFile(path, s.File()) {
			continue
		}
		var err error
		if log := s.File() + "-wal"; size(log) == 0 && size(path+"-wal") > 0 {
			err = os.Rename(path+"-wal", log)
		}
		if err = errors.Join(err, removeLogs(path)); err == nil {
			err = os.Remove(path)
		}
		if err != nil {
			return fmt.Errorf("store: a restore was cut short, and what it left cannot be cleared away: %w", err)
		}
	}
	return nil
}

// findBackup returns the path of the backup a user means.
func (s *Store) findBackup(name string) (string, error) {
	info, err := os.Stat(name)
	switch {
	case err == nil && info.Mode().IsRegular():
		return name, nil
	case err == nil:
		return "", fmt.Errorf("%s is not a file; name the backup to restore", name)
	case !errors.Is(err, fs.ErrNotExist):
		return "", fmt.Errorf("the backup cannot be read: %w", err)
	}
	folder := filepath.Join(s.dir, backupName)
	if root, err := os.OpenRoot(folder); err == nil {
		defer root.Close()
		if info, err := root.Lstat(name); err == nil && info.Mode().IsRegular() {
			return filepath.Join(folder, name), nil
		}
	}
	return "", fmt.Errorf("there is no file %s, here or among the backups in %s; evenfall restore --list shows those", name, folder)
}

// restore is a restore under way.
type restore struct {
	*Store
	from, side string
	whole      bool // the data file of before can be opened
	done       Restored
}

// errCut stands for the end of the program in tests.
var errCut = errors.New("cut short")

// run does one thing after the other. Only the last but one changes which plans
// the folder has, and that is the renaming of a file.
func (r *restore) run(ctx context.Context) error {
	for _, step := range []struct {
		name string
		do   func(context.Context) error
	}{
		{"copy", r.copyBeside},
		{"check", r.checkCopy},
		{"fold", r.foldLog},
		{"pass", r.passOld},
		{"keep", r.keepOld},
		{"swap", r.swap},
		{"mark", func(context.Context) error { return r.folder.mark() }},
	} {
		err := step.do(ctx)
		if err == nil && r.after != nil {
			err = r.after(step.name)
		}
		if errors.Is(err, errCut) {
			return err
		}
		if err != nil {
			return errors.Join(err, removeData(r.side))
		}
	}
	return nil
}

// copyBeside copies the backup beside the data file.
func (r *restore) copyBeside(context.Context) error {
	head, err := readHead(r.from)
	if err != nil {
		return fmt.Errorf("the backup cannot be read: %w", err)
	}
	switch {
	case len(head) == 0:
		return r.refuse("it is empty.")
	case !bytes.Equal(head, sqliteMagic):
		return r.refuse("it is not a database, or its beginning is damaged.")
	case sameFile(r.from, r.File()):
		return r.refuse("it is the data file in use.")
	case size(r.from+"-wal") > 0:
		return r.refuse("there is a file %s beside it, so it is no backup but a data file whose last changes are in that other file. Start Evenfall with --data on its folder, or make a backup of it with evenfall backup.", filepath.Base(r.from)+"-wal")
	}
	if err := r.room(r.dir, size(r.from)); err != nil {
		return fmt.Errorf("%w; nothing was changed", err)
	}
	if err := removeData(r.side); err != nil {
		return err
	}
	r.done.Made = modified(r.from)
	return copyFile(r.from, r.side)
}

func sameFile(a, b string) bool {
	ia, aerr := os.Stat(a)
	ib, berr := os.Stat(b)
	return aerr == nil && berr == nil && os.SameFile(ia, ib)
}

func (r *restore) refuse(format string, args ...any) error {
	return &Unusable{File: r.from, Reason: fmt.Sprintf(format, args...), backup: true}
}

// checkCopy reads the copy through: it, not the backup, will be worked on.
func (r *restore) checkCopy(ctx context.Context) error {
	var err error
	if r.done.Contents, err = verify(ctx, r.side); err != nil {
		return r.refuse("%v.", err)
	}
	if !r.done.Contents.Made.IsZero() {
		r.done.Made = r.done.Contents.Made
	}
	return removeLogs(r.side) // reading a file that had a log makes an empty one
}

// foldLog brings what is in the log of the data file of before into the file,
// so that it can be kept as one file, and so that the log of one file never
// meets another.
func (r *restore) foldLog(ctx context.Context) error {
	version, err := inspect(ctx, r.dir)
	if _, unusable := errors.AsType[*Unusable](err); unusable || version == 0 && err == nil {
		return nil // it is kept as it is
	}
	if err != nil {
		return err
	}
	if r.write, err = connect(ctx, r.File(), "rw", 1); err != nil {
		return err
	}
	var mode string
	err = r.write.QueryRowContext(ctx, "PRAGMA journal_mode = DELETE").Scan(&mode)
	if busy, ok := errors.AsType[sqlite3.Error](err); ok && busy.Code == sqlite3.ErrBusy {
		err = fmt.Errorf("another program has the data file %s open; close it and try again. Nothing was changed (%w)", r.File(), err)
	}
	err = errors.Join(explain(err), r.write.Close())
	r.write = nil
	r.whole = err == nil && mode == "delete"
	if err == nil && !r.whole {
		err = fmt.Errorf("the log of the data file %s cannot be folded into it, so it cannot be kept as one file; nothing was changed", r.File())
	}
	return err
}

// passOld moves the revisions of the copy past those of the data file of before,
// so that a page still open on the plans of before can never meet its own
// revision on another document: it is told that the plan has changed. Of a data
// file that cannot be opened the revisions are not known, and the copy stays as
// it is.
func (r *restore) passOld(ctx context.Context) error {
	if !r.whole {
		return nil
	}
	old, err := revisions(ctx, r.File())
	if err != nil {
		return err
	}
	now, err := revisions(ctx, r.side)
	if err != nil {
		return err
	}
	db, err := openAlone(r.side)
	if err != nil {
		return err
	}
	passed := 0
	for _, id := range slices.Sorted(maps.Keys(now)) {
		was, is := old[id], now[id]
		if was.rev < is.rev || was == is {
			continue
		}
		if _, err = db.ExecContext(ctx, "UPDATE plans SET rev = ? WHERE id = ?", was.rev+1, id); err != nil {
			break
		}
		passed++
	}
	if err == nil && passed > 0 { // it no longer is to the letter what was sealed
		_, err = db.ExecContext(ctx, "DELETE FROM meta WHERE key IN (?, ?)", digestKey, madeKey)
	}
	return errors.Join(explain(err), db.Close(), removeLogs(r.side), syncPath(r.side))
}

// revision is how far a plan is, and the checksum of its document there.
type revision struct {
	rev int64
	sum string
}

// revisions returns the revision of every plan in a data file.
func revisions(ctx context.Context, file string) (map[string]revision, error) {
	db, err := openUnwritten(file)
	if err != nil {
		return nil, err
	}
	defer db.Close()
	rows, err := db.QueryContext(ctx, "SELECT id, rev, sha256 FROM plans")
	if err != nil {
		return nil, explain(err)
	}
	defer rows.Close()
	found := map[string]revision{}
	for rows.Next() {
		var id string
		var r revision
		if err := rows.Scan(&id, &r.rev, &r.sum); err != nil {
			return nil, err
		}
		found[id] = r
	}
	return found, explain(rows.Err())
}

// keepOld gives the data file of before a second name with the date.
func (r *restore) keepOld(context.Context) error {
	if _, err := os.Stat(r.File()); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if r.whole {
		name, err := r.freshName(replacePrefix)
		if err != nil {
			return err
		}
		r.done.Kept, r.done.Whole = name, true
		return errors.Join(linkOrCopy(r.File(), name), syncFolder(filepath.Dir(name)))
	}
	name := r.freshPath(r.dir, asidePrefix)
	r.done.Kept = name
	if err := errors.Join(linkOrCopy(r.File(), name), syncFolder(r.dir)); err != nil {
		return err
	}
	if err := os.Rename(r.File()+"-wal", name+"-wal"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return errors.Join(removeLogs(r.File()), syncFolder(r.dir))
}

// swap is the moment from which the folder has the plans of the backup.
func (r *restore) swap(context.Context) error {
	if err := removeLogs(r.File()); err != nil { // empty by now, if there at all
		return err
	}
	return errors.Join(os.Rename(r.side, r.File()), syncFolder(r.dir))
}

// removeLogs deletes the files SQLite keeps beside a database.
func removeLogs(file string) error {
	var err error
	for _, end := range []string{"-wal", "-shm", "-journal"} {
		if gone := os.Remove(file + end); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
			err = errors.Join(err, gone)
		}
	}
	return err
}

// removeData deletes a database with what is beside it.
func removeData(file string) error {
	err := os.Remove(file)
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return errors.Join(err, removeLogs(file))
}

// command writes a command for the user to type, with quotes where they matter.
func command(words ...string) string {
	for i, w := range words {
		if strings.ContainsAny(w, " '\"\\$`*?[]{}()<>|&;!#~") {
			words[i] = "'" + strings.ReplaceAll(w, "'", `'\''`) + "'"
		}
	}
	return strings.Join(words, " ")
}
