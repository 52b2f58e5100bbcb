//go:build !linux

package store

// freeSpace says that the space left is not known here: a backup is then tried
// without asking first.
func freeSpace(string) (bytes uint64, known bool) { return 0, false }

// diskKind says nothing here: what a folder is on is only asked on Linux.
func diskKind(string) string { return "" }
