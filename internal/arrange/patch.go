package arrange

import (
	"cmp"
	"encoding/json"
	"maps"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// change is what a layout does to the plan: members to merge into each thing,
// nil for a thing that goes.
type change struct {
	heads   map[plan.ID]map[string]any
	nodes   map[plan.ID]map[string]any
	pipes   map[plan.ID]map[string]any
	nozzles map[plan.ID]catalog.Nozzle // rows copied in
	bodies  map[plan.ID]catalog.Body
}

func newChange() change {
	return change{
		map[plan.ID]map[string]any{}, map[plan.ID]map[string]any{}, map[plan.ID]map[string]any{},
		map[plan.ID]catalog.Nozzle{}, map[plan.ID]catalog.Body{},
	}
}

// join adds what another change does, on other areas of the same plan.
func (c *change) join(d *change) {
	maps.Copy(c.heads, d.heads)
	for id, v := range d.nodes { // a joint between two areas stays gone if either takes it
		if was, ok := c.nodes[id]; !ok || was != nil {
			c.nodes[id] = v
		}
	}
	maps.Copy(c.pipes, d.pipes)
	maps.Copy(c.nozzles, d.nozzles)
	maps.Copy(c.bodies, d.bodies)
}

// patch is the change as one patch of the document.
func (c *change) patch() (plan.Patch, error) {
	whole := map[string]any{}
	if len(c.heads) > 0 {
		whole["heads"] = c.heads
	}
	if len(c.nodes) > 0 {
		whole["nodes"] = c.nodes
	}
	if len(c.pipes) > 0 {
		whole["pipes"] = c.pipes
	}
	if len(c.nozzles) > 0 {
		whole["nozzles"] = c.nozzles
	}
	if len(c.bodies) > 0 {
		whole["bodies"] = c.bodies
	}
	return json.Marshal(whole) // by name: the same change is the same bytes
}

// place sets ids to the heads of a layout and says what applying it does. A new
// head takes the id of the nearest one that makes room, so that its pipe and tag
// stay with it; ids come from fresh otherwise.
func (j *job) place(heads []Placed) change {
	c := newChange()
	taken := j.reuse(heads)
	zone := zoneOf(j.p, j.ground.goes)
	n := 0
	for i := range heads {
		h := &heads[i]
		if h.Stays {
			continue
		}
		c.copyRows(j.p, h.Nozzle, h.Body)
		if h.ID != "" {
			c.move(j.p, h, j.nodesOf[h.ID])
			continue
		}
		h.ID = j.names.fresh(j.ground.id, n)
		n++
		c.add(h, zone)
	}
	for _, id := range j.ground.goes {
		if !taken[id] {
			c.heads[id] = nil
			for _, node := range j.nodesOf[id] {
				c.unpipe(j.p, j.pipesOf, node)
			}
		}
	}
	return c
}

// reuse gives the ids of heads that make room to the new heads nearest to them,
// the nearest pair first.
func (j *job) reuse(heads []Placed) map[plan.ID]bool {
	type couple struct {
		d    float64
		id   plan.ID
		head int
	}
	var all []couple
	for _, id := range j.ground.goes {
		at := spotOf(j.p.Heads[id])
		for i := range heads {
			if !heads[i].Stays {
				heads[i].ID = ""
				all = append(all, couple{distance(at, heads[i].At), id, i})
			}
		}
	}
	slices.SortFunc(all, func(a, b couple) int {
		return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.id, b.id), cmp.Compare(a.head, b.head))
	})
	taken := map[plan.ID]bool{}
	for _, k := range all {
		if !taken[k.id] && heads[k.head].ID == "" {
			taken[k.id], heads[k.head].ID = true, k.id
		}
	}
	return taken
}

// copyRows copies the rows of a head that the plan does not hold yet.
func (c *change) copyRows(p *plan.Plan, nozzle, body plan.ID) {
	if _, has := p.Nozzles[nozzle]; !has {
		c.nozzles[nozzle], _ = nozzleRow(p, nozzle)
	}
	if _, has := p.Bodies[body]; !has {
		c.bodies[body], _ = bodyRow(p, body)
	}
}

// members are those of a head that a layout sets. An arc of 0 is left out of
// documents, and so is the throw of the table.
func (h *Placed) members() map[string]any {
	m := map[string]any{
		"x_ft": h.At[0], "y_ft": h.At[1], "nozzle": h.Nozzle, "body": h.Body,
		"start_deg": h.Start, "sweep_deg": h.Sweep, "throw_ft": nil,
	}
	if h.Turned {
		m["throw_ft"] = h.Throw
	}
	return m
}

func (c *change) add(h *Placed, zone plan.ID) {
	m := h.members()
	if !h.Turned {
		delete(m, "throw_ft")
	}
	if zone != "" {
		m["zone"] = zone
	}
	c.heads[h.ID] = m
}

// move sets a head that there is anew, and its nodes go with it.
func (c *change) move(p *plan.Plan, h *Placed, nodes []plan.ID) {
	m := h.members()
	if p.Heads[h.ID].ThrowFt == nil && !h.Turned {
		delete(m, "throw_ft")
	}
	if p.Heads[h.ID].SetBack != nil {
		m["setback_ft"] = nil // it was wanted of another place
	}
	c.heads[h.ID] = m
	for _, id := range nodes {
		if n := p.Nodes[id]; !n.Locked {
			c.nodes[id] = map[string]any{"x_ft": h.At[0], "y_ft": h.At[1]}
		}
	}
}

// unpipe takes the node of a head that goes off the pipes: with its pipe where it
// is the end of one, and with the joints that then end nowhere; else it becomes a
// joint. Pipes that are locked or there already stay, and the node with them.
func (c *change) unpipe(p *plan.Plan, pipesOf map[plan.ID][]plan.ID, node plan.ID) {
	for first := true; ; first = false {
		n := p.Nodes[node]
		var left []plan.ID
		for _, id := range pipesOf[node] {
			if _, gone := c.pipes[id]; !gone {
				left = append(left, id)
			}
		}
		ends := len(left) == 0 || len(left) == 1 && mayGo(p.Pipes[left[0]].Locked, p.Pipes[left[0]].Status)
		switch {
		case ends && mayGo(n.Locked, n.Status) && (first || n.Kind == "joint"):
		case first:
			c.nodes[node] = map[string]any{"kind": "joint", "head": nil}
			return
		default:
			return
		}
		c.nodes[node] = nil
		if len(left) == 0 {
			return
		}
		c.pipes[left[0]] = nil
		pipe := p.Pipes[left[0]]
		if node == pipe.From {
			node = pipe.To
		} else {
			node = pipe.From
		}
	}
}

func mayGo(locked bool, s plan.Status) bool { return !locked && s.IsNew() }

// placed is a head of a candidate as it is written into the plan: on the grid that
// outlines are snapped to, its start within [0, 360).
func placed(h *stand) Placed {
	start := geom.NormDeg(math.Round(float64(h.start)*1000) / 1000)
	sweep := h.set.sweep
	if sweep >= 360 {
		start = 0
	}
	at := geom.Snap(h.at)
	return Placed{
		At: orb.Point{at[0], at[1]}, Start: units.Degrees(start), Sweep: sweep, Throw: h.set.throw, Turned: h.set.turned,
		Nozzle: h.set.nozzle, Body: h.set.body, Flow: h.set.flow, Stays: h.stays,
	}
}
