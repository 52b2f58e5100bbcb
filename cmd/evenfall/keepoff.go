package main

import (
	"context"
	"io"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/zones"
)

const keepOffUsage = `Usage: evenfall keep-off PLAN.json --area AREA --out FILE [options]

Reads a plan file ("-" for standard input), seeks how the heads of other zones are kept
off one area by turning arcs in, by nozzles of other arcs and by throws a quarter shorter
at most, and writes the plan so changed to FILE ("-" for standard output). What changes,
before and after, is printed as JSON on standard output, or on standard error when the
plan goes there. Locked heads and those there already stay as they are. Where it is not
worth what it does to the ground of those heads that is said, and the plan is written as
it is.

  --area AREA       the area, by id or name
  --out FILE        the plan file to write
  --force           replace it when it is there already
  --nozzles LIST    ids of the nozzles in stock (every generic one, and the plan's)
  --angle DEG       degrees that arcs are whole steps of (15)
  --effort HOW      quick, usual, thorough, or a number of evaluations
  --text            print the changes to be read instead
`

// keptOff is what keep-off prints.
type keptOff struct {
	heading
	Area        plan.ID                `json:"area"`
	Offered     bool                   `json:"offered"` // false: the plan is written as it is
	Says        string                 `json:"says"`
	Before      arrange.BedWater       `json:"before"` // of the area
	After       arrange.BedWater       `json:"after"`
	Changes     []arrange.Turned       `json:"changes"` // not made where it is not offered
	Grounds     []arrange.TurnedGround `json:"grounds"` // that the changed heads stand for
	Notes       []string               `json:"notes"`
	Evaluations int                    `json:"evaluations"`
}

// runKeepOff writes a plan file with the heads of other zones kept off one area. It
// returns the exit code.
func runKeepOff(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("keep-off", keepOffUsage, stdout, stderr)
	return c.changes(args, stdin, []string{"area", "nozzles", "angle", "effort"}, func(p *plan.Plan, asked func(string) string) (*changed, error) {
		area, o, err := arrange.KeepOffAsked(p, asked)
		if err != nil {
			return nil, err
		}
		o.ZoneMost = zones.MostFlow(p)
		found, err := arrange.KeepOff(ctx, p, area, o, nil)
		if err != nil {
			return nil, err
		}
		next, err := withPatch(p, found.Patch)
		told := keptOff{
			heading: headingOf("kept-off", p), Area: area, Offered: found.Offered, Says: found.Says, Before: found.Before, After: found.After,
			Changes: found.Changes, Grounds: found.Grounds, Notes: found.Notes, Evaluations: found.Evaluations,
		}
		return &changed{plan: next, told: told, text: func(w io.Writer) error { return sheets.KeptOff(w, p, found) }}, err
	})
}
