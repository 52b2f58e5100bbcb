package trench

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

const (
	// mostInBox is how many valves one box holds: a jumbo box 4 or 5 (common practice).
	mostInBox = 5
	// sameBox is how far apart two valves of one box may be drawn, in feet. Chosen: the
	// longest boxes are about 2 ft, and drawings are not exact.
	sameBox = 4.0
)

// valve is a zone's valve that has a place.
type valve struct {
	zone  plan.ID
	at    orb.Point
	isNew bool
}

// byStation are the standing zones, those without a station last.
func byStation(p *plan.Plan) []plan.ID {
	ids := slices.DeleteFunc(plan.SortedIDs(p.Zones), func(id plan.ID) bool { return !p.Zones[id].Status.Stands() })
	slices.SortStableFunc(ids, func(a, b plan.ID) int {
		x, y := p.Zones[a].Station, p.Zones[b].Station
		if (x == 0) != (y == 0) {
			return cmp.Compare(y, x)
		}
		return cmp.Compare(x, y)
	})
	return ids
}

// valvePlace is where a zone's valve stands: as marked, or where its pipes have it.
func (w *work) valvePlace(zone plan.ID) (orb.Point, bool) {
	if at := w.p.Zones[zone].ValveAt; at != nil {
		return orb.Point{float64(at.X), float64(at.Y)}, true
	}
	if z, ok := w.net.Zones[zone]; ok && z.Valve != "" {
		n := w.p.Nodes[z.Valve]
		return orb.Point{float64(n.X), float64(n.Y)}, true
	}
	return orb.Point{}, false
}

// boxes sets valves that stand together into boxes, by station: one joins the first
// box with room whose valves all stand within reach. A valve that is there already
// has its box. Then come the box of a master valve and those drawn for splices.
func (w *work) boxes() []Box {
	var out []Box
	var in [][]valve
	for _, id := range byStation(w.p) {
		at, ok := w.valvePlace(id)
		if !ok {
			continue
		}
		v := valve{id, at, w.p.Zones[id].Status.IsNew()}
		i := slices.IndexFunc(in, func(held []valve) bool {
			return len(held) < mostInBox && !slices.ContainsFunc(held, func(o valve) bool {
				return o.isNew != v.isNew || math.Hypot(o.at[0]-at[0], o.at[1]-at[1]) > sameBox
			})
		})
		if i < 0 {
			in = append(in, nil)
			i = len(in) - 1
		}
		in[i] = append(in[i], v)
	}
	for _, held := range in {
		b := Box{Kind: RoundBox, New: held[0].isNew}
		for _, v := range held {
			b.Zones = append(b.Zones, v.zone)
			b.At[0] += v.at[0] / float64(len(held))
			b.At[1] += v.at[1] / float64(len(held))
		}
		switch {
		case len(held) > 3:
			b.Kind = JumboBox
		case len(held) > 1:
			b.Kind = StandardBox
		}
		out = append(out, b)
	}
	if at, ok := w.masterPlace(); ok {
		out = append(out, Box{At: at, Kind: RoundBox, Master: true, New: w.p.Supply.Status.IsNew()})
	}
	for _, id := range plan.SortedIDs(w.p.Boxes) {
		if b := w.p.Boxes[id]; b.Status.Stands() {
			out = append(out, Box{At: orb.Point{float64(b.X), float64(b.Y)}, Kind: SpliceBox, Drawn: id, New: b.Status.IsNew()})
		}
	}
	return out
}

// masterPlace is where a master valve stands: beside the backflow device, else at
// the point of connection.
func (w *work) masterPlace() (orb.Point, bool) {
	if _, _, ok := w.p.MasterValve(); !ok {
		return orb.Point{}, false
	}
	for _, id := range w.net.Order {
		if n := w.p.Nodes[id]; n.Kind == "backflow" && w.net.Nodes[id].Up != "" {
			return orb.Point{float64(n.X), float64(n.Y)}, true
		}
	}
	for _, at := range []*plan.Spot{w.p.Supply.BackflowAt, w.p.Supply.Connection} {
		if at != nil {
			return orb.Point{float64(at.X), float64(at.Y)}, true
		}
	}
	return orb.Point{}, false
}
