package arrange

import (
	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Options are what the user asks for.
type Options struct {
	Areas []plan.ID // planting areas watered overhead; none: every one of the plan

	// Stock is the nozzles that may be used, by id in the plan or the catalogue;
	// none: every generic nozzle, and those of the plan.
	Stock []plan.ID
	// Families narrows the stock; none: all.
	Families []catalog.Family

	// What may be wetted past the edge, as shares of the flow. See Usual.
	Hard  units.Ratio // paving, buildings, right of way, water, off the lot
	Bare  units.Ratio // bare and undrawn ground
	Other units.Ratio // other planting

	AngleStep units.Degrees // arcs are whole steps of it
	ThrowStep units.Feet    // turned-down throws are whole steps of it
	// Facing counts a neighbour only when it throws towards the head.
	Facing bool
	// TidyWithin: a tidy layout is put first when its field estimate's tenth
	// percentile is this near to the best.
	TidyWithin units.Ratio

	// ZoneMost is the most flow that a zone may take where it is known, and no mend
	// takes one past it; 0: not known, and the supply's own figure stands in.
	ZoneMost units.GPM

	Seed uint64
	// Effort is the budget: evaluations for each number of heads tried.
	Effort int
}

// Usual are the options a plan is arranged by unless the user says otherwise:
// common practice for what may be wetted, settings that can be staked and set.
func Usual() Options {
	return Options{
		Hard: 0.02, Bare: 0.05, Other: 0.05,
		AngleStep: 15, ThrowStep: 1, Facing: true, TidyWithin: 0.03,
		Seed: 1, Effort: 90_000,
	}
}
