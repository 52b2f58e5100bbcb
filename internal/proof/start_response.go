package proof

import (
	"maps"
	"math"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// response is what a solved zone does when more or less flows: behind its valve, or out of
// the main before it. Its states are by rising flow at the meter.
type response struct {
	behind, before []Predicted
}

// behindTimes are by how much the flow of all nozzles is taken, and beforeGPM what runs
// out of the main, to draw a response by. Chosen: the points lie along a smooth curve.
var (
	behindTimes = []float64{0.15, 0.6, 1, 1.6, 2.8, 5}
	beforeGPM   = []units.GPM{0, 3, 7, 14}
)

// responds is the response of a zone, solved anew; none where it is not solved as drawn.
func (w *watch) responds(zone plan.ID) response {
	if r, ok := w.response[zone]; ok {
		return r
	}
	r := response{}
	if w.before[zone].Solved {
		for _, k := range behindTimes {
			q := *w.p
			q.Nozzles = maps.Clone(w.p.Nozzles)
			for id, n := range q.Nozzles {
				q.Nozzles[id] = timesFlow(n, k)
			}
			r.behind = w.solvedAs(r.behind, &q, zone, 0)
		}
		for _, lost := range beforeGPM {
			q := *w.p
			q.Supply.HouseGPM += lost
			r.before = w.solvedAs(r.before, &q, zone, lost)
		}
	}
	w.response[zone] = r
	return r
}

// timesFlow is a nozzle that gives so many times the flow.
func timesFlow(n catalog.Nozzle, k float64) catalog.Nozzle {
	n.Rows = slices.Clone(n.Rows)
	for i := range n.Rows {
		n.Rows[i].Flow *= units.GPM(k)
	}
	return n
}

// solvedAs adds a state of a zone, what is lost before it counted in its flow.
func (w *watch) solvedAs(to []Predicted, q *plan.Plan, zone plan.ID, lost units.GPM) []Predicted {
	z := pressure.Check(q, w.d.Pipework, zone)
	if len(z) != 1 || !z[0].Solved {
		return to
	}
	p := predictedBy(z[0])
	p.Head = w.before[zone].Head // where the gauge stands, whichever is the worst now
	p.Flow += lost
	if n := len(to); n > 0 && p.Flow <= to[n-1].Flow {
		return to
	}
	return append(to, p)
}

// point is a flow with the pressure that goes with it.
type point struct{ flow, psi float64 }

// curveAt reads a response where a run's pressure was read, moved to go through what is
// predicted.
func (w *watch) curveAt(of []Predicted, v plan.ZoneRun, through state) []point {
	out := make([]point, 0, len(of))
	for _, q := range of {
		s, _, _ := w.stateAt(v, q)
		out = append(out, point{float64(q.Flow), s.pressure})
	}
	if len(out) < 2 {
		return nil
	}
	by := through.pressure - along(out, through.flow)
	for i := range out {
		out[i].psi = max(out[i].psi+by, 0)
	}
	return out
}

// along is the pressure at a flow on a curve, straight on past its ends.
func along(c []point, flow float64) float64 {
	i := 1
	for i < len(c)-1 && c[i].flow < flow {
		i++
	}
	a, b := c[i-1], c[i]
	return math.Max(a.psi+(b.psi-a.psi)*(flow-a.flow)/(b.flow-a.flow), 0)
}
