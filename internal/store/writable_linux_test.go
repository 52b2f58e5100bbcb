package store_test

import (
	"syscall"
	"testing"
)

// readOnlyDisk puts the folder onto itself for reading only.
func readOnlyDisk(t *testing.T, dir string) {
	t.Helper()
	if err := syscall.Mount(dir, dir, "", syscall.MS_BIND, ""); err != nil {
		t.Skipf("this machine lets no disk be mounted: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	if err := syscall.Mount(dir, dir, "", syscall.MS_BIND|syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Skipf("this machine lets no disk be mounted for reading: %v", err)
	}
}
