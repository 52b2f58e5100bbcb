package watering

import (
	"slices"

	"evenfall/internal/simplex"
)

// rowsEach is how many rows of a field are taken in at a time, and as a share of its
// zones (chosen: most never bind, and one that is not there costs nothing).
const (
	rowsEach  = 4
	rowsShare = 4
)

// takeShort adds the rows of cuts known that a solution is short by most, a few of each
// ask, and tells whether there are any.
func (p *program) takeShort(s *simplex.Solution, out *answer) bool {
	any := false
	for i, f := range p.fields {
		asks := p.asks[i]
		var short []shortBy
		for n, cut := range f.pool {
			by := f.brings(cut, out.minutes)
			for k, a := range asks {
				miss := a.least - got(a.waterings, by) - s.X[a.broken]/fine
				if miss > kept/2 && !p.has[i][[2]int{n, k}] {
					short = append(short, shortBy{miss, n, k})
				}
			}
		}
		slices.SortStableFunc(short, func(x, y shortBy) int { return before(y.miss, x.miss) })
		most, taken, of := max(rowsEach, len(f.zones)/rowsShare), 0, make([]int, len(asks))
		for _, w := range short {
			if taken < most && of[w.ask] <= len(f.zones)/(2*rowsShare) {
				p.row(i, w.cut, w.ask, f.pool[w.cut], asks[w.ask])
				taken, any = taken+1, true
				of[w.ask]++
			}
		}
	}
	return any
}

// shortBy is by how many inches a cut brings less than an ask.
type shortBy struct {
	miss     float64
	cut, ask int
}

// brings is what a cut gets by minutes of its zones on a day of each program, inches.
func (f *field) brings(cut []float64, minutes [][classes]float64) (by [classes]float64) {
	for i, z := range f.zones {
		for c, m := range minutes[z] {
			by[c] += m * cut[i]
		}
	}
	return by
}

// got is what so many waterings of each program come to.
func got(waterings [classes]int, by [classes]float64) float64 {
	sum := 0.0
	for c, n := range waterings {
		sum += float64(n) * by[c]
	}
	return sum
}

// cut adds to the cuts known those of the driest cells of areas that are short, and tells
// how many times longer all has to run so that none is: 1 where none is short.
func (p *program) cut(out *answer) (longer float64) {
	longer = 1
	for _, f := range p.fields {
		p.q.shortfalls(f, out.minutes, out.short[f.area], out.lack[f.area], func(least, got float64, cut []float64) bool {
			if cut != nil {
				f.add(cut)
			}
			longer = max(longer, least/got)
			return true
		})
	}
	return longer
}

// shortfalls calls for every run of an area that is short by its cells, with what it should
// get, what it gets and those cells' mean rates, until told false.
func (q *question) shortfalls(f *field, minutes [][classes]float64, short, lack float64, each func(least, got float64, cut []float64) bool) {
	a := &q.in.Areas[f.area]
	check := func(least float64, waterings [classes]int) bool {
		if least <= kept {
			return true
		}
		ran := func(z int) float64 {
			m := 0.0
			for c, n := range waterings {
				m += float64(n) * minutes[z][c]
			}
			return m
		}
		if f.atLeast(ran) >= least {
			return true
		}
		if f.received(ran, q.in.Target.share()) >= least-kept {
			return true
		}
		got, cut := f.driestOf(ran, q.in.Target.share())
		return each(least, got, cut)
	}
	for _, r := range q.p.runs {
		if !check(q.mayLose(a, r)-short, r.waterings) {
			return
		}
	}
	check(float64(a.Need[q.month])*float64(len(q.p.class))-lack, q.p.count)
}
