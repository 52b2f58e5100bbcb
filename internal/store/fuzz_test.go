package store_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"evenfall/internal/store"
)

// bases are the files that are damaged: one of this version, and one of each that
// was shipped, which is brought up to date on the way.
func bases(f *testing.F) [][]byte {
	f.Helper()
	dir := f.TempDir()
	s, err := store.Open(context.Background(), dir)
	if err != nil {
		f.Fatal(err)
	}
	if _, err := s.Create(context.Background(), []byte(yard)); err != nil {
		f.Fatal(err)
	}
	if err := s.Close(); err != nil {
		f.Fatal(err)
	}
	var all [][]byte
	for _, file := range append([]string{s.File()}, shipped(f)...) {
		b, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		all = append(all, b)
	}
	return all
}

// damaged changes a file: each six bytes of the changes are a place and what to
// put there. With no file chosen the changes are the file.
func damaged(all [][]byte, which uint8, changes []byte) []byte {
	if int(which) >= len(all) {
		return changes
	}
	b := bytes.Clone(all[which])
	for len(changes) >= 6 {
		at := int(binary.BigEndian.Uint32(changes)) % len(b)
		switch value := changes[5]; changes[4] % 4 {
		case 0:
			b[at] = value
		case 1:
			b[at] ^= 1 << (value % 8)
		case 2:
			clear(b[at:min(len(b), at+16*int(value))])
		case 3:
			b = b[:max(1, at)]
		}
		changes = changes[6:]
	}
	return b
}

func seeds(f *testing.F) {
	for which := range uint8(3) {
		f.Add(which, []byte{})
		f.Add(which, []byte("SQLite format 3\x00"))
		f.Add(which, []byte{0, 0, 0, 60, 0, 99})  // a newer version
		f.Add(which, []byte{0, 0, 0, 68, 0, 'X'}) // another program
		f.Add(which, []byte{0, 0, 0, 16, 0, 2})   // size of the pages
		f.Add(which, []byte{0, 0, 0, 18, 0, 1})   // kind of log
		f.Add(which, []byte{0, 0, 0, 100, 2, 20}) // beginning of the schema
		f.Add(which, []byte{0, 0, 0x30, 0, 3, 0}) // cut to three pages
		f.Add(which, []byte{0, 0, 0x20, 5, 1, 3, 9, 9, 9, 9, 2, 200})
	}
}

// FuzzDatabase opens data files that are damaged or no databases, reads all there
// is and takes every step back. Whatever it finds, it does not end by a panic, and
// a file that is refused is not changed.
func FuzzDatabase(f *testing.F) {
	all := bases(f)
	seeds(f)
	f.Fuzz(func(t *testing.T, which uint8, changes []byte) {
		ctx := context.Background()
		dir := t.TempDir()
		file := filepath.Join(dir, "evenfall.db")
		b := damaged(all, which, changes)
		write(t, file, b)
		write(t, filepath.Join(dir, "evenfall.folder"), nil) // it has held plans
		s, err := store.Open(ctx, dir, store.FreeSpace(0))
		var u *store.Unusable
		if errors.As(err, &u) {
			if now, err := os.ReadFile(file); err != nil || !bytes.Equal(now, b) {
				t.Errorf("a refused file was changed (%v)", err)
			}
			return
		}
		if err != nil {
			return // said in words; what is tested is that it comes to that
		}
		defer s.Close() // what a damaged file says to that is of no interest
		list, err := s.List(ctx)
		if err != nil {
			return
		}
		for _, l := range list {
			p, err := s.Load(ctx, l.ID)
			if err != nil {
				continue
			}
			if _, err := s.History(ctx, l.ID); err != nil {
				continue
			}
			for n := 0; n < 10 && p.Undo != "" && err == nil; n++ {
				p, _, err = s.Undo(ctx, p.ID, p.Rev)
			}
		}
	})
}

// FuzzRestore restores files that are damaged or no databases into a folder with
// plans. It takes them whole, or refuses them and the folder is as it was.
func FuzzRestore(f *testing.F) {
	all := bases(f)
	seeds(f)
	f.Fuzz(func(t *testing.T, which uint8, changes []byte) {
		ctx := context.Background()
		dir := t.TempDir()
		write(t, filepath.Join(dir, "evenfall.db"), all[0])
		backup := filepath.Join(t.TempDir(), "backup.db")
		write(t, backup, damaged(all, which, changes))
		want := all[0]
		if _, err := store.Restore(ctx, dir, backup, store.FreeSpace(1<<40)); err != nil {
			if now, err := os.ReadFile(filepath.Join(dir, "evenfall.db")); err != nil || !bytes.Equal(now, want) {
				t.Errorf("a refused backup changed the plans (%v)", err)
			}
			return
		}
		if _, err := store.Verify(ctx, filepath.Join(dir, "evenfall.db")); err != nil {
			t.Errorf("what was restored does not pass its check: %v", err)
		}
	})
}
