package proof

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/plan"
)

// wireWork is what was noted of the wires, by their place in the list, and what follows.
type wireWork struct {
	wiresKnown
	p         *plan.Plan
	ids       []plan.ID
	wires     []plan.FoundWire
	at        map[plan.ID]int
	zones     []plan.ID           // that stand, by station
	hasMaster bool                // there is a master valve, on a wire of its own
	extra     map[plan.ID]float64 // ohms that its wire there and back adds to a zone's valve, where it is known how it lies

	touches  []touched
	readings []reading
	unmarked bool  // the user's word for the common is not taken
	last     []int // by wire: the touch that counts, -1 none
	doubtful []int // by wire: the earlier touch that the last one contradicts, -1 none
}

// touched is a wire that was powered.
type touched struct {
	number int // as the user counts them
	wire   int
	ran    []plan.ID // sorted, each once
}

// reading is a resistance between two wires.
type reading struct {
	a, b int
	ohms float64
	open bool
}

// gatherWires reads the records. What names a wire that is not noted any more is left out.
func gatherWires(p *plan.Plan) *wireWork {
	f := &wireWork{p: p, at: map[plan.ID]int{}, zones: zonesInOrder(p)}
	_, _, f.hasMaster = p.MasterValve()
	f.ids = plan.SortedIDs(p.Proof.Wires)
	slices.SortStableFunc(f.ids, func(a, b plan.ID) int {
		return cmp.Compare(late(p.Proof.Wires[a].Order), late(p.Proof.Wires[b].Order))
	})
	for i, id := range f.ids {
		f.wires, f.at[id] = append(f.wires, p.Proof.Wires[id]), i
		f.last, f.doubtful = append(f.last, -1), append(f.doubtful, -1)
	}
	f.gatherTouches()
	f.gatherReadings()
	return f
}

// late puts what has no number last.
func late(order int) int {
	if order <= 0 {
		return int(^uint(0) >> 1)
	}
	return order
}

// gatherTouches reads the touches in their order. Of a wire touched several times the
// last counts; it is doubtful until it has been seen twice running.
func (f *wireWork) gatherTouches() {
	ids := plan.SortedIDs(f.p.Proof.Touches)
	slices.SortStableFunc(ids, func(a, b plan.ID) int {
		return cmp.Compare(late(f.p.Proof.Touches[a].Order), late(f.p.Proof.Touches[b].Order))
	})
	for i, id := range ids {
		t := f.p.Proof.Touches[id]
		w, ok := f.at[t.Wire]
		if !ok {
			continue
		}
		ran := slices.Clone(t.Ran)
		slices.Sort(ran)
		number := t.Order
		if number <= 0 {
			number = i + 1
		}
		now := touched{number, w, slices.Compact(ran)}
		if before := f.last[w]; before >= 0 {
			switch was := f.touches[before].ran; {
			case slices.Equal(was, now.ran):
				f.doubtful[w] = -1
			case len(was) > 0: // that something runs where nothing did may be a valve that was opened since
				f.doubtful[w] = before
			}
		}
		f.last[w] = len(f.touches)
		f.touches = append(f.touches, now)
	}
}

// gatherReadings reads the resistances; of a pair read several times the last counts.
func (f *wireWork) gatherReadings() {
	ids := plan.SortedIDs(f.p.Proof.Readings)
	slices.SortStableFunc(ids, func(a, b plan.ID) int {
		return cmp.Compare(late(f.p.Proof.Readings[a].Order), late(f.p.Proof.Readings[b].Order))
	})
	for _, id := range ids {
		r := f.p.Proof.Readings[id]
		a, okA := f.at[r.From]
		b, okB := f.at[r.To]
		if !okA || !okB || a == b {
			continue
		}
		now := reading{min(a, b), max(a, b), 0, r.Ohms == nil}
		if r.Ohms != nil {
			now.ohms = *r.Ohms
		}
		f.readings = slices.DeleteFunc(f.readings, func(old reading) bool { return old.a == now.a && old.b == now.b })
		f.readings = append(f.readings, now)
	}
}

// ran are the zones that ran when wire i was powered, and whether it was.
func (f *wireWork) ran(i int) ([]plan.ID, bool) {
	if f.last[i] < 0 {
		return nil, false
	}
	return f.touches[f.last[i]].ran, true
}

// read is the reading between two wires, and whether there is one.
func (f *wireWork) read(a, b int) (reading, bool) {
	for _, r := range f.readings {
		if r.a == min(a, b) && r.b == max(a, b) {
			return r, true
		}
	}
	return reading{}, false
}

// mark names a wire as its owner does.
func (f *wireWork) mark(i int) string {
	if m := strings.Join(strings.Fields(f.wires[i].Mark), " "); m != "" {
		return m
	}
	return fmt.Sprintf("wire %d", i+1)
}

// zone names a zone that ran, which may be gone from the plan.
func (f *wireWork) zone(id plan.ID) string {
	if _, ok := f.p.Zones[id]; !ok {
		return "a zone that is gone from the plan"
	}
	return f.p.ZoneName(id)
}

// named are zones in a series; "nothing" for none.
func (f *wireWork) named(zones []plan.ID) string {
	var words []string
	for _, id := range zones {
		words = append(words, f.zone(id))
	}
	if len(words) == 0 {
		return "nothing"
	}
	return plan.Series(words)
}

// gone reports whether a zone that ran stands on the plan no more.
func (f *wireWork) gone(id plan.ID) bool { return !slices.Contains(f.zones, id) }

// terminal is the station that zones belong on; 0 where they have none or several, or are
// gone.
func (f *wireWork) terminal(zones []plan.ID) int {
	station := 0
	for _, id := range zones {
		s := f.p.Zones[id].Station
		if s == 0 || f.gone(id) || station != 0 && s != station {
			return 0
		}
		station = s
	}
	return station
}
