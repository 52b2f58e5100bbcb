package pressure

import (
	"evenfall/internal/hydraulics"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// curveKind is how much is known of the supply's pressure by flow.
type curveKind int

const (
	unknown curveKind = iota // the flow was never measured: that of a small house is assumed
	rough                    // a container only: one point at no pressure
	level                    // one flow with its pressure, no static: level up to it
	tested                   // static, and a flow with its residual
	pumped                   // a pump's own curve
)

// curve is the pressure at the connection by flow.
type curve struct {
	kind   curveKind
	source hydraulics.Source // after regulator and house
	rest   units.PSI         // with nothing running, in the house neither
	ends   units.GPM         // past this it is not known
	drawn  []CurvePoint      // the points it was drawn through
}

// assumedShare is how much of its static pressure a supply is taken to keep at
// the assumed flow where that is less than the assumed pressure. Chosen.
const assumedShare = 0.75

// curveOfSupply is the curve behind what stands in the street, which it takes in.
func curveOfSupply(p *plan.Plan, r readings, street []device) curve {
	c := curve{}
	s := p.Supply
	switch {
	case len(s.Pump) > 0:
		points := make([]hydraulics.SupplyPoint, len(s.Pump))
		for i, at := range s.Pump {
			points[i] = hydraulics.SupplyPoint{Flow: at.Flow, Pressure: at.PSI}
			c.drawn = append(c.drawn, CurvePoint{at.Flow, at.PSI})
		}
		if pump, err := hydraulics.NewSupply(points); err == nil { // plan.Decode has seen to it
			c.kind, c.source, c.ends = pumped, pump, pump.Known()
			break
		}
		fallthrough
	case r.flow == 0 && r.open == 0 && r.static == 0:
		c.assume(assumedPSI)
		c.kind = unknown
	case r.flow > 0 && r.static > 0 && r.drop > 0:
		test := hydraulics.HydrantTest{Static: r.static, Residual: r.static - r.drop, Flow: r.flow}
		c.kind, c.source, c.ends = tested, test, test.Known()
		c.drawn = []CurvePoint{{0, r.static}, {r.flow, r.static - r.drop}}
	case r.flow > 0:
		at := r.residual
		if r.static > 0 {
			at = min(at, r.static)
		}
		c.kind, c.source, c.ends = level, hydraulics.Fixed(at), r.flow
		c.drawn = []CurvePoint{{r.flow, at}}
	case r.open > 0 && r.static > 0:
		c.kind, c.source, c.ends = rough, hydraulics.HydrantTest{Static: r.static, Flow: r.open}, r.open
		c.drawn = []CurvePoint{{0, r.static}, {r.open, 0}}
	case r.open > 0:
		c.assume(assumedPSI)
		c.kind, c.drawn = rough, []CurvePoint{{r.open, 0}}
	default:
		c.assume(min(assumedPSI, assumedShare*r.static))
		c.source = hydraulics.HydrantTest{Static: r.static, Residual: min(assumedPSI, assumedShare*r.static), Flow: assumedFlow}
		c.drawn = []CurvePoint{{0, r.static}}
	}
	if len(street) > 0 {
		c.source = hydraulics.After{Supply: c.source, Laws: lawsOf(street)}
	}
	if behindRegulator(s) {
		c.source = hydraulics.Capped{Supply: c.source, Setting: s.RegulatorPSI}
	}
	c.rest, _ = c.source.Pressure(0)
	if s.HouseGPM > 0 {
		c.source = beside{c.source, s.HouseGPM}
		c.ends = max(c.ends-s.HouseGPM, 0)
	}
	return c
}

// behindRegulator reports whether a regulator of known setting, planned or the
// house's, stands before the connection.
func behindRegulator(s plan.Supply) bool {
	return s.RegulatorPSI > 0 && (s.Regulator || s.Tap == "after_regulator")
}

// assume takes the supply of a small house: a pressure up to the assumed flow.
func (c *curve) assume(at units.PSI) {
	c.kind, c.source, c.ends = unknown, hydraulics.Fixed(at), assumedFlow
}

// beside is a supply of which the house draws a share meanwhile.
type beside struct {
	hydraulics.Source
	house units.GPM
}

// Pressure is what is left when both draw.
func (b beside) Pressure(q units.GPM) (units.PSI, float64) {
	return b.Source.Pressure(q + b.house)
}

// Known is what is left of it for the system.
func (b beside) Known() units.GPM { return hydraulics.KnownTo(b.Source) - b.house }

// curvePoints is how many points the curve is drawn by.
const curvePoints = 24

// points are the curve for a picture, from nothing flowing to the last flow known.
func (c curve) points() []CurvePoint {
	out := make([]CurvePoint, 0, curvePoints+1)
	for i := range curvePoints + 1 {
		q := c.ends * units.GPM(i) / curvePoints
		left, _ := c.source.Pressure(q)
		out = append(out, CurvePoint{q, max(left, 0)})
	}
	return out
}
