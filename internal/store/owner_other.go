//go:build !unix

package store

// whoMayWrite says what to do about a file that may not be written to.
func whoMayWrite(string) string { return ". Choose another folder with --data" }
