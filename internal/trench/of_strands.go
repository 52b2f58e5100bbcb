package trench

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func inches(v float64) units.Inches { return units.Inches(v) }

// strand is one pipe or wire run as it lies.
type strand struct {
	pipe, wire plan.ID // one of them
	from, to   plan.ID // nodes of the plan, of a pipe
	main       bool
	isNew      bool
	indoors    bool // wire clipped on or in a building
	size       units.Inches
	points     []orb.Point // from the connection outwards
	laid       []runOn
	first      int // graph nodes of its ends
	last       int
}

// runOn is a part of a strand along one line; it runs against it where to < from.
type runOn struct {
	line     int
	from, to float64
}

// line is one straight trench line in the making. Others whose way lies within a
// trench's width of it lie in it.
type line struct {
	a, b   orb.Point
	length float64
	strand int // whose line it is
	fills  []fill
	cuts   []cut
	segs   [2]int // of work.segs
}

// fill is what else lies along a part of a line.
type fill struct {
	strand   int
	from, to float64
}

// cut is a place along a line where something changes, and its graph node.
type cut struct {
	at   float64
	node int
}

const (
	// alongDeg is how far two lines may differ in direction and still share a trench
	// for as long as they lie within its width. Chosen.
	alongDeg = 15.0
	// sharedLeast is the shortest stretch two lines share, in feet. Chosen: shorter
	// is a crossing, or the fittings about a joint.
	sharedLeast = 0.5
	// tiny is what is taken for nothing, in feet: a quarter of an inch.
	tiny = 0.02
)

func newWork(p *plan.Plan, net *pipework.Network) *work {
	width, _ := p.Figure(plan.TrenchWidth)
	w := &work{p: p, net: net, width: max(width/12, tiny), land: newLand(p)}
	for _, id := range pipeOrder(net) {
		drawn, e := p.Pipes[id], net.Pipes[id]
		s := strand{
			pipe: id, from: e.From, to: e.To, main: !e.Valved, isNew: drawn.Status.IsNew(), size: drawn.NominalIn,
			points: pipework.LineOf(p, drawn).Points(),
		}
		if e.Reversed {
			slices.Reverse(s.points)
		}
		w.strands = append(w.strands, s)
	}
	for _, id := range plan.SortedIDs(p.Wires) {
		if v := p.Wires[id]; v.Status.Stands() {
			w.strands = append(w.strands, strand{wire: id, isNew: v.Status.IsNew(), indoors: v.Lay == "building", points: v.Line.Points()})
		}
	}
	bound, some := orb.Bound{}, false
	for i := range w.strands {
		for _, at := range w.strands[i].points {
			if !some {
				bound, some = at.Bound(), true
			}
			bound = bound.Extend(at)
		}
	}
	w.near = newSquares(bound.Pad(1), len(w.strands))
	return w
}

// pipeOrder is the standing pipes as the water meets them, the main before what is
// behind valves.
func pipeOrder(net *pipework.Network) []plan.ID {
	out := make([]plan.ID, 0, len(net.Pipes))
	told := make(map[plan.ID]bool, len(net.Pipes))
	for _, n := range net.Order {
		if up := net.Nodes[n].Up; up != "" {
			out, told[up] = append(out, up), true
		}
	}
	for _, id := range plan.SortedIDs(net.Pipes) {
		if !told[id] {
			out = append(out, id)
		}
	}
	slices.SortStableFunc(out, func(a, b plan.ID) int { return cmp.Compare(rankOf(net.Pipes[a]), rankOf(net.Pipes[b])) })
	return out
}

func rankOf(e pipework.Pipe) int {
	if e.Valved {
		return 1
	}
	return 0
}

// lay gives every strand its place: along lines laid before it where it lies within
// a trench's width of them, and on lines of its own elsewhere.
func (w *work) lay() {
	for i := range w.strands {
		s := &w.strands[i]
		last := -1
		for k := 0; k+1 < len(s.points); k++ {
			for _, l := range w.layEdge(i, s.points[k], s.points[k+1]) {
				a, b := w.cutAt(l.line, l.from), w.cutAt(l.line, l.to)
				if last < 0 {
					s.first = a
				} else {
					w.nodes.merge(last, a)
				}
				last = b
				s.laid = append(s.laid, l)
			}
		}
		if last < 0 {
			s.first = w.nodes.add()
			last = s.first
		}
		s.last = last
		if s.pipe != "" {
			w.nodes.merge(s.first, w.nodes.of(s.from))
			w.nodes.merge(s.last, w.nodes.of(s.to))
		}
	}
}

// shared is a part of an edge that lies in the trench of a line.
type shared struct {
	from, to float64 // along the edge
	line     int
	at, end  float64 // along the line
}

// layEdge lays one straight piece of a strand.
func (w *work) layEdge(of int, a, b orb.Point) []runOn {
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	if length == 0 {
		return nil
	}
	var found []shared
	if !w.strands[of].indoors {
		w.near.visit(boundOf(a, b).Pad(w.width), func(i int) {
			l := &w.lines[i]
			if l.strand != of && !w.strands[l.strand].indoors {
				if s, ok := w.along(a, b, length, l); ok {
					s.line = i
					found = append(found, s)
				}
			}
		})
	}
	slices.SortFunc(found, func(x, y shared) int { return cmp.Compare(x.line, y.line) })
	var out []runOn
	type part struct{ from, to float64 }
	free := []part{{0, length}}
	var taken []shared
	for _, s := range found {
		var rest []part
		for _, f := range free {
			from, to := max(f.from, s.from), min(f.to, s.to)
			if to-from < sharedLeast {
				rest = append(rest, f)
				continue
			}
			scale := (s.end - s.at) / (s.to - s.from)
			taken = append(taken, shared{from, to, s.line, s.at + (from-s.from)*scale, s.at + (to-s.from)*scale})
			if from-f.from > tiny {
				rest = append(rest, part{f.from, from})
			}
			if f.to-to > tiny {
				rest = append(rest, part{to, f.to})
			}
		}
		free = rest
	}
	for _, f := range free {
		taken = append(taken, shared{from: f.from, to: f.to, line: -1})
	}
	slices.SortFunc(taken, func(x, y shared) int { return cmp.Compare(x.from, y.from) })
	place := func(t float64) orb.Point {
		return orb.Point{a[0] + (b[0]-a[0])*t/length, a[1] + (b[1]-a[1])*t/length}
	}
	for _, t := range taken {
		if t.line < 0 {
			i := len(w.lines)
			w.lines = append(w.lines, line{a: place(t.from), b: place(t.to), length: t.to - t.from, strand: of})
			w.near.add(i, boundOf(w.lines[i].a, w.lines[i].b))
			out = append(out, runOn{i, 0, t.to - t.from})
			continue
		}
		l := &w.lines[t.line]
		l.fills = append(l.fills, fill{of, min(t.at, t.end), max(t.at, t.end)})
		out = append(out, runOn{t.line, t.at, t.end})
	}
	return out
}

// along finds the part of the edge ab that lies in the trench of a line.
func (w *work) along(a, b orb.Point, length float64, l *line) (shared, bool) {
	ux, uy := (l.b[0]-l.a[0])/l.length, (l.b[1]-l.a[1])/l.length
	// Of both ends of the edge: how far along the line, and how far off it.
	at0, off0 := (a[0]-l.a[0])*ux+(a[1]-l.a[1])*uy, (a[1]-l.a[1])*ux-(a[0]-l.a[0])*uy
	at1, off1 := (b[0]-l.a[0])*ux+(b[1]-l.a[1])*uy, (b[1]-l.a[1])*ux-(b[0]-l.a[0])*uy
	if math.Abs(at1-at0) < length*math.Cos(alongDeg*math.Pi/180) {
		return shared{}, false
	}
	low, high := within(0, 1, off0, off1, -w.width, w.width)
	low, high = within(low, high, at0, at1, 0, l.length)
	if (high-low)*length < sharedLeast {
		return shared{}, false
	}
	return shared{from: low * length, to: high * length, at: at0 + (at1-at0)*low, end: at0 + (at1-at0)*high}, true
}

// within narrows [low, high] to where what goes evenly from v0 at 0 to v1 at 1 lies
// between least and most.
func within(low, high, v0, v1, least, most float64) (float64, float64) {
	d := v1 - v0
	if math.Abs(d) < 1e-9 {
		if v0 < least || v0 > most {
			return 0, 0
		}
		return low, high
	}
	x, y := (least-v0)/d, (most-v0)/d
	return max(low, min(x, y)), min(high, max(x, y))
}

func boundOf(a, b orb.Point) orb.Bound {
	return orb.Bound{Min: orb.Point{min(a[0], b[0]), min(a[1], b[1])}, Max: orb.Point{max(a[0], b[0]), max(a[1], b[1])}}
}

// cutAt makes a cut in a line, and gives its graph node.
func (w *work) cutAt(i int, at float64) int {
	n := w.nodes.add()
	w.lines[i].cuts = append(w.lines[i].cuts, cut{at, n})
	return n
}

// at is a place along a line.
func (l *line) at(t float64) orb.Point {
	if t >= l.length {
		return l.b
	}
	return orb.Point{l.a[0] + (l.b[0]-l.a[0])*t/l.length, l.a[1] + (l.b[1]-l.a[1])*t/l.length}
}

// foot is how far along a line the place nearest to at is, and how far off.
func (l *line) foot(at orb.Point) (t, off float64) {
	ux, uy := (l.b[0]-l.a[0])/l.length, (l.b[1]-l.a[1])/l.length
	t = min(max((at[0]-l.a[0])*ux+(at[1]-l.a[1])*uy, 0), l.length)
	q := l.at(t)
	return t, math.Hypot(at[0]-q[0], at[1]-q[1])
}
