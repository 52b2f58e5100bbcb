//go:build unix

package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"evenfall/internal/store"
)

// lockedDir, when set in the environment, makes this test binary a program that
// opens that folder and prints what it is told.
const lockedDir = "EVENFALL_TEST_LOCKED"

func init() {
	asProgram[lockedDir] = func(dir string) error {
		s, err := store.Open(context.Background(), dir)
		if err != nil {
			_, err = fmt.Print(err)
			return err
		}
		_, err = fmt.Print("opened")
		return errors.Join(err, s.Close())
	}
}

// nobody is a user without rights, by common practice.
const nobody = 65534

// TestRowB20_WhatCannotBeWrittenIsNamedWithItsOwner opens folders and files it has
// no right to write to, as a user who is not root.
func TestRowB20_WhatCannotBeWrittenIsNamedWithItsOwner(t *testing.T) {
	me := os.Geteuid()
	user := me
	if me == 0 {
		user = nobody
	}
	ran := 0
	for _, c := range []struct {
		name   string
		rootly bool // can only be arranged by root
		lock   func(t *testing.T, dir string)
		path   string // named in the message, within the folder
		has    []string
	}{
		{"nothing locked", false, func(*testing.T, string) {}, "", []string{"opened"}},
		{"a folder for reading", false, func(t *testing.T, dir string) { chmod(t, dir, 0o500) }, "", []string{"permission denied", "chmod u+rwx"}},
		{"a folder without rights", false, func(t *testing.T, dir string) { chmod(t, dir, 0) }, "", []string{"permission denied", "chmod u+rwx"}},
		{"a data file for reading", false, func(t *testing.T, dir string) { chmod(t, filepath.Join(dir, "evenfall.db"), 0o400) }, "evenfall.db", []string{"chmod u+rw "}},
		{"a lock for reading", false, func(t *testing.T, dir string) { chmod(t, filepath.Join(dir, "evenfall.lock"), 0) }, "evenfall.lock", []string{"chmod u+rw "}},
		{"somebody else's folder", true, func(t *testing.T, dir string) { chown(t, dir, 0, 0o755) }, "", []string{"belongs to root (user 0)", "Evenfall runs as", "chown 65534", "--data"}},
		{"somebody else's data file", true, func(t *testing.T, dir string) { chown(t, filepath.Join(dir, "evenfall.db"), 0, 0o600) }, "evenfall.db", []string{"belongs to root (user 0)", "chown 65534"}},
		{"somebody else's log", true, func(t *testing.T, dir string) {
			write(t, filepath.Join(dir, "evenfall.db-wal"), nil)
			chown(t, filepath.Join(dir, "evenfall.db-wal"), 0, 0o600)
		}, "evenfall.db-wal", []string{"belongs to root (user 0)"}},
		{"a disk for reading", true, readOnlyDisk, "", []string{"read-only file system", "Make the disk writable"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.rootly && me != 0 {
				t.Skip("only root can arrange this")
			}
			ran++
			dir, program := lockable(t, user)
			c.lock(t, dir)
			cmd := exec.Command(program)
			cmd.Env = append(os.Environ(), lockedDir+"="+dir)
			if me == 0 {
				cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
			}
			out, err := cmd.CombinedOutput()
			if err != nil {
				t.Fatalf("%v: %s", err, out)
			}
			has := c.has
			if len(has) > 1 {
				has = append(has, filepath.Join(dir, c.path))
			}
			t.Logf("%s", out)
			for _, words := range has {
				if !strings.Contains(string(out), words) {
					t.Errorf("it says %q, want %q in it", out, words)
				}
			}
		})
	}
	t.Logf("shown: %d states of rights, each named with its path, owner and what to do", ran)
}

// lockable makes a data folder with a plan that belongs to a user, in a place any
// user can get to, and a copy of this test binary there.
func lockable(t *testing.T, user int) (dir, program string) {
	t.Helper()
	place, err := os.MkdirTemp("", "evenfall-rights-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		filepath.WalkDir(place, func(path string, d os.DirEntry, err error) error {
			os.Chmod(path, 0o700) // so that it can be deleted, whoever runs this
			return nil
		})
		if err := os.RemoveAll(place); err != nil {
			t.Error(err)
		}
	})
	chmod(t, place, 0o755)
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program = filepath.Join(place, "program")
	b, err := os.ReadFile(self)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(program, b, 0o755); err != nil {
		t.Fatal(err)
	}
	dir = filepath.Join(place, "data")
	s := openIn(t, dir, newClock())
	create(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	err = filepath.WalkDir(dir, func(path string, _ os.DirEntry, err error) error {
		return errors.Join(err, os.Lchown(path, user, -1))
	})
	if err != nil {
		t.Fatal(err)
	}
	return dir, program
}

func chmod(t *testing.T, path string, mode os.FileMode) {
	t.Helper()
	if err := os.Chmod(path, mode); err != nil {
		t.Fatal(err)
	}
}

func chown(t *testing.T, path string, user int, mode os.FileMode) {
	t.Helper()
	if err := os.Chown(path, user, -1); err != nil {
		t.Fatal(err)
	}
	chmod(t, path, mode)
}
