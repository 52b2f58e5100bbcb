package hydraulics

import (
	"fmt"
	"math"

	"evenfall/internal/units"
)

// outletTrouble says what keeps an outlet from keeping to its word; "" for nothing.
// One of our own is judged by its members, another by trying it.
func outletTrouble(o Outlet) string {
	switch o := o.(type) {
	case nil:
		return "is not said: leave it out, or say what lets the water out."
	case Orifice:
		if !within(o.K, 0, mostFlow) || !within(o.X, leastExponent, mostExponent) {
			return fmt.Sprintf("lets out %g gpm at 1 psi, by the power %g of the pressure: give 0 to %g gpm and a power from %g to %g.", o.K, o.X, mostFlow, leastExponent, mostExponent)
		}
		return ""
	case Table:
		if len(o.points) == 0 {
			return "has a table without rows: give it at least one pressure with its flow."
		}
		return ""
	case Regulated:
		if !within(float64(o.Setting), gentle, mostPressure) || !within(o.Droop, 0, 1) {
			return fmt.Sprintf("is regulated to %g psi with %g of the rest let through: give a setting from %g to %g psi and a share from 0 to 1.", float64(o.Setting), o.Droop, gentle, mostPressure)
		}
		return outletTrouble(o.Nozzle)
	case Outlets:
		for _, one := range o {
			if wrong := outletTrouble(one); wrong != "" {
				return wrong
			}
		}
		return ""
	}
	last := 0.0
	for _, p := range []units.PSI{-10, 0, 0.25, 1, 10, 30, 60, 100, 1000} {
		q, dqdp := o.Flow(p)
		if !within(float64(q), last*(1-rounding), math.MaxFloat64) || !within(dqdp, 0, math.MaxFloat64) {
			return fmt.Sprintf("lets out %g gpm at %g psi, changing by %g gpm a psi: its flow must be a number and never fall as the pressure rises.", float64(q), float64(p), dqdp)
		}
		if p <= 0 && q != 0 {
			return fmt.Sprintf("lets out %g gpm at %g psi: without pressure nothing may leave.", float64(q), float64(p))
		}
		last = float64(q)
	}
	return ""
}

// What an exponent of the pressure may be: emitters that compensate go down to
// nearly 0, laminar ones up to 1.
const leastExponent, mostExponent = 0.01, 1.5

// sourceTrouble says what keeps a source from keeping to its word, as outletTrouble
// does.
func sourceTrouble(s Source) string {
	switch s := s.(type) {
	case nil:
		return "is not said: say where the water comes from."
	case Capped:
		if !within(float64(s.Setting), 0, mostPressure) || !within(s.Falloff, 0, mostPressure) {
			return fmt.Sprintf("is regulated to %g psi, falling by %g psi a gpm: give a setting from 0 to %g psi and a fall of 0 or more.", float64(s.Setting), s.Falloff, mostPressure)
		}
		return sourceTrouble(s.Supply)
	case After:
		for _, law := range s.Laws {
			if wrong := lawTrouble(law); wrong != "" {
				return "has a device that " + wrong
			}
		}
		if !within(math.Abs(float64(s.Up)), 0, mostElevation) {
			return fmt.Sprintf("has %g ft of rise behind it: give a rise within %g ft.", float64(s.Up), mostElevation)
		}
		return sourceTrouble(s.Supply)
	case HydrantTest:
		if !within(float64(s.Static), 0, mostPressure) || !within(float64(s.Flow), leastTest, mostFlow) || !within(float64(s.Residual), -mostPressure, float64(s.Static)) {
			return fmt.Sprintf("was measured with %g psi at rest and %g psi at %g gpm: give pressures up to %g psi, the second not above the first, and a flow from %g to %g gpm.", float64(s.Static), float64(s.Residual), float64(s.Flow), mostPressure, leastTest, mostFlow)
		}
		return ""
	}
	last := math.MaxFloat64 / 2
	for _, q := range []units.GPM{-1, 0, 1, 10, 100} {
		p, dpdq := s.Pressure(q)
		if !within(float64(p), -math.MaxFloat64, last+rounding*math.Abs(last)) || !within(dpdq, -math.MaxFloat64, 0) {
			return fmt.Sprintf("has %g psi at %g gpm, changing by %g psi a gpm: its pressure must be a number and never rise with the flow.", float64(p), float64(q), dpdq)
		}
		if q == 0 && !within(math.Abs(float64(p)), 0, mostPressure) {
			return fmt.Sprintf("has %g psi at rest: give at most %g psi.", float64(p), mostPressure)
		}
		last = float64(p)
	}
	return ""
}

// leastTest is the least flow a supply can be measured with, gpm.
const leastTest = 0.01

// mostAtOne is the most a link may take at 1 gpm, psi: a mile of the thinnest tube
// takes less.
const mostAtOne = 1e6

// lawTrouble says what keeps a link's law from keeping to its word, likewise.
func lawTrouble(law Law) string {
	switch l := law.(type) {
	case nil:
		return "has no pipe or device in it: say what it is."
	case Pipe:
		switch all := l.friction + l.minor; {
		case !within(l.friction, 0, math.MaxFloat64) || !within(l.minor, 0, math.MaxFloat64) || !(l.creep > 0):
			return fmt.Sprintf("is a pipe that loses %g psi to friction and %g to fittings at 1 gpm: give it a length and fittings of 0 or more, and an inside diameter and a roughness above 0.", l.friction, l.minor)
		case all > mostAtOne:
			return fmt.Sprintf("loses %.3g psi at 1 gpm, more than any pipe of a yard: check its length, inside diameter and fittings.", all)
		}
		return ""
	case Curve:
		if len(l.points) == 0 {
			return "is a device without points: give it at least one flow with its loss."
		}
		return ""
	}
	last := 0.0
	for _, q := range []units.GPM{1e-6, 1, 10, 100} {
		p, dpdq := law.Loss(q)
		back, _ := law.Loss(-q)
		if !(float64(p) > last && dpdq > 0) || math.IsInf(float64(p), 0) || math.IsInf(dpdq, 0) || back != -p {
			return fmt.Sprintf("loses %g psi at %g gpm and %g psi the other way: its loss must be a number, rise with the flow, and be alike both ways.", float64(p), float64(q), float64(back))
		}
		if q == 1 && float64(p) > mostAtOne {
			return fmt.Sprintf("loses %g psi at 1 gpm: give at most %g psi.", float64(p), mostAtOne)
		}
		last = float64(p)
	}
	return ""
}
