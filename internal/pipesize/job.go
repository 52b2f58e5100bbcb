package pipesize

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// job is the pipework of a plan, ready to be sized.
type job struct {
	p     *plan.Plan
	net   *pipework.Network
	pipes []pipe // each after the one that feeds it
	zones []zone
	notes []string // what is left out, and why
	tell  progress
	money bool // costs are the user's prices, not material
}

type pipe struct {
	pipework.Pipe
	up    int // -1: hangs from the connection
	zone  int // -1: the main
	class plan.ID
	row   catalog.PipeClass
	flow  units.GPM // its design flow
	k     float64   // of its fittings, in velocity heads
	rise  units.PSI
	kept  bool // locked, or there already
	head  *head
}

type zone struct {
	id      plan.ID
	heads   []*head
	flow    units.GPM
	left    units.PSI // at the connection with this flow, less the devices on the way
	nominal units.PSI // least pressure planned at a head that does not regulate
	aim     aim
	more    units.PSI // asked for beyond the aim, after a check
	tighter units.PSI // taken off the spread, after a check
}

// head is what one head asks of its pipe.
type head struct {
	id        plan.ID
	flow      units.GPM // its design flow
	usual     units.GPM // the same by the zone's aim
	joint     units.PSI // lost in the swing joint
	planned   units.PSI // before the body, to work as planned
	least     units.PSI // least row of its table
	most      units.PSI // last one; +Inf where the body regulates
	nozzle    units.PSI // planned at the nozzle
	regulates bool
}

// aim is the pressure that the heads of a zone must get.
type aim int

const (
	asPlanned   aim = iota // what the zone, or the nozzle's best, says
	withinTable            // at least the least row of its nozzle
)

// Refusal is why nothing can be sized, for the user.
type Refusal struct{ Sentence string }

func (r *Refusal) Error() string { return r.Sentence }

func refuse(format string, a ...any) error { return &Refusal{fmt.Sprintf(format, a...)} }

// newJob gathers what is to be sized, as asked.
func newJob(p *plan.Plan, net *pipework.Network, ask *asked) (*job, error) {
	j := &job{p: p, net: net, tell: ask.tell}
	switch {
	case len(p.Pipes) == 0 || len(net.Pipes) == 0:
		return nil, refuse("No pipe is drawn yet. Draw the main from the point of connection to the valves, and laterals from each valve to its heads; then ask for sizes.")
	case net.Source == "":
		return nil, refuse("The pipes do not begin anywhere: no point of connection is drawn. Place it where the water comes in, join the main to it, and ask for sizes again.")
	}
	if err := j.refuseLoops(); err != nil {
		return nil, err
	}
	at := j.gatherZones(ask)
	if len(j.zones) == 0 {
		return nil, refuse("No zone can be sized yet. %s", j.why())
	}
	if err := j.gatherPipes(at); err != nil {
		return nil, err
	}
	return j, j.supplyZones()
}

func (j *job) why() string {
	if len(j.notes) > 0 {
		return j.notes[0]
	}
	return "Draw a valve for a zone on the main, and pipe from it to its heads."
}

// refuseLoops refuses a main with a loop: what is saved in one of its arms is
// asked of the other, and no rule says which.
func (j *job) refuseLoops() error {
	for _, id := range j.net.Loops {
		if pipe := j.net.Pipes[id]; !pipe.Valved {
			return refuse("The main forms a loop that %s closes. A looped main is checked, not sized: which way the water goes depends on the sizes. Give its pipes sizes by hand and look at the pressures, or take one pipe out of the loop.", j.pipeName(id))
		}
	}
	return nil
}

func (j *job) note(format string, a ...any) { j.notes = append(j.notes, fmt.Sprintf(format, a...)) }
