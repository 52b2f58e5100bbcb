package watering

import (
	"math"
	"slices"

	"evenfall/internal/simplex"
)

// One lawn of many zones has ever other driest cells whose least cost is much the same, so
// that cuts by the solutions alone (Kelley's method) hardly come to an end: after sixty
// rounds sixty zones are short by a tenth yet. There cuts are looked for between the
// solution and the best program known too ("in-out", Ben-Ameur and Neto 2007, from
// memory), and that program is taken once it costs as good as the least, or after some
// rounds. It may take a few hundredths more than the least; it leaves no cell short.
const (
	manyZones  = 16   // zones that reach an area, past which it is near the least only
	nearRounds = 30   // rounds before the best known is taken
	enough     = 5e-3 // of the least, by which the best known may cost more (all chosen)
)

// nearby is a program near the least: minutes and what is broken, by variable.
type nearby struct {
	x      []float64
	longer float64 // times that all is run so that no cell is short
	cost   float64 // when it is
}

// nearer is the best of the one known, a solution, and what lies between the two; it adds
// the cuts of each. Where none is known it begins with all zones alike.
func (p *program) nearer(best *nearby, s *simplex.Solution, out *answer) *nearby {
	try := func(x []float64) {
		if best != nil && !p.breaksAsLittle(x, s.X) {
			return
		}
		p.read(x, out)
		longer, cost := p.cut(out), 0.0
		for j, v := range x {
			cost += p.cost[j] * v
		}
		if best == nil || cost*longer < best.cost {
			best = &nearby{slices.Clone(x), longer, cost * longer}
		}
	}
	if best == nil {
		try(p.alike(s.X))
	}
	try(s.X)
	for _, part := range []float64{0.5, 0.125} {
		between := slices.Clone(best.x)
		for j, v := range between {
			between[j] = v + part*(s.X[j]-v)
		}
		try(between)
	}
	return best
}

// alike is a solution with the minutes of each program parted so that all zones bring the
// same depth where their water falls.
func (p *program) alike(x []float64) []float64 {
	slow := make([]float64, len(p.at)) // by zone: hours of an inch
	for z := range slow {
		sum, squares := 0.0, 0.0
		for _, f := range p.fields {
			if i := slices.Index(f.zones, z); i >= 0 {
				for _, r := range f.rates[i] {
					sum += float64(r)
					squares += float64(r) * float64(r)
				}
			}
		}
		if squares > 0 {
			slow[z] = sum / squares
		}
	}
	x = slices.Clone(x)
	for c := range classes {
		minutes, whole := 0.0, 0.0
		for z := range p.at {
			if v := p.at[z][c]; v >= 0 {
				minutes += x[v] * p.q.load(z)
				whole += slow[z] * p.q.load(z)
			}
		}
		for z := range p.at {
			if v := p.at[z][c]; v >= 0 && whole > 0 {
				x[v] = minutes * slow[z] / whole
			}
		}
	}
	return x
}

// breaksAsLittle reports whether no limit is broken by more than in a solution.
func (p *program) breaksAsLittle(x, solution []float64) bool {
	for _, of := range [][]int{p.short, p.lack} {
		for _, j := range of {
			if x[j] > solution[j]+kept*fine {
				return false
			}
		}
	}
	return p.base == nil || !slices.ContainsFunc(p.over[:], func(j int) bool { return x[j] > solution[j]+1e-3 })
}

// anyLarge reports whether some field has too many zones for its least to be found.
func anyLarge(fields []*field) bool {
	return slices.ContainsFunc(fields, func(f *field) bool { return len(f.zones) > manyZones })
}

// lengthen runs all zones of the program longer. What no minutes mend is left as it is.
func (p *program) lengthen(out *answer, times float64) {
	if times == 1 || math.IsInf(times, 1) {
		return
	}
	for z := range p.at {
		for c, v := range p.at[z] {
			if v >= 0 {
				out.minutes[z][c] *= times
			}
		}
	}
}
