package main

import (
	"context"
	"io"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
	"evenfall/internal/zones"
)

const groupUsage = `Usage: evenfall group PLAN.json --out FILE [options]

Reads a plan file ("-" for standard input), groups its heads into the fewest zones
that the supply can feed, each of one planting, exposure, soil, slope and rate, and
writes the plan with these zones to FILE ("-" for standard output). The zones and
the least number of valves there can be are printed as JSON on standard output, or on
standard error when the plan goes there. Locked zones stay. When there is no such
grouping, nothing is written, and what stands in the way is named.

  --out FILE      the plan file to write
  --force         replace it when it is there already
  --areas LIST    planting areas by id or name, commas between (all)
  --limit GPM     the most a zone may take (the design flow less its margin)
  --days N        days a week there is to water on (3)
  --hours N       hours of such a day (8)
  --need INCHES   a week at peak, of turf (1.4)
  --effort N      evaluations (the usual)
  --seed N        a whole number (1)
  --text          print the zones to be read instead
`

// grouping is what group prints.
type grouping struct {
	heading
	Seed        uint64        `json:"seed"`
	Says        string        `json:"says"`
	Limit       units.GPM     `json:"limit_gpm"`
	Zones       []zones.Group `json:"zones"`
	Bound       zones.Bound   `json:"bound"`
	Minutes     float64       `json:"minutes_a_week"`
	Fits        bool          `json:"fits_window"`
	Window      string        `json:"window_says"`
	Notes       []string      `json:"notes"`
	Evaluations int           `json:"evaluations"`
}

// runGroup writes a plan file with its heads grouped. It returns the exit code.
func runGroup(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("group", groupUsage, stdout, stderr)
	named := []string{"areas", "limit", "days", "hours", "need", "effort", "seed"}
	return c.changes(args, stdin, named, func(p *plan.Plan, asked func(string) string) (*changed, error) {
		o, err := zones.Asked(p, asked)
		if err != nil {
			return nil, err
		}
		found, err := zones.Propose(ctx, p, o, func(int, int) {})
		if err != nil {
			return nil, err
		}
		grouped, err := withPatch(p, found.Patch)
		told := grouping{
			heading: headingOf("zones", p), Seed: o.Seed, Says: found.Says, Limit: found.Limit,
			Zones: append([]zones.Group{}, found.Groups...), Bound: found.Bound, Minutes: found.Minutes, Fits: found.Fits, Window: found.Window,
			Notes: append([]string{}, found.Notes...), Evaluations: found.Evaluations,
		}
		return &changed{plan: grouped, told: told, text: func(w io.Writer) error { return sheets.Groups(w, p, found) }}, err
	})
}
