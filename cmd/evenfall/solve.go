package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/sheets"
)

const solveUsage = `Usage: evenfall solve [--text] [--together STATIONS] PLAN.json

Reads a plan file ("-" for standard input) and prints, as JSON, the limits of its
supply, and for each zone running by itself the pressure and flow of every head,
the flow and velocity in every pipe, and what takes the pressure on the way to
the worst head. A zone that cannot be solved yet says what it lacks.

  --text                print it to be read instead
  --together STATIONS   solve the zones of these stations running at the same
                        time, as in --together 1,3
`

// pressures is what solve prints.
type pressures struct {
	heading
	*pressure.Result
}

// runSolve prints the pressures of a plan file. It returns the exit code.
func runSolve(_ context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("solve", solveUsage, stdout, stderr)
	asText := c.flags.Bool("text", false, "")
	together := c.flags.String("together", "", "")
	file, code, done := c.parseOne(args)
	if done {
		return code
	}
	p, err := readPlan(file, stdin)
	if err != nil {
		return c.failed(err)
	}
	net := pipework.Of(p)
	r, _ := pressure.Compute(p, net)
	if *together != "" {
		zones, err := zonesOf(p, *together)
		if err != nil {
			return c.failed(err)
		}
		r.Zones = pressure.Together(p, net, zones...)
	}
	if *asText {
		return c.done(sheets.Pressures(stdout, p, r))
	}
	return c.done(printJSON(stdout, pressures{headingOf("pressures", p), r}))
}

// zonesOf are the zones of stations: "1,3".
func zonesOf(p *plan.Plan, stations string) ([]plan.ID, error) {
	var zones []plan.ID
	for word := range strings.SplitSeq(stations, ",") {
		number, err := strconv.Atoi(strings.TrimSpace(word))
		if err != nil || number < 1 {
			return nil, fmt.Errorf("--together takes numbers of stations with commas between them, as in 1,3; this is %q", stations)
		}
		at := slices.IndexFunc(plan.SortedIDs(p.Zones), func(id plan.ID) bool { return p.Zones[id].Station == number && p.Zones[id].Status.Stands() })
		if at < 0 {
			return nil, fmt.Errorf("--together %s: no zone of the plan is on station %d", stations, number)
		}
		if zone := plan.SortedIDs(p.Zones)[at]; !slices.Contains(zones, zone) {
			zones = append(zones, zone)
		}
	}
	return zones, nil
}
