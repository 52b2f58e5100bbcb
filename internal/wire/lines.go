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
func groupsOf(paths []*path, s slack) []group {
	var out []group
	for _, p := range paths {
		i := slices.IndexFunc(out, func(g group) bool { return p.own >= 0 && g.box == p.own })
		if i < 0 {
			out = append(out, group{box: p.own})
			i = len(out) - 1
		}
		out[i].paths = append(out[i].paths, p)
	}
	farther := func(a, b *path) int { return cmp.Compare(s.length(b), s.length(a)) }
	for _, g := range out {
		slices.SortStableFunc(g.paths, farther)
	}
	slices.SortStableFunc(out, func(a, b group) int { return farther(a.paths[0], b.paths[0]) })
	return out
}

// web is the tree that the ways make from the controller outwards. Each place in
// it is the end of a segment, and knows the line that came by first.
type web struct {
	line int
	next map[int]*web // by segment
}

func (w *web) grow(segment int) *web {
	if w.next == nil {
		w.next = map[int]*web{}
	}
	if w.next[segment] == nil {
		w.next[segment] = &web{line: -1}
	}
	return w.next[segment]
}

// laying is lines as they come to be.
type laying struct {
	lines   []Line
	served  []int // by group: the line it hangs on
	unboxed []Unboxed
}

// lay leads a line to every group, the farthest first. One that leaves another is
// spliced to it in the box that stands there. Where none stands, a common goes back to the
// last box on its way, or to the controller; a cable, at forks, is spliced where it
// leaves, which the rules tell. In a building nothing is spliced.
func lay(d *trench.Digs, groups []group, forks bool, s slack) laying {
	var out laying
	root := &web{line: -1}
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
		switch from := startOf(p, k, forks); {
		case from > 0 && p.boxes[from-1] >= 0:
			l.From, l.Parent = p.boxes[from-1], root.along(p.segments[:from])
			out.lines[l.Parent].open(l.From)
			k = from
		case from > 0:
			l.From, l.Parent = AtFork, line
			out.unboxed = append(out.unboxed, Unboxed{At: p.ends[k-1]})
		default:
			k = 0
		}
		l.Segments = p.segments[k:]
		l.Boxes = p.passed(k, len(p.segments))
		if g.box >= 0 && !slices.Contains(l.Boxes, g.box) {
			l.Boxes = append(l.Boxes, g.box)
		}
		l.Boxes = slices.DeleteFunc(l.Boxes, func(b int) bool { return b == l.From })
		l.Length = l.reach(d, p, k, s)
		at = root
		for i, seg := range p.segments {
			if at = at.grow(seg); i >= k && at.line < 0 {
				at.line = len(out.lines)
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
		w = w.next[s]
	}
	return w.line
}

// open notes that splices are made in a box.
func (l *Line) open(box int) {
	if box >= 0 && !slices.Contains(l.Opened, box) {
		l.Opened = append(l.Opened, box)
	}
}

// reach is how long a line is that starts after k segments of its path.
func (l *Line) reach(d *trench.Digs, p *path, k int, s slack) units.Feet {
	ground := p.ground
	for _, i := range p.segments[:k] {
		ground -= d.Segments[i].Length
	}
	boxes := len(l.Boxes)
	if l.From != AtController || l.To < 0 {
		boxes++ // a loop where it starts, too, or where it ends without a box
	}
	if l.From != AtController && l.To < 0 {
		boxes++
	}
	return s.laid(max(ground, 0), boxes, l.From == AtController)
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
