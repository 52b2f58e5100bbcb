package sheets

import (
	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// LaidSleeve is a sleeve as every drawing shows it, by its number in the list.
type LaidSleeve struct {
	Number   int
	ID       plan.ID // of the plan; "" one that is needed and not drawn
	From, To orb.Point
	Size     units.Inches // 0: by its pipe, which is not sized yet
	New      bool
}

// LaidSleeves are the sleeves of a plan in the order of the list.
func LaidSleeves(p *plan.Plan, d *trench.Digs) []LaidSleeve {
	var out []LaidSleeve
	for _, s := range sleevesOf(p, d) {
		out = append(out, LaidSleeve{s.number, s.id, s.from, s.to, s.size, s.isNew})
	}
	return out
}
