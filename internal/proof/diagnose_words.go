package proof

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// causeWords are what each cause is called and what is done about it. Common practice,
// from memory.
var causeWords = map[Cause][2]string{
	LowSupply:     {"The supply has less pressure than was planned on", "Read the pressure at rest again at another hour, all water off. If it stays low, enter it with the supply: the plan then tells what still works. Ask who brings the water before anything is changed there."},
	OtherUse:      {"Other water was running at the same time", "See that no tap, toilet, softener or neighbour on the same line draws, and run the zone again."},
	MainShutOff:   {"A shut-off before the zones is not fully open", "Open every shut-off on the way all the way: at the meter, at the system, both of the backflow device. What is inside the device is for a licensed tester."},
	BlockedFilter: {"The filter at the supply is stopped up", "Shut the water off, let the pressure out, then take the filter's screen out and wash it. Look what was in it: sand comes again."},
	LowRegulator:  {"The pressure regulator gives less than it is set for", "Read the pressure before and behind it. Its screen may be stopped up; setting it anew is common plumbing, local rules say whose."},
	ValveNotOpen:  {"The zone valve does not open fully", "Turn its flow control all the way up first. Then look for grit under its diaphragm, with the water shut off, and whether its coil has the full voltage."},
	CrushedPipe:   {"A pipe of this zone is crushed, kinked, stopped up or smaller than drawn", "Read the pressure right behind the valve: near what is predicted there, the loss is in the pipe. Then from head to head to where it falls. Have buried lines located before anybody digs."},
	Leak:          {"This zone leaks", "Walk the pipe while it runs: wet or soft ground, water bubbling up, a body that leaks at its foot, a drain that stays open. Have buried lines located before anybody digs."},
	BrokenPipe:    {"A pipe of this zone is broken", "Shut it off soon: it washes the ground out. Look where water stands or the heads beyond hardly rise. Have buried lines located before anybody digs."},
	MissingNozzle: {"A nozzle is missing or a head is broken off", "Look for the head that throws a solid column or none at all; the others of the zone are low."},
	LargerNozzles: {"Larger nozzles than drawn", "Read the nozzles of this zone against the setting list, head by head."},
	SecondZone:    {"Another zone runs as well", "Look whether a second zone is up: a valve that does not seat, a bleed left open, two wires on one terminal."},
	MainLeak:      {"The main leaks", "Close all zone valves and watch the dial of the meter: if it turns, water leaves before them. Hold the main at pressure again."},
	SmallNozzles:  {"Smaller nozzles than drawn, or heads that are shut by their screws", "Read the nozzles of this zone against the setting list, and whether any throw is turned down more than it says."},
	BlockedHeads:  {"Nozzles or screens of some heads are stopped up", "Look for heads that throw short or in streaks. Take nozzle and screen out, rinse, let the zone run a moment to flush, put them back."},
	BlockedHead:   {"The head that was measured gets less than the others", "Screen, swing joint or riser of this head: a kink or dirt. Read the pressure at another head of the zone beside it."},
	HighSupply:    {"The supply has more pressure than was planned on", "Read the pressure at rest again. Enter it with the supply if it stays; where nozzles mist, hold it down by a regulator or by bodies that regulate."},
	NoRegulation:  {"What should hold the pressure down does not", "Look for bodies without the regulator that is drawn, or read the regulator's setting."},
	GaugeOrPlace:  {"The gauge, or the place it was read at", "Read it again with another gauge, once the needle rests, at the place that is named."},
	MeterReading:  {"The reading of the meter", "Time a larger volume once more, all other water off. See what its dial counts: gallons, cubic feet (7.48 gal), litres or cubic metres. A bucket under some heads tells as well."},
}

// word puts a cause and what speaks for it into words.
func (w *watch) word(zone plan.ID, h held, l *Likely) {
	words := causeWords[l.Cause]
	l.Says, l.Do = words[0], words[1]
	c := shownBy(l.Cause)
	s := h.sign()
	if c.static != 0 {
		s = h.against(h.drawn)
	}
	var why []string
	switch {
	case s.flow < 0 && s.pressure < 0:
		why = append(why, "flow and pressure are both low")
	case s.flow > 0 && s.pressure > 0:
		why = append(why, "flow and pressure are both high")
	case s.flow > 0 && s.pressure < 0:
		why = append(why, "more flows, at less pressure")
	case s.flow < 0 && s.pressure > 0:
		why = append(why, "less flows, at more pressure")
	case s.flow != 0:
		why = append(why, "the flow is "+lowHigh(s.flow)+asPressure(h.psiKnown))
	case s.pressure != 0:
		why = append(why, "the pressure is "+lowHigh(s.pressure)+asFlow(h.flowKnown))
	}
	if c.all && (c.static == 0 || !h.staticKnown) || c.one {
		switch h.share {
		case alone:
			why = append(why, "in this zone alone")
		case everyZone:
			why = append(why, "in the other zones too")
		case withOther:
			why = append(why, "in some other zones too")
		case unasked:
			why = append(why, "no other zone has been run to compare")
		}
	}
	if h.staticKnown {
		switch {
		case math.Abs(h.static) <= within:
			why = append(why, "the pressure at rest is as planned")
		case h.static < 0:
			why = append(why, "the pressure at rest is low too")
		default:
			why = append(why, "the pressure at rest is high too")
		}
	}
	if extra := h.flow - h.want.flow; slices.Contains([]shape{outflow, before}, shownBy(l.Cause).shape) && h.flowKnown && extra > 0 {
		why = append(why, fmt.Sprintf("%s more than planned, as much as %.2g of its heads give", w.p.Show.Flow(units.GPM(extra)), extra/(h.want.flow/h.heads)))
	}
	l.Why = plan.Capital(strings.Join(why, "; ")) + "."
}

// shownBy is the first row of a cause.
func shownBy(c Cause) cause {
	for _, row := range causes {
		if row.cause == c {
			return row
		}
	}
	return cause{}
}

func lowHigh(s int) string {
	if s < 0 {
		return "low"
	}
	return "high"
}

func asPressure(known bool) string {
	if known {
		return ", the pressure as predicted"
	}
	return ", no pressure was read"
}

func asFlow(known bool) string {
	if known {
		return ", the flow as predicted"
	}
	return ", no flow was read"
}
