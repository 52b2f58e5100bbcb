package main

import (
	"context"
	"io"

	"evenfall/internal/pipesize"
	"evenfall/internal/sheets"
)

const sizeUsage = `Usage: evenfall size PLAN.json --out FILE [--force]

Reads a plan file ("-" for standard input), seeks the pipe sizes of least cost
that keep the limits of velocity, pressure and spread, checks them by solving
every zone, and writes the plan with these sizes to FILE ("-" for standard
output). Pipes that are locked, or laid already, keep theirs. What changes is printed
on standard error. When no sizes satisfy, nothing is written, and the limit that
binds is named.

  --out FILE  the plan file to write
  --force     replace it when it is there already
`

// runSize writes a plan file with sized pipes. It returns the exit code.
func runSize(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("size", sizeUsage, stdout, stderr)
	to := c.target()
	p, code := to.read(args, stdin)
	if p == nil {
		return code
	}
	offer, err := pipesize.Propose(ctx, p, func(int, int) {})
	if err != nil {
		return c.failed(err)
	}
	sized, err := withPatch(p, offer.Patch)
	if err != nil {
		return c.failed(err)
	}
	if err := to.write(sized); err != nil {
		return c.failed(err)
	}
	return c.done(sheets.Sizes(stderr, p, offer))
}
