package geom

import (
	"fmt"

	"github.com/paulmach/orb"
)

// ValidatePolygon reports the first thing wrong with an area and its holes as a
// *Fault, or nil: each must be sound by itself, each hole must lie wholly inside
// the outline, and no two holes may meet or lie in one another. A hole may not
// even touch: draw such ground as a notch of the outline.
func ValidatePolygon(outline Outline, holes []Outline) error {
	if f := polygonFault(outline, holes); f != nil {
		return f
	}
	return nil
}

func polygonFault(outline Outline, holes []Outline) *Fault {
	if f := outline.fault(); f != nil {
		return f
	}
	outer, owner := outline.traced()
	edge := newChain(outer)
	chains := make([]*chain, 0, len(holes))
	for n, hole := range holes {
		if f := hole.fault(); f != nil {
			f.Ring = n + 1
			f.Sentence = fmt.Sprintf("In hole %d: %s", n+1, f.Sentence)
			return f
		}
		ring, _ := hole.traced()
		c := newChain(ring)
		if f := holeFault(edge, c, owner, n); f != nil {
			return f
		}
		for m, earlier := range chains {
			if f := pairFault(earlier, c, m, n); f != nil {
				return f
			}
		}
		chains = append(chains, c)
	}
	return nil
}

func holeFault(edge, hole *chain, owner []int, n int) *Fault {
	if i, j, kind := edge.contactWith(hole); kind != apart {
		return &Fault{Reason: HoleCrosses, Ring: n + 1, Vertex: owner[i], At: meeting(edge, hole, i, j),
			Sentence: fmt.Sprintf("Hole %d meets the outline. Move it wholly inside, or draw the outline around it.", n+1)}
	}
	if !edge.holds(hole.ring[0]) {
		return &Fault{Reason: HoleOutside, Ring: n + 1, At: hole.ring[0].point(),
			Sentence: fmt.Sprintf("Hole %d lies outside the outline. Move it inside or remove it.", n+1)}
	}
	return nil
}

func pairFault(a, b *chain, m, n int) *Fault {
	at := b.ring[0].point()
	i, j, kind := a.contactWith(b)
	switch {
	case kind != apart:
		at = meeting(a, b, i, j)
	case a.holds(b.ring[0]):
	case b.holds(a.ring[0]):
		at = a.ring[0].point()
	default:
		return nil
	}
	return &Fault{Reason: HolesMeet, Ring: n + 1, At: at,
		Sentence: fmt.Sprintf("Holes %d and %d overlap or touch. Join them into one hole, or move them apart.", m+1, n+1)}
}

func meeting(a, b *chain, i, j int) orb.Point {
	p, q := a.segment(i)
	r, s := b.segment(j)
	at, _ := SegmentIntersection(p.point(), q.point(), r.point(), s.point())
	return at
}

// holds reports whether p lies inside the ring; p is known not to be on it.
func (c *chain) holds(p spot) bool {
	in := false
	for i := range c.ring {
		a, b := c.segment(i)
		if a.y > b.y {
			a, b = b, a
		}
		if a.y <= p.y && p.y < b.y && turn(a, b, p) > 0 {
			in = !in
		}
	}
	return in
}
