package arrange

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// What a search lowers, in shares of evenness: reference, section 7 step 3, with
// the water past the edge told apart by what it wets and small costs for flow
// and for settings that differ, both chosen.
const (
	weighDU     = 0.85
	weighCU     = 0.15
	weighOver   = 4     // of each share past its limit
	keepUnder   = 0.002 // stay this far under it: rasters differ by as much
	weighPast   = 0.15  // of all that is past the edge
	weighBlamed = 0.5   // of what heads pass the share of their own flow that a finding names them for
	leastDriest = 0.55  // mean of the driest 2 % over the mean
	weighDriest = 0.5
	weighCorner = 0.10 // of each corner that the finding about bare corners names; chosen
	weighDry    = 3    // of the share of the ground that the finding about dry patches looks at; chosen
	weighApart  = 0.4  // of the share of heads that are not head to head
	weighLoose  = 0.04 // of the share of heads past one throw from the nearest, where that is asked; chosen
	weighFlow   = 0.02
	weighKinds  = 0.0008 // of each distinct throw and arc
)

// headToHeadReach is how far a neighbour may stand, in throws: 55 % of the
// diameter, the most that published standards allow (reference, section 3).
const headToHeadReach = 1.1

// neighbours is how many a head must have within reach.
const neighbours = 2

// cost is what a layout costs.
func (s *search) cost(t *coverage.Tried, heads []stand, h2h units.Ratio) float64 {
	return s.costOfStands(heads, h2h) + s.costOfSums(t) + s.costOfEvenness(t)
}

// costOfEvenness is the part of the cost that takes the whole ground to read.
func (s *search) costOfEvenness(t *coverage.Tried) float64 {
	e := 1 - weighDU*float64(t.DU) - weighCU*float64(t.CU) + weighDriest*max(0, leastDriest-float64(t.Driest2))
	if s.named {
		e += weighCorner*float64(t.BareCorners) + weighDry*float64(t.DryShare)
	}
	return e
}

// costOfSums is the part that sums over the heads tell.
func (s *search) costOfSums(t *coverage.Tried) float64 {
	e := weighBlamed * float64(t.Blamed)
	if flow := float64(t.Flow); flow > 0 {
		hard, bare, other := float64(t.Hard+t.Walled)/flow, float64(t.Bare)/flow, float64(t.Other)/flow
		e += weighOver * (over(hard, s.o.Hard) + over(bare, s.o.Bare) + over(other, s.o.Other))
		e += weighPast * (hard + bare + other)
	}
	if rate := float64(s.kit.rate); rate > 0 {
		e += weighFlow * max(0, float64(t.Mean)/rate-0.8)
	}
	return e
}

// costOfStands is the part that where heads stand and how they are set tells.
func (s *search) costOfStands(heads []stand, h2h units.Ratio) float64 {
	e := weighApart*float64(1-h2h) + weighTrunk*float64(s.ground.aimed(heads)) + weighKinds*float64(distinct(heads))
	if s.o.Facing {
		e += weighLoose * float64(loose(heads)) / float64(max(len(heads), 1))
	}
	return e
}

func over(share float64, limit units.Ratio) float64 {
	return max(0, share-max(float64(limit)-keepUnder, 0))
}

// distinct is how many settings a layout has.
func distinct(heads []stand) int {
	n := 0
	for i := range heads {
		seen := false
		for j := range i {
			if heads[j].set == heads[i].set {
				seen = true
				break
			}
		}
		if !seen {
			n++
		}
	}
	return n
}

// reaches reports whether b counts as a neighbour of a: near enough and, where
// that is asked, throwing towards it.
func (s *search) reaches(a, b *stand) bool {
	dx, dy := a.at[0]-b.at[0], a.at[1]-b.at[1]
	d2 := float64(dx*dx) + float64(dy*dy)
	if a.set.sweep == 0 || b.set.sweep == 0 { // strips: they wet far to the sides
		far := headToHeadReach * float64(max(stripReach(a.set), stripReach(b.set)))
		return d2 <= far*far
	}
	far := headToHeadReach * float64(a.set.throw)
	if d2 > far*far*(1+1e-9) {
		return false
	}
	if !s.o.Facing || b.set.sweep >= 360 || d2 == 0 {
		return true
	}
	return geom.SweepContains(float64(b.start)-facingSlack, float64(b.set.sweep)+2*facingSlack, geom.Bearing(b.at, a.at))
}

// facingSlack is how far beside its arc a head still throws towards another,
// degrees: along a curved edge the neighbour lies a little outside. Chosen.
const facingSlack = 10

// headToHead is the share of heads with neighbours enough.
func (s *search) headToHead(heads []stand) units.Ratio {
	if len(heads) == 0 {
		return 0
	}
	want, good := min(neighbours, len(heads)-1), 0
	for i := range heads {
		n, need := 0, want
		if sh := heads[i].set.strip; sh != nil && sh.Ahead != sh.Back {
			need = min(need, 1) // the end of a row, which has a next head on one side only
		}
		for j := range heads {
			if i != j && s.reaches(&heads[i], &heads[j]) {
				if n++; n >= need {
					break
				}
			}
		}
		if n >= need {
			good++
		}
	}
	return units.Ratio(float64(good) / float64(len(heads)))
}

// stripReach is how far from the head a strip wets.
func stripReach(k *setting) units.Feet {
	if k.strip == nil {
		return k.throw
	}
	return units.Feet(math.Hypot(float64(k.throw), float64(max(k.strip.Left, k.strip.Right))))
}

// distance is between two places, feet.
func distance(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
