package proof

import (
	"fmt"
	"math"

	"evenfall/internal/plan"
	"evenfall/internal/wire"
)

// What a meter reads in ohms between wires at a controller. All from memory, as coils
// and meters differ; the owner's own readings of good valves tell more.
const (
	coilLeast = 20.0 // of a healthy 24 V solenoid
	coilMost  = 60.0
	// wireMost is what the longest usual run adds: 850 ft of 18 AWG there and back, by
	// the table of wire.Gauges at 20 °C.
	wireMost   = 2 * 850 * 6.39 / 1000
	shortMost  = 10.0 // less than this is no coil
	meterShare = 0.05 // a cheap meter may be off by this share,
	meterOhms  = 1.5  // and this much more, as the contact of its tips is
)

// ohmSpan is a range of ohms that is possible.
type ohmSpan struct{ low, high float64 }

// ohmsSeen is what the true resistance may be when a meter shows v.
func ohmsSeen(v float64) ohmSpan {
	return ohmSpan{v*(1-meterShare) - meterOhms, v*(1+meterShare) + meterOhms}
}

func (s ohmSpan) and(o ohmSpan) ohmSpan {
	return ohmSpan{math.Max(s.low, o.low), math.Min(s.high, o.high)}
}
func (s ohmSpan) empty() bool            { return s.low > s.high }
func (s ohmSpan) touches(o ohmSpan) bool { return !s.and(o).empty() }
func (s ohmSpan) less(o ohmSpan) ohmSpan { return ohmSpan{s.low - o.high, s.high - o.low} }

// valveSpan is what one good valve reads with a wire that adds so much at most.
func valveSpan(extra float64) ohmSpan { return ohmSpan{coilLeast, coilMost + extra} }

// What a reading from a common to a wire says.
const (
	ohmsOpen  = "open"
	ohmsShort = "short"
	ohmsHalf  = "half" // two coils side by side
	ohmsCoil  = "coil"
	ohmsHigh  = "high"
)

// ohmsMean is what a reading between a common and a wire says. usual is what the valves
// here read, 0 where too few are read: two valves on a wire read half of it, which may
// still be what one coil of another make has. extra is what its wire adds at most.
func ohmsMean(r reading, usual, extra float64) string {
	one := valveSpan(extra)
	at := ohmsSeen(r.ohms)
	switch {
	case r.open:
		return ohmsOpen
	case r.ohms < shortMost:
		return ohmsShort
	case at.high < one.low || r.ohms < halfShare*usual:
		return ohmsHalf
	case at.low > one.high || usual > 0 && r.ohms > highShare*usual+extra:
		return ohmsHigh
	}
	return ohmsCoil
}

// Shares of what the other valves read, chosen: below halfShare two coils side by side
// are nearer than one; above highShare no coil of another make is likely.
const (
	halfShare = 0.62
	highShare = 2
)

// lengths takes from the wiring what a valve's wire adds there and back, of copper at 20 °C.
func (f *wireWork) lengths(w *wire.Wiring) {
	if w == nil {
		return
	}
	f.extra = map[plan.ID]float64{}
	for _, r := range w.Runs {
		if collection, id := r.To.Split(); collection == "zones" && r.Known && r.Hot > 0 && r.Common > 0 {
			f.extra[id] = wire.Drop(1, r.Length, wire.Resistance(r.Hot, 20), wire.Resistance(r.Common, 20)) + wire.Drop(1, r.Detour, 0, wire.Resistance(r.Common, 20))
		}
	}
}

// longest is the most ohms that the wire of a valve adds: of the zones that ran by it where
// that is known, else of any.
func (f *wireWork) longest(i int) float64 {
	if ran, _ := f.ran(i); len(ran) > 0 {
		return f.adds(ran)
	}
	return f.adds(f.zones)
}

// adds is the most ohms that the wire of one of these zones adds.
func (f *wireWork) adds(zones []plan.ID) float64 {
	most := 0.0
	for _, z := range zones {
		extra, ok := f.extra[z]
		if !ok {
			return wireMost
		}
		most = math.Max(most, extra)
	}
	return most
}

// ohmsSay prints a resistance: whole ohms, below ten to the tenth.
func ohmsSay(v float64) string {
	if math.Abs(v) < 9.95 {
		return fmt.Sprintf("%.1f Ω", v)
	}
	return fmt.Sprintf("%.0f Ω", v)
}
