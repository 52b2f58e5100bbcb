package arrange

import (
	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// looseSlack is how far beside its arc a head still throws towards another, degrees,
// as the finding about wide spacing has it.
const looseSlack = 5

// loose is how many heads stand farther than a throw from every other, by the longer
// throw of the two that goes towards the other: those the finding about wide spacing
// names. Strips stand by rules of their own.
func loose(heads []stand) int {
	n := 0
	if len(heads) < 2 {
		return 0
	}
	for i := range heads {
		a := &heads[i]
		if a.set.sweep > 0 && !besideOne(a, heads, i) {
			n++
		}
	}
	return n
}

func besideOne(a *stand, heads []stand, own int) bool {
	for j := range heads {
		b := &heads[j]
		if j == own || b.set.sweep == 0 {
			continue
		}
		dx, dy := a.at[0]-b.at[0], a.at[1]-b.at[1]
		d2 := float64(dx*dx) + float64(dy*dy)
		within := func(throw units.Feet) bool { return d2 <= float64(throw*throw)*(1+1e-6) }
		if within(a.set.throw) && a.faces(b) || within(b.set.throw) && b.faces(a) {
			return true
		}
	}
	return false
}

// faces reports whether a head throws towards another.
func (a *stand) faces(b *stand) bool {
	return a.set.sweep >= 360 || geom.SweepContains(float64(a.start)-looseSlack, float64(a.set.sweep)+2*looseSlack, geom.Bearing(a.at, b.at))
}
