package pipework

import (
	"slices"

	"evenfall/internal/units"
)

// The kinds of joint.
const (
	JointTee        JointKind = "tee"
	JointCross      JointKind = "cross"
	JointEll90      JointKind = "ell_90"
	JointEll45      JointKind = "ell_45"
	JointReducer    JointKind = "reducer"
	JointTransition JointKind = "transition" // from one material to another
	JointOutletTee  JointKind = "outlet_tee" // with a thread for a head, on a pipe that goes on
	JointOutletEll  JointKind = "outlet_ell" // the same at its end
	JointAdapter    JointKind = "adapter"    // to the thread of a device
	JointCap        JointKind = "cap"        // on an end that leads to nothing
)

var ellJoints = map[FittingKind]JointKind{Ell90: JointEll90, Ell45: JointEll45}

// jointsAt are the fittings to buy at a node. Those before a valve belong to whatever
// the valve hangs on.
func (g *graph) jointsAt(t *tree, n int32) []Joint {
	list, before := g.joints(t, n)
	for i := range list {
		list[i].Zone = t.zone[n]
		if i < before {
			list[i].Zone = ""
			if up := t.up[n]; up >= 0 {
				list[i].Zone, _ = t.carries(g.other(up, n), up)
			}
		}
	}
	return list
}

// joints are the fittings at a node, and how many of them are before a device.
func (g *graph) joints(t *tree, n int32) (list []Joint, before int) {
	v := g.p.Nodes[g.nodes[n]]
	in := t.up[n]
	if g.device(n) {
		list = threaded(g.legs(n, func(e int32) bool { return !g.behind(t, n, e) }), in)
		before = len(list)
		return append(list, threaded(g.legs(n, func(e int32) bool { return g.behind(t, n, e) }), -1)...), before
	}
	legs := g.legs(n, nil)
	if len(legs) == 0 {
		return nil, 0
	}
	h := g.headOf(n)
	switch {
	case h != "":
		return outlet(legs, in, g.p.Bodies[g.p.Heads[h].Body].InletIn), 0
	case len(legs) == 1 && v.Kind == "drain":
		return threaded(legs, in), 0
	case len(legs) == 1 && (v.Kind == "joint" || v.Kind == "head"):
		return []Joint{joint(anyNew(legs), JointCap, legs[0])}, 0
	}
	return plain(meet(legs, in)), 0
}

// device reports whether a node is a valve or backflow device that stands in the
// pipe.
func (g *graph) device(n int32) bool {
	v := g.p.Nodes[g.nodes[n]]
	return v.Status.Stands() && (v.Kind == "valve" || v.Kind == "backflow")
}

// behind reports whether a pipe leaves a device on the side away from the source.
func (g *graph) behind(t *tree, n, e int32) bool {
	if v := g.valve[n]; v != "" {
		_, valved := t.carries(n, e)
		return valved && e != t.up[n]
	}
	return e != t.up[n]
}

// threaded joins the pipes on one side of a device to its thread.
func threaded(legs []leg, in int32) []Joint {
	if len(legs) == 0 {
		return nil
	}
	to := legs[0]
	for _, l := range legs {
		if l.size > to.size {
			to = l
		}
	}
	out := []Joint{joint(anyNew(legs), JointAdapter, to)}
	if len(legs) > 1 {
		to.pipe, to.lies = -1, heading{}
		out = append(plain(meet(append(slices.Clone(legs), to), in)), out...)
	}
	return out
}

// outlet joins the pipes at a head to each other and to its thread.
func outlet(legs []leg, in int32, thread units.Inches) []Joint {
	m := meet(legs, in)
	kind, run := JointOutletTee, m.legs[:min(2, len(m.legs))]
	switch {
	case len(legs) == 1:
		kind = JointOutletEll
	case len(legs) > 2:
		run = []leg{m.first(), m.first()}
	}
	isNew := anyNew(legs)
	j := joint(isNew, kind, run...)
	j.Thread = thread
	out := []Joint{j}
	if len(legs) > 2 {
		return append(out, plain(m)...)
	}
	if len(legs) == 2 {
		for _, k := range ells(turn(legs[0].lies, legs[1].lies)) {
			out = append(out, joint(isNew, ellJoints[k], m.legs[1]))
		}
		out = append(out, transitions(m)...)
	}
	return out
}

// first is the pipe the water comes by, or the first of the run.
func (m meeting) first() leg { return m.legs[max(m.in, 0)] }

// plain joins pipes to each other.
func plain(m meeting) []Joint {
	var out []Joint
	isNew := anyNew(m.legs)
	add := func(kind JointKind, of ...leg) { out = append(out, joint(isNew, kind, of...)) }
	switch n := len(m.legs); {
	case n < 2:
		return nil
	case n == 2:
		a, b := m.legs[0], m.legs[1]
		for _, k := range ells(turn(a.lies, b.lies)) {
			add(ellJoints[k], wider(a, b))
		}
		if a.size != b.size && a.size > 0 && b.size > 0 {
			add(JointReducer, a, b)
		}
	case m.cross:
		add(JointCross, m.legs...)
	default:
		run, on := m.legs[0], m.legs[1]
		for i, branch := range m.legs[2:] {
			after := run
			if i == n-3 {
				after = on
			}
			add(JointTee, run, after, branch)
			for _, k := range ells(m.aslant(branch)) {
				add(ellJoints[k], branch)
			}
		}
		for _, k := range ells(turn(run.lies, on.lies)) {
			add(ellJoints[k], on)
		}
	}
	return append(out, transitions(m)...)
}

// aslant is how far a branch lies off square to the run.
func (m meeting) aslant(branch leg) angle {
	run := m.legs[0].lies
	if !run.known || !branch.lies.known {
		return 0
	}
	off := between(run, branch.lies)
	return max(off-90*degree, 90*degree-off)
}

// transitions are the adapters from the material of the first pipe to those of
// others.
func transitions(m meeting) []Joint {
	var out []Joint
	isNew := anyNew(m.legs)
	first := m.first()
	for _, l := range m.legs {
		if a, b := first.material, l.material; a != b && a != "" && b != "" {
			out = append(out, joint(isNew, JointTransition, first, l))
		}
	}
	return out
}

// joint is a fitting in the sizes of the legs it is for.
func joint(isNew bool, kind JointKind, of ...leg) Joint {
	j := Joint{Kind: kind, Class: of[0].class, New: isNew}
	for _, l := range of {
		j.Sizes = append(j.Sizes, l.size)
	}
	return j
}

// anyNew reports whether any pipe at a joint is new: its fitting then is, too.
func anyNew(legs []leg) bool {
	return slices.ContainsFunc(legs, func(l leg) bool { return l.isNew && l.pipe >= 0 })
}

func wider(a, b leg) leg {
	if b.size > a.size {
		return b
	}
	return a
}
