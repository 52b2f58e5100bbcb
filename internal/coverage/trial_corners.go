package coverage

import (
	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// wanted is a corner of the area that the finding about bare corners looks at.
type wanted struct {
	corner
	reach  float64   // how far from its edges a head may stand in it
	inside orb.Point // where it is dry without one
}

// corner gathers the corners of the area, on a plan that keeps heads off anything: on
// open ground, where nothing does, layouts are not held to them.
func (g *tract) corner(p *plan.Plan, own plot, l lips) {
	far := keptOff(p)
	if far == 0 {
		return
	}
	for _, c := range cornersOf(own.rings[0]) {
		lip := l.edge
		for _, along := range []orb.Point{c.prev, c.next} {
			if l.wallAt(towards(c.at, along, min(1, apart(c.at, along)/2))) {
				lip = max(lip, l.wall)
			}
		}
		w := wanted{c, max(cornerReach, far) + cornerSlack, c.inside(lip)}
		if _, ok := g.placeAt(w.inside); ok {
			g.corners = append(g.corners, w)
		}
	}
}

// wallAt reports whether a wall runs along a place of an edge.
func (l *lips) wallAt(at orb.Point) bool {
	for _, line := range l.walls {
		for i := 1; i < len(line); i++ {
			foot := geom.NearestOnSegment(at, line[i-1], line[i])
			if apart(at, foot) < 0.1 && foot != line[i-1] && foot != line[i] {
				return true
			}
		}
	}
	return false
}

// bareSlack is how much wetter than the finding asks a corner without a head must
// be, of the mean: the map that the finding is read off has cells of its own. Chosen.
const bareSlack = 0.02

// bareCorners counts the corners that have no head and are drier for it, as the
// finding has it; mean is in steps. Strips are laid out along edges, not sought.
func (t *Trial) bareCorners(mean float64) int {
	n := 0
	for i := range t.land.corners {
		w := &t.land.corners[i]
		if place, _ := t.land.placeAt(w.inside); float64(t.rates[place]) < (bareShare+bareSlack)*mean && !t.stands(w) {
			n++
		}
	}
	return n
}

// stands reports whether a head stands in a corner.
func (t *Trial) stands(w *wanted) bool {
	for _, h := range t.heads {
		if w.has(h.setting.at, w.reach) {
			return true
		}
	}
	return false
}
