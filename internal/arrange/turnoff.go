package arrange

import (
	"context"
	"fmt"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// TurnOff is how heads that stand for other ground are kept off one area, the other cure
// for a bed within the throw of a lawn (trade E22), and what that does to their own.
type TurnOff struct {
	Area plan.ID
	// Offered says that it is worth its harm. If not there is no patch, and what changes
	// tells of keeping off all that can be, to show what that would do.
	Offered bool
	Says    string // the verdict, in sentences

	Changes       []Turned
	Before, After BedWater
	Grounds       []TurnedGround // that the changed heads stand for, by id
	Notes         []string       // what stays on the area, and what is to be seen to

	Patch plan.Patch // on the plan as asked; nil where nothing is offered
	Label string
	// Evaluations is how many changes were weighed.
	Evaluations int
}

// Turned is what is changed of one head.
type Turned struct {
	Says string `json:"says"`
	From Placed `json:"from"`
	To   Placed `json:"to"`
}

// BedWater is the water that comes to an area, as a mean over it with its edge lip.
type BedWater struct {
	Others units.InchesPerHour `json:"others_in_per_h"` // by heads of zones none of whose heads stand for it
	Own    units.InchesPerHour `json:"own_in_per_h"`    // by all others
	State  State               `json:"state"`
}

// TurnedGround is what an area that changed heads stand for reads.
type TurnedGround struct {
	Area   plan.ID `json:"area"`
	Before State   `json:"before"`
	After  State   `json:"after"`
}

// KeepOff seeks how the water of other zones is kept off an area with the least harm:
// arcs turned in or round, nozzles of another arc in the same bodies, throws turned
// down by a quarter at most. The ground that those heads stand for may lose little
// evenness and none of it may fall dry, else it is said to be not worth it. Locked heads
// and those that are there already stay as they are. Of the options the step of arcs,
// the stock and the effort are heeded.
//
// tell, which may be nil, is called as the search comes along. The error is the
// context's, or a *Refusal that says why nothing can be looked at. The same question has
// the same answer.
func KeepOff(ctx context.Context, p *plan.Plan, area plan.ID, o Options, tell func(done, total int)) (*TurnOff, error) {
	if tell == nil {
		tell = func(int, int) {}
	}
	if a, ok := p.Areas[area]; !ok || a.Kind != plan.Planting {
		return nil, &Refusal{At: plan.RefTo("areas", area), Sentence: fmt.Sprintf(
			"%s is no planting area of this plan. Choose a planting area to keep water off.", plan.Capital(p.AreaName(area)))}
	}
	o.Areas = nil
	s := &sparer{mender: newMender(p, o), bed: area}
	if err := s.begin(ctx); err != nil {
		return nil, err
	}
	if why := s.needless(); why != "" {
		return s.none(why), nil
	}
	if err := s.look(ctx); err != nil {
		return nil, err
	}
	if err := s.seek(ctx, tell); err != nil {
		return nil, err
	}
	tell(700, 1000)
	return s.answer(ctx)
}

// KeepOffAsked reads what KeepOff is asked for by named texts, as Asked does: "area" is
// the one planting area, by id or name. The error is as of Asked.
func KeepOffAsked(p *plan.Plan, get func(name string) string) (plan.ID, Options, error) {
	o, err := Asked(p, func(name string) string {
		if name == "areas" {
			return get("area")
		}
		return get(name)
	})
	if err != nil {
		return "", o, err
	}
	if len(o.Areas) != 1 {
		return "", o, problem("Name the one planting area that water is to be kept off.")
	}
	return o.Areas[0], o, nil
}
