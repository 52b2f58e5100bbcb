// Package migrations embeds the changes of the database schema, in order. A
// change that was ever released is never edited: the next one mends it.
package migrations

import "embed"

// Files holds one SQL file for each version, named by its number.
//
//go:embed *.sql
var Files embed.FS
