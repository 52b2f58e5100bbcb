package trench

import (
	"cmp"
	"slices"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// piece is a segment in the making.
type piece struct {
	line     int
	from, to float64 // along it
	a, b     int     // graph nodes
	spotted
}

// cutByEachOther cuts lines where they meet: wire may turn there.
func (w *work) cutByEachOther() {
	for i := range w.lines {
		l := &w.lines[i]
		if w.strands[l.strand].indoors {
			continue
		}
		b := boundOf(l.a, l.b)
		w.near.visit(b, func(j int) {
			m := &w.lines[j]
			if j <= i || w.strands[m.strand].indoors || !b.Intersects(boundOf(m.a, m.b)) {
				return
			}
			if at, ok := geom.SegmentIntersection(l.a, l.b, m.a, m.b); ok {
				t, _ := l.foot(at)
				u, _ := m.foot(at)
				w.nodes.merge(w.cutAt(i, t), w.cutAt(j, u))
			}
		})
	}
}

// split makes the segments: the lines between their cuts.
func (w *work) split(d *Digs) {
	n := 0
	for i := range w.lines {
		w.settleCuts(i)
		n += len(w.lines[i].cuts) - 1
	}
	w.segs, d.Segments = make([]piece, 0, n), make([]Segment, 0, n)
	for i := range w.lines {
		l := &w.lines[i]
		l.segs[0] = len(w.segs)
		for k := 0; k+1 < len(l.cuts); k++ {
			w.segs = append(w.segs, piece{line: i, from: l.cuts[k].at, to: l.cuts[k+1].at, a: l.cuts[k].node, b: l.cuts[k+1].node})
			d.Segments = append(d.Segments, w.segment(&w.segs[len(w.segs)-1]))
		}
		l.segs[1] = len(w.segs)
	}
}

// settleCuts puts the cuts of a line in order, and makes one of those at one place.
func (w *work) settleCuts(i int) {
	l := &w.lines[i]
	for _, f := range l.fills {
		w.cutAt(i, f.from)
		w.cutAt(i, f.to)
	}
	w.cutAt(i, 0)
	w.cutAt(i, l.length)
	slices.SortStableFunc(l.cuts, func(x, y cut) int { return cmp.Compare(x.at, y.at) })
	kept := l.cuts[:1]
	for _, c := range l.cuts[1:] {
		if last := &kept[len(kept)-1]; c.at-last.at <= tiny {
			w.nodes.merge(last.node, c.node)
			if c.at == l.length && len(kept) > 1 { // the end stays where it is
				last.at = c.at
			}
			continue
		}
		kept = append(kept, c)
	}
	l.cuts = kept
}

// segment tells one piece's ground and what lies in it.
func (w *work) segment(s *piece) Segment {
	l := &w.lines[s.line]
	out := Segment{From: l.at(s.from), To: l.at(s.to), Length: units.Feet(s.to - s.from), Crossing: -1}
	own := &w.strands[l.strand]
	if own.indoors {
		s.spotted = spotted{ground: Indoors, paving: -1}
	} else {
		s.spotted = w.land.of(out.From, out.To)
	}
	out.Ground, out.Area, out.Tree = s.ground, s.area, s.tree
	out.add(own)
	mid := (s.from + s.to) / 2
	for _, f := range l.fills {
		if f.from < mid && mid < f.to {
			out.add(&w.strands[f.strand])
		}
	}
	slices.Sort(out.Pipes)
	slices.Sort(out.Wires)
	return out
}

// add puts a strand into a segment.
func (s *Segment) add(v *strand) {
	if v.pipe != "" {
		s.Pipes = append(s.Pipes, v.pipe)
		s.Main = s.Main || v.main
	} else {
		s.Wires = append(s.Wires, v.wire)
	}
	s.New = s.New || v.isNew
}

// alongStrand gives the segments of a strand in its order, and whether it runs
// against them.
func (w *work) alongStrand(s *strand, meet func(i int, back bool)) {
	for _, l := range s.laid {
		first, end := w.lines[l.line].segs[0], w.lines[l.line].segs[1]
		low, high := min(l.from, l.to), max(l.from, l.to)
		in := func(i int) bool {
			mid := (w.segs[i].from + w.segs[i].to) / 2
			return low < mid && mid < high
		}
		if l.from < l.to {
			for i := first; i < end; i++ {
				if in(i) {
					meet(i, false)
				}
			}
			continue
		}
		for i := end - 1; i >= first; i-- {
			if in(i) {
				meet(i, true)
			}
		}
	}
}

// total adds up what is to be dug.
func (w *work) total(d *Digs) {
	d.Totals.By = map[Ground]units.Feet{}
	for _, s := range d.Segments {
		if !s.Dug {
			continue
		}
		d.Totals.Trench += s.Length
		d.Totals.By[s.Ground] += s.Length
		deep := s.Cover
		size := units.Inches(0)
		for _, id := range s.Pipes {
			size = max(size, w.p.Pipes[id].NominalIn)
		}
		d.Totals.Spoil += float64(s.Length) * float64(s.Width.Feet()) * float64((deep + size).Feet()) / 27
	}
	for _, c := range d.Crossings {
		if c.New {
			d.Totals.Sleeved += c.Length
		}
	}
}
