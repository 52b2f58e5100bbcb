package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"strings"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
)

const reportUsage = `Usage: evenfall report [--json] [--draws N] [--seed N] PLAN.json

Reads a plan file ("-" for standard input) and prints what follows from it: the
three readings, the findings, the areas and zones, where the water goes, and the
parts to buy. Nothing is stored and no server is started.

  --json      print it as JSON instead (its schema: evenfall report --schema)
  --schema    print the JSON Schema of that and stop
  --draws N   installations drawn for the field estimate (20; 0 makes none)
  --seed N    seed of the draws (1)
`

// The field estimate of a report, unless asked otherwise.
const (
	reportDraws = 20
	reportSeed  = 1
	mostDraws   = 1000
)

// runReport prints the report of a plan file. It returns the exit code: 0 done,
// 1 the request cannot be done, 2 the command was not understood.
func runReport(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("report", reportUsage, stdout, stderr)
	asJSON := c.flags.Bool("json", false, "")
	schema := c.flags.Bool("schema", false, "")
	draws := c.flags.Int("draws", reportDraws, "")
	seed := c.flags.Uint64("seed", reportSeed, "")
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
	p, err := readPlan(files[0], stdin)
	if err != nil {
		return c.failed(err)
	}
	d, err := design.Run(ctx, p)
	if err != nil {
		return c.failed(err)
	}
	estimate := design.FieldEstimate{Seed: *seed, Draws: *draws}
	if *draws > 0 {
		if estimate.Areas, err = coverage.FieldEstimate(ctx, p, *seed, *draws); err != nil {
			return c.failed(err)
		}
	}
	return c.done(printReport(stdout, p, d, estimate, *asJSON))
}

func printReport(w io.Writer, p *plan.Plan, d *design.Design, e design.FieldEstimate, asJSON bool) error {
	if asJSON {
		return design.WriteJSON(w, p, d, e)
	}
	return sheets.Report(w, p, d, e.Areas)
}

// command is one subcommand being run: its flags and where it talks to.
type command struct {
	name, usage    string
	flags          *flag.FlagSet
	stdout, stderr io.Writer
}

func newCommand(name, usage string, stdout, stderr io.Writer) *command {
	c := &command{name, usage, flag.NewFlagSet(name, flag.ContinueOnError), stdout, stderr}
	c.flags.SetOutput(io.Discard) // its messages are not in our words
	c.flags.Usage = func() {}
	return c
}

// flagWords puts what package flag says into our words.
var flagWords = strings.NewReplacer("invalid boolean value", "cannot use", "invalid value", "cannot use",
	"flag provided but not defined:", "there is no option", "parse error", "it takes a whole number",
	"value out of range", "that is too large")

// parse reads flags and file names in any order; everything after -- is a file
// name. done says that there is nothing left to do but return the code.
func (c *command) parse(args []string) (files []string, code int, done bool) {
	for len(args) > 0 {
		err := c.flags.Parse(args)
		if err == flag.ErrHelp {
			return nil, c.write([]byte(c.usage)), true
		}
		if err != nil {
			return nil, c.misused("%s.", flagWords.Replace(err.Error())), true
		}
		rest := c.flags.Args()
		if used := len(args) - len(rest); used > 0 && args[used-1] == "--" {
			return append(files, rest...), 0, false
		}
		if len(rest) > 0 {
			files, rest = append(files, rest[0]), rest[1:]
		}
		args = rest
	}
	return files, 0, false
}

// misused says what was not understood about the command and returns 2.
func (c *command) misused(format string, args ...any) int {
	fmt.Fprintf(c.stderr, "evenfall %s: %s\n\n%s", c.name, fmt.Sprintf(format, args...), c.usage)
	return 2
}

// failed says why the request cannot be done and returns 1.
func (c *command) failed(err error) int {
	for _, line := range explain(err) {
		fmt.Fprintf(c.stderr, "evenfall %s: %s\n", c.name, line)
	}
	return 1
}

// done returns 0, or says what went wrong and returns 1.
func (c *command) done(err error) int {
	if err != nil {
		return c.failed(err)
	}
	return 0
}

func (c *command) write(text []byte) int {
	_, err := c.stdout.Write(text)
	return c.done(err)
}
