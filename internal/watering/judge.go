package watering

import (
	"fmt"
	"slices"

	"evenfall/internal/units"
)

// Limits that a program can run into.
const (
	Hours    = "hours"    // a day is too short
	Soil     = "soil"     // the days are too far apart for what the soil holds
	Reach    = "reach"    // an area does not get its need from anything allowed
	Starts   = "starts"   // more cycles than the controller has starts
	Runoff   = "runoff"   // stations that share slow ground run one right after the other
	Stations = "stations" // more zones than the controller has stations
)

// order is that in which limits are told: what no hours mend, then the hours.
var order = map[string]int{Stations: 0, Reach: 1, Hours: 2, Starts: 3, Runoff: 4, Soil: 5}

// Bind is a limit that is not kept.
type Bind struct {
	Limit   string
	Area    int     // of Input.Areas, or -1
	Program int     // of Month.Programs, or -1
	By      float64 // minutes, inches or a count, by the limit
	Says    string
}

// judge says which limits are not kept, and by how much.
func (m *Month) judge(a *answer) {
	in := m.q.in
	for i := range in.Areas {
		title := name(in.Areas[i].Name, i)
		f := m.q.fields[i]
		switch {
		case in.Areas[i].Need[m.Month] == 0:
		case f.dry:
			m.bind(Bind{Reach, i, -1, 0, fmt.Sprintf("A part of %s gets no water from any zone, so that no minutes are enough.", title)})
		case a.lack[i] > 10*kept:
			m.bind(Bind{Reach, i, -1, a.lack[i], fmt.Sprintf("%s gets %s less than it needs %s.", title, in.depth(a.lack[i]), CycleWord(len(in.Calendar.Days)))})
		case a.short[i] > 10*kept:
			m.bind(Bind{Soil, i, -1, a.short[i], fmt.Sprintf("The soil of %s lasts %s; the days allowed are further apart, and it would dry %s further than it may: %s.", title, daysOf(in.Areas[i].Interval(m.Month)), in.depth(a.short[i]), in.usedUp(i, m.Month, a.short[i]))})
		}
	}
	for i, p := range m.Programs {
		if over := p.Ends - in.Calendar.Until; over > 0 {
			m.bind(Bind{Hours, -1, i, float64(over), fmt.Sprintf("Program %c takes %s a day, soaking included; %s are allowed.", 'A'+i, hours(p.Ends-in.Calendar.From), hours(in.Calendar.window()))})
		}
		if area := m.standing(p); area >= 0 {
			m.bind(Bind{Runoff, area, i, 0, fmt.Sprintf("Stations of program %c wet the same ground of %s one right after the other, faster than it takes water in, and no number of starts keeps them apart: it would run off.", 'A'+i, name(in.Areas[area].Name, area))})
		}
		if n := m.startsOf(p); n > in.Controller.starts() {
			m.bind(Bind{Starts, -1, i, float64(n - in.Controller.starts()), fmt.Sprintf("Program %c needs %d starts a day so that water soaks in; the controller has %d.", 'A'+i, n, in.Controller.starts())})
		}
	}
	if n := len(in.Zones); n > in.Controller.stations() {
		m.bind(Bind{Stations, -1, -1, float64(n - in.Controller.stations()), fmt.Sprintf("There are %d zones; the controller has %d stations.", n, in.Controller.stations())})
	}
	slices.SortStableFunc(m.Binds, func(x, y Bind) int { return order[x.Limit] - order[y.Limit] })
	m.Fits = len(m.Binds) == 0
}

// usedUp says how much of what roots reach an area loses that dries so many inches further
// than it may, since a little is no matter where its soil is known no better.
func (in *Input) usedUp(area, month int, short float64) string {
	a := &in.Areas[area]
	share := (float64(max(a.Available(), a.Need[month])) + short) / float64(a.Holds)
	if share >= 1 {
		return "all that roots reach would be used up, and more"
	}
	return fmt.Sprintf("%s of what roots reach would be used up, where %s may be", in.Show.Percent(units.Ratio(share)), in.Show.Percent(a.Depleted))
}

// startsOf is how many starts a controller needs for a program.
func (m *Month) startsOf(p Program) int {
	n := len(p.Starts)
	if !m.q.in.Controller.Soaks {
		for _, r := range p.Runs {
			n = max(n, r.Cycles)
		}
	}
	return n
}

// standing is an area of which zones that share its slow ground make water run off,
// however far apart the starts are; -1: none.
func (m *Month) standing(p Program) int {
	in := m.q.in
	if in.Controller.Soaks || in.Calendar.Together {
		return -1
	}
	each := make([]int, len(in.Zones))
	for _, r := range p.Runs {
		each[r.Zone] = r.Minutes / r.Cycles
	}
	pass := passOf(in, m.g, each)
	apart, keeps := pass.apart(len(p.Starts))
	if keeps {
		return -1
	}
	return pass.runsOff(len(p.Starts), apart)
}

func (m *Month) bind(b Bind) { m.Binds = append(m.Binds, b) }

func daysOf(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

func hours(minutes int) string {
	if minutes < 60 {
		return fmt.Sprintf("%d min", minutes)
	}
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}

func (m *Month) bound(limit string) bool { return m.count(limit) > 0 }

func (m *Month) count(limit string) int {
	n := 0
	for _, b := range m.Binds {
		if b.Limit == limit {
			n++
		}
	}
	return n
}
