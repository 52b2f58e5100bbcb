package wire

import (
	"cmp"
	"slices"

	"evenfall/internal/plan"
)

// perConnector is how many wires one waterproof connector takes (from memory; its
// package says how many of which size).
const perConnector = 5

// connectors are those that so many wires joined into one take: past the first,
// each is tied to the one before by a wire that takes a place in both.
func connectors(wires int) int {
	return max(1, (wires-2+perConnector-3)/(perConnector-2))
}

// splice counts the joints of every box: at each valve its two leads, one to its
// hot and one to the common; where a cable leaves another, each of its conductors;
// and the ends of the spares, which are kept dry.
func (w *work) splice() {
	joints := map[int][]int{} // by box, wires of each
	commons := map[int]int{}  // wires of the one that joins the commons
	for _, p := range w.paths {
		if p.own < 0 {
			w.Unboxed = append(w.Unboxed, Unboxed{At: p.end(controllerAt(w.p)), Serves: []plan.Ref{p.to}, Joints: 2})
			continue
		}
		joints[p.own] = append(joints[p.own], 2)
		commons[p.own]++
	}
	for _, l := range w.Lines {
		for _, b := range l.Opened {
			commons[b]++
			if b != l.To {
				commons[b]++ // it goes on
			}
		}
		if l.From < 0 {
			continue
		}
		commons[l.From]++
		if w.Cable == Multi {
			for range l.Serves {
				joints[l.From] = append(joints[l.From], 2)
			}
		}
	}
	if far := w.Lines[0].To; far >= 0 {
		for range w.Spares {
			joints[far] = append(joints[far], 1)
		}
	}
	for b, n := range commons {
		joints[b] = append(joints[b], n)
	}
	for b, all := range joints {
		s := Splice{Box: b}
		for _, wires := range all {
			s.Connectors, s.Wires = s.Connectors+connectors(wires), s.Wires+wires
		}
		w.Splices = append(w.Splices, s)
	}
	slices.SortFunc(w.Splices, func(a, b Splice) int { return cmp.Compare(a.Box, b.Box) })
}
