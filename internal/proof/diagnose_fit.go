package proof

import (
	"math"
)

// readings is one run as the causes are held against it.
type readings struct {
	flow, pressure float64 // as measured; 0: not measured
	flowSD, psiSD  float64 // how far off measuring and prediction together may be, one standard deviation
	want           state   // on the pressure at rest of that day
	drawn          state   // on the one planned on
	behind, before []point // of want: as more or less flows behind the valve, or out of the main
	tap            bool    // the pressure was read before the valve
	atHead         bool    // it was read at a head, or not at all
	static         float64 // standard deviations off the one planned on
	staticKnown    bool
	solvedAnew     bool    // want is by the network solved on that day's pressure at rest
	heads          float64 // in the zone
	share          share
	others         []float64 // flows predicted of the other zones
}

// state is what a zone does by prediction.
type state struct {
	flow, pressure float64
	rest           float64 // there if nothing flowed
}

// share is whether the other zones show the same.
type share int

const (
	unasked   share = iota // no other zone was run
	alone                  // they do not
	withOther              // some do
	everyZone              // nearly all do
)

// fits is how well the readings go with a cause, 1 at best.
func (r readings) fits(c cause) float64 {
	var d float64
	switch {
	case c.static != 0 && r.solvedAnew: // what the pressure at rest of that day explains
		d = math.Sqrt(r.off(r.want.flow, r.want.pressure))
	case c.static != 0:
		d = r.apart(c.shape, r.drawn)
	default:
		d = r.apart(c.shape, r.want)
	}
	w := math.Exp(-min(d*d, 400) / 2)
	w *= r.byStatic(c.static) * r.byShare(c)
	if c.wide > 0 && r.flow > 0 {
		w *= r.byExtra(c)
	}
	return w
}

// byStatic weighs the pressure at rest.
func (r readings) byStatic(sign int) float64 {
	if !r.staticKnown {
		return 1
	}
	off := math.Abs(r.static) > within
	switch {
	case sign == 0 && off:
		return 0.1 // two things at once
	case sign == 0:
		return 1
	case off && (r.static < 0) == (sign < 0):
		return 4
	}
	return 0.05
}

// byShare weighs what other zones show.
func (r readings) byShare(c cause) float64 {
	switch {
	case c.static != 0 && r.staticKnown: // that says more
		return 1
	case c.some && r.share == everyZone:
		return 0.5
	case c.some && r.share != unasked:
		return 2
	case r.share == unasked, !c.all && !c.one, r.share == withOther:
		return 1
	case c.all == (r.share == everyZone):
		return 2
	}
	return 0.08
}

// byExtra weighs how much more flows than its pressure makes the heads give.
func (r readings) byExtra(c cause) float64 {
	at := 1.0
	if r.pressure > 0 && !r.tap && r.want.pressure > 0 {
		at = math.Sqrt(r.pressure / r.want.pressure)
	}
	extra := r.flow - r.want.flow*min(at, 1)
	if extra <= 0 {
		return 0.01
	}
	if c.cause == SecondZone { // its heads have less as well
		best := 0.0
		for _, q := range r.others {
			best = max(best, near(extra, q*min(at, 1), c.wide))
		}
		return best
	}
	usual := c.extra
	if c.cause == LargerNozzles {
		usual = largerBy * r.want.flow
	}
	return near(extra, usual, c.wide)
}

// near is how well a flow goes with a usual one that scatters by so many powers of e.
func near(q, usual, wide float64) float64 {
	z := math.Log(q/usual) / wide
	return math.Exp(-z*z/2) + 0.02
}

// largerBy is how much more a nozzle of the next size gives, as a share. Chosen.
const largerBy = 0.4

// mostOut is how many times its flow a zone may be taken to let out: a broken pipe in a
// small one. The dial of a meter may be misread by as much. Chosen.
const mostOut = 16.0

// apart is how far the readings are from what a shape can make, in standard deviations.
func (r readings) apart(s shape, want state) float64 {
	best := math.Inf(1)
	take := func(flow, psi float64) { best = min(best, r.off(flow, psi)) }
	// follow takes what goes with so many times the flow: along a response of the network,
	// or, where it is not solved, anything from a pressure that stays, as where a body holds
	// it, to one that falls as if all up to the head were lost in pipe.
	lost := max(want.rest-want.pressure, 0.1*want.pressure)
	follow := func(v float64, on []point) {
		if on != nil {
			take(want.flow*v, max(along(on, want.flow*v)+want.pressure-r.want.pressure, 0))
			return
		}
		for part := range 5 {
			take(want.flow*v, max(want.pressure+lost*(1-v*v)*float64(part)/4, 0))
		}
	}
	const steps = 60
	for i := 1; i <= steps; i++ {
		k := float64(i) / steps
		switch s {
		case less:
			v := 1 - 0.95*k
			if r.tap {
				take(want.flow*v, want.pressure*v*v)
				follow(v, r.behind) // or the loss is behind the tap
			} else {
				take(want.flow*v, want.pressure*v*v)
			}
		case more:
			v := 1 + 0.6*k
			take(want.flow*v, want.pressure*v*v)
		case outflow:
			follow(math.Pow(mostOut, k), r.behind)
		case before:
			follow(math.Pow(mostOut, k), r.before)
		case stopped:
			v := 1 - 0.95*k
			follow(v, r.behind)
		case oneHead:
			if v := 1 - 0.98*k; r.atHead {
				take(want.flow*(1-(1-v)/max(r.heads, 1)), want.pressure*v*v)
			}
		case highGauge:
			take(want.flow, want.pressure*(1+k))
			take(want.flow, want.pressure*(1-0.9*k))
		case flowOnly:
			take(want.flow*math.Pow(mostOut, k), want.pressure)
			take(want.flow*math.Pow(mostOut, -k), want.pressure)
		}
	}
	return math.Sqrt(best)
}

// off is how far the readings are from a flow and a pressure, in squares of standard
// deviations.
func (r readings) off(flow, psi float64) float64 {
	d := 0.0
	if r.flow > 0 {
		d += square((r.flow - flow) / r.flowSD)
	}
	if r.pressure > 0 {
		d += square((r.pressure - psi) / r.psiSD)
	}
	return d
}

func square(v float64) float64 { return v * v }
