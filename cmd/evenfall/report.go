package main

import (
	"context"
	"io"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/sheets"
)

const reportUsage = `Usage: evenfall report [--json] [--draws N] [--seed N] PLAN.json

Reads a plan file ("-" for standard input) and prints what follows from it: the
three readings, the findings, the areas and zones, where the water goes, and the
parts to buy. Nothing is stored and no server is started.

  --json      print it as JSON instead (its schema: evenfall report --schema)
  --schema    print the JSON Schema of that and stop
  --draws N   installations drawn for the field estimate (40; 0 makes none)
  --seed N    seed of the draws (1)
`

// mostDraws is the most installations drawn for one report: a minute or so of a
// large plan. Chosen.
const mostDraws = 1000

// runReport prints the report of a plan file. It returns the exit code.
func runReport(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("report", reportUsage, stdout, stderr)
	asJSON := c.flags.Bool("json", false, "")
	schema := c.flags.Bool("schema", false, "")
	draws := c.flags.Int("draws", coverage.UsualDraws, "")
	seed := c.flags.Uint64("seed", coverage.UsualSeed, "")
	files, code, done := c.parse(args)
	if done {
		return code
	}
	if *schema {
		return c.write(design.Schema())
	}
	if len(files) != 1 {
		return c.misused("Name one plan file, or - for standard input.")
	}
	if *draws < 0 || *draws > mostDraws {
		return c.misused("--draws takes a number from 0 to %d.", mostDraws)
	}
	p, d, err := designOf(ctx, files[0], stdin)
	if err != nil {
		return c.failed(err)
	}
	asked, err := design.Ask(ctx, p, *seed, *draws)
	if err != nil {
		return c.failed(err)
	}
	if *asJSON {
		return c.done(design.WriteJSON(stdout, p, d, asked))
	}
	return c.done(sheets.Report(stdout, p, d, asked))
}
