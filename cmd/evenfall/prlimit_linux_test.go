package main

import (
	"syscall"
	"unsafe"
)

// prlimit sets the limit on the size of files of another program (prlimit(2)).
func prlimit(pid int, limit *syscall.Rlimit) error {
	_, _, errno := syscall.RawSyscall6(syscall.SYS_PRLIMIT64, uintptr(pid), syscall.RLIMIT_FSIZE, uintptr(unsafe.Pointer(limit)), 0, 0, 0)
	if errno != 0 {
		return errno
	}
	return nil
}
