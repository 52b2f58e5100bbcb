package main

import (
	"context"
	"encoding/json"
	"io"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/sheets"
)

const solveUsage = `Usage: evenfall solve [--text] PLAN.json

Reads a plan file ("-" for standard input) and prints, as JSON, the limits of its
supply, and for each zone running by itself the pressure and flow of every head,
the flow and velocity in every pipe, and what takes the pressure on the way to
the worst head. A zone that cannot be solved yet says what it lacks.

  --text      print it to be read instead
`

// pressures is what solve prints.
type pressures struct {
	Format string `json:"format"`
	Name   string `json:"name"`        // of the plan
	Plan   string `json:"plan_sha256"` // of the plan's canonical form
	*pressure.Result
}

// runSolve prints the pressures of a plan file. It returns the exit code.
func runSolve(_ context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("solve", solveUsage, stdout, stderr)
	asText := c.flags.Bool("text", false, "")
	files, code, done := c.parse(args)
	switch {
	case done:
		return code
	case len(files) != 1:
		return c.misused("Name one plan file, or - for standard input.")
	}
	p, err := readPlan(files[0], stdin)
	if err != nil {
		return c.failed(err)
	}
	r, _ := pressure.Compute(p, pipework.Of(p))
	if *asText {
		return c.done(sheets.Pressures(stdout, p, r))
	}
	out := json.NewEncoder(stdout)
	out.SetEscapeHTML(false)
	out.SetIndent("", "  ")
	return c.done(out.Encode(pressures{"evenfall-pressures/1", p.Name, plan.Digest(p.Encode()), r}))
}
