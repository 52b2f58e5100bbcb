package packs

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// cell draws one part in a box with its title over it and its scale under it.
func (s *sleeveSheet) cell(add func(...drawing.Item), box orb.Bound, c sleeveCell) (*drawing.View, Scale) {
	k := s.k
	size := 9 * k
	add(&drawing.Text{At: orb.Point{box.Min[0], box.Max[1] - size}, Size: size, Bold: !c.all, S: cut(c.title, size, !c.all, box.Max[0]-box.Min[0])})
	in := boxOf(box.Min[0], box.Min[1]+12*k, box.Max[0], box.Max[1]-size*1.5)
	bound := s.bounds(c)
	across, up := s.room(c)
	across, up = min(across, (in.Max[0]-in.Min[0])*0.32), min(up, (in.Max[1]-in.Min[1])*0.32)
	at, _ := scaleThatFits(s.b.sys, bound.Max[0]-bound.Min[0], bound.Max[1]-bound.Min[1], in.Max[0]-in.Min[0]-2*across, in.Max[1]-in.Min[1]-2*up)
	v := &drawing.View{Box: in, Middle: bound.Center(), PerFoot: at.perFoot()}
	v.Items = s.ground(v, c)
	add(v)
	s.labelled(add, v, c)
	add(
		&drawing.Area{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.6}, Rings: [][]orb.Point{{in.Min, {in.Max[0], in.Min[1]}, in.Max, {in.Min[0], in.Max[1]}}}},
		&drawing.Text{At: orb.Point{box.Max[0], box.Min[1] + 2*k}, Size: 7.5 * k, Anchor: drawing.End, Ink: drawing.Grey, S: at.Name},
	)
	return v, at
}

// room is what is kept free beside what is to be seen, at the sides and over and under
// it: for the distances that stand there one beside the other.
func (s *sleeveSheet) room(c sleeveCell) (across, up float64) {
	const name = 26.0
	if c.all {
		return name * s.k, name * s.k
	}
	times := map[dimensionSide]int{}
	across, up = name*s.k, name*s.k
	for _, i := range c.of {
		for _, e := range s.list[i].Ends {
			if e.Along > farCorner {
				continue
			}
			side := dimensionSide{e.Corner, e.Side}
			times[side]++
			off := float64(times[side])*s.step(e.Out) + 4*s.k
			across = max(across, off*math.Abs(e.Out[0])+name*s.k*math.Abs(e.Out[0]))
			up = max(up, off*math.Abs(e.Out[1])+8*s.k*math.Abs(e.Out[1]))
		}
	}
	return across, up
}

// dimensionSide is a side of a corner that distances stand at.
type dimensionSide struct{ corner, side string }

// step is how far the next distance stands off: beside an edge that goes up the page
// the words lie across.
func (s *sleeveSheet) step(out orb.Point) float64 { return (12 + 14*math.Abs(out[0])) * s.k }

// bounds are what is to be seen in a part.
func (s *sleeveSheet) bounds(c sleeveCell) orb.Bound {
	first := true
	var out orb.Bound
	see := func(q orb.Point) {
		if first {
			out, first = q.Bound(), false
		}
		out = out.Extend(q)
	}
	for i := range s.list {
		v := &s.list[i]
		if !c.all && !slices.Contains(c.of, i) {
			continue
		}
		see(v.From)
		see(v.To)
		for _, e := range v.Ends {
			if c.all {
				b := s.p.Areas[v.Paving].Outline.Bound()
				see(b.Min)
				see(b.Max)
			} else if e.Corner != "" && e.Along <= farCorner {
				see(e.CornerAt)
			}
		}
	}
	return out
}

// ground draws paving and, to find one's way by, buildings, lot, trench, and the sleeves.
func (s *sleeveSheet) ground(v *drawing.View, c sleeveCell) []drawing.Item {
	var out []drawing.Item
	rings := func(o geom.Outline, holes []geom.Outline) [][]orb.Point {
		all := [][]orb.Point{o.Ring()}
		for _, h := range holes {
			all = append(all, h.Ring())
		}
		return all
	}
	seen := orb.MultiPoint{v.ToGround(v.Box.Min), v.ToGround(v.Box.Max)}.Bound()
	paving := s.paving()
	for _, id := range plan.SortedIDs(s.p.Areas) {
		a := s.p.Areas[id]
		if !a.Status.Stands() || !seen.Intersects(a.Outline.Bound()) {
			continue
		}
		switch {
		case slices.Contains(paving, id):
			out = append(out, &drawing.Area{Pen: drawing.Pen{Ink: drawing.Black, Width: 1 * s.k}, Fill: drawing.RGB(0xe9e9e6), Rings: rings(a.Outline, a.Holes)})
		case a.Kind == plan.Building:
			out = append(out, &drawing.Area{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.8 * s.k}, Fill: drawing.White, Rings: rings(a.Outline, a.Holes)})
		}
	}
	if len(s.p.Site.Lot) > 2 {
		out = append(out, &drawing.Area{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.8 * s.k, Dash: []float64{8, 3, 2, 3}}, Rings: rings(s.p.Site.Lot, nil)})
	}
	for i := range s.d.Segments {
		if seg := &s.d.Segments[i]; seg.New && seg.Crossing < 0 && seen.Intersects(orb.MultiPoint{seg.From, seg.To}.Bound()) {
			out = append(out, &drawing.Line{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.8 * s.k, Dash: []float64{1.5, 2.5}}, Points: []orb.Point{seg.From, seg.To}})
		}
	}
	for i := range s.list {
		l := &s.list[i]
		pen := drawing.Pen{Ink: drawing.Black, Width: 2.6 * s.k}
		switch {
		case !c.all && !slices.Contains(c.of, i):
			pen.Ink, pen.Width = drawing.Pale, 1.2*s.k
		case l.ID == "":
			pen.Dash = []float64{6, 2.5}
		case !l.New:
			pen.Width = 1.2 * s.k
		}
		out = append(out, &drawing.Line{Pen: pen, Points: []orb.Point{l.From, l.To}})
		for _, e := range l.Ends {
			out = append(out, &drawing.Arc{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.7 * s.k}, Fill: drawing.White, Centre: e.At, Radius: 1.8 * s.k, SweepDeg: 360, OnPaper: true})
		}
	}
	return out
}

// paving are the areas that sleeves go under.
func (s *sleeveSheet) paving() []plan.ID {
	var out []plan.ID
	for i := range s.list {
		for _, c := range s.d.Crossings {
			if slices.Contains(c.Sleeves, s.list[i].ID) && s.list[i].ID != "" {
				out = append(out, c.Area)
			}
		}
		if s.list[i].Paving != "" {
			out = append(out, s.list[i].Paving)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
