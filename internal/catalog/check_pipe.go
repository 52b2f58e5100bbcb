package catalog

import (
	"fmt"
	"slices"
)

// Limits of what a row of pipes or devices may hold: far beyond any yard.
const (
	mostPipeIn     = 48
	leastC         = 20
	mostC          = 200
	mostModulus    = 1e8
	mostRating     = 5_000
	mostStick      = 10_000
	mostPrice      = 1e6
	mostDeviceGPM  = 10_000
	mostDevicePSI  = 1_000
	mostCurve      = 100
	mostPipeSizes  = 100
	leastThickness = 0.001

	// LeastApartGPM is how far apart the flows of a curve must be, from each other
	// and from no flow, so that a solution can tell its points apart.
	LeastApartGPM = 0.01
)

// joints are the ways a class of pipe is joined.
var joints = []string{"cement", "insert", "solder", "thread"}

// Validate reports the first thing that keeps the class from being used, as a
// *Fault; nil when it is sound.
func (c PipeClass) Validate() error {
	for _, check := range []func(PipeClass) *Fault{classTextFault, classFault, sizesFault} {
		if f := check(c); f != nil {
			return f
		}
	}
	return nil
}

func classTextFault(c PipeClass) *Fault {
	if f := textFault("/name", "The pipe class's name", c.Name, true); f != nil {
		return f
	}
	if f := textFault("/source", "The pipe class's source", c.Source, false); f != nil {
		return f
	}
	return textFault("/convention", "How the inside diameters were taken", c.Convention, false)
}

func classFault(c PipeClass) *Fault {
	switch c.Material {
	case PVC, PE, Copper, Steel:
	default:
		return fault("/material", "%s is made of %q; pipe is of pvc, pe, copper or steel.", c.Name, c.Material)
	}
	if !slices.Contains(joints, c.Joint) {
		return fault("/joint", "%s is joined by %q; it is cement, insert, solder or thread.", c.Name, c.Joint)
	}
	if !within(c.C, leastC, mostC) {
		return fault("/c", "%s has a Hazen-Williams C of %g; that is %d to %d, 150 for plastic.", c.Name, c.C, leastC, mostC)
	}
	if !within(float64(c.ModulusPSI), 1, mostModulus) {
		return fault("/modulus_psi", "%s has a modulus of elasticity of %g psi; that is above 0, 400000 for PVC.", c.Name, float64(c.ModulusPSI))
	}
	if !within(float64(c.SoldFt), 0, mostStick) {
		return fault("/sold_ft", "%s is sold in lengths of %g ft; that is 0 (not said) to %d ft.", c.Name, float64(c.SoldFt), mostStick)
	}
	return nil
}

func sizesFault(c PipeClass) *Fault {
	if k := len(c.Sizes); k < 1 || k > mostPipeSizes {
		return fault("/sizes", "%s has %d sizes; it takes 1 to %d.", c.Name, k, mostPipeSizes)
	}
	for i, s := range c.Sizes {
		if f := sizeFault(c.Name, i, s); f != nil {
			return f
		}
		if i > 0 && s.Nominal <= c.Sizes[i-1].Nominal {
			return fault(fmt.Sprintf("/sizes/%d/nominal_in", i), "%s has the size %g in after %g in; sizes stand by rising size, each once.",
				c.Name, float64(s.Nominal), float64(c.Sizes[i-1].Nominal))
		}
	}
	return nil
}

func sizeFault(name string, i int, s PipeSize) *Fault {
	for _, n := range []struct {
		member, what   string
		v, least, most float64
		from           string
	}{
		{"nominal_in", "a nominal size", float64(s.Nominal), leastThickness, mostPipeIn, "above 0"},
		{"outside_in", "an outside diameter", float64(s.Outside), leastThickness, mostPipeIn, "above 0"},
		{"wall_in", "a wall", float64(s.Wall), leastThickness, mostPipeIn, "above 0"},
		{"inside_in", "an inside diameter", float64(s.Inside), leastThickness, mostPipeIn, "above 0"},
		{"rating_psi", "a rating", float64(s.Rating), leastThickness, mostRating, "above 0"},
		{"price_per_ft", "a price", s.PricePerFt, 0, mostPrice, "0 (not given)"},
	} {
		if !within(n.v, n.least, n.most) {
			return fault(fmt.Sprintf("/sizes/%d/%s", i, n.member), "%s has %s of %g in its size %d; that is %s to %g.",
				name, n.what, n.v, i+1, n.from, n.most)
		}
	}
	if s.Inside >= s.Outside {
		return fault(fmt.Sprintf("/sizes/%d/inside_in", i), "%s is wider inside (%g in) than outside (%g in) in its size %d. Check the two diameters.",
			name, float64(s.Inside), float64(s.Outside), i+1)
	}
	if 2*s.Wall >= s.Outside {
		return fault(fmt.Sprintf("/sizes/%d/wall_in", i), "%s has a wall of %g in in a pipe of %g in outside, size %d; there is no room for water.",
			name, float64(s.Wall), float64(s.Outside), i+1)
	}
	return nil
}

// Validate reports the first thing that keeps the device from being used, as a
// *Fault; nil when it is sound.
func (d Device) Validate() error {
	for _, check := range []func(Device) *Fault{deviceKindFault, deviceRangeFault, lossFault} {
		if f := check(d); f != nil {
			return f
		}
	}
	return nil
}

func deviceKindFault(d Device) *Fault {
	if f := textFault("/name", "The device's name", d.Name, true); f != nil {
		return f
	}
	if f := textFault("/source", "The device's source", d.Source, false); f != nil {
		return f
	}
	switch d.Kind {
	case Meter, Isolation, Backflow, ZoneValve, MasterValve, Filter, SwingJoint:
	default:
		return fault("/kind", "%s is of the kind %q; a device is a meter, isolation, backflow, zone_valve, master_valve, filter or swing_joint.", d.Name, d.Kind)
	}
	switch d.Backflow {
	case "", PressureBreaker, SpillResistantBreaker, AtmosphericBreaker, DoubleCheck, ReducedPressure:
	default:
		return fault("/backflow", "%s is the backflow device %q; it is a pressure_breaker, spill_resistant_breaker, atmospheric_breaker, double_check or reduced_pressure.", d.Name, d.Backflow)
	}
	if d.Kind == Backflow && d.Backflow == "" {
		return fault("/backflow", "%s is a backflow device, and how it works is not said; its place in the pipe hangs on it.", d.Name)
	}
	if d.Kind != Backflow && d.Backflow != "" {
		return fault("/backflow", "%s is of the kind %s, and only a backflow device says how it keeps water back.", d.Name, d.Kind)
	}
	return nil
}

func deviceRangeFault(d Device) *Fault {
	for _, n := range []struct {
		member, what, unit string
		v, most            float64
	}{
		{"nominal_in", "a nominal size", "in", float64(d.Nominal), mostPipeIn},
		{"least_gpm", "a least flow", "gpm", float64(d.LeastGPM), mostDeviceGPM},
		{"most_gpm", "a greatest flow", "gpm", float64(d.MostGPM), mostDeviceGPM},
		{"least_psi", "a least pressure", "psi", float64(d.LeastPSI), mostDevicePSI},
		{"most_psi", "a greatest pressure", "psi", float64(d.MostPSI), mostDevicePSI},
	} {
		if !within(n.v, 0, n.most) {
			return fault("/"+n.member, "%s has %s of %g %s; that is 0 (not given) to %g %s.", d.Name, n.what, n.v, n.unit, n.most, n.unit)
		}
	}
	if d.MostGPM > 0 && d.MostGPM < d.LeastGPM {
		return fault("/most_gpm", "%s has a greatest flow of %g gpm, less than its least, %g gpm.", d.Name, float64(d.MostGPM), float64(d.LeastGPM))
	}
	if d.MostPSI > 0 && d.MostPSI < d.LeastPSI {
		return fault("/most_psi", "%s has a greatest pressure of %g psi, less than its least, %g psi.", d.Name, float64(d.MostPSI), float64(d.LeastPSI))
	}
	return nil
}

func lossFault(d Device) *Fault {
	if k := len(d.Loss); k < 1 || k > mostCurve {
		return fault("/loss", "%s has %d points in its loss curve; it takes 1 to %d.", d.Name, k, mostCurve)
	}
	before := LossPoint{}
	for i, p := range d.Loss {
		at := fmt.Sprintf("/loss/%d", i)
		if !within(float64(p.Flow), LeastApartGPM, mostDeviceGPM) {
			return fault(at+"/flow_gpm", "%s has a flow of %g gpm in point %d of its loss curve; that is above 0, from %g to %d gpm.", d.Name, float64(p.Flow), i+1, LeastApartGPM, mostDeviceGPM)
		}
		if !within(float64(p.Loss), 0, mostDevicePSI) {
			return fault(at+"/loss_psi", "%s has a loss of %g psi in point %d of its loss curve; that is 0 to %d psi.", d.Name, float64(p.Loss), i+1, mostDevicePSI)
		}
		if i > 0 && p.Flow < before.Flow+LeastApartGPM {
			return fault(at+"/flow_gpm", "%s has a point at %g gpm after one at %g gpm; the points of a loss curve stand by rising flow, each %g gpm or more above the one before.",
				d.Name, float64(p.Flow), float64(before.Flow), LeastApartGPM)
		}
		if p.Loss < before.Loss {
			return fault(at+"/loss_psi", "%s takes %g psi at %g gpm, less than the %g psi at %g gpm before; more flow never takes less pressure. Check the two points.",
				d.Name, float64(p.Loss), float64(p.Flow), float64(before.Loss), float64(before.Flow))
		}
		before = p
	}
	return nil
}
