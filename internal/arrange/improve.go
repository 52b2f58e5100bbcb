package arrange

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The kinds of Mend.
const (
	MendArc    = "arc"
	MendThrow  = "throw"
	MendNozzle = "nozzle"
	MendMove   = "move"
	MendAdd    = "add"
	MendRemove = "remove"
)

// Mend is one change to a layout there is: an arc turned, a throw or a nozzle
// changed, a head moved, added or, where two stand on one spot, removed. Mends
// are in the order to take them; each stands on those before it.
type Mend struct {
	Kind   string     `json:"kind"`  // arc | throw | nozzle | move | add | remove
	Heads  []plan.ID  `json:"heads"` // that change; several when they change alike
	Area   plan.ID    `json:"area"`
	Says   string     `json:"says"` // "Move head 2-8 about 12 ft west …"
	Why    string     `json:"why"`  // what it cures
	At     orb.Point  `json:"at"`
	Before State      `json:"before"`
	After  State      `json:"after"`
	Patch  plan.Patch `json:"patch"` // on the plan with the mends before it
	Label  string     `json:"label"`
	// From and To are the changed heads before and after, in the order of Heads;
	// From is empty for a head that is added, To for one that is removed.
	From []Placed `json:"from"`
	To   []Placed `json:"to"`
}

// State is what an area reads, before or after a mend.
type State struct {
	DU       units.Ratio  `json:"du_low_quarter"`
	FieldP10 units.Ratio  `json:"field_du_p10"` // 0: not worked out, as when the search was called off
	DrySqFt  units.SqFeet `json:"dry_sqft"`     // in patches under half the mean
	HardGPM  units.GPM    `json:"hard_gpm"`     // of its heads, on paving, buildings, water, off the lot
	HardPart units.Ratio  `json:"hard_share"`   // of the flow of its heads
	RateOff  units.Ratio  `json:"worst_rate_off"`
}

// Improvement is what can be done for a layout.
type Improvement struct {
	Mends []Mend `json:"mends"`
	Says  string `json:"says"`
	// Left is what no change of these kinds cures, in the user's words.
	Left        []string `json:"left"`
	Evaluations int      `json:"evaluations"`
}

// Improve seeks the fewest changes that cure the dry patches, the heads too far
// apart, the mixed rates and the water on what must stay dry of the areas asked
// for; none: every area. What to cure is what the findings of package coverage
// say is wrong, less what the user has accepted; whether a change cures it is
// read off the same map that the board shows. Locked heads and those that are
// there already stay as they are.
//
// tell, which may be nil, is called as the search comes along. A search that is
// called off answers the mends it has found, with the context's error; before it
// could read the plan it answers nil. A *Refusal says why nothing can be looked
// at. The same question has the same answer.
func Improve(ctx context.Context, p *plan.Plan, o Options, tell func(done, total int)) (*Improvement, error) {
	if tell == nil {
		tell = func(int, int) {}
	}
	for _, id := range o.Areas {
		if a, ok := p.Areas[id]; !ok || a.Kind != plan.Planting {
			return nil, &Refusal{At: plan.RefTo("areas", id), Sentence: fmt.Sprintf(
				"%s is no planting area of this plan. Choose planting areas to improve.", plan.Capital(p.AreaName(id)))}
		}
	}
	return newMender(p, o).improve(ctx, tell)
}

// improve is Improve by a new mender.
func (m *mender) improve(ctx context.Context, tell func(done, total int)) (*Improvement, error) {
	var err error
	if m.now, err = m.read(ctx); err != nil {
		return nil, err
	}
	// Each mend is told as it is found, so that nothing is left to do at a stop.
	if m.early, err = m.newTeller(ctx, false); err != nil {
		return nil, err
	}
	if err = m.search(ctx, tell); err == nil {
		m.fold()
	}
	for _, last := range []func(context.Context) error{m.prune, m.settle, m.prune} {
		if err == nil {
			err = last(ctx)
		}
	}
	var told *Improvement
	if err == nil {
		told, err = m.tellAll(ctx)
	}
	if err != nil && ctx.Err() == nil {
		return nil, err
	}
	if err != nil {
		told = m.early.done()
	}
	tell(1000, 1000)
	return told, err
}
