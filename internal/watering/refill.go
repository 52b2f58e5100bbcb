package watering

import (
	"fmt"

	"evenfall/internal/climate"
	"evenfall/internal/units"
)

const (
	refillMost = 2    // times all programs are run once before they begin (chosen)
	refillFrom = 0.01 // inches past what a soil may lose, from which it is worth it (chosen)
)

// refill finds the months that begin with soil emptier than their days allow for. A
// program brings in a cycle what a cycle takes and is found for soil that is full when
// it begins; what the month before has left dry stays so unless it is run once before.
// Judged by the parts of the ground known already.
func (y *Year) refill(in *Input, fields []*field) {
	for month, m := range y.Months {
		if m == nil {
			continue
		}
		for ; m.Refill < refillMost; m.Refill++ {
			area := y.driedOut(in, fields, month)
			if area < 0 {
				break
			}
			m.RefillSays = fmt.Sprintf("On the last watering day before %s begins, run all its programs %s besides: the soil of %s is emptier by then than the days of %[1]s allow for.",
				climate.MonthNames[month], [refillMost]string{"once", "twice"}[m.Refill], name(in.Areas[area].Name, area))
		}
		m.RefillGallons = units.Gallons(m.Refill) * m.oneDayEach()
	}
}

// oneDayEach is the water of a day of each program.
func (m *Month) oneDayEach() units.Gallons {
	sum := units.Gallons(0)
	for _, p := range m.Programs {
		for _, r := range p.Runs {
			sum += units.Gallons(r.Minutes) * units.Gallons(m.q.in.Zones[r.Zone].Flow)
		}
	}
	return sum
}

// driedOut is an area that is further below full in a month than it may though the
// month's own program keeps it from that; -1: none.
func (y *Year) driedOut(in *Input, fields []*field, month int) int {
	p, m := y.played(in), y.Months[month]
	for _, f := range fields {
		a := &in.Areas[f.area]
		may := float64(max(a.Available(), a.Need[month]))
		if f.dry || m.w.a.short[f.area] > 10*kept || m.w.a.lack[f.area] > 10*kept {
			continue
		}
		b := bucket{played: p, f: f, a: a}
		for _, cut := range f.pool {
			b.play(cut)
		}
		for d, below := range b.below {
			if p.month[d] == month && below > may+refillFrom {
				return f.area
			}
		}
	}
	return -1
}
