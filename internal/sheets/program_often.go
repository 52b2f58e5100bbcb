package sheets

import (
	"fmt"
	"math"

	"evenfall/internal/plan"
	"evenfall/internal/season"
)

// OftenSays says of which areas the soil that roots reach holds less than a day takes in a
// month, as that of new seed and sod does, and in how many starts the water of a day is then
// better given (common practice: short and often); "" where all last a day.
func OftenSays(p *plan.Plan, prog *season.Program, month int) string {
	in, of := &prog.Asked.Input, 1
	var names []string
	for i := range in.Areas {
		need, holds := in.Areas[i].Need[month], in.Areas[i].Available()
		if need <= 0 || need <= holds {
			continue
		}
		names, of = append(names, p.AreaName(plan.ID(in.Areas[i].ID))), max(of, int(math.Ceil(float64(need/holds)-1e-9)))
	}
	if len(names) == 0 || prog.Year.Months[month] == nil {
		return ""
	}
	return fmt.Sprintf("The soil that roots reach in %s holds less than a day takes: water it short and often, the minutes of each day in %d starts or more, hours apart, by day too where local rules let new planting be watered then.",
		plan.Series(names), of)
}
