package arrange

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The bounds of what may be asked for. Chosen: past them an answer says nothing
// more, and a search would not end while somebody waits.
const (
	SeedMost   = 999_999_999
	EffortMost = 2_000_000 // evaluations for each number of heads
	pastMost   = 100.      // percent
	arcLeast   = 1.        // degrees
	arcMost    = 90.
	throwLeast = 0.1 // feet
	throwMost  = 5.
)

// Effort is a budget with a name.
type Effort struct {
	Name, Words string
	Of          int // evaluations for each number of heads
}

// Efforts are the budgets offered, rising; the middle one is the usual.
func Efforts() []Effort {
	usual := Usual().Effort
	return []Effort{
		{"quick", "Quick: a first look", usual / 6},
		{"usual", "Usual", usual},
		{"thorough", "Thorough: about four times as long", 4 * usual},
	}
}

// Asked reads what is asked for by named texts, as an address or a command line
// gives them; what is not given, "", is as usual.
//
//	areas     planting areas by id or name, commas between
//	families  spray, stream, rotor, strip, commas between
//	nozzles   ids in the plan or the catalogue, commas between
//	hard      percent of the flow on paving, buildings and off the lot
//	bare      percent on bare ground
//	other     percent on other planting
//	angle     degrees that arcs are whole steps of
//	throw     feet that turned-down throws are whole steps of
//	facing    1 or 0: whether a neighbour must throw towards a head
//	effort    quick, usual, thorough, or evaluations for each number of heads
//	seed      a whole number
//
// The error is a *units.Refusal or a *plan.Problem.
func Asked(p *plan.Plan, get func(name string) string) (Options, error) {
	o := Usual()
	var err error
	if o.Areas, err = p.AreasAsked(get("areas")); err != nil {
		return o, err
	}
	if o.Families, err = families(get("families")); err != nil {
		return o, err
	}
	if o.Stock, err = stock(p, get("nozzles")); err != nil {
		return o, err
	}
	for _, share := range []struct {
		name, what string
		to         *units.Ratio
	}{
		{"hard", "What may fall on paving, buildings and off the lot, in percent,", &o.Hard},
		{"bare", "What may fall on bare ground, in percent,", &o.Bare},
		{"other", "What may fall on other planting, in percent,", &o.Other},
	} {
		if s := get(share.name); s != "" {
			v, err := units.ParseBetween(share.what, s, 0, pastMost)
			if err != nil {
				return o, err
			}
			*share.to = units.Ratio(v / 100)
		}
	}
	return o, o.askedHow(get)
}

// askedHow reads how it is to be sought.
func (o *Options) askedHow(get func(name string) string) error {
	if s := get("angle"); s != "" {
		v, err := units.ParseBetween("The step of arcs, in degrees,", s, arcLeast, arcMost)
		if err != nil {
			return err
		}
		o.AngleStep = units.Degrees(v)
	}
	if s := get("throw"); s != "" {
		v, err := units.ParseBetween("The step of throws, in feet,", s, throwLeast, throwMost)
		if err != nil {
			return err
		}
		o.ThrowStep = units.Feet(v)
	}
	switch s := get("facing"); s {
	case "":
	case "0", "1":
		o.Facing = s == "1"
	default:
		return problem("Whether neighbours must face each other is 1 or 0, and “%s” is not.", short(s))
	}
	if s := get("seed"); s != "" {
		v, err := units.ParseCount("The seed", s, 0, SeedMost)
		if err != nil {
			return err
		}
		o.Seed = v
	}
	return o.askedEffort(get("effort"))
}

func (o *Options) askedEffort(s string) error {
	if s == "" {
		return nil
	}
	for _, e := range Efforts() {
		if e.Name == s {
			o.Effort = e.Of
			return nil
		}
	}
	v, err := units.ParseCount("The effort (quick, usual, thorough, or evaluations for each number of heads)", s, 1, EffortMost)
	if err != nil {
		return err
	}
	o.Effort = int(v)
	return nil
}

func families(list string) ([]catalog.Family, error) {
	all := []catalog.Family{catalog.Spray, catalog.Strip, catalog.Stream, catalog.Rotor}
	var out []catalog.Family
	for _, s := range plan.Listing(list) {
		f := catalog.Family(strings.TrimSuffix(strings.ToLower(s), "s"))
		if !slices.Contains(all, f) {
			return nil, problem("“%s” is no family of nozzles. The families are spray, strip, stream and rotor.", short(s))
		}
		if !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	return out, nil
}

func stock(p *plan.Plan, list string) ([]plan.ID, error) {
	var out []plan.ID
	for _, s := range plan.Listing(list) {
		id := plan.ID(s)
		if _, own := p.Nozzles[id]; !own {
			if _, known := catalog.FindNozzle(s); !known {
				return nil, problem("No nozzle of the plan or of the catalogue has the id “%s”.", short(s))
			}
		}
		if !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out, nil
}

func problem(format string, args ...any) error {
	return &plan.Problem{Sentence: fmt.Sprintf(format, args...)}
}

// short keeps a sentence readable whatever was written.
func short(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}
