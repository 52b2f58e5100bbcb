package trench

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// wireAside is how far a sleeve for wire is drawn from the line of the pipes that
// cross with it, in feet; less where trenches are narrow. Chosen.
const wireAside = 0.25

// crossingWay is what goes under paving along one edge.
type crossingWay struct {
	from, to orb.Point // of the sleeve
	length   float64   // under paving
	pipes    int
	wire     bool
	area     plan.ID
}

// crossings are the new ways under paving, by edge and along it.
func (j *job) crossings(l *lanes) []crossingWay {
	var out []crossingWay
	for _, e := range j.dug() {
		if j.g.bores[e] == 0 || j.isLaid(e) || j.isTube(e) {
			continue
		}
		pipes, wire, first := 0, false, -1
		for k, n := range j.nets {
			if !slices.Contains(n.tree, e) {
				continue
			}
			if n.role == wireNet {
				wire = true
			} else {
				pipes++
			}
			if first < 0 {
				first = k
			}
		}
		a, b := l.pos[first][j.g.ends[e][0]], l.pos[first][j.g.ends[e][1]]
		way, _ := j.f.walk(a, b)
		length := apart(a, b)
		for _, u := range j.f.bores(way) {
			past := j.f.rates.past
			out = append(out, crossingWay{
				from: along(a, b, (u.from-past)/length), to: along(a, b, (u.to+past)/length),
				length: u.to - u.from, pipes: pipes, wire: wire, area: u.area,
			})
		}
	}
	return out
}

// sleeves draws the sleeves that new ways under paving take: for pipes and for wire
// their own, side by side.
func (d *draft) sleeves() {
	old := []plan.ID{}
	for _, id := range plan.SortedIDs(d.j.p.Sleeves) {
		v := d.j.p.Sleeves[id]
		if !d.j.kept(v.Locked, v.Status) && v.Carries != "spare" && (v.Carries != "wire" || d.j.o.Wire) {
			old = append(old, id)
		}
	}
	reach := min(wireAside, max(d.j.f.rates.width, 0.06)*0.75)
	for _, c := range d.j.crossings(d.l) {
		length := apart(c.from, c.to)
		side := orb.Point{-(c.to[1] - c.from[1]) / length, (c.to[0] - c.from[0]) / length}
		put := func(carries string, off float64) {
			shift := orb.Point{float64(off * side[0]), float64(off * side[1])}
			a, b := d.j.f.reaching(orb.Point{c.from[0] + shift[0], c.from[1] + shift[1]}, orb.Point{c.to[0] + shift[0], c.to[1] + shift[1]})
			old = d.sleeve(old, carries, toHundredth(a), toHundredth(b))
		}
		for i := range (c.pipes + inSleeve - 1) / inSleeve {
			put("pipe", float64(i)*reach/2)
		}
		if c.wire {
			off := 0.
			if c.pipes > 0 {
				off = -reach
			}
			put("wire", off)
		}
	}
	for _, id := range old {
		if d.j.whole || !d.passes(d.j.p.Sleeves[id]) {
			delete(d.next.Sleeves, id)
		}
	}
}

// reaching is a sleeve made longer where it is drawn beside its pipe and the edges of
// the paving run aslant: past them along itself, too.
func (f *field) reaching(a, b orb.Point) (orb.Point, orb.Point) {
	const more = 2.0
	length := apart(a, b)
	from, to := along(a, b, -more/length), along(a, b, 1+more/length)
	whole := length + 2*more
	first, last := whole/2, whole/2
	cuts := f.cuts(from, to, whole)
	for i := 1; i < len(cuts); i++ {
		if is, _ := f.at(along(from, to, (cuts[i-1]+cuts[i])/2/whole)); is == Paved && cuts[i] > more && cuts[i-1] < whole-more {
			first, last = min(first, cuts[i-1]), max(last, cuts[i])
		}
	}
	return along(from, to, min(more, first-f.rates.past)/whole), along(from, to, max(whole-more, last+f.rates.past)/whole)
}

// passes reports whether a pipe drawn goes through a sleeve.
func (d *draft) passes(v plan.Sleeve) bool {
	mid := along(pointOf(v.From), pointOf(v.To), 0.5)
	for _, id := range plan.SortedIDs(d.next.Pipes) {
		q := d.next.Pipes[id]
		line := append(orb.LineString{pointOf(d.next.Nodes[q.From].Spot())}, q.Via.Points()...)
		line = append(line, pointOf(d.next.Nodes[q.To].Spot()))
		if off, _, _ := geom.DistanceToEdge(mid, line); q.Status.Stands() && off < 0.5 {
			return true
		}
	}
	return false
}

// sleeve draws one, in the place of an old one that lay nearly there.
func (d *draft) sleeve(old []plan.ID, carries string, a, b orb.Point) []plan.ID {
	const nearby = 1.0
	v := plan.Sleeve{Carries: carries, Status: plan.New}
	id := plan.ID("")
	best, least, turned := -1, nearby, false
	for i, o := range old {
		was := d.j.p.Sleeves[o]
		if was.Carries != carries && was.Carries != "" {
			continue
		}
		p, q := pointOf(was.From), pointOf(was.To)
		same, other := max(apart(p, a), apart(q, b)), max(apart(p, b), apart(q, a))
		if off := min(same, other); off < least {
			best, least, turned = i, off, other < same
		}
	}
	if best >= 0 {
		id = old[best]
		v = d.j.p.Sleeves[id]
		v.Carries = carries
		old = slices.Delete(slices.Clone(old), best, best+1)
		if turned {
			a, b = b, a
		}
	} else {
		id = newID(d, "s", fmt.Sprint(carries, a, b), d.next.Sleeves, d.j.p.Sleeves)
	}
	v.From, v.To = plan.Spot{X: units.Feet(a[0]), Y: units.Feet(a[1])}, plan.Spot{X: units.Feet(b[0]), Y: units.Feet(b[1])}
	d.next.Sleeves[id] = v
	return old
}

// wires draws the runs of wire where no pipe lies in the trench.
func (d *draft) wires() {
	j := d.j
	k := len(j.nets) - 1
	if j.nets[k].role != wireNet {
		return
	}
	old := []plan.ID{}
	for _, id := range plan.SortedIDs(j.p.Wires) {
		if v := j.p.Wires[id]; !j.kept(v.Locked, v.Status) {
			old = append(old, id)
		}
	}
	at := map[int32][]int32{}
	for _, e := range j.nets[k].tree {
		if j.used[e] > 1 || j.isLaid(e) {
			continue
		}
		for _, v := range j.g.ends[e] {
			at[v] = append(at[v], e)
		}
	}
	begun := map[int32]bool{}
	for v := range j.g.at {
		n := int32(v)
		if len(at[n]) == 0 || len(at[n]) == 2 {
			continue
		}
		for _, e := range at[n] {
			if begun[e] {
				continue
			}
			begun[e] = true
			line := orb.LineString{j.g.at[n]}
			last, to := e, j.g.other(e, n)
			indoors := j.g.indoors[e]
			for len(at[to]) == 2 && !indoors {
				on := at[to][0]
				if on == last {
					on = at[to][1]
				}
				if j.g.indoors[on] {
					break
				}
				begun[on] = true
				line = append(line, j.g.at[to])
				last, to = on, j.g.other(on, to)
			}
			old = d.run(old, append(line, j.g.at[to]), indoors)
		}
	}
	for _, id := range old {
		delete(d.next.Wires, id)
	}
}

// run draws a run of wire, one that leaves a building in two parts.
func (d *draft) run(old []plan.ID, line orb.LineString, indoors bool) []plan.ID {
	if !indoors {
		return d.wire(old, line, "")
	}
	a, b := line[0], line[len(line)-1]
	if is, area := d.j.f.at(a); is != Indoors || !d.j.f.inside(a, area) {
		a, b = b, a
	}
	length := apart(a, b)
	cuts := d.j.f.cuts(a, b, length)
	for i := 1; i < len(cuts); i++ {
		if is, _ := d.j.f.at(along(a, b, (cuts[i-1]+cuts[i])/2/length)); is != Indoors {
			wall := toHundredth(along(a, b, cuts[i-1]/length))
			old = d.wire(old, orb.LineString{a, wall}, "building")
			return d.wire(old, orb.LineString{wall, b}, "")
		}
	}
	return d.wire(old, orb.LineString{a, b}, "building")
}

func (d *draft) wire(old []plan.ID, line orb.LineString, lay string) []plan.ID {
	if len(line) > 2 {
		line = append(append(orb.LineString{line[0]}, straightened(line[0], line[1:len(line)-1], line[len(line)-1])...), line[len(line)-1])
	}
	v := plan.WireRun{Lay: lay, Status: plan.New}
	id := plan.ID("")
	for i, o := range old {
		was := d.j.p.Wires[o]
		p := was.Line.Points()
		if was.Lay != lay && !(lay == "" && was.Lay == "trench") || apart(p[0], line[0]) > sameJoint || apart(p[len(p)-1], line[len(line)-1]) > sameJoint {
			continue
		}
		id, v = o, was
		old = slices.Delete(slices.Clone(old), i, i+1)
		break
	}
	if id == "" {
		id = newID(d, "w", fmt.Sprint(line), d.next.Wires, d.j.p.Wires)
	}
	v.Line = nil
	for _, q := range line {
		v.Line = append(v.Line, geom.Vertex{X: q[0], Y: q[1]})
	}
	d.next.Wires[id] = v
	return old
}
