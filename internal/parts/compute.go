package parts

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/wire"
)

// kinds are the lists in their order, with the names of those that are no zone's.
var kinds = []struct {
	kind ListKind
	name string
}{
	{AtConnection, "Point of connection"}, {OnMain, "Main"}, {OfZone, ""}, {Electrical, "Electrical"}, {WholeJob, "Whole job"},
	{InNoZone, "Not in a zone"},
}

// rank is a kind's place among them.
func (k ListKind) rank() int {
	for i, v := range kinds {
		if v.kind == k {
			return i
		}
	}
	panic("parts: no list of kind " + string(k))
}

// Name is what a list that is no zone's is called.
func (k ListKind) Name() string { return kinds[k.rank()].name }

// place is a list that things are counted on.
type place struct {
	kind ListKind
	zone plan.ID // "" but for a zone's
}

// tallies are the lists while they are counted.
type tallies map[place]*tally

func (ts tallies) on(at place) *tally {
	if ts[at] == nil {
		ts[at] = newTally()
	}
	return ts[at]
}

// Compute counts what p takes from the point of connection to the nozzle: heads and
// valves with what goes under and around them, the new pipe with the fittings its joints
// ask for, sleeves, the devices chosen for a new supply, controller, sensors and wire,
// and what is used up. Things that stand there already or go away are not bought.
// Allowances are the plan's figures. net, digs and wired are p's own; p must be valid
// (plan.Decode has seen to it).
func Compute(p *plan.Plan, net *pipework.Network, digs *trench.Digs, wired *wire.Wiring) (*List, []plan.Finding) {
	ts := tallies{}
	names := newItemNames(p)
	for _, id := range plan.SortedIDs(p.Zones) {
		z := p.Zones[id]
		if !z.Status.Stands() {
			continue
		}
		t := ts.on(place{OfZone, id}) // a zone with nothing to buy is listed, and says so
		if z.Status.IsNew() {
			t.add(names.valveOf(p, id))
		}
	}
	for _, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		if !h.Status.IsNew() {
			continue
		}
		for _, piece := range names.piecesOf(id, h) {
			ts.on(headsOn(p, h.Zone)).add(piece)
		}
	}
	checks(p, names, ts)
	atSupply(p, net, ts)
	boxes(p, digs, ts)
	pipes(p, net, ts)
	fittings(p, net, ts)
	sleeves(p, net, digs, ts)
	electrical(p, digs, wired, ts)
	glue(p, net, ts)
	paint(p, digs, ts)
	for _, t := range ts { // each by itself
		t.roundUp(p.Show)
	}
	spares(p, ts)

	total := newTally()
	list := &List{Zones: []ZoneList{}}
	for _, at := range inOrder(p, ts) {
		t := ts[at]
		total.addAll(t)
		z := ZoneList{Kind: at.kind, Zone: at.zone, Name: at.kind.Name(), Lines: t.lines()}
		if at.kind == OfZone {
			z.Name, z.Station = p.Zones[at.zone].Name, p.Zones[at.zone].Station
		}
		list.Zones = append(list.Zones, z)
	}
	total.pack(p.Show)
	list.Total, list.Scope = total.lines(), scope(p, net, digs, wired)
	return list, check(p)
}

// inOrder are the lists in the order they are printed: zones by station, then id,
// those with no station yet behind.
func inOrder(p *plan.Plan, ts tallies) []place {
	last := func(at place) int {
		station := p.Zones[at.zone].Station
		if station == 0 {
			return math.MaxInt
		}
		return station
	}
	return slices.SortedFunc(maps.Keys(ts), func(a, b place) int {
		return cmp.Or(cmp.Compare(a.kind.rank(), b.kind.rank()), cmp.Compare(last(a), last(b)), cmp.Compare(a.zone, b.zone))
	})
}

// headsOn is the list of the heads of a zone, or of none.
func headsOn(p *plan.Plan, zone plan.ID) place {
	if zone == "" {
		return place{kind: InNoZone}
	}
	return listOf(p, zone)
}
