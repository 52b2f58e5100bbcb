package proof

import (
	"github.com/paulmach/orb"

	"evenfall/internal/audit"
	"evenfall/internal/plan"
)

// lookAt is what is predicted at places on the ground, to the cell.
func (s *sitting) lookAt(places []orb.Point) []brought {
	if s.looked == nil {
		s.looked = map[int32]brought{}
	}
	out := make([]brought, len(places))
	for n, at := range places {
		x, y, _ := s.ground.frame.CellOf(at)
		cell := int32(y*s.ground.frame.NX + x)
		b, known := s.looked[cell]
		if !known {
			b = s.bringing(s.ground.middle(cell))
			s.looked[cell] = b
		}
		out[n] = b
	}
	return out
}

// evennessOf is the DU predicted at places; 0 where no water falls.
func evennessOf(places []brought) float64 {
	rates := make([]float64, len(places))
	for n := range places {
		rates[n] = places[n].rate
	}
	f, err := audit.FiguresOf(rates)
	if err != nil {
		return 0
	}
	return float64(f.DULowQuarter)
}

// telling is what cans tell of each head: the sum of the squares of its share of what they
// catch. With catches that vary by audit.UsualNoise, half of its output is then
// √telling/(2·UsualNoise) standard errors from all of it, were nothing wrong elsewhere.
func (s *sitting) telling(places []brought) []float64 {
	out := make([]float64, len(s.heads))
	for _, p := range places {
		for _, b := range p.from {
			share := b.rate / p.rate
			out[b.head] += float64(share * share)
		}
	}
	return out
}

// What cans have to tell of a head: so much that half of its output is audit.LeastReach
// standard errors from all of it, and so much that a grid is not chosen for more: twice as
// many. Chosen.
const (
	leastTelling = 4 * audit.LeastReach * audit.LeastReach * audit.UsualNoise * audit.UsualNoise
	wellTold     = 4 * leastTelling
)

// dark is how much of a grid's heads stay in the dark: the mean of what is missing to
// being well told, from 0 to 1.
func (s *sitting) dark(places []brought) float64 {
	telling, sum := s.telling(places), 0.0
	for _, k := range s.own {
		sum += max(1-telling[k]/wellTold, 0)
	}
	return sum / float64(max(len(s.own), 1))
}

// untold are the heads of the area that cans tell too little of, by id.
func (s *sitting) untold(places []brought) []plan.ID {
	telling := s.telling(places)
	var out []plan.ID
	for _, k := range s.own {
		if _, runs := s.p.Zones[s.p.Heads[s.heads[k].ID].Zone]; runs && telling[k] < leastTelling {
			out = append(out, s.heads[k].ID)
		}
	}
	return out
}
