package watering

import (
	"context"
	"errors"

	"evenfall/internal/simplex"
)

// What breaking a limit costs, in gallons of a minute, and in times the water of an
// inch: dearer than any water, an inch that is missing dearer than any minutes, so that the hours give way before the plants do.
// Where days are too far apart for a soil, an inch of that is worth so many times its
// own zones' water and no more: a bed is not kept by flooding the lawn beside it. What
// is short for want of days stays so when the hours are looked at (all chosen).
const (
	minuteOver = 300
	lackTimes  = 1e3
	shortTimes = 10
	// Of programs of the same water, the one is taken that empties soils least: so many
	// times the water of an inch for each inch (chosen: breaks ties only).
	emptied = 1e-4
)

// fine is the parts of an inch that rows are in, so that their factors are about one:
// a minute of sprinkling is a hundredth of an inch or two.
const fine = 100

// program sets up variables: minutes of each zone in each program, and what is broken.
// base is by area what is short already for want of days, and stays; nil: nothing.
func (q *question) program(fields []*field, base []float64) *program {
	p := &program{q: q, fields: fields, base: base, at: make([][classes]int, len(q.in.Zones)), used: make([]int, len(fields))}
	for z := range p.at {
		p.at[z] = [classes]int{-1, -1, -1}
	}
	days := float64(len(q.p.class))
	for _, f := range fields {
		for _, z := range f.zones {
			for c := range classes {
				if n := float64(q.p.count[c]); n > 0 && q.may[z][c] && p.at[z][c] < 0 {
					cost := float64(q.in.Zones[z].Flow) * n
					if !q.smooth {
						cost *= 1 + fewer*n/days
					}
					p.at[z][c], _ = p.lp.Variable(cost)
				}
			}
		}
		price := lackTimes * f.inch / fine
		if base == nil {
			price = shortTimes * f.inch / fine
		}
		s, _ := p.lp.Variable(price)
		l, _ := p.lp.Variable(lackTimes * f.inch / fine)
		p.short, p.lack = append(p.short, s), append(p.lack, l)
		if q.smooth {
			e, _ := p.lp.Variable(emptied * f.inch / fine)
			p.empty = append(p.empty, e)
			a := &q.in.Areas[f.area]
			_, _ = p.lp.AtMost((q.holds(a)+p.already(f))*fine, simplex.Term{Variable: e, Factor: 1}, simplex.Term{Variable: s, Factor: -1})
		}
	}
	if base != nil {
		p.windows()
	}
	return p
}

// windows keeps the minutes of each program within a day's hours, for a price.
func (p *program) windows() {
	window := float64(p.q.in.Calendar.window())
	for c := range classes {
		var terms []simplex.Term
		over, _ := p.lp.Variable(minuteOver)
		p.over[c] = over
		for z := range p.at {
			if v := p.at[z][c]; v >= 0 {
				terms = append(terms, simplex.Term{Variable: v, Factor: p.q.load(z)})
				if p.q.in.Calendar.Together {
					_, _ = p.lp.AtMost(window, simplex.Term{Variable: v, Factor: 1}, simplex.Term{Variable: over, Factor: -1})
				}
			}
		}
		p.window[c], _ = p.lp.AtMost(window, append(terms, simplex.Term{Variable: over, Factor: -1})...)
	}
}

// rows adds the rows of the cuts of a field that are not in yet: every run of days, and
// the cycle as a whole, which has to bring what it takes.
func (p *program) rows(i int) {
	f := p.fields[i]
	a := &p.q.in.Areas[f.area]
	need := float64(a.Need[p.q.month])
	for ; p.used[i] < len(f.pool); p.used[i]++ {
		cut := f.pool[p.used[i]]
		for _, r := range p.q.p.runs {
			if p.q.smooth {
				p.row(float64(r.days)*need, r.waterings, f, cut, p.empty[i])
				continue
			}
			if least := p.q.mayLose(a, r) - p.already(f); least > 0 {
				p.row(least, r.waterings, f, cut, p.short[i])
			}
		}
		if need > 0 {
			p.row(need*float64(len(p.q.p.class)), p.q.p.count, f, cut, p.lack[i])
		}
	}
}

func (p *program) already(f *field) float64 {
	if p.base == nil {
		return 0
	}
	return p.base[f.area]
}

// mayLose is what the waterings of a run have to bring at least.
func (q *question) mayLose(a *Area, r run) float64 {
	return float64(r.days)*float64(a.Need[q.month]) - q.holds(a)
}

// holds is what the soil of an area may lose. Soil that holds less than a day's need is
// taken to hold a day's: no program waters better than daily.
func (q *question) holds(a *Area) float64 {
	return max(float64(a.Available()), float64(a.Need[q.month]))
}

func (p *program) row(least float64, waterings [classes]int, f *field, cut []float64, broken int) {
	terms := make([]simplex.Term, 0, 3*len(f.zones)+1)
	for j, z := range f.zones {
		for c, n := range waterings {
			if v := p.at[z][c]; v >= 0 && n > 0 && cut[j] > 0 {
				terms = append(terms, simplex.Term{Variable: v, Factor: float64(n) * cut[j] * fine})
			}
		}
	}
	_, _ = p.lp.AtLeast(least*fine, append(terms, simplex.Term{Variable: broken, Factor: 1})...)
}

// solve finds the least cost with the cuts known, and when it is to be exact goes on
// with the cells that are the driest by it until none is short.
func (p *program) solve(ctx context.Context, out *answer, exact bool) error {
	for i := range p.fields {
		p.rows(i)
	}
	for round := 0; ; round++ {
		s, err := p.lp.Solve(ctx)
		if errors.Is(err, simplex.ErrLost) { // by many warm rows: from the beginning
			s, err = p.lp.Solve(ctx)
		}
		if err != nil {
			return err
		}
		p.read(s, out)
		if !exact || round == mostCuts || !p.cut(out) {
			out.cost += s.Cost
			return nil
		}
	}
}

func (p *program) read(s *simplex.Solution, out *answer) {
	for z, at := range p.at {
		for c, v := range at {
			if v >= 0 {
				out.minutes[z][c] = s.X[v]
			}
		}
	}
	for i, f := range p.fields {
		out.short[f.area], out.lack[f.area] = p.already(f)+s.X[p.short[i]]/fine, s.X[p.lack[i]]/fine
	}
	if p.base != nil {
		for c := range classes {
			out.over[c] = s.X[p.over[c]]
			out.price[c] = s.Prices[p.window[c]]
		}
	}
}

// cut adds rows for areas that are short by their actual driest cells.
func (p *program) cut(out *answer) bool {
	any := false
	for i, f := range p.fields {
		p.q.shortfalls(f, out.minutes, out.short[f.area], out.lack[f.area], func(_ float64, cut []float64) bool {
			any = cut != nil && f.add(cut) || any
			return true
		})
		p.rows(i)
	}
	return any
}

// shortfalls calls for every run of an area that is short by its cells, with by how much
// and those cells' mean rates, until told false.
func (q *question) shortfalls(f *field, minutes [][classes]float64, short, lack float64, each func(by float64, cut []float64) bool) {
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
		if f.received(ran, q.in.Target.share()) >= least-kept {
			return true
		}
		got, cut := f.driestOf(ran, q.in.Target.share())
		return each(least-got, cut)
	}
	for _, r := range q.p.runs {
		if !check(q.mayLose(a, r)-short, r.waterings) {
			return
		}
	}
	check(float64(a.Need[q.month])*float64(len(q.p.class))-lack, q.p.count)
}
