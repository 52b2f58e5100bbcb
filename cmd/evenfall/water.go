package main

import (
	"bytes"
	"context"
	_ "embed"
	"fmt"
	"io"

	"evenfall/internal/climate"
	"evenfall/internal/season"
	"evenfall/internal/sheets"
)

const waterUsage = `Usage: evenfall water [--month NAME] [--json] [--chains] [--out FILE] [--force] PLAN.json

Reads a plan file ("-" for standard input), works out the watering program of each
month from its climate, planting, soil and what each zone puts on each area, and prints
what is keyed in at the controller: days, starts and minutes, the year by month, what
the areas get and need, and the sums of the zones one by one beside them. A program
that does not fit its days and hours is an answer: it says which limit is not kept and
what would help.

  --month NAME  the month that is printed in full, as july (the peak)
  --chains      with every figure from the weather to the minutes of each zone
  --json        print it as JSON instead, each figure with its chain: every month, or
                the one named (its schema: evenfall water --schema)
  --schema      print the JSON Schema of that and stop
  --out FILE    write it to FILE instead of printing it
  --force       replace that file when it is there already

For a spreadsheet or a calendar, evenfall export writes program.csv and program.ics.
`

// waterSchema describes what --json prints. It is made from the types by the tests.
//
//go:embed water.schema.json
var waterSchema []byte

// runWater prints the watering program of a plan file. It returns the exit code.
func runWater(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("water", waterUsage, stdout, stderr)
	named := c.flags.String("month", "", "")
	asJSON := c.flags.Bool("json", false, "")
	schema := c.flags.Bool("schema", false, "")
	chains := c.flags.Bool("chains", false, "")
	out := c.flags.String("out", "", "")
	force := c.flags.Bool("force", false, "")
	files, code, done := c.parse(args)
	switch {
	case done:
		return code
	case *schema:
		return c.write(waterSchema)
	case len(files) != 1:
		return c.misused("Name one plan file, or - for standard input.")
	}
	month, err := monthAsked(*named)
	if err != nil {
		return c.misused("%s.", err)
	}
	p, err := readPlan(files[0], stdin)
	if err != nil {
		return c.failed(err)
	}
	prog, err := season.Work(ctx, p, nil, nil)
	if err != nil {
		return c.failed(err)
	}
	var text bytes.Buffer
	if *asJSON {
		err = printJSON(&text, waterAnswerOf(p, prog, month))
	} else {
		if month < 0 {
			month = max(prog.Year.Peak, 0)
		}
		err = sheets.ProgramText(&text, p, prog, month, *chains)
	}
	switch {
	case err != nil:
		return c.failed(err)
	case *out == "" || *out == "-":
		return c.write(text.Bytes())
	}
	return c.done(writeFile(*out, text.Bytes(), *force))
}

// monthAsked is the month of a name or the beginning of it; -1 for none.
func monthAsked(name string) (int, error) {
	if name == "" {
		return -1, nil
	}
	if month, ok := climate.MonthNamed(name); ok {
		return month, nil
	}
	return 0, fmt.Errorf("--month takes the name of a month, as july, not %q", name)
}
