package watering

import (
	"context"

	"evenfall/internal/units"
)

// Month is the program of one month.
type Month struct {
	Month    int // 0: January
	Programs []Program
	Gallons  units.Gallons // of a cycle of days
	Least    units.Gallons // the least a cycle could take, were minutes not whole
	Fits     bool
	Over     int // minutes that the longest day is past its hours
	Binds    []Bind
	Eases    []Ease // what would make it fit, when it does not
	Areas    []Received
	Plain    []Plain // by zone: the one-zone sum
	// PlainGallons and Saved are of a cycle: what the one-zone sums take, and how much
	// less this does: less than nought where it takes more. SavedSays tells it and why in
	// sentences; print those and no bare figure.
	PlainGallons, Saved units.Gallons
	SavedSays           string
	PlainShort          []Short // areas that the one-zone sums would leave short
	// Refill is how often all programs of the month are run once, besides, on the last
	// watering day before it begins, because the month before leaves soil emptier than
	// their days allow for; 0 mostly. RefillGallons is that water, which is in no other
	// sum, RefillSays says it.
	Refill        int
	RefillGallons units.Gallons
	RefillSays    string

	q *question
	w *whole
	g ground
}

// Program is the stations that run on some days of the cycle.
type Program struct {
	Days []int // of the cycle, 0 first
	Runs []Run // in the order of the stations
	// Starts are minutes after midnight; one where the controller parts run times itself.
	// From 24·60 they are past the midnight after the day that the program is named for.
	Starts []int
	Ends   int // minutes after midnight of the day it starts
	Steps  []Step
	// MinuteSaves is the gallons of a cycle that a minute more each day would save: the
	// price of its hours. 0 where they do not bind.
	MinuteSaves float64
}

// Run is one station of a program.
type Run struct {
	Zone    int
	Minutes int // of a day
	Cycles  int
	Soak    int // minutes at least between cycles; 0 for one cycle
}

// Received is what an area has of a cycle.
type Received struct {
	Need     units.Inches // of the cycle
	Mean     units.Inches // that falls on it
	Counts   units.Inches // of its target part, field evenness taken off
	Lowest   units.Inches // most that the target part is ever emptied by
	Allowed  units.Inches // that it may be
	Interval int          // days its soil lasts
}

// Plan works out the program of one month, 0 January. The error is a sentence about the
// input, or the context's. A program that does not fit is an answer and no error.
func Plan(ctx context.Context, in *Input, month int) (*Month, error) {
	if err := in.check(); err != nil {
		return nil, err
	}
	fields, g := in.fields(), in.ground()
	m, err := in.search(ctx, fields, month, g, thorough, progress{})
	if err != nil {
		return nil, err
	}
	return m, m.ease(ctx, in, fields, g, progress{})
}

// asMonth rounds an answer, sets up its timetable and says how it stands.
func (q *question) asMonth(a *answer, g ground) *Month {
	m := &Month{Month: q.month, Least: units.Gallons(a.gallons), q: q, w: q.round(a, g), g: g}
	m.Gallons = units.Gallons(q.gallons(m.w.minutes))
	for c := range classes {
		if p, any := q.programOf(m.w, c, g); any {
			if a.over[c] <= 1e-4 { // otherwise it is the price of breaking them
				p.MinuteSaves = a.price[c]
			}
			m.Over = max(m.Over, p.Ends-q.in.Calendar.Until)
			m.Programs = append(m.Programs, p)
		}
	}
	m.atMidnight()
	m.compare()
	m.receive()
	m.judge(a)
	return m
}

func (q *question) programOf(w *whole, class int, g ground) (p Program, any bool) {
	n := w.starts[class]
	day, each := make([]int, len(w.minutes)), make([]int, len(w.minutes))
	for z := range w.minutes {
		day[z] = int(w.minutes[z][class])
		each[z] = day[z] / n
		any = any || day[z] > 0
	}
	if !any {
		return p, false
	}
	for d, c := range q.p.class {
		if int(c) == class {
			p.Days = append(p.Days, d)
		}
	}
	if q.in.Controller.Soaks || q.in.Calendar.Together {
		p.Steps, p.Ends = interleaved(q.in, day, g)
		p.Starts = []int{q.in.Calendar.From}
	} else {
		p.Steps, p.Starts = byStarts(q.in, each, n, g)
		p.Ends = p.Steps[len(p.Steps)-1].Until
	}
	for z, minutes := range day {
		if minutes == 0 {
			continue
		}
		r := Run{Zone: z, Minutes: minutes, Cycles: n}
		if q.in.Controller.Soaks || q.in.Calendar.Together {
			r.Cycles = g.limits[z].cycles(minutes)
		}
		if r.Cycles > 1 {
			r.Soak = g.limits[z].soak
		}
		p.Runs = append(p.Runs, r)
	}
	return p, true
}

// receive replays what the areas get.
func (m *Month) receive() {
	q := m.q
	for _, f := range q.fields {
		a := &q.in.Areas[f.area]
		n := units.Inches(len(q.p.class))
		r := Received{Need: a.Need[q.month] * n, Allowed: a.Available(), Interval: a.Interval(q.month)}
		if !f.dry {
			cycle := func(z int) float64 {
				sum := 0.0
				for c, k := range q.p.count {
					sum += float64(k) * m.w.minutes[z][c]
				}
				return sum
			}
			counts := f.received(cycle, q.in.Target.share())
			mean := f.received(cycle, 1)
			r.Counts, r.Mean = units.Inches(counts), units.Inches(mean/(f.factor*60))
			r.Lowest = m.lowest(f)
		}
		m.Areas = append(m.Areas, r)
	}
}

// lowest is the most that an area's target part is emptied by on any run of days.
func (m *Month) lowest(f *field) units.Inches {
	q, need := m.q, float64(m.q.in.Areas[f.area].Need[m.q.month])
	worst := need
	for _, r := range q.p.runs {
		got := f.received(func(z int) float64 {
			sum := 0.0
			for c, k := range r.waterings {
				sum += float64(k) * m.w.minutes[z][c]
			}
			return sum
		}, q.in.Target.share())
		worst = max(worst, float64(r.days)*need-got)
	}
	return units.Inches(worst)
}
