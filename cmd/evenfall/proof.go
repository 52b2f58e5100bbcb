package main

import (
	"bytes"
	"context"
	_ "embed"
	"io"
	"slices"
	"strings"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/sheets"
)

const proofUsage = `Usage: evenfall proof [--part NAMES] [--json] PLAN.json

Reads a plan file ("-" for standard input) and prints what was tested, found and
measured on the system in the ground beside what the plan predicts: the start-up of each
zone and what a difference most likely means, the wires at the controller and what to
touch next, the heads in walking order, what was measured as built, the catch-can audits
with the heads at fault, and what an old system would gain by mending.

  --part NAMES  only these, as start,wires: start, wires, heads, built, audit, retrofit
  --json        print it as JSON instead (its schema: evenfall proof --schema)
  --schema      print the JSON Schema of that and stop

For a spreadsheet, evenfall export writes start-up.csv, terminal-map.csv, audits.csv and
as-built.csv.
`

// proofSchema describes what --json prints. It is made from the types by the tests.
//
//go:embed proof.schema.json
var proofSchema []byte

// proofParts are what --part names, in the order they are printed.
var proofParts = []string{"start", "wires", "heads", "built", "audit", "retrofit"}

// runProof prints what was tested, found and measured of a plan file. It returns the exit code.
func runProof(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("proof", proofUsage, stdout, stderr)
	part := c.flags.String("part", "", "")
	asJSON := c.flags.Bool("json", false, "")
	schema := c.flags.Bool("schema", false, "")
	files, code, done := c.parse(args)
	switch {
	case done:
		return code
	case *schema:
		return c.write(proofSchema)
	case len(files) != 1:
		return c.misused("Name one plan file, or - for standard input.")
	}
	parts := proofParts
	if *part != "" {
		parts = strings.Split(strings.ReplaceAll(*part, " ", ""), ",")
	}
	for _, name := range parts {
		if !slices.Contains(proofParts, name) {
			return c.misused("--part takes %s, with commas between them, not %q.", plan.Series(proofParts), name)
		}
	}
	p, d, err := designOf(ctx, files[0], stdin)
	if err != nil {
		return c.failed(err)
	}
	proved, err := provedOf(ctx, p, d, parts)
	if err != nil {
		return c.failed(err)
	}
	var text bytes.Buffer
	if *asJSON {
		err = printJSON(&text, proofAnswerOf(p, proved))
	} else {
		err = sheets.ProofText(&text, p, proved)
	}
	if err != nil {
		return c.failed(err)
	}
	return c.write(text.Bytes())
}

// provedOf works out the parts.
func provedOf(ctx context.Context, p *plan.Plan, d *design.Design, parts []string) (v sheets.Proved, err error) {
	for _, name := range parts {
		switch name {
		case "start":
			start := proof.StartUp(p, d)
			v.Start = &start
		case "wires":
			wires := proof.WiresAlong(p, d.Wiring)
			v.Wires = &wires
		case "heads":
			v.Heads = append([]proof.HeadStep{}, proof.Walk(p, d, nil)...)
		case "built":
			v.Built = append([]proof.BuiltThing{}, proof.BuiltOf(p, d)...)
		case "audit":
			v.Audited = true
			v.Audits, err = proof.Audits(ctx, p)
		case "retrofit":
			v.Retrofit, err = proof.Retrofit(ctx, p, nil, nil)
		}
		if err != nil {
			return v, err
		}
	}
	return v, nil
}
