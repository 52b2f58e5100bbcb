package watering

import (
	"context"

	"evenfall/internal/climate"
	"evenfall/internal/units"
)

const (
	percentStep  = 5    // whole percents controllers are turned by (common practice)
	mostExtra    = 0.10 // of a month's water that one percentage may take more than its own program (chosen)
	trivialExtra = 0.01 // of the year's water, below which a month's extra is no matter (chosen)
)

// Year is the programs of the months, and one percentage for each where that serves.
type Year struct {
	Months              [12]*Month // nil where nothing is needed
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

// PlanYear works out the year: the peak month first; its days are kept where they serve.
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
	peak, err := in.search(ctx, fields, y.Peak, g, thorough, work.part(0, 40))
	if err != nil {
		return nil, err
	}
	if err := peak.ease(ctx, in, fields, g, work.part(40, 60)); err != nil {
		return nil, err
	}
	y.Months[y.Peak] = peak
	for month := range y.Months {
		part := work.part(60+40*month/12, 60+40*(month+1)/12)
		part.at(0, 1)
		if month == y.Peak || !in.needs(month) {
			continue
		}
		m, err := in.asPeak(ctx, peak, month, g)
		if err != nil {
			return nil, err
		}
		if !m.Fits && peak.Fits {
			if m, err = in.search(ctx, fields, month, g, thorough, part); err != nil {
				return nil, err
			}
		}
		y.Months[month] = m
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
	y.percent(in, peak)
	work.at(1, 1)
	return y, nil
}

// asPeak is a month by the days of the peak.
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
