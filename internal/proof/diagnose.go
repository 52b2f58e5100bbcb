package proof

import (
	"cmp"
	"slices"

	"evenfall/internal/plan"
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

// likely are the causes of a run's difference, most likely first; those of less than a
// twentieth are left out, but for the first. Where none fits the reading is doubted; strained
// is whether none fits well.
func likely(p *plan.Plan, r readings) (out []Likely, strained bool) {
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
	if sum < hopeless { // their order would be that of how often they are met
		if r.flow > 0 {
			return []Likely{{Cause: MeterReading, Weight: 1}}, true
		}
		return []Likely{{Cause: GaugeOrPlace, Weight: 1}}, true
	}
	slices.SortStableFunc(out, func(a, b Likely) int { return cmp.Compare(b.Weight, a.Weight) })
	kept := out[:0]
	for i, l := range out {
		if l.Weight /= sum; i == 0 || i < mostCauses && l.Weight >= leastWeight {
			kept = append(kept, l)
		}
	}
	return kept, sum < poor
}

const (
	mostCauses  = 4
	leastWeight = 0.05
	// hopeless is the weight of all causes below which none of them explains a run: it is
	// read once more. Chosen: some 14 standard deviations.
	hopeless = 1e-43
	// poor is that below which no one cause explains a run well. Chosen: some 4 standard
	// deviations.
	poor = 1e-4
)
