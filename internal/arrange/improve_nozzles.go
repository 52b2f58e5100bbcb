package arrange

import (
	"errors"
	"math"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// rateFor is the rate a head is to be matched to: its zone's, else the middle of
// its area's heads, else its own.
func (m *mender) rateFor(id plan.ID) units.InchesPerHour {
	zone := m.p.Heads[id].Zone
	if zone != "" {
		for _, z := range m.now.result.Zones {
			if z.ID == zone && z.HeadToHead > 0 {
				return z.HeadToHead
			}
		}
	}
	var rates []units.InchesPerHour
	area := m.areaOf(id)
	for _, h := range m.now.result.Heads {
		if h.Area == area && h.OwnRate > 0 {
			rates = append(rates, h.OwnRate)
		}
	}
	if len(rates) == 0 {
		return 0
	}
	slices.Sort(rates)
	return rates[(len(rates)-1)/2]
}

// throwOf is the throw a head has or asks for, in feet.
func (m *mender) throwOf(id plan.ID) units.Feet {
	if h := m.now.head(id); h != nil && h.Throw > 0 {
		return h.Throw
	}
	h := m.p.Heads[id]
	if h.ThrowFt != nil {
		return *h.ThrowFt
	}
	n := m.p.Nozzles[h.Nozzle]
	if table, _, err := n.At(n.BestPSI); err == nil {
		return table
	}
	return 0
}

// fits give heads whose thread is not their body's a nozzle that their body takes,
// or a body that takes their nozzle.
func (m *mender) fits(f plan.Finding) []remedy {
	var nozzles, bodies []adjust
	for _, id := range m.headsIn(f) {
		h := m.p.Heads[id]
		if s, ok := m.fitting(h, h.SweepDeg, m.throwOf(id), m.rateFor(id)); ok {
			nozzles = append(nozzles, setTo(id, h, s))
		}
		if b := m.bodyLike(h); b != "" {
			bodies = append(bodies, adjust{id: id, body: b})
		}
	}
	var out []remedy
	for _, of := range [][]adjust{nozzles, bodies} {
		if r, ok := m.alike(MendNozzle, costNozzle, of); ok {
			out = append(out, r)
		}
	}
	return out
}

// bodyLike is the body most like a head's that takes its nozzle: one of the plan
// first, then by height, regulation and check valve.
func (m *mender) bodyLike(h plan.Head) plan.ID {
	n, had := m.p.Nozzles[h.Nozzle], m.p.Bodies[h.Body]
	ids := plan.SortedIDs(m.was.Bodies)
	for _, e := range catalog.Bodies() {
		ids = append(ids, plan.ID(e.ID))
	}
	best, least := plan.ID(""), math.Inf(1)
	for _, id := range ids {
		b, ok := bodyRow(m.was, id)
		if !ok || !b.Fits(n) {
			continue
		}
		cost := math.Abs(float64(b.Height-had.Height)) + 10*differs(b.CheckValve, had.CheckValve) + 5*differs(b.Regulated > 0, had.Regulated > 0)
		if _, inPlan := m.was.Bodies[id]; !inPlan {
			cost += 0.5
		}
		if cost < least {
			best, least = id, cost
		}
	}
	return best
}

// intoTable brings heads to what their nozzle's table holds.
func (m *mender) intoTable(f plan.Finding) []remedy {
	var throws, arcs, nozzles []adjust
	for _, id := range m.headsIn(f) {
		h := m.p.Heads[id]
		_, err := coverage.Running(m.p, id)
		var out *catalog.OutsideError
		if errors.As(err, &out) {
			nearest := units.Feet(out.Nearest)
			switch out.Quantity {
			case "throw":
				throws = append(throws, adjust{id: id, throw: &nearest})
			case "arc":
				arcs = append(arcs, adjust{id: id, arc: &[2]units.Degrees{h.StartDeg, units.Degrees(out.Nearest)}})
			}
		}
		if s, ok := m.fitting(h, h.SweepDeg, whole(m.throwOf(id)), m.rateFor(id)); ok {
			nozzles = append(nozzles, setTo(id, h, s))
		}
	}
	var out []remedy
	for _, c := range []struct {
		kind string
		cost float64
		of   []adjust
	}{{MendThrow, costThrow, throws}, {MendArc, costTurn, arcs}, {MendNozzle, costNozzle, nozzles}} {
		if r, ok := m.alike(c.kind, c.cost, c.of); ok {
			out = append(out, r)
		}
	}
	return out
}

// matches give the heads off their zone's rate nozzles of that rate, all in one:
// with their throws as they are, and longer or shorter by whole feet alike. Or
// they give the others nozzles of theirs.
func (m *mender) matches(f plan.Finding) []remedy {
	odd := m.headsIn(f)
	if len(odd) == 0 {
		return nil
	}
	var rest []plan.ID
	zone := m.p.Heads[odd[0]].Zone
	for _, h := range m.now.result.Heads {
		if m.p.Heads[h.ID].Zone == zone && !slices.Contains(f.About, plan.RefTo("heads", h.ID)) && m.free(h.ID) {
			rest = append(rest, h.ID)
		}
	}
	out := m.matchedTo(odd, m.rateFor(odd[0]))
	if is := m.now.head(odd[0]); is != nil {
		out = append(out, m.matchedTo(rest, is.OwnRate)...)
	}
	return out
}

// matchedTo give heads nozzles of a rate.
func (m *mender) matchedTo(heads []plan.ID, rate units.InchesPerHour) []remedy {
	var out []remedy
	for longer := units.Feet(-4); longer <= 12; longer++ {
		var of []adjust
		foot := 0.3 // what is another family throws otherwise; else another throw is another layout
		set := 0.0
		for _, id := range heads {
			h := m.p.Heads[id]
			s, ok := m.fitting(h, h.SweepDeg, whole(m.throwOf(id))+longer, rate)
			if !ok || s.nozzle == h.Nozzle {
				continue
			}
			of = append(of, setTo(id, h, s))
			if row, _ := nozzleRow(m.p, s.nozzle); row.Family == m.p.Nozzles[h.Nozzle].Family {
				foot = 1.5
			}
			set += 0.5 * differs(s.turned, false) // a screw left alone is one thing less to set
		}
		if r, ok := m.alike(MendNozzle, costNozzle+foot*math.Abs(float64(longer))+set, of); ok {
			out = append(out, r)
		}
	}
	return out
}

// smaller give heads turned down too far nozzles that throw as far by
// themselves, or turn them up to what is usual.
func (m *mender) smaller(f plan.Finding) []remedy {
	var nozzles, throws []adjust
	for _, id := range m.headsIn(f) {
		h := m.p.Heads[id]
		throw := m.throwOf(id)
		for _, t := range []units.Feet{throw, whole(throw), whole(throw) + 1, whole(throw) - 1} {
			if s, ok := m.fitting(h, h.SweepDeg, t, m.rateFor(id)); ok && s.nozzle != h.Nozzle {
				nozzles = append(nozzles, setTo(id, h, s))
				break
			}
		}
		n := m.p.Nozzles[h.Nozzle]
		if r := m.now.head(id); r != nil {
			usual := units.Feet(math.Ceil(float64(n.TurnDown.UsualShare) * float64(r.TableThrow)))
			if usual <= r.TableThrow {
				throws = append(throws, adjust{id: id, throw: &usual})
			}
		}
	}
	var out []remedy
	if r, ok := m.alike(MendNozzle, costNozzle, nozzles); ok {
		out = append(out, r)
	}
	if r, ok := m.alike(MendThrow, costThrow, throws); ok {
		out = append(out, r)
	}
	return out
}
