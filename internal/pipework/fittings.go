package pipework

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// lose adds to the pipes that leave a node what their water meets there. The turn
// into a head, and what a device takes, are in the rows of swing joint and device.
func (g *graph) lose(t *tree, n int32, into map[int32][]Fitting) {
	in := t.up[n]
	if in < 0 {
		return
	}
	h := g.headOf(n)
	legs := g.legs(n, nil)
	if len(legs) < 2 {
		return
	}
	if g.device(n) {
		g.loseAtDevice(t, n, legs, into)
		return
	}
	m := meet(legs, in)
	for i, l := range m.legs {
		if i == m.in {
			continue
		}
		if h != "" {
			into[l.pipe] = append(into[l.pipe], g.fitting(OutletTee, n, l, 1))
		}
		into[l.pipe] = append(into[l.pipe], g.passing(m, i, n)...)
	}
}

// loseAtDevice counts the tee before a valve at which the main goes on: straight
// past for the main, aside for the valve and all that leaves it. Whatever else
// stands at a device is in its row.
func (g *graph) loseAtDevice(t *tree, n int32, legs []leg, into map[int32][]Fitting) {
	before := 0
	for _, l := range legs {
		if !g.behind(t, n, l.pipe) {
			before++
		}
	}
	if before < 2 || g.valve[n] == "" {
		return
	}
	var arriving leg
	for _, l := range legs {
		if l.pipe == t.up[n] {
			arriving = l
		}
	}
	for _, l := range legs {
		switch {
		case l.pipe == arriving.pipe:
		case g.behind(t, n, l.pipe):
			into[l.pipe] = append(into[l.pipe], g.fitting(TeeBranch, n, l, 1))
		default:
			into[l.pipe] = append(into[l.pipe], g.fitting(TeeRun, n, l, 1))
			for _, k := range ells(turn(arriving.lies, l.lies)) {
				into[l.pipe] = append(into[l.pipe], g.fitting(k, n, l, 1))
			}
			into[l.pipe] = append(into[l.pipe], g.change(arriving, l, n)...)
		}
	}
}

// passing is what water meets that comes into a joint and leaves by its leg i.
func (g *graph) passing(m meeting, i int, n int32) []Fitting {
	in, l := m.legs[m.in], m.legs[i]
	var out []Fitting
	add := func(kind FittingKind, times int) {
		if times > 0 {
			out = append(out, g.fitting(kind, n, l, times))
		}
	}
	bend := func(turned angle) {
		for _, k := range ells(turned) {
			add(k, 1)
		}
	}
	tees := len(m.legs) - 2
	straight := m.in == 0 && i == 1
	switch {
	case tees == 0:
		bend(turn(in.lies, l.lies))
		return append(out, g.change(in, l, n)...)
	case m.cross && (straight || m.in >= 2 && i >= 2):
		add(CrossRun, 1)
	case m.cross:
		add(CrossBranch, 1)
	case straight:
		add(TeeRun, tees)
		bend(turn(in.lies, l.lies))
	case i < 2: // by a branch into the run
		add(TeeBranch, 1)
		bend(m.aslant(in))
	default:
		add(TeeRun, i-2)
		add(TeeBranch, 1)
		bend(m.aslant(l))
	}
	if straight {
		out = append(out, g.change(in, l, n)...)
	}
	return out
}

// change is the loss of a change of size from one pipe to the next.
func (g *graph) change(in, l leg, n int32) []Fitting {
	before, after := in.inside, l.inside
	if before == 0 || after == 0 {
		before, after = in.size, l.size
	}
	if k := changeLoss(before, after); k > 0 && in.size != l.size {
		return []Fitting{{Kind: Reducer, At: g.nodes[n], Size: l.size, K: k}}
	}
	return nil
}

// fitting is a number of like fittings, one after the other.
func (g *graph) fitting(kind FittingKind, n int32, l leg, times int) Fitting {
	return Fitting{Kind: kind, At: g.nodes[n], Size: l.size, K: losses[kind] * float64(times)}
}

// bends are the ells at the corners of a pipe: what its water meets, and what is
// bought for it.
func (g *graph) bends(e int32, id plan.ID) ([]Fitting, []Joint) {
	var lost []Fitting
	var bought []Joint
	l := g.leg[e]
	for _, k := range g.shape[e].bends {
		lost = append(lost, Fitting{Kind: k, At: id, Size: l.size, K: losses[k]})
		bought = append(bought, Joint{Kind: ellJoints[k], Sizes: []units.Inches{l.size}, Class: l.class, New: l.isNew})
	}
	return lost, bought
}
