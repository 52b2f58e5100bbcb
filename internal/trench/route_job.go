package trench

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// inSleeve is how many pipes one sleeve takes: its size follows theirs, so only
// their number counts. Chosen.
const inSleeve = 2

// job is a plan read for routing, with the valves at given places.
type job struct {
	p       *plan.Plan
	o       Options
	effort  int
	f       *field
	whole   bool             // every zone that has heads is asked for, so the main is sought too
	asked   map[plan.ID]bool // zones
	zones   []plan.ID        // the same, by id
	heads   map[plan.ID][]plan.ID
	valves  map[plan.ID]orb.Point
	nodeIDs []plan.ID
	pinned  map[plan.ID]bool // nodes that are not to be moved
	nets    []*net
	laid    []remain
	tubes   []tube
	s       *spots
	g       *roads
	seek    *seeker
	used    []int16 // nets that go through an edge
	laidOf  []int32 // of laid, by edge; -1: none
	notes   []string
	ease    float64
}

// newJob reads a plan. places are where valves are to stand that may be moved, and
// extra are more places a trench may turn at.
func newJob(p *plan.Plan, o Options, f *field, places map[plan.ID]orb.Point) (*job, error) {
	j := &job{ease: 1, p: p, o: o, effort: o.Effort, f: f, nodeIDs: plan.SortedIDs(p.Nodes), valves: places}
	if j.effort <= 0 {
		j.effort = usualEffort
	}
	j.effort *= anEvaluation
	if err := j.gather(); err != nil {
		return nil, err
	}
	j.s = newSpots(f)
	j.settle()
	j.sleeves()
	j.number()
	ends := orb.Bound{Min: j.s.at[0], Max: j.s.at[0]}
	for _, q := range j.s.at {
		ends = ends.Extend(q)
	}
	for _, n := range j.nets {
		var at []orb.Point
		for _, e := range n.ends {
			at = append(at, e.at)
		}
		j.s.fermat(at)
	}
	j.s.fill(ends)
	j.graph()
	return j, nil
}

// graph makes the graph of the places laid, with what stays as edges of its own.
func (j *job) graph() {
	j.g = j.s.build()
	j.layEdges()
	for i := range j.tubes {
		t := &j.tubes[i]
		t.edge = j.g.add(t.ends[0], t.ends[1], apart(j.g.at[t.ends[0]], j.g.at[t.ends[1]]), 0, 0, false)
	}
	j.g.index()
	j.seek = newSeeker(j.g)
	j.used, j.laidOf = make([]int16, len(j.g.ends)), make([]int32, len(j.g.ends))
	for e := range j.laidOf {
		j.laidOf[e] = -1
	}
	for i, l := range j.laid {
		for _, e := range l.edges {
			j.laidOf[e] = int32(i)
		}
	}
	j.terminals()
}

// places finds which nodes may not be moved, and where each valve stands.
func (j *job) places() {
	j.pinned = map[plan.ID]bool{}
	for _, id := range plan.SortedIDs(j.p.Pipes) {
		if v := j.p.Pipes[id]; j.stays(v) {
			j.pinned[v.From], j.pinned[v.To] = true, true
		}
	}
	for _, id := range j.nodeIDs {
		if n := j.p.Nodes[id]; n.Locked || !n.Status.IsNew() {
			j.pinned[id] = true
		}
	}
	given := j.valves
	j.valves = map[plan.ID]orb.Point{}
	for _, id := range j.zones {
		z := j.p.Zones[id]
		node := j.nodeFor("valve", "", id)
		at, moved := given[id]
		switch {
		case node != "" && j.pinned[node]:
			j.valves[id] = pointOf(j.p.Nodes[node].Spot())
		case moved:
			j.valves[id] = at
		case z.ValveAt != nil:
			j.valves[id] = pointOf(*z.ValveAt)
		case node != "":
			j.valves[id] = pointOf(j.p.Nodes[node].Spot())
		}
	}
}

// sleeves reads the sleeves that are there or stay, and how many more pipes each
// has room for.
func (j *job) sleeves() {
	for _, id := range plan.SortedIDs(j.p.Sleeves) {
		v := j.p.Sleeves[id]
		if !v.Status.Stands() || !j.kept(v.Locked, v.Status) {
			continue
		}
		a, b := pointOf(v.From), pointOf(v.To)
		t := tube{ends: [2]int32{j.s.end(a), j.s.end(b)}, pipes: inSleeve, wire: v.Carries != "pipe"}
		if v.Carries == "wire" {
			t.pipes = 0
		}
		mid := along(a, b, 0.5)
		for _, l := range j.laid {
			for k := 1; k < len(l.nodes); k++ {
				if apart(mid, geom.NearestOnSegment(mid, j.s.at[l.nodes[k-1]], j.s.at[l.nodes[k]])) < 0.5 {
					t.pipes--
					break
				}
			}
		}
		if t.ends[0] != t.ends[1] {
			j.tubes = append(j.tubes, t)
		}
	}
}

// blockedEnds are the ends no way leads to, and what is in the way of each.
func (j *job) blockedEnds() []Blocked {
	var out []Blocked
	told := map[plan.Ref]bool{}
	for _, n := range j.nets {
		if begin := n.ends[0]; len(n.blocked) > 0 && j.badGround(begin) != "" {
			if !told[begin.what] { // nothing can be reached from there
				told[begin.what] = true
				out = append(out, Blocked{What: begin.what, At: begin.at, Why: j.badGround(begin)})
			}
			continue
		}
		for _, e := range n.ends {
			if n.blocked[e.n] && !told[e.what] {
				told[e.what] = true
				out = append(out, Blocked{What: e.what, At: e.at, Why: j.inTheWay(n, e)})
			}
		}
	}
	return out
}

// badGround says what is wrong with where an end stands; "" when nothing is.
func (j *job) badGround(e end) string {
	name := plan.Capital(j.endName(e.what))
	if is, area := j.f.at(e.at); forbidden(is) {
		return fmt.Sprintf("%s stands %s.", name, j.groundName(is, area))
	}
	for _, t := range j.f.trunks {
		if apart(t.at, e.at) < t.clear {
			return fmt.Sprintf("%s stands nearer to %s than trenches may come.", name, j.p.Label(plan.RefTo("trees", t.id)))
		}
	}
	return ""
}

// inTheWay says what keeps a net from an end.
func (j *job) inTheWay(n *net, e end) string {
	name := j.endName(e.what)
	if bad := j.badGround(e); bad != "" {
		return bad
	}
	from := n.ends[0]
	length := apart(e.at, from.at)
	if length > 0 {
		cuts := j.f.cuts(e.at, from.at, length)
		for i := 1; i < len(cuts); i++ {
			if is, area := j.f.at(along(e.at, from.at, (cuts[i-1]+cuts[i])/2/length)); forbidden(is) {
				return fmt.Sprintf("No way leads from %s to %s: in between lies what is %s.", j.endName(from.what), name, j.groundName(is, area))
			}
		}
		for _, t := range j.f.trunks {
			if apart(t.at, geom.NearestOnSegment(t.at, e.at, from.at)) < t.clear {
				return fmt.Sprintf("No way leads from %s to %s clear of %s.", j.endName(from.what), name, j.p.Label(plan.RefTo("trees", t.id)))
			}
		}
	}
	return fmt.Sprintf("No way was found from %s to %s.", j.endName(from.what), name)
}

func (j *job) groundName(is Ground, area plan.ID) string {
	switch is {
	case OffLot:
		return "outside the property line"
	case NotToDig:
		return "in " + j.p.AreaName(area) + ", which is not to be dug"
	}
	return "in " + j.p.AreaName(area)
}

// endName is what an end is called within a sentence.
func (j *job) endName(what plan.Ref) string {
	switch collection, id := what.Split(); {
	case what == "supply/connection":
		return "the point of connection"
	case what == "supply/backflow_at":
		return "the backflow device"
	case what == "controller":
		return "the controller"
	case collection == "zones":
		return "the valve of " + j.p.ZoneName(id)
	case collection == "heads":
		return j.p.HeadName(id)
	}
	return j.p.Label(what)
}

// segments of the graph's own that the nets go through, in order.
func (j *job) dug() []int32 {
	var out []int32
	for e, n := range j.used {
		if n > 0 {
			out = append(out, int32(e))
		}
	}
	return out
}

// isLaid reports whether an edge is of what stays.
func (j *job) isLaid(e int32) bool { return j.laidOf[e] >= 0 }

func (j *job) isTube(e int32) bool {
	return slices.ContainsFunc(j.tubes, func(t tube) bool { return t.edge == e })
}
