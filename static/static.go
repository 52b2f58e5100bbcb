// Package static embeds the built browser files; `go run ./cmd/dev gen` makes
// them from web/editor.
package static

import "embed"

// Files are the browser's scripts, style sheet and icon.
//
//go:embed *.js *.css *.svg
var Files embed.FS
