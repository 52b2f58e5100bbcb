package geom

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// traced is the ring on the lattice, not closed, and for each place the corner
// whose edge it lies on.
func (o Outline) traced() (ring []spot, owner []int) {
	var pts []orb.Point
	for i, v := range o {
		pts = appendEdge(pts[:0], v, o[(i+1)%len(o)].Point())
		for _, p := range pts {
			s := spotOf(p)
			if len(ring) > 0 && ring[len(ring)-1] == s {
				continue
			}
			ring, owner = append(ring, s), append(owner, i)
		}
	}
	for len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring, owner = ring[:len(ring)-1], owner[:len(owner)-1]
	}
	return ring, owner
}

// ringFault looks at how the edges of a ring lie to one another.
func ringFault(ring []spot, owner []int) *Fault {
	if allOnOneLine(ring) {
		return noArea(ring)
	}
	if f := spikeFault(ring, owner); f != nil {
		return f
	}
	if i, j, kind := newChain(ring).selfContact(); kind != apart {
		return contactFault(ring, owner, i, j, kind)
	}
	if math.Abs(twiceArea(ring))/2 < leastArea {
		return noArea(ring)
	}
	return nil
}

func noArea(ring []spot) *Fault {
	return &Fault{Reason: NoArea, At: ring[0].point(), Sentence: "The outline encloses no area. Move a corner so that it has a width."}
}

func allOnOneLine(ring []spot) bool {
	for i := 2; i < len(ring); i++ {
		if turn(ring[0], ring[1], ring[i]) != 0 {
			return false
		}
	}
	return true
}

// spikeFault finds an edge that runs straight back over the one before it.
func spikeFault(ring []spot, owner []int) *Fault {
	n := len(ring)
	for i := range n {
		a, b, c := ring[(i+n-1)%n], ring[i], ring[(i+1)%n]
		if turn(a, b, c) == 0 && backwards(a, b, c) {
			return &Fault{Reason: Spike, Vertex: owner[i], At: b.point(), Sentence: fmt.Sprintf("The outline runs out to corner %d and straight back. Remove that corner.", owner[i]+1)}
		}
	}
	return nil
}

// backwards reports whether bc points against ab; the three lie on one line.
func backwards(a, b, c spot) bool {
	return (b.x-a.x)*(c.x-b.x)+(b.y-a.y)*(c.y-b.y) < 0
}

func contactFault(ring []spot, owner []int, i, j int, kind contact) *Fault {
	n := len(ring)
	a, b, c, d := ring[i], ring[(i+1)%n], ring[j], ring[(j+1)%n]
	at, _ := SegmentIntersection(a.point(), b.point(), c.point(), d.point())
	f := &Fault{Reason: Touches, Vertex: owner[i], At: at}
	edges := fmt.Sprintf("the edge from corner %d and the edge from corner %d", owner[i]+1, owner[j]+1)
	switch kind {
	case cross:
		f.Reason = Crosses
		f.Sentence = "The outline crosses itself: " + edges + " cross. Move a corner so that they do not."
	case overlap:
		f.Sentence = "The outline runs along itself: " + edges + " lie on one another. Move a corner away."
	default:
		f.Sentence = "The outline touches itself: " + edges + " meet. Move a corner away, or draw two outlines."
	}
	return f
}

// twiceArea is twice the signed area in square feet.
func twiceArea(ring []spot) float64 {
	sum := 0.0
	for i := 1; i+1 < len(ring); i++ {
		sum += float64(turn(ring[0], ring[i], ring[i+1]))
	}
	return sum / (4096 * 4096)
}
