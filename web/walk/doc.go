// Package walk holds the browser tests: a real Chromium drives the real program
// the way a person would. It has no code of its own; the tests need the build
// tag browser, which go run ./cmd/dev test sets.
package walk
