//go:build unix

package store_test

import "syscall"

// openUmask lets files be made as open as the program asks, and returns how to
// put the mask back.
func openUmask() func() {
	old := syscall.Umask(0)
	return func() { syscall.Umask(old) }
}
