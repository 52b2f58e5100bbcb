package coverage

import (
	"errors"
	"fmt"
	"math"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Run is one head as it will run at its planned pressure.
type Run struct {
	Pressure   units.PSI           // at the nozzle
	TableThrow units.Feet          // at that pressure, not turned down
	Throw      units.Feet          // as set
	Flow       units.GPM           // with its arc and turn-down
	Rate       units.InchesPerHour // head-to-head; see HeadReading.Rate
	OwnRate    units.InchesPerHour // before its throw is turned down; see HeadReading.OwnRate
}

// CannotRun says why a head has no figures.
type CannotRun struct {
	Head     plan.ID
	Quantity string // pressure | arc | throw | nozzle | flow
	Sentence string
	cause    error
}

// Error returns the sentence.
func (e *CannotRun) Error() string { return e.Sentence }

// Unwrap gives the error of the catalogue, if it was that.
func (e *CannotRun) Unwrap() error { return e.cause }

// Running reports the pressure, throw and flow of a head as planned. A head
// outside its nozzle's table is a *CannotRun that wraps the catalogue's
// *catalog.OutsideError; nothing is guessed.
//
// The pressure is the zone's planned pressure, or the nozzle's best when the
// zone names none; a regulating body set below that holds it at its setting.
func Running(p *plan.Plan, id plan.ID) (Run, error) {
	h, ok := p.Heads[id]
	if !ok {
		return Run{}, &CannotRun{Head: id, Quantity: "nozzle", Sentence: fmt.Sprintf("There is no head %s in the plan.", id)}
	}
	n, ok := p.Nozzles[h.Nozzle]
	if !ok {
		return Run{}, &CannotRun{Head: id, Quantity: "nozzle", Sentence: fmt.Sprintf(
			"Head %s has the nozzle %s, which the plan does not hold; choose a nozzle for it.", named(h, id), h.Nozzle)}
	}
	pressure := plannedPressure(p, h, n)
	table, _, err := n.At(pressure)
	if err != nil {
		return Run{}, outside(h, id, err)
	}
	throw := table
	if h.ThrowFt != nil {
		throw = *h.ThrowFt
	}
	flow, err := n.Flow(pressure, sweepOf(h, n), throw)
	if err != nil {
		return Run{}, outside(h, id, err)
	}
	run := Run{Pressure: pressure, TableThrow: table, Throw: throw, Flow: flow}
	run.Rate = headToHead(n, sweepOf(h, n), throw, flow)
	run.OwnRate = units.InchesPerHour(float64(run.Rate) * math.Pow(float64(throw/table), turnedPower(n)))
	if what := implausible(run); what != "" {
		return Run{}, &CannotRun{Head: id, Quantity: what, Sentence: fmt.Sprintf(
			"Head %s would throw %.3g ft with %.3g gpm, which no sprinkler does; check its nozzle's rows.",
			named(h, id), float64(throw), float64(flow))}
	}
	return run, nil
}

// turnedPower is the power of the throw's share that leads from the rate of a head
// as set to its nozzle's own: flow goes with throw^n and the ground wetted with
// throw², so rate = own rate · share^(n−2); a strip keeps its width, so there the
// ground goes with throw alone.
func turnedPower(n catalog.Nozzle) float64 {
	power := 2 - n.TurnDown.FlowPower
	if n.Family == catalog.Strip {
		power--
	}
	return power
}

func plannedPressure(p *plan.Plan, h plan.Head, n catalog.Nozzle) units.PSI {
	pressure := n.BestPSI
	if z, ok := p.Zones[h.Zone]; ok && z.Pressure > 0 {
		pressure = z.Pressure
	}
	if set := p.Bodies[h.Body].Regulated; set > 0 && set < pressure {
		return set
	}
	return pressure
}

func sweepOf(h plan.Head, n catalog.Nozzle) units.Degrees {
	if n.Family == catalog.Strip {
		return 0
	}
	return h.SweepDeg
}

// headToHead is the precipitation rate of a head among its like, each at the
// next one's throw: the ground one full circle stands for is throw² [1], that
// of a strip half the rectangle it wets, because its water, too, tapers to the
// next head.
func headToHead(n catalog.Nozzle, sweep units.Degrees, throw units.Feet, flow units.GPM) units.InchesPerHour {
	ground := standsFor(n, sweep, throw)
	if !(ground > 0) {
		return 0
	}
	return units.PrecipitationRate(flow, ground)
}

// standsFor is the ground a head waters when its like stand head to head.
func standsFor(n catalog.Nozzle, sweep units.Degrees, throw units.Feet) units.SqFeet {
	if n.Family == catalog.Strip {
		return units.SqFeet(stripLength(n.Strip) * float64(throw) * stripWidth(n.Strip) / 2)
	}
	return units.SqFeet(float64(throw) * float64(throw) * float64(sweep) / 360)
}

// stripLength is how many throws long a strip is: 1 or 2.
func stripLength(s *catalog.StripShape) float64 {
	n := 0.0
	if s != nil && s.Ahead {
		n++
	}
	if s != nil && s.Back {
		n++
	}
	return n
}

func stripWidth(s *catalog.StripShape) float64 {
	if s == nil {
		return 0
	}
	return float64(s.Left + s.Right)
}

// What a sprinkler can be. Far beyond any, so that a slip in a user's table
// cannot swamp the figures of all the others; chosen.
const (
	leastThrow = 0.5   // feet
	mostThrow  = 300   // feet
	mostRate   = 10000 // inches per hour at the head
)

func implausible(r Run) string {
	switch {
	case !(r.Throw >= leastThrow && r.Throw <= mostThrow):
		return "throw"
	case !(r.Flow > 0 && r.Rate > 0 && r.Rate < mostRate/4):
		return "flow"
	}
	return ""
}

func outside(h plan.Head, id plan.ID, err error) error {
	quantity := "pressure"
	var out *catalog.OutsideError
	if errors.As(err, &out) {
		quantity = out.Quantity
	}
	return &CannotRun{Head: id, Quantity: quantity, cause: err,
		Sentence: fmt.Sprintf("Head %s: %s", named(h, id), err)}
}

func named(h plan.Head, id plan.ID) string {
	if h.Tag != "" {
		return h.Tag
	}
	return string(id)
}
