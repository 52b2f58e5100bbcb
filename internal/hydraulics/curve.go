package hydraulics

import (
	"fmt"
	"math"

	"evenfall/internal/units"
)

// LossPoint is the loss of a device at a flow.
type LossPoint struct {
	Flow units.GPM
	Loss units.PSI
}

// Curve is the law of a device known by points: linear in the square of the flow
// from (0, 0) to the first, between them, and past the last, where it goes on by
// the square. Make it with NewCurve.
type Curve struct {
	points []LossPoint // the first is (0, 0)
	raised bool
}

// NewCurve is a curve through points of rising flow. A loss that falls from one
// point to the next, as published for devices with a spring, is raised to the
// greatest before it (the curve of rising flow is the one to design on: USC
// Foundation for Cross-Connection Control, newsletter 10/4, 1992): two flows
// would fit one loss otherwise.
func NewCurve(points []LossPoint) (Curve, error) {
	if len(points) == 0 {
		return Curve{}, fmt.Errorf("this loss curve has no points: give it at least one flow with its loss")
	}
	c := Curve{points: make([]LossPoint, 1, len(points)+1)}
	for i, p := range points {
		last := c.points[len(c.points)-1]
		switch {
		case !within(float64(p.Flow), 0, mostFlow) || !within(float64(p.Loss), 0, mostPressure):
			return Curve{}, fmt.Errorf("point %d of this loss curve is %g gpm, %g psi: give a flow from 0 to %g gpm and a loss from 0 to %g psi", i+1, float64(p.Flow), float64(p.Loss), mostFlow, mostPressure)
		case i == 0 && p.Flow == 0 && p.Loss == 0:
			continue
		case p.Flow < last.Flow+apart:
			return Curve{}, fmt.Errorf("point %d of this loss curve is at %g gpm, after one at %g gpm: order the points by rising flow, the first above 0 and each %g gpm or more above the one before", i+1, float64(p.Flow), float64(last.Flow), apart)
		}
		if p.Loss < last.Loss {
			p.Loss, c.raised = last.Loss, true
		}
		c.points = append(c.points, p)
	}
	if len(c.points) == 1 {
		return Curve{}, fmt.Errorf("this loss curve has only the point of no flow: give it a flow with its loss")
	}
	return c, nil
}

// Raised says whether points were raised, so that the curve never falls.
func (c Curve) Raised() bool { return c.raised }

// Known is the flow of the last point.
func (c Curve) Known() units.GPM {
	if len(c.points) == 0 {
		return 0
	}
	return c.points[len(c.points)-1].Flow
}

// Loss is the pressure the device takes.
func (c Curve) Loss(q units.GPM) (units.PSI, float64) {
	if len(c.points) == 0 { // made without NewCurve: refused by Check
		return units.PSI(math.NaN()), math.NaN()
	}
	a := math.Abs(float64(q))
	lo, hi := c.points[len(c.points)-1], LossPoint{}
	for i := 1; i < len(c.points); i++ {
		if a <= float64(c.points[i].Flow) {
			lo, hi = c.points[i-1], c.points[i]
			break
		}
	}
	var bend, loss float64 // psi per gpm²
	if hi.Flow > 0 {
		q0, q1 := float64(lo.Flow), float64(hi.Flow)
		bend = float64(hi.Loss-lo.Loss) / (q1*q1 - q0*q0)
		loss = float64(lo.Loss) + bend*(a*a-q0*q0)
	} else { // past the last point
		q0 := float64(lo.Flow)
		bend = float64(lo.Loss) / (q0 * q0)
		loss = bend * a * a
	}
	return units.PSI(math.Copysign(loss+leastSlope*a, float64(q))), 2*bend*a + leastSlope
}
