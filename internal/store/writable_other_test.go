//go:build unix && !linux

package store_test

import "testing"

func readOnlyDisk(t *testing.T, _ string) { t.Skip("a disk for reading is only made on Linux here") }
