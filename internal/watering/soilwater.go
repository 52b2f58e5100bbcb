package watering

import (
	"encoding/binary"

	"evenfall/internal/climate"
	"evenfall/internal/units"
)

// AreaWater is what the programs of a year make of the soil of an area, day by day.
type AreaWater struct {
	Area int              // of Input.Areas
	Days [365]DayWater    // the first of January first
	May  [12]units.Inches // by month: how far below full its soil may be, a day's need at least
	Past int              // days on which it is further below full than it may
	Most units.Inches     // furthest below full of all days
}

// DayWater is one day of an area, at its end.
type DayWater struct {
	Month int          // 0: January
	Day   int          // of the month, from 1
	Need  units.Inches // of the day, effective rain taken off
	Got   units.Inches // what counts of the day's water: of its target part, field evenness taken off
	Below units.Inches // how far the target part is below full when the day's need is taken
}

// SoilWater plays the year by its programs as they are keyed in: areas in the order of
// the input, nothing of how they were found. The first of January is the first day of
// the calendar's cycle and begins with full soil; a day's water comes before its need,
// what is more than full runs through, and nothing is taken out of dry soil. Below is
// that of whichever part of the area, as large as the target says, is the furthest below
// full that day: the part can be another one every day. Rain beyond a month's need,
// which would fill the soil, is not known here, so that after a rainy month soil may be
// fuller than is said, never drier.
func (y *Year) SoilWater(in *Input) []AreaWater {
	year := y.played(in)
	var all []AreaWater
	for _, f := range in.fields() {
		all = append(all, year.of(f, &in.Areas[f.area], in.Target.share()))
	}
	return all
}

// played is which water runs on each day of a year.
type played struct {
	month, day [365]int
	kind       [365]int    // of kinds, 0 for no water
	kinds      [][]float64 // minutes by zone
	cycle      int
}

func (y *Year) played(in *Input) *played {
	p := &played{kinds: [][]float64{make([]float64, len(in.Zones))}, cycle: len(in.Calendar.Days)}
	known := map[[2]int]int{} // by month and programs that run
	at := 0
	for month, days := range climate.Days {
		for day := range days {
			p.month[at], p.day[at] = month, day+1
			p.kind[at] = p.kindOf(y.Months[month], [2]int{month, 0}, at%p.cycle, known)
			at++
		}
	}
	return p
}

// kindOf is the kind of a day of the cycle in a month.
func (p *played) kindOf(m *Month, key [2]int, of int, known map[[2]int]int) int {
	if m == nil {
		return 0
	}
	minutes := make([]float64, len(p.kinds[0]))
	for i, program := range m.Programs {
		for _, d := range program.Days {
			if d != of {
				continue
			}
			key[1] |= 1 << i
			for _, r := range program.Runs {
				minutes[r.Zone] += float64(r.Minutes)
			}
		}
	}
	if key[1] == 0 {
		return 0
	}
	kind, have := known[key]
	if !have {
		kind = len(p.kinds)
		known[key] = kind
		p.kinds = append(p.kinds, minutes)
	}
	return kind
}

// playedMost is how many cycles back a run of days is looked at (chosen: the programs
// bring a cycle's need in a cycle, so that one is all but enough).
const playedMost = 4

// of plays one area. How far a part is below full is the greatest, of all runs of days
// up to this one, of the run's need less the water of all its days but the first, which
// filled it; of all parts, that of the run's driest.
func (p *played) of(f *field, a *Area, share float64) AreaWater {
	w := AreaWater{Area: f.area}
	for m, need := range a.Need {
		w.May[m] = max(a.Available(), need)
	}
	runs := driestRuns{p: p, f: f, share: share, known: map[string]float64{}, count: make([]uint16, len(p.kinds))}
	var left [365]float64 // below full when the day's water is in
	for d := range w.Days {
		m := p.month[d]
		need := float64(a.Need[m])
		day := &w.Days[d]
		*day = DayWater{Month: m, Day: p.day[d], Need: a.Need[m], Got: units.Inches(runs.single(p.kind[d]))}
		left[d] = runs.left(a, d, &left)
		day.Below = units.Inches(min(left[d]+need, max(float64(a.Holds), need)))
		left[d] = float64(day.Below) - need
		if w.Most = max(w.Most, day.Below); day.Below > w.May[m]+10*kept {
			w.Past++
		}
	}
	return w
}

// driestRuns are what the driest part of an area gets by runs of days, kept by which
// water ran how often.
type driestRuns struct {
	p     *played
	f     *field
	share float64
	known map[string]float64
	count []uint16 // scratch: by kind
}

// left is how far the furthest part is below full once the water of day d is in.
func (r *driestRuns) left(a *Area, d int, before *[365]float64) float64 {
	clear(r.count)
	most, need := 0.0, 0.0
	for from := d; from > 0; from-- {
		r.count[r.p.kind[from]]++
		need += float64(a.Need[r.p.month[from-1]])
		below := need - r.got()
		most = max(most, below)
		// What an earlier run can add is no more than was left before this one.
		switch further := below + before[from-1]; {
		case further <= most:
			return most
		case most >= float64(a.Holds):
			return most
		case d-from >= playedMost*r.p.cycle:
			if r.lacks(a, d) {
				return further
			}
			return most
		}
	}
	return most
}

// lacks reports whether a cycle of the month brings less than it takes.
func (r *driestRuns) lacks(a *Area, d int) bool {
	clear(r.count)
	for from := d; from > d-r.p.cycle && from >= 0; from-- {
		r.count[r.p.kind[from]]++
	}
	return r.got() < float64(a.Need[r.p.month[d]])*float64(r.p.cycle)-10*kept
}

func (r *driestRuns) single(kind int) float64 {
	clear(r.count)
	r.count[kind]++
	return r.got()
}

// got is what the driest part gets by the water counted.
func (r *driestRuns) got() float64 {
	if r.f.dry {
		return 0
	}
	key := make([]byte, 0, 2*len(r.count))
	for _, n := range r.count[1:] {
		key = binary.LittleEndian.AppendUint16(key, n)
	}
	if got, have := r.known[string(key)]; have {
		return got
	}
	got, _ := r.f.received(func(z int) float64 {
		sum := 0.0
		for k, n := range r.count {
			sum += float64(n) * r.p.kinds[k][z]
		}
		return sum
	}, r.share)
	r.known[string(key)] = got
	return got
}
