package hydraulics

import (
	"fmt"
	"math"

	"evenfall/internal/units"
)

// gentle is the pressure under which outlets go by the first power, since the
// slope of a root has no end at 0, psi.
const gentle = 0.5

// Orifice is q = K·p^X. X is 0.5 for an opening of fixed size.
type Orifice struct {
	K, X float64
}

// OrificeThrough is the orifice that lets a flow through at a pressure.
func OrificeThrough(q units.GPM, p units.PSI) Orifice {
	return Orifice{float64(q) / math.Sqrt(float64(p)), 0.5}
}

// Flow is what the orifice lets out.
func (o Orifice) Flow(p units.PSI) (units.GPM, float64) {
	switch v := float64(p); {
	case v <= 0:
		return 0, 0
	case v < gentle:
		slope := o.K * math.Pow(gentle, o.X-1) // so that both pieces meet
		return units.GPM(slope * v), slope
	case o.X == 0.5:
		root := math.Sqrt(v)
		return units.GPM(o.K * root), 0.5 * o.K / root
	default:
		q := o.K * math.Exp(o.X*math.Log(v))
		return units.GPM(q), o.X * q / v
	}
}

// OutletPoint is a row of a nozzle's table.
type OutletPoint struct {
	Pressure units.PSI
	Flow     units.GPM
}

// Table is an outlet known by rows: between two the flow is linear in the root of
// the pressure; below the first and above the last it goes by the root from that
// row. Make it with NewTable.
type Table struct {
	points []OutletPoint
	raised bool
}

// NewTable is an outlet through rows of rising pressure. A flow that falls from
// one row to the next is raised to the greatest before it.
func NewTable(points []OutletPoint) (Table, error) {
	if len(points) == 0 {
		return Table{}, fmt.Errorf("this nozzle's table has no rows: give it at least one pressure with its flow")
	}
	t := Table{points: make([]OutletPoint, 0, len(points))}
	for i, p := range points {
		if !within(float64(p.Flow), 0, mostFlow) || !within(float64(p.Pressure), gentle, mostPressure) {
			return Table{}, fmt.Errorf("row %d of this nozzle's table is %g psi, %g gpm: give a pressure from %g to %g psi and a flow from 0 to %g gpm", i+1, float64(p.Pressure), float64(p.Flow), gentle, mostPressure, mostFlow)
		}
		if i > 0 {
			last := t.points[i-1]
			if p.Pressure < last.Pressure+apart {
				return Table{}, fmt.Errorf("row %d of this nozzle's table is at %g psi, after one at %g psi: order the rows by rising pressure, each %g psi or more above the one before", i+1, float64(p.Pressure), float64(last.Pressure), apart)
			}
			if p.Flow < last.Flow {
				p.Flow, t.raised = last.Flow, true
			}
		}
		t.points = append(t.points, p)
	}
	return t, nil
}

// Raised says whether rows were raised, so that the flow never falls.
func (t Table) Raised() bool { return t.raised }

// Flow is what the nozzle lets out.
func (t Table) Flow(p units.PSI) (units.GPM, float64) {
	i := 0
	for i < len(t.points) && p > t.points[i].Pressure {
		i++
	}
	switch {
	case len(t.points) == 0:
		return 0, 0
	case i == 0:
		return OrificeThrough(t.points[0].Flow, t.points[0].Pressure).Flow(p)
	case i == len(t.points):
		return OrificeThrough(t.points[i-1].Flow, t.points[i-1].Pressure).Flow(p)
	}
	lo, hi := t.points[i-1], t.points[i]
	root, r0, r1 := math.Sqrt(float64(p)), math.Sqrt(float64(lo.Pressure)), math.Sqrt(float64(hi.Pressure))
	rise := float64(hi.Flow-lo.Flow) / (r1 - r0)
	return lo.Flow + units.GPM(rise*(root-r0)), 0.5 * rise / root
}

// Regulated is an outlet behind a regulator, as in a head's body: the pressure at
// the nozzle follows the inlet's up to the setting, and rises by only Droop of
// what the inlet has above it.
type Regulated struct {
	Nozzle  Outlet
	Setting units.PSI
	Droop   float64 // share of the pressure above the setting that gets through; 0: DefaultDroop
}

// DefaultDroop is how much of the pressure above its setting a body lets through
// where no row says: 1 psi in 100. Chosen.
const DefaultDroop = 0.01

// At is the pressure at the nozzle for one at the inlet, and its slope.
func (r Regulated) At(inlet units.PSI) (units.PSI, float64) {
	if inlet <= r.Setting {
		return inlet, 1
	}
	droop := r.Droop
	if droop == 0 {
		droop = DefaultDroop
	}
	return r.Setting + units.PSI(droop)*(inlet-r.Setting), droop
}

// Flow is what the nozzle lets out at the pressure before the regulator.
func (r Regulated) Flow(inlet units.PSI) (units.GPM, float64) {
	p, slope := r.At(inlet)
	q, dqdp := r.Nozzle.Flow(p)
	return q, dqdp * slope
}

// Outlets are several at one place.
type Outlets []Outlet

// Flow is the sum.
func (o Outlets) Flow(p units.PSI) (q units.GPM, dqdp float64) {
	for _, one := range o {
		f, d := one.Flow(p)
		q, dqdp = q+f, dqdp+d
	}
	return q, dqdp
}
