package arrange

import (
	"evenfall/internal/geom"
)

// weighTrunk is the cost of each head that throws at a trunk near it, in shares of
// evenness: a stream strips the bark, and behind the trunk it is dry. Chosen: a
// lawn round a tree may still be watered past it where nothing else will.
const weighTrunk = 0.02

// besideTrunk is how far inside its arc a trunk must stand to be thrown at, in
// degrees; one beside the arc's end is missed by turning it a hair. As the finding
// about things in a throw has it.
const besideTrunk = 5.0

// aimed counts the heads, of those that do not stay, that throw at a trunk nearer
// than the plan's clearance (plan.TrunkClear).
func (g *ground) aimed(heads []stand) int {
	n := 0
	for _, t := range g.trunks {
		for i := range heads {
			if h := &heads[i]; !h.stays && h.throwsAt(t, g.clear) {
				n++
			}
		}
	}
	return n
}

// throwsAt reports whether a trunk stands in the throw of a head, nearer than so
// many feet. Strips have no arc to turn.
func (h *stand) throwsAt(t trunk, clear float64) bool {
	sweep := float64(h.set.sweep) - 2*besideTrunk
	if h.set.sweep == 0 || distance(h.at, t.at) >= min(clear, float64(h.set.throw)) {
		return false
	}
	return h.set.sweep >= 360 || sweep > 0 && geom.SweepContains(float64(h.start)+besideTrunk, sweep, geom.Bearing(h.at, t.at))
}
