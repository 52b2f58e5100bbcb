package coverage

import (
	"cmp"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// walled is the share of a head's flow that a wall or a building stops.
type walled struct {
	obstacle int
	share    float64
}

// blame is by how much a head passes nine tenths of the share from which findings
// name it.
func (h *tried) blame() float64 {
	if h.setting.flow <= 0 {
		return 0
	}
	return max(0, float64(h.landed.Hard+h.landed.Walled)/h.setting.flow-0.9*offHead)
}

// Walled is water that one wall, fence, hedge or building stops.
type Walled struct {
	By  plan.Ref
	GPM units.GPM
}

// Walled lists the water that is stopped, but for trunks, most first.
func (t *Trial) Walled() []Walled {
	sums := make([]float64, len(t.land.obstacles))
	for _, h := range t.heads {
		for _, v := range h.walled {
			sums[v.obstacle] += v.share * h.setting.flow
		}
	}
	var out []Walled
	for i, sum := range sums {
		if sum >= trace {
			out = append(out, Walled{t.land.obstacles[i].ref, units.GPM(sum)})
		}
	}
	slices.SortStableFunc(out, func(a, b Walled) int { return cmp.Compare(b.GPM, a.GPM) })
	return out
}
