package web

import (
	"fmt"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/internal/zones"
)

// noGroups says why heads cannot be grouped.
func noGroups(rev int64, no *zones.Refusal) *GroupView {
	return &GroupView{Rev: rev, Says: sentence(no.Sentence), At: no.At, Zones: []GroupZone{}, Notes: []string{}, Caution: zones.Caution}
}

// groupWords puts a grouping into words.
func groupWords(p *plan.Plan, rev int64, o *zones.Offer) *GroupView {
	v := &GroupView{
		Rev: rev, Offered: true, Says: o.Says, Patch: patchOf(o.Patch), Label: o.Label, Zones: []GroupZone{},
		Bound: o.Bound.Says, Proved: o.Bound.Proved, Limit: p.Show.Flow(o.Limit), Minutes: arrange.Minutes(o.Minutes),
		Fits: o.Fits, Window: o.Window, Notes: orEmpty(o.Notes), Caution: zones.Caution,
		Evaluations: weighed(o.Evaluations, "grouping", "groupings"),
	}
	m := maker{p: p, sys: p.Show}
	for _, g := range o.Groups {
		z := GroupZone{
			Zone: g.Zone, Name: g.Name, Station: g.Station, Heads: orEmpty(g.Heads), Count: plan.Plural(len(g.Heads), "head", "heads"),
			Areas: plan.Series(m.names("areas", g.Areas)), Kind: g.Kind, Flow: m.ofFlow(g.Flow, o.Limit),
			Share: finite(share(g.Flow, o.Limit)), Rate: p.Show.Rate(g.Rate), Minutes: arrange.Minutes(g.Minutes),
			X: finite(g.Valve[0]), Y: finite(g.Valve[1]), Manifold: g.Manifold, Where: g.Where, Locked: g.Locked,
		}
		if z.Name == "" {
			z.Name = fmt.Sprintf("Zone %d", g.Station)
		}
		v.Zones = append(v.Zones, z)
	}
	return v
}

func share(part, whole units.GPM) float64 {
	if !(whole > 0) {
		return 0
	}
	return float64(part) / float64(whole)
}
