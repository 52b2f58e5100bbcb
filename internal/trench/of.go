package trench

import (
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
)

// Of reads what is dug for p. net is p's own pipework; p must be valid. Its cost
// goes with the number of pieces of pipe and wire, and of edges near them.
func Of(p *plan.Plan, net *pipework.Network) *Digs {
	w := newWork(p, net)
	w.lay()
	d := &Digs{Boxes: w.boxes()}
	w.join(d.Boxes)
	w.cutByGround()
	w.cutByEachOther()
	w.split(d)
	w.cross(d)
	w.lead(d)
	w.serve(d)
	w.finish(d)
	return d
}

// work is one plan's digging in the making.
type work struct {
	p       *plan.Plan
	net     *pipework.Network
	land    *land
	width   float64 // of a trench, feet
	strands []strand
	lines   []line
	near    *squares // of the lines
	nodes   nodes
	hops    []hop
	stands  []stand
	segs    []piece
	passes  [][]pass // by crossing
}

// finish tells what lies in each stretch how deep, and adds it all up.
func (w *work) finish(d *Digs) {
	lateral, _ := w.p.Figure(plan.DepthLateral)
	main, _ := w.p.Figure(plan.DepthMain)
	wire, _ := w.p.Figure(plan.DepthWire)
	street, _ := w.p.Figure(plan.DepthDrive)
	for i := range d.Segments {
		s := &d.Segments[i]
		s.Width = inches(w.width * 12)
		cover := 0.0
		switch {
		case s.Main:
			cover = max(main, lateral)
		case len(s.Pipes) > 0:
			cover = lateral
		case len(s.Wires)+len(s.Ways) > 0:
			cover = wire
		}
		switch {
		case s.Ground == Indoors:
			cover = 0
		case s.Ground == Street:
			cover = max(cover, street)
		case s.Crossing >= 0:
			cover = float64(d.Crossings[s.Crossing].Cover)
		}
		s.Cover = inches(cover)
		s.Dug = s.New && s.Crossing < 0 && s.Ground != Indoors
	}
	w.total(d)
}
