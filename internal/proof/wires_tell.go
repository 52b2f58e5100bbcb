package proof

import (
	"fmt"
	"slices"

	"evenfall/internal/plan"
)

// commonTerminal and masterTerminal are those that have no station.
const (
	commonTerminal = "Common"
	masterTerminal = "Master valve"
)

// wire is what one wire was found to be.
func (f *wireWork) wire(i int) WireAt {
	w := WireAt{ID: f.ids[i], Mark: f.mark(i)}
	if r, ok := f.commonRead(i); ok {
		if w.Open = r.open; !r.open {
			ohms := r.ohms
			w.Ohms = &ohms
		}
	}
	ran, powered := f.ran(i)
	short := f.toCommon(i) == ohmsShort
	switch {
	case f.common[i]:
		w.Kind, w.Is, w.Goes, w.Ohms = WireCommon, "Common", commonTerminal, nil
		if !f.wires[i].Common {
			w.Is = "Common, by its readings"
		}
	case len(ran) > 0 && (len(ran) == 1 || f.terminal(ran) > 0):
		w.Kind, w.Zones, w.Is = WireZone, ran, plan.Capital(f.named(ran))
	case len(ran) > 1:
		w.Kind, w.Zones, w.Is = WireSeveral, ran, plan.Capital(f.named(ran))+" together"
	case short:
		w.Kind, w.Is = WireShorted, "Shorted to the common"
	case i == f.left && f.leftFor != "":
		w.Kind, w.Zones, w.Left, w.Is = WireZone, []plan.ID{f.leftFor}, true, plan.Capital(f.zone(f.leftFor))+", the only one left"
	case i == f.master:
		w.Kind, w.Left, w.Is, w.Goes = WireMaster, i == f.left, "Master valve", masterTerminal
	case f.dead[i]:
		w.Kind, w.Is = WireSpare, "Spare or broken"
	case powered && f.coils(i):
		w.Kind, w.Is = WireUnknown, "A coil that ran no zone"
	case powered:
		w.Kind, w.Is = WireSpare, "Spare or broken: nothing ran"
	case f.live[i]:
		w.Kind, w.Is = WireUnknown, "A valve, not found which"
	default:
		w.Kind, w.Is = WireUnknown, "Not found yet"
	}
	if s := f.terminal(w.Zones); s > 0 {
		w.Goes = fmt.Sprint(s)
	}
	w.Moves, w.Warn = f.moves(i, &w), f.odd(i, &w)
	return w
}

// coils reports whether a wire reads as if a coil were on it.
func (f *wireWork) coils(i int) bool {
	switch f.toCommon(i) {
	case ohmsHalf, ohmsCoil, ohmsHigh:
		return true
	}
	return false
}

// moves says from where to where a wire goes; "" where it is right, or on none.
func (f *wireWork) moves(i int, w *WireAt) string {
	now := f.wires[i].Terminal
	switch {
	case now <= 0 || w.Goes == fmt.Sprint(now):
		return ""
	case w.Kind == WireCommon:
		return fmt.Sprintf("Move from %d to the common terminal.", now)
	case w.Kind == WireMaster:
		return fmt.Sprintf("Move from %d to the terminal of the master valve.", now)
	case w.Goes != "":
		return fmt.Sprintf("Move from %d to %s.", now, w.Goes)
	case w.Kind == WireSpare || w.Kind == WireShorted:
		return fmt.Sprintf("Take off %d.", now)
	}
	return ""
}

// odd is what is odd about a wire by itself; "" nothing. What several valves, a half
// and a high reading mean is common practice, from memory.
func (f *wireWork) odd(i int, w *WireAt) string {
	ran, powered := f.ran(i)
	reads := ""
	if w.Ohms != nil {
		reads = ohmsSay(*w.Ohms)
	}
	switch ohms := f.toCommon(i); {
	case f.doubtful[i] >= 0:
		a, b := f.touches[f.doubtful[i]], f.touches[f.last[i]]
		return fmt.Sprintf("It ran %s in touch %d and %s in touch %d: touch it again.", f.named(a.ran), a.number, f.named(b.ran), b.number)
	case ohms == ohmsShort:
		return fmt.Sprintf("It reads %s to the common, less than any coil has: the two touch one another in a splice, or the coil is burnt. Do not power it; look at the splice and the coil.", reads)
	case ohms == ohmsOpen && len(ran) > 0:
		return "It reads open to the common, though a zone ran by it: a splice that makes contact now and then, or a slip. Read it again."
	case w.Kind == WireSeveral && ohms == ohmsHalf:
		return fmt.Sprintf("Valves of several stations are joined to it, as its %s, about half of one coil, say too. Part them in the valve box, each on a wire of its own.", reads)
	case w.Kind == WireSeveral:
		return "Zones of several stations ran by it: their wires are joined, or a valve sticks open. See whether each stops when it is off, then part them in the valve box."
	case ohms == ohmsHalf && len(ran) < 2:
		return fmt.Sprintf("It reads %s, about half of one coil: two valves are on it, or its coil is failing. See whether a second zone runs by it.", reads)
	case ohms == ohmsHigh:
		return fmt.Sprintf("It reads %s, more than a coil with its wire has: a corroded splice. Make the splice anew with a listed waterproof connector.", reads)
	case powered && len(ran) == 0 && f.coils(i) && i != f.master:
		return fmt.Sprintf("It reads %s, so a coil is on it, but no zone ran: supply shut, a valve turned down or stuck, or one that is not on the plan.", reads)
	}
	if slices.ContainsFunc(ran, f.gone) {
		return "What ran by it is no zone of the plan any more: power it again and note which zone of the plan runs, or take the wire off its terminal."
	}
	if len(w.Zones) > 0 && f.terminal(w.Zones) == 0 && w.Kind == WireZone {
		return "Its zone has no station yet: give it one."
	}
	return ""
}
