package parts

import (
	"cmp"
	"maps"
	"slices"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/wire"
)

// Unzoned is the name of the list of what belongs to no zone: heads that none
// takes yet, controller and sensors. Main is that of the main and of what stands at
// the supply.
const (
	Unzoned = "Not in a zone"
	Main    = "Main"
)

// place is a list that things are counted on.
type place struct {
	main bool
	zone plan.ID // "" on the main, and for what is in no zone
}

// tallies are the lists while they are counted.
type tallies map[place]*tally

func (ts tallies) on(at place) *tally {
	if ts[at] == nil {
		ts[at] = newTally()
	}
	return ts[at]
}

// Compute counts what p takes: for every new head a body, a nozzle, a swing joint
// and a flag, for every new zone a valve, the new pipe and the fittings its joints
// ask for, the devices chosen for a new supply, and the controller and sensors
// placed as new. Things that stand there already or go away are not bought. net is
// p's own pipework; p must be valid (plan.Decode has seen to it).
func Compute(p *plan.Plan, net *pipework.Network, digs *trench.Digs, wired *wire.Wiring) (*List, []plan.Finding) {
	ts := tallies{}
	names := newItemNames(p)
	for _, id := range plan.SortedIDs(p.Zones) {
		z := p.Zones[id]
		if !z.Status.Stands() {
			continue
		}
		t := ts.on(place{zone: id}) // a zone with nothing to buy is listed, and says so
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
			ts.on(place{zone: h.Zone}).add(piece)
		}
	}
	for _, piece := range clockAndSensors(p) {
		ts.on(place{}).add(piece)
	}
	atSupply(p, net, ts)
	pipes(p, net, ts)
	fittings(p, net, ts)

	total := newTally()
	list := &List{Zones: []ZoneList{}}
	for _, at := range inOrder(p, ts) {
		t := ts[at]
		t.roundUp(p.Show)
		total.addAll(t)
		z := ZoneList{Zone: at.zone, Main: at.main, Name: Unzoned, Lines: t.lines()}
		switch {
		case at.main:
			z.Name = Main
		case at.zone != "":
			z.Name, z.Station = p.Zones[at.zone].Name, p.Zones[at.zone].Station
		}
		list.Zones = append(list.Zones, z)
	}
	total.pack(p.Show)
	list.Total, list.Scope = total.lines(), scope(p, net)
	return list, check(p)
}

// inOrder are the lists in the order they are printed: the main, the zones by
// station, then id, those with no station yet, and what is in no zone.
func inOrder(p *plan.Plan, ts tallies) []place {
	rank := func(at place) int {
		switch station := p.Zones[at.zone].Station; {
		case at.main:
			return 0
		case at.zone == "":
			return 3
		case station == 0:
			return 2
		default:
			return 1
		}
	}
	return slices.SortedFunc(maps.Keys(ts), func(a, b place) int {
		return cmp.Or(
			cmp.Compare(rank(a), rank(b)),
			cmp.Compare(p.Zones[a.zone].Station, p.Zones[b.zone].Station),
			cmp.Compare(a.zone, b.zone),
		)
	})
}
