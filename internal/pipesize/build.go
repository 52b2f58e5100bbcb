package pipesize

import (
	"math"

	"evenfall/internal/catalog"
	"evenfall/internal/hydraulics"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// loosened is which limits are left out, to find the one that binds.
type loosened struct {
	velocity, least, most, spread, locks, growing bool
}

// tree is the job as pipes with costs and losses. only is the one zone whose
// limits count; -1 for all. rows is the catalogue row of every size.
func (j *job) tree(only int, l loosened) (t *Tree, rows [][]catalog.PipeSize) {
	t = &Tree{Free: l.growing, Pipes: make([]Branch, len(j.pipes)), Zones: make([]Spread, len(j.zones))}
	rows = make([][]catalog.PipeSize, len(j.pipes))
	t.Inlet = j.zones[0].left
	for _, z := range j.zones {
		t.Inlet = max(t.Inlet, z.left)
	}
	for i, z := range j.zones {
		t.Zones[i].Most = units.PSI(math.Inf(1))
		if (only < 0 || only == i) && !l.spread {
			t.Zones[i].Most = max(units.PSI(float64(MostSpread)*float64(z.nominal))-z.tighter, 0)
		}
	}
	for i, v := range j.pipes {
		b := &t.Pipes[i]
		b.Up, b.Zone = v.up, v.zone
		for _, s := range v.row.Sizes {
			if v.allows(s, l) {
				b.Sizes = append(b.Sizes, j.sizeOf(v, s))
				rows[i] = append(rows[i], s)
			}
		}
		if v.kept && v.up >= 0 && j.pipes[v.up].kept && len(b.Sizes) == 1 && len(t.Pipes[v.up].Sizes) == 1 {
			// Two that stay as they are grow or not: nobody can help it. What hangs
			// from them is held to the smaller.
			b.Sizes[0].Rank = min(b.Sizes[0].Rank, t.Pipes[v.up].Sizes[0].Rank)
		}
		if v.head == nil || only >= 0 && only != v.zone {
			continue
		}
		z := j.zones[v.zone]
		lower := t.Inlet - z.left // what this zone has less than the tree's inlet
		b.Out = &Out{Least: v.head.need(z.aim) + z.more + lower, Most: v.head.most + lower, After: v.head.joint, Spread: z.aim == withinTable || !v.head.regulates}
		if l.least {
			b.Out.Least = units.PSI(math.Inf(-1))
		}
		if l.most {
			b.Out.Most = units.PSI(math.Inf(1))
		}
	}
	return t, rows
}

// need is the pressure before the body that an aim asks for.
func (h *head) need(a aim) units.PSI {
	if a == withinTable {
		return h.least
	}
	return h.planned
}

// allows says whether a pipe may have a size. A lock stands over the velocity.
func (v *pipe) allows(s catalog.PipeSize, l loosened) bool {
	if v.kept && !l.locks {
		return s.Nominal == v.Size.Nominal
	}
	return l.velocity || hydraulics.Velocity(v.flow, s.Inside) <= pressure.MostVelocity(v.row)+1e-9
}

func (j *job) sizeOf(v pipe, s catalog.PipeSize) Size {
	loss, _ := hydraulics.NewPipe(v.Length, s.Inside, v.row.C, v.k).Loss(v.flow)
	size := Size{Rank: float64(s.Nominal), Loss: loss + v.rise}
	if !v.kept {
		size.Cost = j.cost(v, s)
	}
	return size
}

// cost is what a pipe costs in a size: money, or cubic inches of material.
func (j *job) cost(v pipe, s catalog.PipeSize) float64 {
	perFt := s.PlasticPerFt()
	if j.money {
		perFt = s.PricePerFt
	}
	return perFt * float64(v.Length)
}
