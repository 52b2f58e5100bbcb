package arrange

import (
	"context"
	"errors"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Mend is one change to a layout there is: an arc turned, a throw or a nozzle
// changed, a head moved or added. Mends are in the order to take them; each
// stands on those before it.
type Mend struct {
	Kind   string     `json:"kind"`  // arc | throw | nozzle | move | add
	Heads  []plan.ID  `json:"heads"` // that change; one, but for a nozzle changed alike in several
	Area   plan.ID    `json:"area"`
	Says   string     `json:"says"` // "Move head 2-8 about 12 ft west …"
	Why    string     `json:"why"`  // what it cures
	At     orb.Point  `json:"at"`
	Before State      `json:"before"`
	After  State      `json:"after"`
	Patch  plan.Patch `json:"patch"` // on the plan with the mends before it
	Label  string     `json:"label"`
	// From and To are the changed heads before and after; From is empty for a head
	// that is added.
	From []Placed `json:"from"`
	To   []Placed `json:"to"`
}

// State is what an area reads, before or after a mend.
type State struct {
	DU       units.Ratio  `json:"du_low_quarter"`
	FieldP10 units.Ratio  `json:"field_du_p10"`
	DrySqFt  units.SqFeet `json:"dry_sqft"` // in patches under half the mean
	HardGPM  units.GPM    `json:"hard_gpm"` // on paving, buildings, off the lot
	HardPart units.Ratio  `json:"hard_share"`
	RateOff  units.Ratio  `json:"worst_rate_off"` // of its zone
}

// Improvement is what can be done for a layout.
type Improvement struct {
	Mends []Mend `json:"mends"`
	Says  string `json:"says"`
	// Left is what no single change of this kind cures, in the user's words.
	Left        []string `json:"left"`
	Evaluations int      `json:"evaluations"`
}

// Improve seeks the fewest changes that cure the dry patches, the mixed rates and
// the water on what must stay dry of the areas asked for; none: every area.
// Locked heads stay as they are. The same question has the same answer.
func Improve(ctx context.Context, p *plan.Plan, o Options, tell func(done, total int)) (*Improvement, error) {
	return nil, errors.New("arrange: not built")
}
