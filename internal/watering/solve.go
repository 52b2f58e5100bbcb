package watering

import (
	"context"
	"slices"

	"evenfall/internal/simplex"
)

const (
	kept     = 1e-6 // inches by which a row may be short: rounding
	fewer    = 1e-4 // of its water, by which days cost more than fewer days (chosen: breaks ties only)
	mostCuts = 60   // rounds before a solution is run longer instead; few are ever needed
)

// question is one month asked of one pattern.
type question struct {
	in     *Input
	fields []*field
	month  int
	p      *pattern
	may    [][classes]bool // by zone: the programs it may be in
	tight  int             // minutes of each day that are left free, for soaking
	smooth bool            // of what costs the same, the soils that are emptied least
}

// answer is what it takes.
type answer struct {
	minutes [][classes]float64 // by zone
	gallons float64            // of the cycle
	cost    float64            // with what is broken, dearly
	short   []float64          // by area: inches below what may be used up
	lack    []float64          // by area: inches of the cycle that it needs and does not get
	over    [classes]float64   // by program: minutes its day is too short, those of together divided among the flow
	price   [classes]float64   // by program: gallons of the cycle that a minute more of its days would save
	exact   bool
}

func (a *answer) fits() bool {
	for i := range a.short {
		if a.short[i] > kept*10 || a.lack[i] > kept*10 {
			return false
		}
	}
	for _, o := range a.over {
		if o > 1e-4 {
			return false
		}
	}
	return true
}

func questionOf(in *Input, fields []*field, month int, p *pattern) *question {
	q := &question{in: in, fields: fields, month: month, p: p, may: make([][classes]bool, len(in.Zones))}
	for z := range in.Zones {
		q.may[z] = q.allowed(z)
	}
	return q
}

// solve finds the least water. Parts of the yard that share no area are solved each by
// itself; only when their minutes do not fit the day are they solved together.
func (q *question) solve(ctx context.Context, exact bool) (*answer, error) {
	out := q.answer()
	out.exact = exact
	for _, part := range q.parts() {
		if err := q.program(part, nil, nil).solve(ctx, out, exact); err != nil {
			return nil, err
		}
	}
	switch missing := q.hopeless(out); {
	case !q.overrun(out):
	case !exact && missing > 0:
		least, err := q.atLeast(ctx)
		if err != nil {
			return nil, err
		}
		out.cost = max(out.cost, least)
		out.over[q.longest()] = missing // so that it is not said to fit
	default:
		out.cost = q.dearly(out.short)
		if err := q.program(q.watered(), slices.Clone(out.short), nil).solve(ctx, out, exact); err != nil {
			return nil, err
		}
	}
	out.gallons = q.gallons(out.minutes)
	return out, nil
}

func (q *question) answer() *answer {
	return &answer{minutes: make([][classes]float64, len(q.in.Zones)), short: make([]float64, len(q.in.Areas)), lack: make([]float64, len(q.in.Areas))}
}

func (q *question) gallons(minutes [][classes]float64) float64 {
	sum := 0.0
	for z, m := range minutes {
		for c, v := range m {
			sum += float64(q.in.Zones[z].Flow) * v * float64(q.p.count[c])
		}
	}
	return sum
}

// window is how many minutes of a day stations may run.
func (q *question) window() int { return q.in.Calendar.window() - q.tight }

// load is what a minute of a zone takes of a day's window, and the window.
func (q *question) load(zone int) float64 {
	if q.in.Calendar.Together {
		return float64(q.in.Zones[zone].Flow / q.in.Calendar.Flow)
	}
	return 1
}

func (q *question) overrun(a *answer) bool {
	for c := range classes {
		sum := 0.0
		for z := range a.minutes {
			sum += a.minutes[z][c] * q.load(z)
			if a.minutes[z][c] > float64(q.window())+1e-6 {
				return true
			}
		}
		if sum > float64(q.window())+1e-6 {
			return true
		}
	}
	return false
}

// hopeless is how many minutes of a day are missing, where all days together have not
// enough of them: then there is no need to look for how best to break the hours.
func (q *question) hopeless(a *answer) float64 {
	excess := 0.0
	for c, n := range q.p.count {
		excess -= float64(n * q.window())
		for z := range a.minutes {
			excess += a.minutes[z][c] * q.load(z) * float64(n)
		}
	}
	return excess / float64(q.p.count[q.longest()])
}

// longest is the program of most days.
func (q *question) longest() int {
	best := 0
	for c, n := range q.p.count {
		if n > q.p.count[best] {
			best = c
		}
	}
	return best
}

// atLeast is a bound of the cost where the hours cannot be kept, without solving all
// parts together: each pays for its minutes what breaking the hours costs, and the hours
// there are are given back (Lagrange's bound). No price of a program's minute is above
// minuteOver, so no program of minutes costs less.
func (q *question) atLeast(ctx context.Context) (float64, error) {
	a := q.answer()
	var price [classes]float64
	sum := 0.0
	for c, n := range q.p.count {
		price[c] = minuteOver * float64(n) / float64(q.p.count[q.longest()])
		sum -= price[c] * float64(q.window())
	}
	for _, part := range q.parts() {
		if err := q.program(part, nil, &price).solve(ctx, a, false); err != nil {
			return 0, err
		}
	}
	return sum + a.cost, nil
}

// dearly is what soils that are short for want of days cost.
func (q *question) dearly(short []float64) float64 {
	sum := 0.0
	for _, f := range q.watered() {
		sum += shortTimes * f.inch * short[f.area]
	}
	return sum
}

// watered is the fields that water reaches.
func (q *question) watered() []*field {
	return slices.DeleteFunc(slices.Clone(q.fields), func(f *field) bool { return f.dry })
}

// parts groups the fields that zones join, each in the order given.
func (q *question) parts() [][]*field {
	of := make([]int, len(q.in.Zones)) // by zone: a zone of its part
	for z := range of {
		of[z] = z
	}
	root := func(z int) int {
		for of[z] != z {
			z = of[z]
		}
		return z
	}
	for _, f := range q.fields {
		for _, z := range f.zones {
			if a, b := root(f.zones[0]), root(z); a != b {
				of[max(a, b)] = min(a, b)
			}
		}
	}
	var parts [][]*field
	at := make([]int, len(q.in.Zones)) // by root: its part, from 1
	for _, f := range q.fields {
		if f.dry {
			continue
		}
		r := root(f.zones[0])
		if at[r] == 0 {
			parts = append(parts, nil)
			at[r] = len(parts)
		}
		parts[at[r]-1] = append(parts[at[r]-1], f)
	}
	return parts
}

// ask is what the waterings of a run of days have to bring by every cut of a field.
type ask struct {
	least     float64 // inches
	waterings [classes]int
	broken    int // variable of what is missing of it
}

// program is the linear program of some fields.
type program struct {
	q      *question
	fields []*field
	lp     simplex.Problem
	cost   []float64      // by variable
	wrong  error          // the first that a variable or a row met with
	at     [][classes]int // by zone: its variable in each program, -1 for none
	short  []int          // by field
	lack   []int
	empty  []int // by field, when smooth: the most its soil is emptied
	over   [classes]int
	window [classes]int      // rows of the hours of each program
	asks   [][]ask           // by field: what its cuts have to bring
	has    []map[[2]int]bool // by field: the cuts by asks that are rows already
	base   []float64         // by area, when the hours are kept: what is short for want of days
}
