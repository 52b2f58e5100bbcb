package watering

import (
	"context"
	"slices"

	"evenfall/internal/climate"
	"evenfall/internal/units"
)

const (
	percentStep  = 5    // whole percents controllers are turned by (common practice)
	mostExtra    = 0.10 // of a month's water that one percentage may take more than its own program (chosen)
	baseLeast    = 0.8  // of the water of the month of most, from which a month may be the one that others are turned down from (chosen)
	trivialExtra = 0.01 // of the year's water, below which a month's extra is no matter (chosen)
)

// Year is the programs of the months, and one percentage for each where that serves.
type Year struct {
	Months [12]*Month // nil where nothing is needed
	// Peak is the month that asks most of the system, -1 where none does: the one that is
	// furthest from fitting, or where all fit the one that the others are turned down from.
	Peak                int
	Gallons             units.Gallons // of the year
	PlainGallons, Saved units.Gallons // Saved is less than nought where the programs take more
	SavedSays           string        // what is saved, or why nothing is, in sentences
	Percent             *Percent      // nil: nothing is ever needed
}

// Percent is the peak program turned down by month.
type Percent struct {
	ByMonth [12]int
	Extra   [12]units.Ratio // of the month's own water: what it takes more
	Year    units.Ratio     // of the year's
	Serves  bool            // no month takes more than a tenth more, and the controller has one percentage for all
}

// PlanYear works out the year: the month of most water first; its days are kept where they
// serve. What would help is worked out for the peak, where that does not fit.
// tell, which may be nil, is told how many of so many parts are done.
func PlanYear(ctx context.Context, in *Input, tell func(done, total int)) (*Year, error) {
	if err := in.check(); err != nil {
		return nil, err
	}
	y := &Year{Peak: in.peak()}
	if y.Peak < 0 {
		return y, nil
	}
	fields, g, work := in.fields(), in.ground(), telling(tell)
	most := y.Peak
	first, err := in.search(ctx, fields, most, g, thorough, work.part(0, 40))
	if err != nil {
		return nil, err
	}
	y.Months[most] = first
	for month := range y.Months {
		part := work.part(40+45*month/12, 40+45*(month+1)/12)
		part.at(0, 1)
		if month == most || !in.needs(month) {
			continue
		}
		m, err := in.asPeak(ctx, first, month, g)
		if err != nil {
			return nil, err
		}
		if !m.Fits && first.Fits {
			if m, err = in.search(ctx, fields, month, g, thorough, part); err != nil {
				return nil, err
			}
		}
		y.Months[month] = m
	}
	y.Peak = y.base(most)
	peak := y.Months[y.Peak]
	if err := peak.ease(ctx, in, fields, g, work.part(85, 99)); err != nil {
		return nil, err
	}
	work.at(99, 100)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	y.percent(in, peak)
	if err := y.seldom(ctx, in, fields, g); err != nil {
		return nil, err
	}
	whole := units.Gallons(0)
	for month, m := range y.Months {
		if m != nil {
			whole += (m.Gallons - m.Least) * in.cycles(month)
			y.Gallons += m.Gallons * in.cycles(month)
			y.PlainGallons += m.PlainGallons * in.cycles(month)
		}
	}
	y.Saved = y.PlainGallons - y.Gallons
	y.SavedSays = in.savedSays(y.PlainGallons, y.Gallons, whole, "a year", nil) + y.shortYear(in)
	y.refill(in, fields)
	y.percent(in, peak) // beside what the months now take
	work.at(1, 1)
	return y, nil
}

// base is the month that is furthest from fitting; where all fit that of most water whose
// program no other month has to be turned up from, or else that of most.
func (y *Year) base(most int) int {
	worst := -1
	for k := range y.Months { // of those equally far the one of most water
		month := (most + k) % len(y.Months)
		m := y.Months[month]
		if m == nil || m.Fits {
			continue
		}
		if worst < 0 || y.Months[worst].nearer(m) || !m.nearer(y.Months[worst]) && m.driest() > y.Months[worst].driest() {
			worst = month
		}
	}
	if worst >= 0 {
		return worst
	}
	var near []int
	for month, m := range y.Months {
		if m != nil && m.Gallons >= baseLeast*y.Months[most].Gallons {
			near = append(near, month)
		}
	}
	slices.SortStableFunc(near, func(a, b int) int { return before(float64(y.Months[b].Gallons), float64(y.Months[a].Gallons)) })
	near = slices.Insert(slices.DeleteFunc(near, func(m int) bool { return m == most }), 0, most)
	for _, month := range near {
		if !slices.ContainsFunc(near, func(other int) bool { return y.Months[month].turned(other) > 100 }) {
			return month
		}
	}
	return most
}

// driest is the most inches that an area is short by.
func (m *Month) driest() float64 {
	most := 0.0
	for _, b := range m.Binds {
		if b.Limit == Soil || b.Limit == Reach {
			most = max(most, b.By)
		}
	}
	return most
}

// asPeak is a month by the days of that of most water.
func (in *Input) asPeak(ctx context.Context, peak *Month, month int, g ground) (*Month, error) {
	c := candidate{q: questionOf(in, peak.q.fields, month, peak.q.p)}
	if err := c.solve(ctx, true); err != nil {
		return nil, err
	}
	return c.month(ctx, g)
}

// cycles is how many cycles of days a month has.
func (in *Input) cycles(month int) units.Gallons {
	return units.Gallons(climate.Days[month]) / units.Gallons(len(in.Calendar.Days))
}

func (in *Input) needs(month int) bool {
	for _, a := range in.Areas {
		if a.Need[month] > 0 {
			return true
		}
	}
	return false
}

// peak is the month that asks for most water; -1 when none asks.
func (in *Input) peak() int {
	best, most := -1, 0.0
	for month := range 12 {
		sum := 0.0
		for _, a := range in.Areas {
			sum += float64(a.Need[month]) * max(float64(a.Size), 1)
		}
		if sum > most {
			best, most = month, sum
		}
	}
	return best
}

// percent turns the peak program down for each month as far as every area still has
// what it needs, and says what that takes more than the month's own program.
func (y *Year) percent(in *Input, peak *Month) {
	p := &Percent{Serves: in.Controller.Percent}
	extra := units.Gallons(0)
	for month, m := range y.Months {
		if m == nil {
			continue
		}
		p.ByMonth[month] = peak.turned(month)
		takes := peak.Gallons * units.Gallons(p.ByMonth[month]) / 100
		more := max(0, takes-m.Gallons)
		extra += more * in.cycles(month)
		if m.Gallons > 0 {
			p.Extra[month] = units.Ratio(more / m.Gallons)
		}
		if p.Extra[month] > mostExtra && more*in.cycles(month) > trivialExtra*y.Gallons || p.ByMonth[month] > 100 {
			p.Serves = false
		}
	}
	if y.Gallons > 0 {
		p.Year = units.Ratio(extra / y.Gallons)
	}
	y.Percent = p
}

// turned is the least percentage of the peak program that keeps a month's rows, in the
// controller's steps; 105 when the whole program does not.
func (m *Month) turned(month int) int {
	q := *m.q
	q.month = month
	minutes := make([][classes]float64, len(m.w.minutes))
	holds := func(percent int) bool {
		for z := range minutes {
			for c, v := range m.w.minutes[z] {
				minutes[z][c] = v * float64(percent) / 100
			}
		}
		for _, f := range q.fields {
			short, lack := m.w.a.short[f.area], m.w.a.lack[f.area]
			if !f.dry && !(q.byCuts(f, minutes, short, lack) && q.byCells(f, minutes, short, lack)) {
				return false
			}
		}
		return true
	}
	low, high := 0, 100/percentStep+1
	for low < high {
		middle := (low + high) / 2
		if holds(middle * percentStep) {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return low * percentStep
}
