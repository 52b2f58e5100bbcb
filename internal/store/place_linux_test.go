package store_test

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"evenfall/internal/store"
)

// TestRowB24_FileSystemsAreKnownByTheirNumbers checks the magic numbers against
// the manual page statfs(2) of man-pages 6, copied here, and against the kernel's
// own header where that is installed.
func TestRowB24_FileSystemsAreKnownByTheirNumbers(t *testing.T) {
	header := kernelNumbers(t)
	for _, c := range []struct {
		name  string
		magic uint32
		has   string // "" when it is one to keep plans on
	}{
		{"NFS_SUPER_MAGIC", 0x6969, "NFS"},
		{"SMB_SUPER_MAGIC", 0x517b, "SMB"},
		{"CIFS_SUPER_MAGIC", 0xff534d42, "SMB"},
		{"SMB2_SUPER_MAGIC", 0xfe534d42, "SMB"},
		{"FUSE_SUPER_MAGIC", 0x65735546, "FUSE"},
		{"CEPH_SUPER_MAGIC", 0x00c36400, "Ceph"},
		{"AFS_SUPER_MAGIC", 0x5346414f, "AFS"},
		{"AFS_FS_MAGIC", 0x6b414653, "AFS"},
		{"CODA_SUPER_MAGIC", 0x73757245, "Coda"},
		{"V9FS_MAGIC", 0x01021997, "9P"},
		{"EXT4_SUPER_MAGIC", 0xef53, ""},
		{"BTRFS_SUPER_MAGIC", 0x9123683e, ""},
		{"XFS_SUPER_MAGIC", 0x58465342, ""},
		{"TMPFS_MAGIC", 0x01021994, ""},
		{"OVERLAYFS_SUPER_MAGIC", 0x794c7630, ""},
		{"F2FS_SUPER_MAGIC", 0xf2f52010, ""},
	} {
		if got := store.KindOf(c.magic); c.has == "" && got != "" || !strings.Contains(got, c.has) {
			t.Errorf("%s: got %q, want %q in it", c.name, got, c.has)
		}
		if said, ok := header[c.name]; ok && said != c.magic {
			t.Errorf("%s: the kernel's header says %#x, we have %#x", c.name, said, c.magic)
		}
	}
}

var defined = regexp.MustCompile(`(?m)^#define\s+(\w+_MAGIC)\s+(0x[0-9A-Fa-f]+)`)

func kernelNumbers(t *testing.T) map[string]uint32 {
	t.Helper()
	b, err := os.ReadFile("/usr/include/linux/magic.h")
	if err != nil {
		return nil // not installed: the manual's numbers stand alone
	}
	numbers := map[string]uint32{}
	for _, m := range defined.FindAllStringSubmatch(string(b), -1) {
		n, err := strconv.ParseUint(m[2], 0, 32)
		if err != nil {
			t.Fatal(err)
		}
		numbers[m[1]] = uint32(n)
	}
	if len(numbers) < 20 {
		t.Errorf("only %d numbers were read from the header", len(numbers))
	}
	return numbers
}

func TestRowB24_ACopyOfASyncedFolderIsASign(t *testing.T) {
	for name, sign := range map[string]bool{
		"evenfall (conflicted copy 2026-06-01).db":     true,
		"evenfall.sync-conflict-20260601-080000-XY.db": true,
		"evenfall_conflict-20260601.db":                true,
		"photo (conflicted copy).jpg":                  false,
		"evenfall-set-aside-2026-06-01-080000.db":      false,
	} {
		dir := t.TempDir()
		write(t, filepath.Join(dir, name), nil)
		s, err := store.Open(context.Background(), dir)
		if err != nil {
			t.Fatal(err)
		}
		if got := len(s.Warnings) > 0 && strings.Contains(s.Warnings[0], name); got != sign {
			t.Errorf("%s: warnings %q, want one: %v", name, s.Warnings, sign)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
}
