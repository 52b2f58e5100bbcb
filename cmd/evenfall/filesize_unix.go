//go:build unix

package main

import (
	"os/signal"
	"syscall"
)

// takeFullDisksAsErrors has a file that reached a limit on its size be an error
// of the write, which is told and tried again, and not the end of the program.
func takeFullDisksAsErrors() { signal.Ignore(syscall.SIGXFSZ) }
