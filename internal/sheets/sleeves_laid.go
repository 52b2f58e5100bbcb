package sheets

import (
	"math"

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
	Crossing int       // of trench.Digs.Crossings, the first it is part of; -1: none
	Paving   plan.ID   // of that crossing
	Under    string    // the paving in words
	Ends     []LaidEnd // where it leaves the paving, at From and at To; nil where it lies under none
}

// Length is of the sleeve itself.
func (s *LaidSleeve) Length() units.Feet {
	return units.Feet(math.Hypot(s.To[0]-s.From[0], s.To[1]-s.From[1]))
}

// LaidEnd is where a sleeve leaves its paving, along the edge from a corner of it.
type LaidEnd struct {
	At       orb.Point
	Corner   string // its name; "" where the paving has none
	CornerAt orb.Point
	Along    units.Feet
	Straight bool      // along one straight edge
	Side     string    // of the paving, by compass
	Out      orb.Point // away from the paving, a foot long
}

// LaidSleeves are the sleeves of a plan in the order of the list.
func LaidSleeves(p *plan.Plan, d *trench.Digs) []LaidSleeve {
	list := sleevesOf(p, d)
	corners := cornersOf(p, list)
	out := make([]LaidSleeve, 0, len(list))
	for i := range list {
		s := &list[i]
		v := LaidSleeve{Number: s.number, ID: s.id, From: s.from, To: s.to, Size: s.size, New: s.isNew, Crossing: -1, Under: s.under(p, d)}
		if len(s.crossings) > 0 {
			v.Crossing = s.crossings[0]
			v.Paving = d.Crossings[v.Crossing].Area
		}
		for end, e := range s.edges {
			m := corners.of[[2]int{s.number, end}]
			at := LaidEnd{At: e.At, Along: m.along, Straight: m.straight, Side: m.edge, Out: m.out}
			if m.corner >= 0 {
				at.Corner, at.CornerAt = corners.all[m.corner].name, corners.all[m.corner].at
			}
			v.Ends = append(v.Ends, at)
		}
		out = append(out, v)
	}
	return out
}
