package plan

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// Relief is the ground through the plan's spot heights: the finished grade where
// one is given, else the ground as it lies.
func (p *Plan) Relief() *geom.Relief {
	grade := map[Spot]bool{}
	for _, e := range p.Elevations {
		if e.Status.IsNew() {
			grade[Spot{e.X, e.Y}] = true
		}
	}
	var at []orb.Point
	var z []float64
	for _, id := range SortedIDs(p.Elevations) {
		e := p.Elevations[id]
		if !e.Status.Stands() || !e.Status.IsNew() && grade[Spot{e.X, e.Y}] {
			continue
		}
		at, z = append(at, orb.Point{float64(e.X), float64(e.Y)}), append(z, float64(e.Z))
	}
	return geom.NewRelief(at, z)
}

const (
	// lowBy is how far below the highest head of its zone a head may stand before
	// the pipe drains through it, in feet. The rule of the trade is "any lower"; half
	// a foot is what spot heights and stakes are good for. Chosen.
	lowBy = 0.5
	// checkHolds is the height a check valve holds up, in feet: 7 to 10 by common
	// practice.
	checkHolds = 7.0
	// sameHeight is the difference that rounding makes between equal heights, in feet.
	sameHeight = 1e-6
)

// checkLow finds, zone by zone, the heads that the pipe drains through after each
// run: those lower than the highest of their zone, unless a check valve holds it.
func checkLow(p *Plan) []Finding {
	if len(p.Elevations) < 2 {
		return nil
	}
	ground := p.Relief()
	heads := map[ID][]ID{}
	for _, id := range SortedIDs(p.Heads) {
		if h := p.Heads[id]; h.Status.Stands() && h.Zone != "" {
			heads[h.Zone] = append(heads[h.Zone], id)
		}
	}
	var found []Finding
	for _, zone := range SortedIDs(heads) {
		if f, low := lowHeads(p, ground, zone, heads[zone]); low {
			found = append(found, f)
		}
	}
	return found
}

// LowUnchecked are the heads that the pipe drains through after each run and whose
// bodies have no check valve, by zone.
func LowUnchecked(p *Plan) []ID {
	var out []ID
	for _, f := range checkLow(p) {
		for _, ref := range f.About {
			collection, id := ref.Split()
			if collection == "heads" && !p.Bodies[p.Heads[id].Body].CheckValve {
				out = append(out, id)
			}
		}
	}
	return out
}

func lowHeads(p *Plan, ground *geom.Relief, zone ID, heads []ID) (Finding, bool) {
	heights := make([]float64, len(heads))
	top := 0
	for i, id := range heads {
		h := p.Heads[id]
		heights[i], _ = ground.Height(orb.Point{float64(h.X), float64(h.Y)})
		if heights[i] > heights[top]+sameHeight { // of heads on a level the first is named
			top = i
		}
	}
	var low []ID
	var about []Ref
	most, checked := 0.0, 0
	for i, id := range heads {
		drop, check := heights[top]-heights[i], p.Bodies[p.Heads[id].Body].CheckValve
		switch {
		case drop < lowBy-sameHeight || check && drop <= checkHolds+sameHeight:
			continue
		case check:
			checked++
		}
		low, about, most = append(low, id), append(about, RefTo("heads", id)), math.Max(most, drop)
	}
	if len(low) == 0 {
		return Finding{}, false
	}
	held := "with nothing to hold the water back"
	switch checked {
	case 0:
	case len(low):
		held = "more than a check valve holds"
	default:
		held = "some with nothing to hold the water back, the rest by more than a check valve holds"
	}
	text := fmt.Sprintf("%s of %s %s %s lower than %s, %s.", Capital(p.HeadNames(low)), p.ZoneName(zone),
		Choose(len(low), "stands", "stand up to"), p.Show.Length(units.Feet(most)), p.HeadName(heads[top]), held)
	return Found(LowHeads, text, append(about, RefTo("zones", zone))...).Looking(p.MiddleOf(about)).Measured("lower_ft", most), true
}
