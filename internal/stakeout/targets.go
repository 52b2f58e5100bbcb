package stakeout

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

// targetsOf is all that gets a flag: new heads, the boxes of new valves, splice boxes,
// the backflow device, the controller, and what the caller adds. A controller indoors
// is left out by Of.
func targetsOf(p *plan.Plan, d *trench.Digs, more []Target) []Target {
	var out []Target
	for _, id := range plan.SortedIDs(p.Heads) {
		if h := p.Heads[id]; h.Status.IsNew() {
			out = append(out, Target{plan.RefTo("heads", id), p.HeadTag(id), "head", orb.Point{float64(h.X), float64(h.Y)}})
		}
	}
	if d != nil {
		out = append(out, boxTargets(p, d)...)
	}
	if at := p.Supply.BackflowAt; at != nil && p.Supply.Status.IsNew() {
		out = append(out, Target{"supply", "BF", "backflow", orb.Point{float64(at.X), float64(at.Y)}})
	}
	if at := p.Controller.At; at != nil && p.Controller.Status.IsNew() {
		out = append(out, Target{"controller", "CON", "controller", orb.Point{float64(at.X), float64(at.Y)}})
	}
	return append(out, more...)
}

func boxTargets(p *plan.Plan, d *trench.Digs) []Target {
	var out []Target
	splices := 0
	for _, b := range d.Boxes {
		switch {
		case len(b.Zones) > 0 && b.New:
			out = append(out, Target{plan.RefTo("zones", b.Zones[0]), valveTag(p, b.Zones), "valve", b.At})
		case b.Master && b.New:
			out = append(out, Target{"supply", "MV", "valve", b.At})
		case b.Drawn != "":
			splices++
			if b.New {
				out = append(out, Target{plan.RefTo("boxes", b.Drawn), fmt.Sprintf("SB%d", splices), "box", b.At})
			}
		}
	}
	return out
}

// valveTag is what is written on the flag of a valve box: "V1 V2 V6", by station; a zone
// without a station goes by its name.
func valveTag(p *plan.Plan, zones []plan.ID) string {
	var tags []string
	for _, id := range zones {
		z := p.Zones[id]
		switch {
		case z.Station > 0:
			tags = append(tags, fmt.Sprintf("V%d", z.Station))
		default:
			tags = append(tags, "V "+p.ZoneName(id))
		}
	}
	return strings.Join(tags, " ")
}

// outOf are the heads to be taken out, by id, each told from the nearest fixed point.
func (w *work) outOf() []Old {
	var out []Old
	for _, id := range plan.SortedIDs(w.p.Heads) {
		h := w.p.Heads[id]
		if h.Status != plan.Remove {
			continue
		}
		o := Old{Of: plan.RefTo("heads", id), Tag: w.p.HeadTag(id), At: orb.Point{float64(h.X), float64(h.Y)}}
		best, near := math.Inf(1), -1
		for i, s := range w.g.spots {
			if d := apart(s.at, o.At); d < best && s.rank < ofFlag {
				best, near = d, i
			}
		}
		o.Where = "look for it on the layout plan"
		if near >= 0 {
			s := w.g.spots[near]
			o.Where = fmt.Sprintf("about %s %s of %s", w.p.About(lengthOf(best)), w.p.Compass(s.at, o.At), s.called())
		}
		out = append(out, o)
	}
	return out
}
