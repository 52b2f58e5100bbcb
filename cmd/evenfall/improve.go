package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/zones"
)

const improveUsage = `Usage: evenfall improve PLAN.json --out FILE [options]

Reads a plan file ("-" for standard input), seeks the fewest changes that cure its
dry places, mixed rates and water on what must stay dry, and writes the plan with
those taken to FILE ("-" for standard output). Each change, before and after, is
printed as JSON on standard output, or on standard error when the plan goes there.
Locked heads stay as they are. When there is nothing to change the plan is written
as it is.

  --out FILE        the plan file to write
  --force           replace it when it is there already
  --take LIST       the changes to take by their numbers, as in 1,2; all, or none
                    (all); each stands on those before it
  --areas LIST      planting areas by id or name, commas between (all)
  --families LIST   of spray, strip, stream, rotor (all)
  --nozzles LIST    ids of the nozzles in stock (every generic one, and the plan's)
  --effort HOW      quick, usual, thorough, or a number of evaluations
  --seed N          a whole number (1)
  --text            print the changes to be read instead
`

// mends is what improve prints.
type mends struct {
	heading
	Seed        uint64   `json:"seed"`
	Says        string   `json:"says"`
	Changes     []mend   `json:"changes"`
	Left        []string `json:"left"`
	Evaluations int      `json:"evaluations"`
}

type mend struct {
	Number int              `json:"number"`
	Taken  bool             `json:"taken"`
	Kind   string           `json:"kind"`
	Area   plan.ID          `json:"area"`
	Says   string           `json:"says"`
	Why    string           `json:"why"`
	Before arrange.State    `json:"before"`
	After  arrange.State    `json:"after"`
	From   []arrange.Placed `json:"from"`
	To     []arrange.Placed `json:"to"`
}

// runImprove writes a plan file with its layout mended. It returns the exit code.
func runImprove(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("improve", improveUsage, stdout, stderr)
	take := c.flags.String("take", "all", "")
	named := []string{"areas", "families", "nozzles", "effort", "seed"}
	return c.changes(args, stdin, named, func(p *plan.Plan, asked func(string) string) (*changed, error) {
		o, err := arrange.Asked(p, asked)
		if err != nil {
			return nil, err
		}
		o.ZoneMost = zones.MostFlow(p)
		found, err := arrange.Improve(ctx, p, o, func(int, int) {})
		if err != nil {
			return nil, err
		}
		taken, err := mendsTaken(*take, len(found.Mends))
		if err != nil {
			return nil, err
		}
		mended := p
		for _, i := range taken {
			if mended, err = withPatch(mended, found.Mends[i].Patch); err != nil {
				return nil, fmt.Errorf("change %d stands on those before it, and they are not all taken: %w", i+1, err)
			}
		}
		text := func(w io.Writer) error { return sheets.Mends(w, p, found, taken) }
		return &changed{plan: mended, told: mendsOf(p, o, found, taken), text: text}, nil
	})
}

// mendsTaken are the indices of the changes to take, rising.
func mendsTaken(list string, n int) ([]int, error) {
	var out []int
	switch strings.TrimSpace(list) {
	case "all":
		for i := range n {
			out = append(out, i)
		}
		return out, nil
	case "none", "":
		return nil, nil
	}
	for _, word := range plan.Listing(list) {
		number, err := strconv.Atoi(word)
		if err != nil || number < 1 || number > n {
			return nil, fmt.Errorf("--take %s: the changes have the numbers 1 to %d; write some of them with commas between, or all, or none", list, n)
		}
		if !slices.Contains(out, number-1) {
			out = append(out, number-1)
		}
	}
	slices.Sort(out)
	return out, nil
}

func mendsOf(p *plan.Plan, o arrange.Options, found *arrange.Improvement, taken []int) mends {
	out := mends{
		heading: headingOf("mends", p), Seed: o.Seed, Says: found.Says,
		Changes: []mend{}, Left: append([]string{}, found.Left...), Evaluations: found.Evaluations,
	}
	for i, m := range found.Mends {
		out.Changes = append(out.Changes, mend{i + 1, slices.Contains(taken, i), m.Kind, m.Area, m.Says, m.Why, m.Before, m.After, m.From, m.To})
	}
	return out
}
