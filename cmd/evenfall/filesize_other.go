//go:build !unix

package main

// takeFullDisksAsErrors has nothing to do where there is no such signal.
func takeFullDisksAsErrors() {}
