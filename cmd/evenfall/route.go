package main

import (
	"context"
	"io"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/trench"
)

const routeUsage = `Usage: evenfall route PLAN.json --out FILE [options]

Reads a plan file ("-" for standard input), seeks routes from the point of connection
through the valves to the heads, with sleeves under paving and wire from the
controller, and writes the plan with them to FILE ("-" for standard output). What the
ways cost goes by the plan's figures of digging; trenches are shared where that is
cheaper. The measures of every offer, a cost that no routes to its valves can be below,
and the ends that no way leads to are printed as JSON on standard output, or on standard
error when the plan goes there. Pipes that are locked, or laid already, stay and are
used; with --keep yes, so does all that is drawn. When nothing can be routed, nothing is
written, and what is missing is named.

  --out FILE      the plan file to write
  --force         replace it when it is there already
  --zones LIST    zones by id, station or name, commas between (all)
  --wire yes|no   whether wire is laid, too (yes)
  --keep yes|no   whether all that is drawn stays and the rest is joined to it (no)
  --valves HOW    as_placed, or weighed: near their heads, joined, and as placed
  --offer NAME|N  the offer to take, by its name or number (1, the cheapest)
  --effort N      evaluations for each way of placing valves (the usual)
  --seed N        a whole number (1)
  --text          print the measures to be read instead
`

// routes is what route prints.
type routes struct {
	heading
	Seed        uint64           `json:"seed"`
	Taken       int              `json:"taken"` // number of the offer, from 1
	Offers      []routeOffer     `json:"offers"`
	Blocked     []trench.Blocked `json:"blocked"`
	Notes       []string         `json:"notes"`
	Evaluations int              `json:"evaluations"`
	Caution     string           `json:"caution"`
}

type routeOffer struct {
	Name     string          `json:"name"`
	Says     string          `json:"says"`
	Measures trench.Measures `json:"measures"`
	Notes    []string        `json:"notes"`
}

// runRoute writes a plan file with its trenches routed. It returns the exit code.
func runRoute(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("route", routeUsage, stdout, stderr)
	offer := c.flags.String("offer", "1", "")
	return c.changes(args, stdin, []string{"zones", "wire", "keep", "valves", "effort", "seed"}, func(p *plan.Plan, asked func(string) string) (*changed, error) {
		o, err := trench.Asked(p, asked)
		if err != nil {
			return nil, err
		}
		found, err := trench.Propose(ctx, p, o, func(int, int) {})
		if err != nil {
			return nil, err
		}
		told := routes{heading: headingOf("routes", p), Seed: o.Seed, Blocked: found.Blocked, Notes: found.Notes, Evaluations: found.Evaluations, Caution: trench.Caution}
		var names []string
		for _, v := range found.Offers {
			names = append(names, v.Name)
			told.Offers = append(told.Offers, routeOffer{v.Name, v.Says, v.Measures, v.Notes})
		}
		at, err := offerCalled(names, *offer)
		if err != nil {
			return nil, err
		}
		told.Taken = at + 1
		routed, err := withPatch(p, found.Offers[at].Patch)
		return &changed{plan: routed, told: told, text: func(w io.Writer) error { return sheets.Routes(w, p, found, at) }}, err
	})
}
