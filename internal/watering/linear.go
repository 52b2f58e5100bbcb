package watering

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"evenfall/internal/simplex"
)

// What breaking a limit costs, in gallons of a minute, and in times the water of an
// inch: dearer than any water, an inch that is missing dearer than any
// minutes, so that the hours give way before the plants do.
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
// base is by area what is short already for want of days, and stays; nil: nothing. price
// is what a minute of a program's day costs besides its water; nil: nothing.
func (q *question) program(fields []*field, base []float64, price *[classes]float64) *program {
	p := &program{q: q, fields: fields, base: base, at: make([][classes]int, len(q.in.Zones))}
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
					if price != nil {
						cost += price[c] * q.load(z)
					}
					p.at[z][c] = p.variable(cost)
				}
			}
		}
		dry := lackTimes * f.inch / fine
		if base == nil {
			dry = shortTimes * f.inch / fine
		}
		s, l := p.variable(dry), p.variable(lackTimes*f.inch/fine)
		p.short, p.lack = append(p.short, s), append(p.lack, l)
		if q.smooth {
			e := p.variable(emptied * f.inch / fine)
			p.empty = append(p.empty, e)
			a := &q.in.Areas[f.area]
			p.atMost((q.holds(a)+p.already(f))*fine, simplex.Term{Variable: e, Factor: 1}, simplex.Term{Variable: s, Factor: -1})
		}
	}
	if base != nil {
		p.windows()
	}
	return p
}

// variable adds a variable of so much cost. What is wrong with it, or with a row, is told
// by solve: a row that is left out would leave ground short without a word.
func (p *program) variable(cost float64) int {
	p.cost = append(p.cost, cost)
	v, err := p.lp.Variable(cost)
	p.wrong = cmp.Or(p.wrong, err)
	return v
}

// atMost adds a row, and gives its index.
func (p *program) atMost(most float64, terms ...simplex.Term) int {
	i, err := p.lp.AtMost(most, terms...)
	p.wrong = cmp.Or(p.wrong, err)
	return i
}

// windows keeps the minutes of each program within a day's hours, for a price.
func (p *program) windows() {
	window := float64(p.q.window())
	for c := range classes {
		var terms []simplex.Term
		over := p.variable(minuteOver)
		p.over[c] = over
		for z := range p.at {
			if v := p.at[z][c]; v >= 0 {
				terms = append(terms, simplex.Term{Variable: v, Factor: p.q.load(z)})
				if p.q.in.Calendar.Together {
					p.atMost(window, simplex.Term{Variable: v, Factor: 1}, simplex.Term{Variable: over, Factor: -1})
				}
			}
		}
		p.window[c] = p.atMost(window, append(terms, simplex.Term{Variable: over, Factor: -1})...)
	}
}

// askOf is what a field has to get: on every run of days, and of the cycle as a whole,
// which has to bring what it takes.
func (p *program) askOf(i int) []ask {
	f := p.fields[i]
	a := &p.q.in.Areas[f.area]
	need := float64(a.Need[p.q.month])
	var all []ask
	for _, r := range p.q.p.runs {
		if p.q.smooth {
			all = append(all, ask{float64(r.days) * need, r.waterings, p.empty[i]})
		} else if least := p.q.mayLose(a, r) - p.already(f); least > 0 {
			all = append(all, ask{least, r.waterings, p.short[i]})
		}
	}
	if need > 0 {
		all = append(all, ask{need * float64(len(p.q.p.class)), p.q.p.count, p.lack[i]})
	}
	return all
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

// row adds the row of a cut of a field by an ask.
func (p *program) row(i, at, k int, cut []float64, a ask) {
	f := p.fields[i]
	p.has[i][[2]int{at, k}] = true
	terms := make([]simplex.Term, 0, classes*len(f.zones)+1)
	for j, z := range f.zones {
		for c, n := range a.waterings {
			if v := p.at[z][c]; v >= 0 && n > 0 && cut[j] > 0 {
				terms = append(terms, simplex.Term{Variable: v, Factor: float64(n) * cut[j] * fine})
			}
		}
	}
	_, err := p.lp.AtLeast(a.least*fine, append(terms, simplex.Term{Variable: a.broken, Factor: 1})...)
	p.wrong = cmp.Or(p.wrong, err)
}

// solve finds the least cost with the cuts known, and when it is to be exact goes on
// with the cells that are the driest by it until none is short. Where that does not come
// to an end soon it is near the least (nearby), or, after many rounds, all that is found
// is run so much longer that no cell is short.
func (p *program) solve(ctx context.Context, out *answer, exact bool) error {
	for i, f := range p.fields {
		p.asks, p.has = append(p.asks, p.askOf(i)), append(p.has, map[[2]int]bool{})
		for k, a := range p.asks[i] {
			p.row(i, 0, k, f.pool[0], a)
		}
	}
	var best *nearby
	large := anyLarge(p.fields)
	for round := 0; ; {
		if p.wrong != nil {
			return fmt.Errorf("these flows, rates and depths cannot be reckoned with: %w", p.wrong)
		}
		s, err := p.lp.Solve(ctx)
		if errors.Is(err, simplex.ErrLost) { // by many warm rows: from the beginning
			s, err = p.lp.Solve(ctx)
		}
		if err != nil {
			return err
		}
		p.read(s.X, out)
		p.priced(s, out)
		if p.takeShort(s, out) {
			continue
		}
		if !exact {
			out.cost += s.Cost
			return nil
		}
		if round++; large {
			best = p.nearer(best, s, out)
			if best.cost <= s.Cost*(1+enough) || round >= nearRounds {
				p.read(best.x, out)
				p.lengthen(out, best.longer)
				out.cost += s.Cost
				return nil
			}
			p.read(s.X, out)
			if p.takeShort(s, out) {
				continue
			}
		}
		longer := p.cut(out)
		if longer == 1 || round > mostCuts || !p.takeShort(s, out) {
			p.lengthen(out, longer)
			out.cost += s.Cost
			return nil
		}
	}
}

// read takes minutes and what is broken from the variables.
func (p *program) read(x []float64, out *answer) {
	for z, at := range p.at {
		for c, v := range at {
			if v >= 0 {
				out.minutes[z][c] = x[v]
			}
		}
	}
	for i, f := range p.fields {
		out.short[f.area], out.lack[f.area] = p.already(f)+x[p.short[i]]/fine, x[p.lack[i]]/fine
	}
	if p.base != nil {
		for c := range classes {
			out.over[c] = x[p.over[c]]
		}
	}
}

// priced takes what a minute more of each program's day saves from a solution.
func (p *program) priced(s *simplex.Solution, out *answer) {
	if p.base != nil {
		for c := range classes {
			out.price[c] = s.Prices[p.window[c]]
		}
	}
}
