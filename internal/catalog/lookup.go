package catalog

import (
	"math"
	"sort"

	"evenfall/internal/units"
)

// arcSlack forgives rounding in the sweep of a drawn head: a fixed quarter
// drawn by pointer may be stored as 89.97 degrees. Chosen.
const arcSlack units.Degrees = 0.5

// throwSlack forgives rounding in a typed throw, such as 14' 3" against 14.25.
// A tenth of an inch; chosen.
const throwSlack units.Feet = 0.1 / 12

// At reports the throw and the row flow of n at pressure p.
//
// Between two rows the throw is linear in the pressure and the flow is linear
// in the square root of the pressure, which is the law of an orifice
// (q = k·√p, Torricelli), so rows that obey it are met exactly between, too.
// Outside the rows nothing is guessed: the error is an *OutsideError.
//
// The flow is that of the row: for a nozzle whose flow follows its arc it is
// the full circle's. Flow gives what a head set to an arc and a throw takes.
func (n Nozzle) At(p units.PSI) (units.Feet, units.GPM, error) {
	rows := n.Rows
	if len(rows) == 0 {
		return 0, 0, n.outside("pressure", float64(p), 0, n.Name+" has no rows in its table.")
	}
	least, most := rows[0].Pressure, rows[len(rows)-1].Pressure
	if !(p >= least && p <= most) { // also refuses NaN
		return 0, 0, n.outsidePressure(p, least, most)
	}
	i := sort.Search(len(rows), func(i int) bool { return rows[i].Pressure >= p })
	if rows[i].Pressure == p {
		return rows[i].Throw, rows[i].Flow, nil
	}
	lo, hi := rows[i-1], rows[i]
	byP := share(float64(lo.Pressure), float64(hi.Pressure), float64(p))
	byRoot := share(math.Sqrt(float64(lo.Pressure)), math.Sqrt(float64(hi.Pressure)), math.Sqrt(float64(p)))
	throw := between(float64(lo.Throw), float64(hi.Throw), byP)
	flow := between(float64(lo.Flow), float64(hi.Flow), byRoot)
	return units.Feet(throw), units.GPM(flow), nil
}

// Flow reports what a head with nozzle n takes at pressure p when its arc
// sweeps the given angle and its throw is set to the given distance. A throw
// of 0 means not turned down. For strips, which have no arc, sweep is 0.
//
// The row flow of At is multiplied by sweep/360 when the flow follows the arc,
// and by (throw / table throw)^TurnDown.FlowPower when the throw is turned
// down. A pressure, arc or throw outside the table is an *OutsideError.
func (n Nozzle) Flow(p units.PSI, sweep units.Degrees, throw units.Feet) (units.GPM, error) {
	table, flow, err := n.At(p)
	if err != nil {
		return 0, err
	}
	if err := n.ArcAllowed(sweep); err != nil {
		return 0, err
	}
	if n.FlowFollowsArc {
		flow = units.GPM(float64(flow) * float64(sweep) / 360)
	}
	if throw == 0 {
		return flow, nil
	}
	if err := n.throwAllowed(throw, table, p); err != nil {
		return 0, err
	}
	turned := min(float64(throw/table), 1)
	return units.GPM(float64(flow) * power(turned, n.TurnDown.FlowPower)), nil
}

// ArcAllowed reports whether the nozzle can be set to an arc of the given
// sweep; if not, an *OutsideError names the nearest arc it can. A strip wets a
// rectangle and takes no arc: its sweep is 0.
func (n Nozzle) ArcAllowed(sweep units.Degrees) error {
	if n.Family == Strip {
		if sweep == 0 {
			return nil
		}
		return n.outside("arc", float64(sweep), 0,
			n.Name+" wets a strip and has no arc to set; leave its arc empty.")
	}
	if sweep >= n.ArcLeast-arcSlack && sweep <= n.ArcMost+arcSlack && sweep > 0 {
		return nil
	}
	return n.outsideArc(sweep)
}

// ThrowAllowed reports whether the nozzle can be set to the throw at pressure
// p; if not, an *OutsideError names the nearest throw it can.
func (n Nozzle) ThrowAllowed(p units.PSI, throw units.Feet) error {
	table, _, err := n.At(p)
	if err != nil {
		return err
	}
	return n.throwAllowed(throw, table, p)
}

// throwAllowed checks a set throw against the table throw at pressure p.
func (n Nozzle) throwAllowed(throw, table units.Feet, p units.PSI) error {
	least := units.Feet(float64(n.TurnDown.LeastShare) * float64(table))
	if throw >= least-throwSlack && throw <= table+throwSlack {
		return nil
	}
	return n.outsideThrow(throw, least, table, p)
}

// share is where v stands between a and b: 0 at a, 1 at b.
func share(a, b, v float64) float64 { return (v - a) / (b - a) }

// between is the value a share t of the way from a to b, never past either.
func between(a, b, t float64) float64 {
	v := a + float64(t*(b-a))
	return min(max(v, min(a, b)), max(a, b))
}

// power is x to the y. The whole powers are multiplied out, so that the common
// families come to the same bits on every machine.
func power(x, y float64) float64 {
	switch y {
	case 0:
		return 1
	case 1:
		return x
	case 2:
		return x * x
	}
	return math.Pow(x, y)
}
