package trench

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// evenOdd reports whether a place lies deep within an outline, by the crossings of a
// ray: written apart from package geom.
func evenOdd(o geom.Outline, q orb.Point, deep float64) bool {
	ring := o.Ring()
	in := false
	for i := 0; i+1 < len(ring); i++ {
		a, b := ring[i], ring[i+1]
		if (a[1] > q[1]) != (b[1] > q[1]) && q[0] < (b[0]-a[0])*(q[1]-a[1])/(b[1]-a[1])+a[0] {
			in = !in
		}
		dx, dy := b[0]-a[0], b[1]-a[1]
		s := min(max(((q[0]-a[0])*dx+(q[1]-a[1])*dy)/(dx*dx+dy*dy), 0), 1)
		if math.Hypot(q[0]-a[0]-s*dx, q[1]-a[1]-s*dy) < deep {
			return false
		}
	}
	return in
}

// staysOut holds pipe and wire to the ground that may be dug.
func staysOut(t *testing.T, p *plan.Plan) {
	t.Helper()
	const deep = 0.02
	indoors := func(q orb.Point) bool {
		for _, a := range p.Areas {
			if a.Kind == plan.Building && evenOdd(a.Outline, q, 0) {
				return true
			}
		}
		return false
	}
	check := func(what string, line orb.LineString) {
		for i := 1; i < len(line); i++ {
			a, b := line[i-1], line[i]
			out := i == 1 && indoors(a) || i == len(line)-1 && indoors(b)
			for k := range 1 + int(apart(a, b)/0.25) {
				q := along(a, b, math.Min(1, (float64(k)+0.5)*0.25/apart(a, b)))
				for id, area := range p.Areas {
					bad := area.Kind == plan.NoDig || area.Kind == plan.Water || area.Kind == plan.Building && !out
					if bad && evenOdd(area.Outline, q, deep) && !(area.Kind == plan.Water && indoors(q)) {
						t.Fatalf("%s goes through %s (%s) at %v", what, id, area.Kind, q)
					}
				}
				if lot := p.Site.Lot; len(lot) > 0 && !evenOdd(lot, q, 0) {
					if d, _, _ := geom.DistanceToEdge(q, lot.Ring()); d > deep {
						t.Fatalf("%s leaves the lot at %v", what, q)
					}
				}
				for id, tree := range p.Trees {
					if apart(q, orb.Point{float64(tree.X), float64(tree.Y)}) < float64(tree.TrunkIn)-deep && !out {
						t.Fatalf("%s comes too near %s at %v", what, id, q)
					}
				}
			}
		}
	}
	for id, v := range p.Pipes {
		check("pipe "+string(id), lineOf(p, v))
	}
	for id, v := range p.Wires {
		if v.Lay != "building" {
			check("wire "+string(id), v.Line.Points())
		}
	}
}

// liesApart holds joints to lie on no pipe but their own: the board would join them.
func liesApart(t *testing.T, p *plan.Plan) {
	t.Helper()
	for _, id := range plan.SortedIDs(p.Nodes) {
		n := p.Nodes[id]
		at := pointOf(n.Spot())
		for _, pid := range plan.SortedIDs(p.Pipes) {
			v := p.Pipes[pid]
			if v.From == id || v.To == id || n.Kind != "joint" {
				continue
			}
			if d, _, _ := geom.DistanceToEdge(at, lineOf(p, v)); d < 2*geom.Grid {
				t.Errorf("joint %s of %q lies on pipe %s of %q at %v", id, n.Zone, pid, v.Zone, at)
			}
		}
	}
}
