package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
)

const arrangeUsage = `Usage: evenfall arrange PLAN.json --out FILE [options]

Reads a plan file ("-" for standard input), seeks layouts of heads for its planting
areas, and writes the plan with one of them to FILE ("-" for standard output). The
measures of every layout are printed as JSON on standard output, or on standard error
when the plan goes there. Heads that are locked or existing stay; the others of these
areas make room. The same question has the same answer. When nothing can be arranged,
nothing is written, and each area says why. Stopped with ^C once it has layouts, it
writes the best of them so far, says so, and fails.

  --out FILE        the plan file to write
  --force           replace it when it is there already
  --areas LIST      planting areas by id or name, commas between (all)
  --offer NAME|N    the offer to take, by its name or number (1, the first)
  --families LIST   of spray, strip, stream, rotor (all)
  --nozzles LIST    ids of the nozzles in stock (every generic one, and the plan's)
  --hard PERCENT    of the flow that may fall on paving, buildings, off the lot (2)
  --bare PERCENT    likewise on bare ground (5)
  --other PERCENT   likewise on other planting (5)
  --angle DEGREES   arcs are whole steps of it (15)
  --throw FEET      turned-down throws are whole steps of it (1)
  --facing 0|1      whether a neighbour counts only when it throws towards a head (1)
  --effort HOW      quick, usual, thorough, or evaluations for each number of heads
  --seed N          a whole number (1)
  --text            print the measures to be read instead
`

// layouts is what arrange prints.
type layouts struct {
	heading
	Seed        uint64         `json:"seed"`
	Effort      int            `json:"effort"` // evaluations for each number of heads
	Taken       int            `json:"taken"`  // number of the offer, from 1
	Offers      []layoutOffer  `json:"offers"`
	Areas       []layoutAnswer `json:"areas"`
	Evaluations int            `json:"evaluations"`
	Notes       []string       `json:"notes"`
}

type layoutOffer struct {
	Name  string           `json:"name"`
	Says  string           `json:"says"`
	Picks []arrange.Pick   `json:"picks"`
	Total arrange.Measures `json:"total"`
}

type layoutAnswer struct {
	Area    plan.ID         `json:"area"`
	Name    string          `json:"name"`
	Why     string          `json:"why,omitempty"`
	Layouts []layoutMeasure `json:"layouts"`
}

type layoutMeasure struct {
	Family   string           `json:"family"`
	Tidy     bool             `json:"tidy"`
	Says     string           `json:"says"`
	Measures arrange.Measures `json:"measures"`
	Heads    []arrange.Placed `json:"heads"`
}

// proposing is a search for layouts.
type proposing func(context.Context, *plan.Plan, arrange.Options, func(arrange.Stage)) (*arrange.Proposal, error)

// runArrange writes a plan file with its heads arranged. It returns the exit code.
func runArrange(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	return arrangeBy(ctx, arrange.Propose, args, stdin, stdout, stderr)
}

func arrangeBy(ctx context.Context, propose proposing, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("arrange", arrangeUsage, stdout, stderr)
	offer := c.flags.String("offer", "1", "")
	named := []string{"areas", "families", "nozzles", "hard", "bare", "other", "angle", "throw", "facing", "effort", "seed"}
	return c.changes(args, stdin, named, func(p *plan.Plan, asked func(string) string) (*changed, error) {
		o, err := arrange.Asked(p, asked)
		if err != nil {
			return nil, err
		}
		found, err := propose(ctx, p, o, func(arrange.Stage) {})
		var early error
		if errors.Is(err, context.Canceled) && found != nil && len(found.Offers) > 0 {
			early, err = errors.New("stopped early; the best so far is written"), nil
		}
		if err != nil {
			return nil, err
		}
		if len(found.Offers) == 0 {
			return nil, nothingArranged(p, found)
		}
		names := make([]string, len(found.Offers))
		for i, o := range found.Offers {
			names[i] = o.Name
		}
		at, err := offerCalled(names, *offer)
		if err != nil {
			return nil, err
		}
		arranged, err := withPatch(p, found.Offers[at].Patch)
		text := func(w io.Writer) error { return sheets.Layouts(w, p, found, at) }
		return &changed{arranged, layoutsOf(p, o, found, at), text, early}, err
	})
}

// nothingArranged says why, area by area.
func nothingArranged(p *plan.Plan, found *arrange.Proposal) error {
	said := []error{errors.New("nothing can be arranged")}
	for _, a := range found.Answers {
		said = append(said, fmt.Errorf("%s: %s", p.AreaName(a.Area), a.Why))
	}
	return errors.Join(said...)
}

// offerCalled is the index of an offer by its number or its name.
func offerCalled(names []string, asked string) (int, error) {
	if n, err := strconv.Atoi(asked); err == nil && n >= 1 && n <= len(names) {
		return n - 1, nil
	}
	numbered := make([]string, len(names))
	for i, name := range names {
		if strings.EqualFold(name, strings.TrimSpace(asked)) {
			return i, nil
		}
		numbered[i] = fmt.Sprintf("%d %s", i+1, name)
	}
	return 0, fmt.Errorf("--offer %s: no offer has this name or number; there are %s", asked, plan.Series(numbered))
}

func layoutsOf(p *plan.Plan, o arrange.Options, found *arrange.Proposal, taken int) layouts {
	out := layouts{
		heading: headingOf("layouts", p), Seed: o.Seed, Effort: o.Effort, Taken: taken + 1,
		Offers: []layoutOffer{}, Areas: []layoutAnswer{}, Evaluations: found.Evaluations, Notes: append([]string{}, found.Notes...),
	}
	for _, v := range found.Offers {
		out.Offers = append(out.Offers, layoutOffer{v.Name, v.Says, v.Picks, v.Total})
	}
	for _, a := range found.Answers {
		answer := layoutAnswer{Area: a.Area, Name: p.AreaName(a.Area), Why: a.Why, Layouts: []layoutMeasure{}}
		for _, y := range a.Layouts {
			answer.Layouts = append(answer.Layouts, layoutMeasure{string(y.Family), y.Tidy, y.Says, y.Measures, y.Heads})
		}
		out.Areas = append(out.Areas, answer)
	}
	return out
}
