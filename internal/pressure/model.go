package pressure

import (
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/hydraulics"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// model is the network of the zones that run together, with what each node and
// link stands for in the plan.
type model struct {
	hydraulics.Network
	in, out map[plan.ID]int // drawn nodes, before and behind the devices that stand there
	on      map[plan.ID]int // where the main goes on from them: at a valve before it, else behind what stands there
	above   map[int]piece   // the links on the way from a node of the network to the source, by the node they end at
	pipes   []run           // in the order they were laid
	heads   []outlet
}

// piece is a link on the way: from the node it begins at.
type piece struct {
	from, link int
	device     *device // nil for a pipe
	pipe       *pipework.Pipe
	zone       plan.ID // of valve, breaker and swing joint
	head       plan.ID // of a swing joint
}

// run is a pipe with its link.
type run struct {
	pipe pipework.Pipe
	link int
}

// outlet is a head with its node behind the swing joint.
type outlet struct {
	id        plan.ID
	zone      plan.ID // whose valve feeds it
	node      int
	regulated hydraulics.Regulated // Setting 0: not regulated
	planned   Planned
	nozzle    catalog.Nozzle
}

// build lays out what carries water when the zones run, all of whose pipes must
// have their sizes: the main to their valves and their laterals.
func (w *water) build(zones []plan.ID) model {
	m := model{in: map[plan.ID]int{}, out: map[plan.ID]int{}, on: map[plan.ID]int{}, above: map[int]piece{}}
	m.Nodes = append(m.Nodes, hydraulics.Node{Elevation: w.net.Nodes[w.net.Source].Level, Source: w.curve.source})
	pipes := w.carries(zones)
	w.lay(&m, w.net.Source)
	for _, id := range pipes {
		w.lay(&m, w.net.Pipes[id].From)
		w.lay(&m, w.net.Pipes[id].To)
	}
	for _, id := range pipes {
		m.join(w.net.Pipes[id])
	}
	for _, z := range zones {
		for _, h := range w.net.Zones[z].Heads {
			if o, ok := w.outletOf(h); ok {
				m.setHead(w, z, o)
			}
		}
	}
	return m
}

// lay puts a drawn node with the devices that stand there, once.
func (w *water) lay(m *model, id plan.ID) {
	if _, laid := m.in[id]; laid {
		return
	}
	n := w.net.Nodes[id]
	if id == w.net.Source {
		m.in[id] = 0
		m.out[id] = m.row(0, n.Level, "", w.chain.street, w.chain.shut, w.inLineAt(id))
		m.on[id] = m.out[id]
		return
	}
	m.Nodes = append(m.Nodes, hydraulics.Node{Elevation: n.Level})
	at := len(m.Nodes) - 1
	m.in[id] = at
	zone := w.valves[id]
	switch {
	case zone != "":
		m.out[id] = m.row(at, n.Level, zone, w.valve[zone], w.chain.breaker)
		m.on[id] = at
	default:
		m.out[id] = m.row(at, n.Level, "", w.inLineAt(id))
		m.on[id] = m.out[id]
	}
}

// inLineAt are the devices of the main that stand at a node: at the backflow
// device's, or at the connection where none is drawn.
func (w *water) inLineAt(id plan.ID) []device {
	if id == w.backflowAt {
		return w.chain.inLine
	}
	return nil
}

// row puts devices one after another and returns the node behind the last.
func (m *model) row(at int, level units.Feet, zone plan.ID, lists ...[]device) int {
	for _, list := range lists {
		for i := range list {
			at = m.next(at, level, piece{device: &list[i], zone: zone}, list[i].law)
		}
	}
	return at
}

// next puts a link to a new node.
func (m *model) next(at int, level units.Feet, p piece, law hydraulics.Law) int {
	m.Nodes = append(m.Nodes, hydraulics.Node{Elevation: level})
	to := len(m.Nodes) - 1
	m.Links = append(m.Links, hydraulics.Link{From: at, To: to, Law: law})
	p.from, p.link = at, len(m.Links)-1
	m.above[to] = p
	return to
}

// join lays a pipe between its nodes.
func (m *model) join(p pipework.Pipe) {
	from, to := m.out[p.From], m.in[p.To]
	if !p.Valved {
		from = m.on[p.From]
	}
	m.Links = append(m.Links, hydraulics.Link{From: from, To: to, Law: pipeLaw(p)})
	link := len(m.Links) - 1
	m.pipes = append(m.pipes, run{p, link})
	if !p.Loop {
		m.above[to] = piece{from: from, link: link, pipe: &p}
	}
}

func pipeLaw(p pipework.Pipe) hydraulics.Law {
	return hydraulics.NewPipe(p.Length, p.Size.Inside, p.Class.C, velocityHeads(p))
}

// velocityHeads is the sum of a pipe's fittings.
func velocityHeads(p pipework.Pipe) float64 {
	k := 0.0
	for _, f := range p.Fittings {
		k += f.K
	}
	return k
}

// setHead puts a head at the end of its swing joint.
func (m *model) setHead(w *water, zone plan.ID, o outlet) {
	at := w.net.HeadAt[o.id]
	from, level := m.out[at], w.net.Nodes[at].Level
	o.zone, o.node = zone, from
	under := w.chain.swing[w.p.Heads[o.id].Body]
	for i := range under {
		d := &under[i]
		o.node = m.next(o.node, level, piece{device: d, zone: zone, head: o.id}, d.law)
	}
	m.Nodes[o.node].Outlet = o.regulated.Nozzle
	if o.regulated.Setting > 0 {
		m.Nodes[o.node].Outlet = o.regulated
	}
	m.heads = append(m.heads, o)
}

// rowsApart is the least pressure between the rows of a nozzle's table, and of its
// first row, that a solution goes by: tables step by 5 psi.
const rowsApart units.PSI = 0.5

// outletOf is what a head lets out; false for one outside its nozzle's table.
func (w *water) outletOf(id plan.ID) (outlet, bool) {
	h := w.p.Heads[id]
	o := outlet{id: id, nozzle: w.p.Nozzles[h.Nozzle]}
	var ok bool
	if o.planned, ok = PlannedAt(w.p, id); !ok {
		return o, false
	}
	points := make([]hydraulics.OutletPoint, 0, len(o.nozzle.Rows))
	last := units.PSI(0)
	for _, r := range o.nozzle.Rows {
		if r.Pressure >= last+rowsApart {
			points = append(points, hydraulics.OutletPoint{Pressure: r.Pressure, Flow: units.GPM(float64(r.Flow) * o.planned.share)})
			last = r.Pressure
		}
	}
	table, err := hydraulics.NewTable(points)
	if err != nil {
		return o, false
	}
	o.regulated = hydraulics.Regulated{Nozzle: table, Setting: w.p.Bodies[h.Body].Regulated}
	return o, true
}

// atNozzle is the pressure behind a regulating body.
func (o outlet) atNozzle(inlet units.PSI) units.PSI {
	if o.regulated.Setting > 0 {
		inlet, _ = o.regulated.At(inlet)
	}
	return max(inlet, 0)
}

// carries are the pipes that carry water when some zones run: from the source to
// their valves, and their laterals from there on. Where the main has loops all of
// it takes part.
func (w *water) carries(zones []plan.ID) []plan.ID {
	var out []plan.ID
	taken := map[plan.ID]bool{}
	take := func(pipes ...plan.ID) {
		for _, id := range pipes {
			if !taken[id] {
				taken[id], out = true, append(out, id)
			}
		}
	}
	if w.mainLoops {
		take(w.mains...)
	}
	for _, z := range zones {
		var way []plan.ID
		for up := w.net.Nodes[w.net.Zones[z].Valve].Up; up != ""; up = w.net.Nodes[w.net.Pipes[up].From].Up {
			way = append(way, up)
		}
		slices.Reverse(way)
		take(way...)
		take(w.net.Zones[z].Pipes...)
	}
	return out
}
