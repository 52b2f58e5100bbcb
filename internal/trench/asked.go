package trench

import (
	"fmt"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The bounds of what may be asked for. Chosen.
const (
	SeedMost   = 999_999_999
	EffortMost = 5_000_000 // evaluations
)

// Asked reads what is asked for by named texts, as an address or a command line
// gives them; what is not given, "", is as usual.
//
//	zones   zones by id, station or name, commas between; none: all that stand
//	wire    no: pipes only
//	keep    yes: what is drawn stays, and what is not joined yet is joined to it
//	valves  as_placed or weighed
//	seed    a whole number
//	effort  evaluations
//
// The error is a *units.Refusal or a *plan.Problem.
func Asked(p *plan.Plan, get func(name string) string) (Options, error) {
	o := Options{Wire: true, Valves: AsPlaced, Seed: 1}
	var err error
	if o.Zones, err = p.ZonesAsked(get("zones")); err != nil {
		return o, err
	}
	for _, n := range []struct {
		name, what string
		take       func(string)
		words      []string
	}{
		{"wire", "Whether wire is laid, too", func(s string) { o.Wire = s == "yes" }, []string{"yes", "no"}},
		{"keep", "Whether what is drawn stays", func(s string) { o.Keep = s == "yes" }, []string{"yes", "no"}},
		{"valves", "Where valves may go", func(s string) { o.Valves = Placing(s) }, []string{string(AsPlaced), string(Weighed)}},
	} {
		s := get(n.name)
		if s == "" {
			continue
		}
		if !slices.Contains(n.words, s) {
			return o, &units.Refusal{Typed: s, Sentence: fmt.Sprintf("%s is %s or %s, not %q.", n.what, n.words[0], n.words[1], s)}
		}
		n.take(s)
	}
	effort := uint64(0)
	for _, n := range []struct {
		name, what  string
		least, most float64
		to          *uint64
	}{
		{"seed", "The seed", 0, SeedMost, &o.Seed},
		{"effort", "The effort, in evaluations,", 1, EffortMost, &effort},
	} {
		if s := get(n.name); s != "" {
			if *n.to, err = units.ParseCount(n.what, s, n.least, n.most); err != nil {
				return o, err
			}
		}
	}
	o.Effort = int(effort)
	return o, nil
}
