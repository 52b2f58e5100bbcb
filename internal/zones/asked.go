package zones

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The bounds of what may be asked for. Chosen.
const (
	SeedMost   = 999_999_999
	EffortMost = 5_000_000 // evaluations
	limitMost  = 10_000.   // gpm
	needMost   = 10.       // inches a week
)

// Asked reads what is asked for by named texts, as an address or a command line
// gives them; what is not given, "", is as
// the plan says or as usual.
//
//	areas   planting areas by id or name, commas between
//	limit   gpm that a zone may take
//	days    days a week there is to water on
//	hours   hours of such a day
//	need    inches a week at peak, of turf
//	effort  evaluations
//	seed    a whole number
//
// The error is a *units.Refusal or a *plan.Problem.
func Asked(p *plan.Plan, get func(name string) string) (Options, error) {
	o := Options{Window: WindowOf(p), Seed: 1}
	var err error
	if o.Areas, err = p.AreasAsked(get("areas")); err != nil {
		return o, err
	}
	days, effort := uint64(o.Window.Days), uint64(0)
	limit, need := 0., float64(o.Window.Need)
	for _, n := range []struct {
		name, what  string
		least, most float64
		to          *float64
	}{
		{"limit", "The most that a zone may take, in gpm,", 0.1, limitMost, &limit},
		{"hours", "The hours of a day there are to water in", 0.25, 24, &o.Window.Hours},
		{"need", "The need of turf at peak, in inches a week,", 0.01, needMost, &need},
	} {
		if s := get(n.name); s != "" {
			if *n.to, err = units.ParseBetween(n.what, s, n.least, n.most); err != nil {
				return o, err
			}
		}
	}
	for _, n := range []struct {
		name, what  string
		least, most float64
		to          *uint64
	}{
		{"days", "The days of a week there are to water on", 1, 7, &days},
		{"seed", "The seed", 0, SeedMost, &o.Seed},
		{"effort", "The effort, in evaluations,", 1, EffortMost, &effort},
	} {
		if s := get(n.name); s != "" {
			if *n.to, err = units.ParseCount(n.what, s, n.least, n.most); err != nil {
				return o, err
			}
		}
	}
	o.Window.Days, o.Window.Need, o.Limit, o.Effort = int(days), units.Inches(need), units.GPM(limit), int(effort)
	return o, nil
}
