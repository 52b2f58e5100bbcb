package wire

import (
	"cmp"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// group is the valves that are spliced in one box. Their wire goes as that of the
// farthest of them.
type group struct {
	box   int
	paths []*path // the farthest first
}

// groupsOf gathers paths by box, the group with the longest wire first.
func groupsOf(paths []*path) []group {
	var out []group
	for _, p := range paths {
		i := slices.IndexFunc(out, func(g group) bool { return p.own >= 0 && g.box == p.own })
		if i < 0 {
			out = append(out, group{box: p.own})
			i = len(out) - 1
		}
		out[i].paths = append(out[i].paths, p)
	}
	farther := func(a, b *path) int { return cmp.Compare(b.length, a.length) }
	for _, g := range out {
		slices.SortStableFunc(g.paths, farther)
	}
	slices.SortStableFunc(out, func(a, b group) int { return farther(a.paths[0], b.paths[0]) })
	return out
}

// web is the tree that the ways make from the controller outwards. Each place in
// it is the end of a segment, and knows the line that came by first, and the box there.
type web struct {
	segment   int // to here
	line, box int
	next      []*web
}

// grow is the place a segment on.
func (w *web) grow(segment int) *web {
	for _, n := range w.next {
		if n.segment == segment {
			return n
		}
	}
	n := &web{segment: segment, line: -1, box: -1}
	w.next = append(w.next, n)
	return n
}

// laying is lines as they come to be.
type laying struct {
	lines   []Line
	served  []int // by group: the line it hangs on
	unboxed []Unboxed
}

// lay leads a line to every group, the farthest first. One that leaves another is
// spliced to it in the box that stands there. Where none stands, a common comes from the
// nearest: the last box on its way, the controller, or a box farther along what it
// leaves, from which it comes back to where they part. A cable, at forks, is spliced where it
// leaves, which the rules tell. In a building nothing is spliced.
func lay(d *trench.Digs, groups []group, forks bool, s slack) laying {
	var out laying
	root := &web{segment: -1, line: -1, box: -1}
	for _, g := range groups {
		p := g.paths[0]
		at, k, line := root, 0, -1
		for k < len(p.segments) {
			next := at.grow(p.segments[k])
			if next.line < 0 {
				break
			}
			at, line, k = next, next.line, k+1
		}
		if k > 0 && (k == len(p.segments) || p.boxes[k-1] >= 0 && p.boxes[k-1] == g.box) {
			out.lines[line].open(g.box)
			out.served = append(out.served, line)
			continue
		}
		l := Line{From: AtController, To: g.box, Parent: -1}
		from, start, fork := startOf(p, k, forks), []int(nil), k
		back := turn{box: -1}
		if from < k && k > p.indoors {
			back = spliced(at, d)
		}
		switch {
		case back.box >= 0 && back.ground < groundOf(d, p.segments[from:k]):
			l.From, l.Parent, start = back.box, back.line, back.segments
			l.Detour = 2 * s.laid(back.ground, 1, false)
		case from > 0 && p.boxes[from-1] >= 0:
			l.From, l.Parent, k = p.boxes[from-1], root.along(p.segments[:from]), from
		case from > 0:
			l.From, l.Parent = AtFork, line
			out.unboxed = append(out.unboxed, Unboxed{At: p.ends[k-1], Fork: true})
		default:
			k = 0
		}
		if l.Parent >= 0 {
			l.Detour += out.lines[l.Parent].Detour
			out.lines[l.Parent].open(l.From)
		}
		l.Segments = slices.Concat(start, p.segments[k:])
		l.Boxes = p.passed(k, len(p.segments))
		if g.box >= 0 && !slices.Contains(l.Boxes, g.box) {
			l.Boxes = append(l.Boxes, g.box)
		}
		l.Boxes = slices.DeleteFunc(l.Boxes, func(b int) bool { return b == l.From })
		l.Length = l.reach(p.ground-groundOf(d, p.segments[:k])+groundOf(d, start), s)
		at = root
		for i, seg := range p.segments {
			if at = at.grow(seg); i >= fork && at.line < 0 {
				at.line, at.box = len(out.lines), p.boxes[i]
			}
		}
		l.open(g.box)
		out.served = append(out.served, len(out.lines))
		out.lines = append(out.lines, l)
	}
	return out
}

// startOf is how many segments along its path a line starts that leaves what is
// laid after k of them.
func startOf(p *path, k int, forks bool) int {
	if k <= p.indoors {
		return 0
	}
	for i := k; i > p.indoors; i-- {
		if p.boxes[i-1] >= 0 || forks {
			return i
		}
	}
	return 0
}

// along is the line at the end of a walk.
func (w *web) along(segments []int) int {
	for _, s := range segments {
		w = w.grow(s)
	}
	return w.line
}

// open notes that splices are made in a box.
func (l *Line) open(box int) {
	if box >= 0 && !slices.Contains(l.Opened, box) {
		l.Opened = append(l.Opened, box)
	}
}

// reach is how long a line is along so much ground.
func (l *Line) reach(ground units.Feet, s slack) units.Feet {
	boxes := len(l.Boxes)
	if l.From != AtController {
		boxes++ // a loop where it starts, too
	}
	if l.To < 0 {
		boxes++
	}
	return s.laid(max(ground, 0), boxes, l.From == AtController)
}

// turn is a way back from a box to a place before it.
type turn struct {
	box, line int // -1: none
	ground    units.Feet
	segments  []int // from the box on
}

// spliced is the nearest box beyond a place that a line comes to, and the way back.
func spliced(at *web, d *trench.Digs) turn {
	best := turn{box: -1, line: -1}
	for _, next := range at.next {
		if next.line < 0 {
			continue
		}
		t := turn{next.box, next.line, 0, nil}
		if t.box < 0 {
			t = spliced(next, d)
		}
		t.ground += d.Segments[next.segment].Length
		if t.box >= 0 && (best.box < 0 || t.ground < best.ground) {
			t.segments = append(t.segments, next.segment) // its own
			best = t
		}
	}
	return best
}

// groundOf is the length of segments.
func groundOf(d *trench.Digs, segments []int) (sum units.Feet) {
	for _, s := range segments {
		sum += d.Segments[s].Length
	}
	return sum
}

// count fills in what the lines serve and how many conductors they need. The first
// has the spares.
func (y *laying) count(groups []group, spares int) {
	for i := range y.lines {
		y.lines[i].Needs = 1
	}
	if len(y.lines) > 0 {
		y.lines[0].Needs += spares
	}
	for i, g := range groups {
		var refs []plan.Ref
		for _, p := range g.paths {
			refs = append(refs, p.to)
		}
		for at := y.served[i]; at >= 0; at = y.lines[at].Parent {
			l := &y.lines[at]
			l.Serves, l.Needs = append(l.Serves, refs...), l.Needs+len(refs)
		}
	}
	for i := range y.lines {
		slices.Sort(y.lines[i].Serves)
	}
	fork := 0
	for _, l := range y.lines {
		if l.From == AtFork {
			y.unboxed[fork].Serves, y.unboxed[fork].Joints = l.Serves, len(l.Serves)+1
			fork++
		}
	}
}
