package zones

import (
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// MostFlow is the most flow that one zone of a plan may take: the design flow of
// its supply less what is kept in hand, as the finding of zones over it has it.
// 0: the supply gives none.
func MostFlow(p *plan.Plan) units.GPM { return flowKept * max(pressure.SupplyOf(p).DesignGPM, 0) }
