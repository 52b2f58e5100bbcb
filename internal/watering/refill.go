package watering

import (
	"fmt"

	"evenfall/internal/climate"
	"evenfall/internal/units"
)

const (
	refillMost = 2    // times all programs are run once before they begin (chosen)
	refillNear = 0.05 // inches before that, from which its driest parts are looked for (chosen)
	refillFrom = 0.05 // inches past what a soil may lose, from which it is worth a day of water (chosen)
)

// refill finds the months that begin with soil emptier than their days allow for. A
// program brings in a cycle what a cycle takes and is found for soil that is full when
// it begins; what the month before has left dry stays so unless it is run once before.
// Judged by the parts of the ground known already, and by the driest where those come near.
func (y *Year) refill(in *Input, fields []*field) {
	for month, m := range y.Months {
		if m == nil {
			continue
		}
		exact := map[int]bool{} // areas whose driest parts were looked for
		area, past := y.driedOut(in, fields, month, exact)
		for area >= 0 && m.Refill < refillMost {
			m.Refill++
			next, left := y.driedOut(in, fields, month, exact)
			if next >= 0 && left > past-refillFrom { // it does not help: the month before needs more a day
				m.Refill--
				break
			}
			m.RefillSays = fmt.Sprintf("On the last watering day before %s begins, run all its programs %s besides: the soil of %s is emptier by then than the days of %[1]s allow for.",
				climate.MonthNames[month], [refillMost]string{"once", "twice"}[m.Refill-1], name(in.Areas[area].Name, area))
			area, past = next, left
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

// driedOut is the area that is furthest past what it may lose in a month though the
// month's own program keeps it from that, and by how much; -1: none.
func (y *Year) driedOut(in *Input, fields []*field, month int, exact map[int]bool) (area int, past float64) {
	p, m := y.played(in), y.Months[month]
	area, past = -1, refillFrom
	for _, f := range fields {
		a := &in.Areas[f.area]
		may := float64(max(a.Available(), a.Need[month]))
		if a.Available() < max(a.Need[month], a.Need[(month+11)%12]) {
			continue // it lasts less than a day anyway
		}
		if f.dry || m.w.a.short[f.area] > 10*kept || m.w.a.lack[f.area] > 10*kept {
			continue
		}
		worst := p.furthest(f, a, month)
		if worst > may-refillNear && worst <= may+refillFrom && !exact[f.area] {
			exact[f.area] = true
			p.of(f, a, in.Target.share()) // finds its driest parts
			worst = p.furthest(f, a, month)
		}
		if worst > may+past {
			area, past = f.area, worst-may
		}
	}
	return area, past
}

// furthest is how far an area is below full in a month at most, by the parts known.
func (p *played) furthest(f *field, a *Area, month int) float64 {
	b := bucket{played: p, f: f, a: a}
	for _, cut := range f.pool {
		b.play(cut)
	}
	worst := 0.0
	for d, below := range b.below {
		if p.month[d] == month {
			worst = max(worst, below)
		}
	}
	return worst
}
