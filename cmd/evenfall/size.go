package main

import (
	"context"
	"io"

	"evenfall/internal/pipesize"
	"evenfall/internal/plan"
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
	out := c.flags.String("out", "", "")
	force := c.flags.Bool("force", false, "")
	files, code, done := c.parse(args)
	switch {
	case done:
		return code
	case *out == "":
		return c.misused("Name the plan file to write with --out.")
	case len(files) != 1:
		return c.misused("Name one plan file, or - for standard input.")
	}
	p, err := readPlan(files[0], stdin)
	if err != nil {
		return c.failed(err)
	}
	offer, err := pipesize.Propose(ctx, p, func(int, int) {})
	if err != nil {
		return c.failed(err)
	}
	sized := p
	if offer.Patch != nil {
		if sized, err = plan.Preview(p.Encode(), offer.Patch); err != nil {
			return c.failed(err)
		}
	}
	if *out == "-" {
		_, err = stdout.Write(sized.Encode())
	} else {
		err = writeFile(*out, sized.Encode(), *force)
	}
	if err != nil {
		return c.failed(err)
	}
	return c.done(sheets.Sizes(stderr, p, offer))
}
