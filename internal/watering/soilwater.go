package watering

import (
	"encoding/binary"
	"slices"

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

// SoilWater plays the year by its programs as they are keyed in, and filled before a
// month that asks for it (Refill): areas in the order of the input, nothing of how they were
// found. The first of January is the first day of
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
	known := map[[3]int]int{} // by month, programs that run, and a month that fills the soil before it begins
	at := 0
	for month, days := range climate.Days {
		for day := range days {
			p.month[at], p.day[at] = month, day+1
			at++
		}
	}
	fills := map[int]int{} // by day of the year: the month, from 1
	for month, m := range y.Months {
		if m != nil && m.Refill > 0 {
			fills[in.Calendar.lastBefore(month)] = month + 1
		}
	}
	for at := range p.kind {
		m := y.Months[p.month[at]]
		runs := 0
		if m != nil {
			runs = m.running(at % p.cycle)
		}
		p.kind[at] = p.kindOf(y, [3]int{p.month[at], runs, fills[at]}, known)
	}
	return p
}

// lastBefore is the last day of the year on which water is allowed before a month has
// begun or on its first day; the first of the year where there is none.
func (c Calendar) lastBefore(month int) int {
	first := 0
	for _, n := range climate.Days[:month] {
		first += n
	}
	for d := first; d > 0; d-- {
		if c.Days[d%len(c.Days)] {
			return d
		}
	}
	return 0
}

// running is which programs run on a day of the cycle, as bits.
func (m *Month) running(day int) int {
	runs := 0
	for i, program := range m.Programs {
		if slices.Contains(program.Days, day) {
			runs |= 1 << i
		}
	}
	return runs
}

// kindOf is the kind of a day on which some programs run, and all of a month that fills
// the soil.
func (p *played) kindOf(y *Year, key [3]int, known map[[3]int]int) int {
	if key[1] == 0 && key[2] == 0 {
		return 0
	}
	kind, have := known[key]
	if !have {
		minutes := make([]float64, len(p.kinds[0]))
		add := func(program Program, times int) {
			for _, r := range program.Runs {
				minutes[r.Zone] += float64(times * r.Minutes)
			}
		}
		if key[1] != 0 {
			for i, program := range y.Months[key[0]].Programs {
				add(program, key[1]>>i&1)
			}
		}
		if key[2] != 0 {
			m := y.Months[key[2]-1]
			for _, program := range m.Programs {
				add(program, m.Refill)
			}
		}
		kind = len(p.kinds)
		known[key] = kind
		p.kinds = append(p.kinds, minutes)
	}
	return kind
}

// playedMost is how often drier parts are looked for (chosen: a few are enough).
const playedMost = 30

// of plays one area: parts of it as large as the target says, each a bucket of its own.
// Which parts is found as the solver finds its cuts: where some part is furthest below
// full, the driest part of the days since it was full is played as well.
func (p *played) of(f *field, a *Area, share float64) AreaWater {
	w := AreaWater{Area: f.area}
	b := bucket{played: p, f: f, a: a}
	for m, need := range a.Need {
		w.May[m] = max(a.Available(), need)
	}
	tried := map[string]bool{}
	for round := 0; ; round++ {
		for ; b.done < len(f.pool); b.done++ {
			b.play(f.pool[b.done])
		}
		if f.dry {
			b.play(nil)
		}
		if f.dry || round == playedMost || !b.drier(share, tried) {
			break
		}
	}
	got := make([]units.Inches, len(p.kinds))
	for kind := range got {
		if !f.dry {
			got[kind] = units.Inches(f.received(p.ran([]int{kind}), share))
		}
	}
	for d := range w.Days {
		m := p.month[d]
		day := DayWater{Month: m, Day: p.day[d], Need: a.Need[m], Got: got[p.kind[d]], Below: units.Inches(b.below[d])}
		if w.Most = max(w.Most, day.Below); day.Below > w.May[m]+10*kept {
			w.Past++
		}
		w.Days[d] = day
	}
	return w
}

// ran is the minutes of a zone on some days, by their kinds.
func (p *played) ran(kinds []int) func(zone int) float64 {
	return func(zone int) float64 {
		sum := 0.0
		for _, k := range kinds {
			sum += p.kinds[k][zone]
		}
		return sum
	}
}

// bucket is what is known of an area: the furthest of all parts played.
type bucket struct {
	*played
	f     *field
	a     *Area
	done  int          // of the field's pool
	below [365]float64 // at the end of each day
	since [365]int     // day on which that part was full last; -1: it is dry to the bottom
}

// play plays a part by the mean rates of its cells in a minute; nil: none of the water.
func (b *bucket) play(rates []float64) {
	got := make([]float64, len(b.kinds))
	for kind, minutes := range b.kinds {
		for i, r := range rates {
			got[kind] += r * minutes[b.f.zones[i]]
		}
	}
	lost, since := 0.0, 0
	for d := range b.below {
		if lost -= got[b.kind[d]]; lost <= 0 {
			lost, since = 0, d
		}
		need := float64(b.a.Need[b.month[d]])
		lost += need
		if most := max(float64(b.a.Holds), need); lost >= most {
			lost, since = most, -1
		}
		if lost > b.below[d] {
			b.below[d], b.since[d] = lost, since
		}
	}
}

// drier looks for parts that are drier yet and puts them into the field's pool: the
// driest of the days since the furthest part was full, and of every run of days as long
// as a cycle.
func (b *bucket) drier(share float64, tried map[string]bool) bool {
	any := false
	count := make([]byte, 2*len(b.kinds)) // by kind, in two bytes
	try := func(from, to int) {
		key := string(count)
		if tried[key] {
			return
		}
		tried[key] = true
		if _, cut := b.f.driestOf(b.ran(b.kind[from:to]), share); cut != nil {
			any = b.f.add(cut) || any
		}
	}
	for d, since := range b.since {
		clear(count)
		for from := d; from > max(min(since, d-b.cycle), 0); from-- {
			if k := b.kind[from]; k > 0 {
				n := binary.LittleEndian.Uint16(count[2*k:])
				binary.LittleEndian.PutUint16(count[2*k:], n+1)
				if from > d-b.cycle || from == since+1 {
					try(from, d+1)
				}
			}
		}
	}
	return any
}
