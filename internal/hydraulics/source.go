package hydraulics

import (
	"fmt"
	"math"

	"evenfall/internal/units"
)

// Fixed is a supply that keeps its pressure at any flow, forward or back.
type Fixed units.PSI

// Pressure is the same at every flow.
func (f Fixed) Pressure(units.GPM) (units.PSI, float64) { return units.PSI(f), 0 }

// back is how stiffly a supply other than Fixed keeps water from running back
// into it, psi per gpm: a check valve.
const back = 1e4

// HydrantTest is a supply known by a static pressure and the pressure left at one
// flow: p = static − (static − residual)·(q/flow)^(1/0.54), the form by which
// NFPA 291 reckons what a hydrant has at another pressure.
type HydrantTest struct {
	Static, Residual units.PSI
	Flow             units.GPM
}

// hydrantPower is that of NFPA 291, the inverse of 0.54.
const hydrantPower = 1 / 0.54

// pastTest is how far past the measured flow the form is taken as known. Chosen.
const pastTest = 1.3

// Known is the flow to which the form is taken as known: 1.3 times the measured one.
func (h HydrantTest) Known() units.GPM { return pastTest * h.Flow }

// Pressure is what the supply has left at a flow.
func (h HydrantTest) Pressure(q units.GPM) (units.PSI, float64) {
	if q < 0 {
		return h.Static - units.PSI(back*q), -back
	}
	drop := float64(h.Static-h.Residual) * math.Pow(float64(q/h.Flow), hydrantPower)
	slope := 0.0
	if q > 0 {
		slope = hydrantPower * drop / float64(q)
	}
	return h.Static - units.PSI(drop), -slope
}

// FlowAt is what the supply gives when it is drawn down to a pressure; 0 from the
// static pressure up.
func (h HydrantTest) FlowAt(p units.PSI) units.GPM {
	if p >= h.Static {
		return 0
	}
	return h.Flow * units.GPM(math.Pow(float64((h.Static-p)/(h.Static-h.Residual)), 1/hydrantPower))
}

// SupplyPoint is the pressure a supply has left at a flow.
type SupplyPoint struct {
	Flow     units.GPM
	Pressure units.PSI
}

// Supply is a pump or another supply known by points: straight between them, level
// before the first, and past the last going on as steeply as it fell last. Make
// it with NewSupply.
type Supply struct {
	points []SupplyPoint
	last   float64 // slope past the last point, psi per gpm, below 0
}

// NewSupply is a supply through points of rising flow whose pressure never rises.
func NewSupply(points []SupplyPoint) (Supply, error) {
	if len(points) == 0 {
		return Supply{}, fmt.Errorf("this supply curve has no points: give it at least one flow with the pressure left")
	}
	for i, p := range points {
		if !within(float64(p.Flow), 0, mostFlow) || !within(float64(p.Pressure), 0, mostPressure) {
			return Supply{}, fmt.Errorf("point %d of this supply curve is %g gpm, %g psi: give a flow from 0 to %g gpm and a pressure from 0 to %g psi", i+1, float64(p.Flow), float64(p.Pressure), mostFlow, mostPressure)
		}
		if i == 0 {
			continue
		}
		switch last := points[i-1]; {
		case p.Flow < last.Flow+apart:
			return Supply{}, fmt.Errorf("point %d of this supply curve is at %g gpm, after one at %g gpm: order the points by rising flow, each %g gpm or more above the one before", i+1, float64(p.Flow), float64(last.Flow), apart)
		case p.Pressure > last.Pressure:
			return Supply{}, fmt.Errorf("point %d of this supply curve has %g psi left at %g gpm, more than the %g psi at %g gpm: a supply has less left the more it gives, so measure again or leave that point out", i+1, float64(p.Pressure), float64(p.Flow), float64(last.Pressure), float64(last.Flow))
		}
	}
	s := Supply{points: append([]SupplyPoint(nil), points...), last: -1}
	if n := len(points); n > 1 {
		fell := float64(points[n-1].Pressure-points[n-2].Pressure) / float64(points[n-1].Flow-points[n-2].Flow)
		s.last = min(fell, -leastFall)
	}
	return s, nil
}

// leastFall is the least a supply falls past its last point, psi per gpm, so that
// it ends somewhere. Chosen.
const leastFall = 0.1

// Known is the flow of the last point.
func (s Supply) Known() units.GPM {
	if len(s.points) == 0 {
		return 0
	}
	return s.points[len(s.points)-1].Flow
}

// Pressure is what the supply has left at a flow.
func (s Supply) Pressure(q units.GPM) (units.PSI, float64) {
	n := len(s.points)
	if n == 0 { // made without NewSupply: refused by Check
		return units.PSI(math.NaN()), math.NaN()
	}
	first, end := s.points[0], s.points[n-1]
	switch {
	case q < 0:
		return first.Pressure - units.PSI(back*q), -back
	case q <= first.Flow:
		return first.Pressure, 0
	case q >= end.Flow:
		return end.Pressure + units.PSI(s.last)*units.PSI(q-end.Flow), s.last
	}
	i := 1
	for q > s.points[i].Flow {
		i++
	}
	lo, hi := s.points[i-1], s.points[i]
	slope := float64(hi.Pressure-lo.Pressure) / float64(hi.Flow-lo.Flow)
	return lo.Pressure + units.PSI(slope*float64(q-lo.Flow)), slope
}

// Capped is a supply behind a pressure regulator: never more than Setting, less
// Falloff for each gpm it gives.
type Capped struct {
	Supply  Source
	Setting units.PSI
	Falloff float64 // psi per gpm; 0: level
}

// Pressure is the lesser of what the supply has and what the regulator lets by.
func (c Capped) Pressure(q units.GPM) (units.PSI, float64) {
	p, slope := c.Supply.Pressure(max(q, 0))
	if q < 0 {
		return min(p, c.Setting) - units.PSI(back*q), -back
	}
	if held := c.Setting - units.PSI(c.Falloff*float64(q)); held < p {
		return held, -c.Falloff
	}
	return p, slope
}

// Known is the supply's own.
func (c Capped) Known() units.GPM { return KnownTo(c.Supply) }

// After is a supply behind devices and pipe in a row, such as a meter and a
// service line: the pressure left behind them. Up is how far the ground rises on
// the way.
type After struct {
	Supply Source
	Laws   []Law
	Up     units.Feet
}

// Pressure is what is left behind all of them.
func (a After) Pressure(q units.GPM) (units.PSI, float64) {
	p, slope := a.Supply.Pressure(q)
	p -= Rise(a.Up)
	for _, law := range a.Laws {
		loss, dpdq := law.Loss(q)
		p, slope = p-loss, slope-dpdq
	}
	return p, slope
}

// Known is the least flow to which supply and all laws are known.
func (a After) Known() units.GPM {
	least := KnownTo(a.Supply)
	for _, law := range a.Laws {
		least = min(least, KnownTo(law))
	}
	return least
}

// KnownTo is the flow to which a law or source is known; without end for one that
// follows from a formula alone.
func KnownTo(thing any) units.GPM {
	if k, ok := thing.(Known); ok {
		return k.Known()
	}
	return units.GPM(math.Inf(1))
}

// FlowAt is the greatest flow at which a supply has a pressure left, to 1e-9 gpm;
// 0 where it has not even at rest, and mostFlow at the most.
func FlowAt(s Source, p units.PSI) units.GPM {
	has := func(q float64) bool { left, _ := s.Pressure(units.GPM(q)); return left >= p }
	if !has(0) {
		return 0
	}
	lo, hi := 0.0, 1.0
	for has(hi) {
		if lo, hi = hi, 2*hi; hi > mostFlow {
			return mostFlow
		}
	}
	for range 100 {
		if mid := (lo + hi) / 2; mid == lo || mid == hi {
			break
		} else if has(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return units.GPM(lo)
}
