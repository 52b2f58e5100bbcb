package watering

import (
	"math"
	"slices"
)

// whole rounds minutes up to what can be keyed in, and takes off again what the replay
// by cells shows is not missed: dearest first.
type whole struct {
	q       *question
	a       *answer
	minutes [][classes]float64 // by zone, of a whole day of the program
	starts  [classes]int       // of each program; each start runs the same minutes
}

// round makes the minutes whole. Where every start of a controller runs all stations, a
// program's minutes are whole by start.
func (q *question) round(a *answer, g ground) *whole {
	w := q.roundUp(a, g)
	w.reduce()
	return w
}

func (q *question) roundUp(a *answer, g ground) *whole {
	w := &whole{q: q, a: a, minutes: make([][classes]float64, len(a.minutes))}
	parted := !q.in.Controller.Soaks && !q.in.Calendar.Together
	for c := range classes {
		w.starts[c] = 1
		if parted {
			day := make([]float64, len(a.minutes))
			for z := range a.minutes {
				day[z] = up(a.minutes[z][c])
			}
			w.starts[c] = q.in.startsFor(g, day)
		}
		n := float64(w.starts[c])
		for z := range a.minutes {
			w.minutes[z][c] = up(a.minutes[z][c]/n) * n
		}
	}
	return w
}

func up(minutes float64) float64 { return math.Ceil(minutes - 1e-6) }

func (w *whole) reduce() {
	type one struct{ zone, class int }
	var order []one
	for z := range w.minutes {
		for c, m := range w.minutes[z] {
			if m > 0 {
				order = append(order, one{z, c})
			}
		}
	}
	saves := func(o one) float64 {
		return float64(w.q.in.Zones[o.zone].Flow) * float64(w.q.p.count[o.class]*w.starts[o.class])
	}
	slices.SortStableFunc(order, func(x, y one) int {
		switch {
		case saves(x) > saves(y):
			return -1
		case saves(x) < saves(y):
			return 1
		}
		return 0
	})
	// Turn by turn, so that no program of a zone gives up what another keeps.
	for len(order) > 0 {
		order = slices.DeleteFunc(order, func(o one) bool {
			m, step := &w.minutes[o.zone][o.class], float64(w.starts[o.class])
			if *m -= step; !w.holds(o.zone) {
				*m += step
				return true
			}
			return *m == 0
		})
	}
}

// holds reports whether every area a zone reaches still has what the answer gives it:
// by the cuts known first, which is quick, then by the cells.
func (w *whole) holds(zone int) bool {
	for _, f := range w.q.fields {
		if !f.dry && slices.Contains(f.zones, zone) && !w.q.byCuts(f, w.minutes, w.a.short[f.area], w.a.lack[f.area]) {
			return false
		}
	}
	for _, f := range w.q.fields {
		if !f.dry && slices.Contains(f.zones, zone) && !w.q.byCells(f, w.minutes, w.a.short[f.area], w.a.lack[f.area]) {
			return false
		}
	}
	return true
}

// byCuts reports whether an area's rows hold by all cuts of its pool.
func (q *question) byCuts(f *field, minutes [][classes]float64, short, lack float64) bool {
	a := &q.in.Areas[f.area]
	for _, cut := range f.pool {
		by := f.brings(cut, minutes)
		for _, r := range q.p.runs {
			if got(r.waterings, by) < q.mayLose(a, r)-short-kept {
				return false
			}
		}
		if got(q.p.count, by) < float64(a.Need[q.month])*float64(len(q.p.class))-lack-kept {
			return false
		}
	}
	return true
}

func (q *question) byCells(f *field, minutes [][classes]float64, short, lack float64) bool {
	holds := true
	q.shortfalls(f, minutes, short, lack, func(_, _ float64, cut []float64) bool {
		if cut != nil {
			f.add(cut)
		}
		holds = false
		return false
	})
	return holds
}
