package coverage

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const (
	// offAllowed is the share of the flow that may land where no water is planned
	// before it is a mistake: common practice lets 1 % to 2 % pass. On paving it is
	// of each zone's flow, since a stream to the gutter runs however much the other
	// zones water; off the lot of the whole plan's.
	offAllowed = 0.02
	// groundAllowed is the same for bare ground: gravel, mulch, a deck (common
	// practice), and for ground of the lot that nobody drew.
	groundAllowed = 0.05
	// offHead is the share of one head's own flow past which it is named even
	// when the rest stays under offAllowed: an arc left a fifth too wide.
	// Chosen.
	offHead = 0.2
	// offTold is the share of the plan's flow from which water off the lot is
	// worth a note. Chosen: what turning one arc end by a hair makes.
	offTold = 0.002
)

// astray is the water that some heads put on surfaces of one sort.
type astray struct {
	heads    []spot // those that put there more than a trace, most first
	gpm      map[plan.ID]float64
	names    []string // of the surfaces, most wetted first
	total    float64
	part     float64 // total over the flow of all the heads looked at
	worst    float64 // the largest share of a head's own flow
	overHead []spot  // heads past offHead
}

// traceShare is the share of a head's flow below which it is not named: less
// than the raster can tell at an edge. Chosen.
const traceShare = 0.005

// gather sums what of the water of some heads lands on the surfaces that wanted
// picks out.
func (s *survey) gather(heads []spot, wanted func(OffTarget) bool) astray {
	surfaces := map[plan.ID]OffTarget{}
	for _, o := range s.r.OffTarget {
		if wanted(o) {
			surfaces[o.Surface] = o
		}
	}
	a := astray{gpm: map[plan.ID]float64{}}
	flow, on := 0.0, map[string]float64{}
	for _, h := range heads {
		flow += float64(h.reading.FlowGPM)
		for _, l := range h.reading.Landed {
			if o, ok := surfaces[l.Surface]; ok {
				a.gpm[h.id] += float64(l.GPM)
				on[OnSurface(s.p, o.Surface)] += float64(l.GPM)
			}
		}
		a.total += a.gpm[h.id]
		share := a.share(h)
		if share <= traceShare {
			continue
		}
		a.heads = append(a.heads, h)
		a.worst = max(a.worst, share)
		if over(share, offHead) {
			a.overHead = append(a.overHead, h)
		}
	}
	a.part = a.total / max(flow, 1e-9)
	most := func(x, y spot) int {
		return cmp.Or(cmp.Compare(a.gpm[y.id], a.gpm[x.id]), cmp.Compare(x.id, y.id))
	}
	slices.SortFunc(a.heads, most)
	slices.SortFunc(a.overHead, most)
	a.names = slices.SortedFunc(maps.Keys(on), func(x, y string) int { return cmp.Or(cmp.Compare(on[y], on[x]), cmp.Compare(x, y)) })
	for len(a.names) > 1 && on[a.names[len(a.names)-1]] < offTold/2*flow {
		a.names = a.names[:len(a.names)-1]
	}
	return a
}

// share is the part of the head's own flow that goes astray.
func (a *astray) share(h spot) float64 {
	if h.reading.FlowGPM <= 0 {
		return 0
	}
	return a.gpm[h.id] / float64(h.reading.FlowGPM)
}

// onPaving finds water thrown on paving, zone by zone.
func onPaving(s *survey) []plan.Finding {
	return s.thrownOn(plan.ThrowOnPaving, func(o OffTarget) bool { return o.Kind == plan.Paving })
}

// thrownOn finds water thrown where none is planned, zone by zone: past the tolerance
// all heads that throw it, else those that throw much of their own.
func (s *survey) thrownOn(code string, on func(OffTarget) bool) []plan.Finding {
	if !slices.ContainsFunc(s.r.OffTarget, on) {
		return nil
	}
	return s.byZone(func(zone plan.ID, heads []spot) []plan.Finding {
		a, told := s.gather(heads, on), []spot{}
		switch {
		case over(a.part, offAllowed):
			told = a.heads
		case len(a.overHead) > 0:
			told = a.overHead
		}
		if len(told) == 0 {
			return nil
		}
		return []plan.Finding{s.astrayFinding(code, a, told, s.waterOf(zone))}
	})
}

// waterOf names the water that a share is of.
func (s *survey) waterOf(zone plan.ID) string {
	if zone == "" {
		return "the water of all heads in no zone"
	}
	return "the water of " + s.p.ZoneName(zone)
}

// onGround finds water thrown on ground that nothing grows on.
func onGround(s *survey) []plan.Finding {
	a := s.gather(s.heads, func(o OffTarget) bool { return o.Kind == plan.Ground })
	if !over(a.part, groundAllowed) || len(a.heads) == 0 {
		return nil
	}
	return []plan.Finding{s.astrayFinding(plan.ThrowOnGround, a, a.heads, allWater)}
}

// onUndrawn finds water on ground of the lot that nobody drew: it may be a walk, a
// bed or gravel, so the plan cannot say whether the water is wanted there.
func onUndrawn(s *survey) []plan.Finding {
	a := s.gather(s.heads, func(o OffTarget) bool { return o.Surface == Undrawn })
	if !over(a.part, groundAllowed) || len(a.heads) == 0 {
		return nil
	}
	return []plan.Finding{s.astrayFinding(plan.ThrowUndrawn, a, a.heads, allWater)}
}

// offLot finds water that leaves the lot, for the street or a neighbour. Up to
// offAllowed of the flow it is a note: a rounded corner cannot be hit exactly.
func offLot(s *survey) []plan.Finding {
	a := s.gather(s.heads, func(o OffTarget) bool { return o.Surface == Outside || o.Kind == plan.RightOfWay })
	switch {
	case len(a.heads) == 0 || a.part < offTold && len(a.overHead) == 0:
		return nil
	case over(a.part, offAllowed):
		return []plan.Finding{s.astrayFinding(plan.LeavesLot, a, a.heads, allWater)}
	case len(a.overHead) > 0:
		return []plan.Finding{s.astrayFinding(plan.LeavesLot, a, a.overHead, allWater)}
	default:
		return []plan.Finding{s.astrayFinding(plan.LeavesLot, a, a.heads, allWater).Ranked(plan.Notice)}
	}
}

// allWater is what a share of the plan's flow is of.
const allWater = "all the water"

// astrayFinding tells of heads that put water where it is not wanted; whole names
// the water that it is a part of.
func (s *survey) astrayFinding(code string, a astray, heads []spot, whole string) plan.Finding {
	text := fmt.Sprintf("%s %s %s %s, %s of %s; most by %s, %s of its own.",
		plan.Capital(s.named(heads)), plan.Choose(len(heads), "throws", "throw"), s.p.Show.Flow(units.GPM(a.sum(heads))),
		plan.Series(a.names), percentOf(a.part*a.sum(heads)/a.total), whole, s.p.HeadName(heads[0].id), percentOf(a.share(heads[0])))
	if len(heads) == 1 {
		text = fmt.Sprintf("%s throws %s %s, %s of its own water.",
			plan.Capital(s.named(heads)), s.p.Show.Flow(units.GPM(a.sum(heads))), plan.Series(a.names), percentOf(a.share(heads[0])))
	}
	f := plan.Found(code, text, refs(heads)...).Looking(heads[0].at).
		Measured("gpm", a.total).Measured("share_of_flow", a.part)
	if code == plan.LeavesLot && !hasLot(s.p) && slices.Equal(a.names, []string{OnSurface(s.p, Outside)}) {
		f.Title = "Water past what is drawn"
		f.Why = "Where the property line runs is not drawn: this water may leave it, for the street or a neighbour."
		f.Do = "Turn the arc in to the edge, turn the throw down, or draw what lies there and the property line."
	}
	return f
}

func (a *astray) sum(heads []spot) float64 {
	total := 0.0
	for _, h := range heads {
		total += a.gpm[h.id]
	}
	return total
}

// percentOf prints a share with one decimal below 10 %.
func percentOf(share float64) string {
	if share < 0.0995 {
		return fmt.Sprintf("%.1f %%", 100*share)
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// wallStopped is the share of a head's own flow that walls and buildings may
// catch before the head is said to spray on them. Chosen like offHead.
const wallStopped = offHead

// walled is the share of a head's own flow that walls, fences and buildings catch.
// What trunks catch is told as things in the throw.
func (h *spot) walled() float64 {
	sum := 0.0
	for _, c := range h.reading.Caught {
		if collection, _ := c.By.Split(); collection != "trees" {
			sum += float64(c.Share)
		}
	}
	return sum
}

// onWalls finds heads too near a wall, fence or building, and heads that throw
// at one.
func onWalls(s *survey) []plan.Finding {
	var near, thrown []spot
	buildings := s.gather(s.heads, func(o OffTarget) bool { return o.Kind == plan.Building })
	for _, h := range s.heads {
		if s.wallWithin(h.at, s.rule(plan.SetBackWall)-setSlack) {
			near = append(near, h)
		} else if over(buildings.share(h)+h.walled(), wallStopped) {
			thrown = append(thrown, h)
		}
	}
	var found []plan.Finding
	if len(near) > 0 {
		text := fmt.Sprintf("%s %s less than %s off a wall, a fence or a building.",
			plan.Capital(s.named(near)), plan.Choose(len(near), "stands", "stand"), s.p.RuleLength(plan.SetBackWall))
		f := plan.Found(plan.SprayOnWall, text, refs(near)...).Looking(s.p.MiddleOf(refs(near)))
		found = append(found, s.p.ByRule(f, plan.SetBackWall))
	}
	if len(thrown) > 0 {
		text := fmt.Sprintf("%s %s more than %s of the water against a wall, a fence or a building.",
			plan.Capital(s.named(thrown)), plan.Choose(len(thrown), "throws", "throw"), percentOf(wallStopped))
		found = append(found, plan.Found(plan.SprayOnWall, text, refs(thrown)...).Looking(s.p.MiddleOf(refs(thrown))))
	}
	return found
}
