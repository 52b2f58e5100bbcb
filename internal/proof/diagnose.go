package proof

import (
	"cmp"
	"math"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Cause is what a difference between a run and its prediction may come from.
type Cause string

// The causes.
const (
	LowSupply     Cause = "low_supply"     // the supply has less pressure that day
	OtherUse      Cause = "other_use"      // the house draws at the same time
	MainShutOff   Cause = "main_shut_off"  // a shut-off before all zones is not fully open
	BlockedFilter Cause = "blocked_filter" // at the supply
	LowRegulator  Cause = "low_regulator"  // the regulator before the system is set lower or stopped up
	ValveNotOpen  Cause = "valve_not_open" // the zone valve does not open fully, its flow control turned down
	CrushedPipe   Cause = "crushed_pipe"   // a lateral crushed, kinked, stopped up or smaller than drawn
	Leak          Cause = "leak"           // in the lateral
	BrokenPipe    Cause = "broken_pipe"
	MissingNozzle Cause = "missing_nozzle"
	LargerNozzles Cause = "larger_nozzles"
	SecondZone    Cause = "second_zone" // another zone valve is open as well
	MainLeak      Cause = "main_leak"
	SmallNozzles  Cause = "small_nozzles"
	BlockedHeads  Cause = "blocked_heads" // nozzles, screens or swing joints of some heads stopped up
	BlockedHead   Cause = "blocked_head"  // the head the gauge stood at
	HighSupply    Cause = "high_supply"
	NoRegulation  Cause = "no_regulation" // a regulator, or bodies that should hold the pressure, do not
	GaugeOrPlace  Cause = "gauge_or_place"
	MeterReading  Cause = "meter_reading"
)

// shape is what a cause does to a zone: where flow and pressure go together.
type shape int

const (
	less      shape = iota // less pressure arrives: both fall, by the root
	more                   // more pressure arrives: both rise, by the root
	outflow                // more flows out behind the valve: flow rises, pressure falls
	before                 // more flows out before it, which the meter counts
	stopped                // less flows out: flow falls, pressure rises
	oneHead                // the pressure of one head falls, and only its own flow
	highGauge              // the pressure reads high, the flow is as predicted
	flowOnly               // the flow reads off, the pressure is as predicted
)

// cause is a row of the table: how often it is met, what it does, and what else speaks
// for it. All figures are chosen; the tests hold them to zones solved with each fault.
type cause struct {
	cause Cause
	shape shape
	// prior is how often it is met, against the others.
	prior float64
	// all: it shows in every zone; one: in this one alone; some: while it lasts. None: in
	// any number.
	all, one, some bool
	// static: the pressure at rest falls (-1) or rises (+1) with it.
	static int
	// extra is the usual flow that it adds, in gpm at the pressure of a running zone, and
	// wide how far that scatters, in powers of e; wide 0: any. An open half-inch riser
	// gives some 5 gpm and an open pipe more than 10: from memory.
	extra, wide float64
	when        func(*plan.Plan) bool // nil: always
}

var causes = []cause{
	{cause: LowSupply, shape: less, prior: 1, all: true, static: -1},
	{cause: OtherUse, shape: less, prior: 0.6, some: true},
	{cause: OtherUse, shape: before, prior: 0.35, some: true},
	{cause: MainShutOff, shape: less, prior: 0.9, all: true},
	{cause: BlockedFilter, shape: less, prior: 1, all: true, when: hasFilter},
	{cause: LowRegulator, shape: less, prior: 0.6, all: true, static: -1, when: hasRegulator},
	{cause: ValveNotOpen, shape: less, prior: 1.2, one: true},
	{cause: CrushedPipe, shape: less, prior: 0.5, one: true},
	{cause: Leak, shape: outflow, prior: 1, one: true, extra: 1.5, wide: 0.8},
	{cause: BrokenPipe, shape: outflow, prior: 1, one: true, extra: 12, wide: 0.6},
	{cause: MissingNozzle, shape: outflow, prior: 1, one: true, extra: 5, wide: 0.45},
	{cause: LargerNozzles, shape: outflow, prior: 0.8, one: true, wide: 0.6},
	{cause: SecondZone, shape: outflow, prior: 0.6, one: true, wide: 0.2},
	{cause: MainLeak, shape: before, prior: 0.6, all: true},
	{cause: SmallNozzles, shape: stopped, prior: 0.9, one: true},
	{cause: BlockedHeads, shape: stopped, prior: 1.1, one: true},
	{cause: BlockedHead, shape: oneHead, prior: 1, one: true},
	{cause: HighSupply, shape: more, prior: 1, all: true, static: 1},
	{cause: NoRegulation, shape: more, prior: 0.8, when: holdsPressure},
	{cause: GaugeOrPlace, shape: highGauge, prior: 0.1},
	{cause: MeterReading, shape: flowOnly, prior: 0.06},
}

func hasFilter(p *plan.Plan) bool { _, _, ok := p.Filter(); return ok }

func hasRegulator(p *plan.Plan) bool {
	return p.Supply.RegulatorPSI > 0 && (p.Supply.Regulator || p.Supply.Tap == "after_regulator")
}

func holdsPressure(p *plan.Plan) bool {
	if hasRegulator(p) {
		return true
	}
	for _, h := range p.Heads { // any one: order does not matter
		if h.Status.Stands() && p.Bodies[h.Body].Regulated > 0 {
			return true
		}
	}
	return false
}

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
	inlet          float64 // before a body that may hold it at pressure
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

// likely are the causes of a run's difference, most likely first; those of less than a
// twentieth are left out, but for the first.
func likely(p *plan.Plan, r readings) []Likely {
	var out []Likely
	sum := 0.0
	for _, c := range causes {
		if c.when != nil && !c.when(p) {
			continue
		}
		w := c.prior * r.fits(c)
		if w <= 0 {
			continue
		}
		sum += w
		if i := slices.IndexFunc(out, func(l Likely) bool { return l.Cause == c.cause }); i >= 0 {
			out[i].Weight += w
			continue
		}
		out = append(out, Likely{Cause: c.cause, Weight: w})
	}
	slices.SortStableFunc(out, func(a, b Likely) int { return cmp.Compare(b.Weight, a.Weight) })
	kept := out[:0]
	for i, l := range out {
		if l.Weight /= sum; i == 0 || i < mostCauses && l.Weight >= leastWeight {
			kept = append(kept, l)
		}
	}
	return kept
}

const (
	mostCauses  = 4
	leastWeight = 0.05
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

// apart is how far the readings are from what a shape can make, in standard deviations.
func (r readings) apart(s shape, want state) float64 {
	best := math.Inf(1)
	take := func(flow, psi float64) { best = min(best, r.off(flow, psi)) }
	// Where the zone is not solved: the pressure that is lost on the way, at the flow
	// predicted; where hardly any is, a tenth of what is at hand.
	lost := max(want.rest-want.inlet, 0.1*want.inlet)
	behind := func(v float64, on []point) float64 {
		if on != nil {
			return max(along(on, want.flow*v)+want.pressure-r.want.pressure, 0)
		}
		arrives := max(want.inlet+lost*(1-v*v), 0)
		if want.inlet > want.pressure {
			return min(arrives, want.pressure) // a body holds it
		}
		return arrives
	}
	const steps = 60
	for i := 1; i <= steps; i++ {
		k := float64(i) / steps
		switch s {
		case less:
			v := 1 - 0.95*k
			if r.tap {
				take(want.flow*v, want.pressure*v*v)
				take(want.flow*v, behind(v, r.behind)) // or the loss is behind the tap
			} else {
				take(want.flow*v, want.pressure*v*v)
			}
		case more:
			v := 1 + 0.6*k
			take(want.flow*v, want.pressure*v*v)
		case outflow:
			v := 1 + 3*k
			take(want.flow*v, behind(v, r.behind))
		case before:
			v := 1 + 3*k
			take(want.flow*v, behind(v, r.before))
		case stopped:
			v := 1 - 0.95*k
			take(want.flow*v, behind(v, r.behind))
		case oneHead:
			if v := 1 - 0.98*k; r.atHead {
				take(want.flow*(1-(1-v)/max(r.heads, 1)), want.pressure*v*v)
			}
		case highGauge:
			take(want.flow, want.pressure*(1+k))
			take(want.flow, want.pressure*(1-0.9*k))
		case flowOnly:
			take(want.flow*(1+2*k), want.pressure)
			take(want.flow*(1-0.95*k), want.pressure)
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

// sign is which way a zone is off.
type sign struct {
	known          bool
	flow, pressure int // -1 under, 0 within, +1 over
}

// none reports whether nothing is off.
func (a sign) none() bool { return a.flow == 0 && a.pressure == 0 }

// alike reports whether two zones are off the same way.
func (a sign) alike(b sign) bool {
	return a.flow*b.flow >= 0 && a.pressure*b.pressure >= 0 && (a.flow*b.flow > 0 || a.pressure*b.pressure > 0)
}

const (
	// predictSD is how far off a prediction of flow may be, one standard deviation as a
	// share: nozzles are within some per cent of their tables, and a zone has several.
	// assumedSD where the supply was never measured. Chosen.
	predictSD, assumedSD = 0.035, 0.10
	// psiPredictSD is the same of the pressure at a head.
	psiPredictSD = 0.04
	// notedSD is how far off a flow is that was noted without its volume and time.
	notedSD = 0.03
	// clockS is how far off a time by hand is, in seconds; dialShare a meter's dial
	// (new meters are within 1.5 %: from memory of the trade's standard for them).
	clockS, dialShare = 0.5, 0.015
	// within is how many standard deviations are no difference.
	within = 2.0
)

// flowOf is the flow of a run and how far off it may be by measuring, as a share.
func flowOf(v plan.ZoneRun) (q units.GPM, sd float64) {
	if v.MeterGal > 0 && v.MeterS > 0 {
		return units.GPM(float64(v.MeterGal) * 60 / float64(v.MeterS)), math.Hypot(dialShare, clockS/float64(v.MeterS))
	}
	return v.FlowGPM, notedSD
}
