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

// plot is a tree made of a job.
type plot struct {
	*Tree
	at   []int                // branch of each pipe of the job
	rows [][]catalog.PipeSize // of the sizes of each branch
}

// plot makes a tree of the job. only is the one zone whose limits count; -1 for
// all.
func (j *job) plot(only int, l loosened) *plot {
	t := &plot{Tree: &Tree{Free: l.growing, Zones: make([]Spread, len(j.zones))}}
	t.Inlet = j.zones[0].left
	for _, z := range j.zones {
		t.Inlet = max(t.Inlet, z.left)
	}
	for i, z := range j.zones {
		t.Zones[i].Most = units.PSI(math.Inf(1))
		if (only < 0 || only == i) && !l.spread {
			t.Zones[i].Most = max(units.PSI(float64(pressure.MostSpread)*float64(z.nominal))-z.tighter, 0)
		}
	}
	valves := map[int]int{} // branch of a zone's valve
	for _, v := range j.pipes {
		up := -1
		if v.up >= 0 {
			up = t.at[v.up]
		}
		if v.zone >= 0 && (v.up < 0 || j.pipes[v.up].zone != v.zone) {
			if _, ok := valves[v.zone]; !ok {
				valves[v.zone] = t.add(t.valve(up, v.zone), nil)
			}
			up = valves[v.zone]
		}
		b := Branch{Up: up, Zone: v.zone}
		var rows []catalog.PipeSize
		for _, s := range v.row.Sizes {
			if v.allows(s, l) {
				b.Sizes = append(b.Sizes, j.sizeOf(v, s))
				rows = append(rows, s)
			}
		}
		if v.kept && v.up >= 0 && j.pipes[v.up].kept && len(b.Sizes) == 1 && len(t.Pipes[t.at[v.up]].Sizes) == 1 {
			// Two that stay as they are grow or not: nobody can help it. What hangs
			// from them is held to the smaller.
			b.Sizes[0].Rank = min(b.Sizes[0].Rank, t.Pipes[t.at[v.up]].Sizes[0].Rank)
		}
		if v.head != nil && (only < 0 || only == v.zone) {
			b.Out = j.outOf(v, t.Inlet, l)
		}
		t.at = append(t.at, t.add(b, rows))
	}
	return t
}

func (t *plot) add(b Branch, rows []catalog.PipeSize) int {
	t.Pipes, t.rows = append(t.Pipes, b), append(t.rows, rows)
	return len(t.Pipes) - 1
}

// valve is the branch from which all laterals of a zone hang: it takes nothing and
// costs nothing, and is as large as the pipe before it. What the valve itself
// takes is reckoned with the supply.
func (t *plot) valve(up, zone int) Branch {
	b := Branch{Up: up, Zone: zone}
	if up < 0 {
		b.Sizes = []Size{{Rank: math.Inf(1)}}
		return b
	}
	for _, s := range t.Pipes[up].Sizes {
		b.Sizes = append(b.Sizes, Size{Rank: s.Rank})
	}
	return b
}

// outOf is what the head at the end of a pipe asks for.
func (j *job) outOf(v pipe, inlet units.PSI, l loosened) *Out {
	z := j.zones[v.zone]
	lower := inlet - z.left // what this zone has less than the tree's inlet
	out := &Out{Least: v.head.need(z.aim) + z.more + lower, Most: v.head.most + lower, After: v.head.joint, Spread: z.aim == withinTable || !v.head.regulates}
	if l.least {
		out.Least = units.PSI(math.Inf(-1))
	}
	if l.most {
		out.Most = units.PSI(math.Inf(1))
	}
	return out
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
