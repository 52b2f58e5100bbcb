// Package plans embeds the demo plan, so that the program shows on its first
// start what the tests measure.
package plans

import _ "embed"

// Demo is the demo plan.
//
//go:embed demo.json
var Demo []byte
