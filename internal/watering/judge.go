package watering

import (
	"context"
	"fmt"

	"evenfall/internal/units"
)

// Limits that a program can run into.
const (
	Hours    = "hours"    // a day is too short
	Soil     = "soil"     // the days are too far apart for what the soil holds
	Reach    = "reach"    // an area does not get its need from anything allowed
	Starts   = "starts"   // more cycles than the controller has starts
	Stations = "stations" // more zones than the controller has stations
)

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
			m.bind(Bind{Reach, i, -1, a.lack[i], fmt.Sprintf("%s gets %.2f in less than it needs in %d days.", title, a.lack[i], len(in.Calendar.Days))})
		case a.short[i] > 10*kept:
			m.bind(Bind{Soil, i, -1, a.short[i], fmt.Sprintf("The soil of %s lasts %s; the days allowed are further apart, and it would dry %.2f in further than it may.", title, daysOf(in.Areas[i].Interval(m.Month)), a.short[i])})
		}
	}
	for i, p := range m.Programs {
		if over := p.Ends - in.Calendar.Until; over > 0 {
			m.bind(Bind{Hours, -1, i, float64(over), fmt.Sprintf("Program %c takes %s a day, soaking included; %s are allowed.", 'A'+i, hours(p.Ends-in.Calendar.From), hours(in.Calendar.window()))})
		}
		if n := len(p.Starts); n > in.Controller.starts() {
			m.bind(Bind{Starts, -1, i, float64(n - in.Controller.starts()), fmt.Sprintf("Program %c needs %d starts a day so that water soaks in; the controller has %d.", 'A'+i, n, in.Controller.starts())})
		}
	}
	if n := len(in.Zones); n > in.Controller.stations() {
		m.bind(Bind{Stations, -1, -1, float64(n - in.Controller.stations()), fmt.Sprintf("There are %d zones; the controller has %d stations.", n, in.Controller.stations())})
	}
	m.Fits = len(m.Binds) == 0
}

func (m *Month) bind(b Bind) { m.Binds = append(m.Binds, b) }

func daysOf(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

func hours(minutes int) string { return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60) }

// Ease is a limit made wider so that the program fits.
type Ease struct {
	Day     int           // of the cycle, allowed as well; -1: none
	Minutes int           // more of each day
	Side    bool          // stations side by side within the design flow
	Fits    bool          // by itself; otherwise it only helps
	Over    int           // minutes that are then left over
	Gallons units.Gallons // of a cycle
	Says    string
}

// ease tries what would make a program fit that runs out of hours or of days: longer
// hours, one more day, stations side by side. Each is worked out in full.
func (m *Month) ease(ctx context.Context, in *Input, fields []*field, limits []limit, follow [][]bool) error {
	byHours, bySoil := m.bound(Hours), m.bound(Soil)
	if !byHours && !bySoil {
		return nil
	}
	if byHours && m.Over+in.Calendar.window() <= 24*60 {
		m.Eases = append(m.Eases, Ease{Day: -1, Minutes: m.Over, Fits: len(m.Binds) == m.count(Hours), Gallons: m.Gallons,
			Says: fmt.Sprintf("Hours longer by %s a day.", hours(m.Over))})
	}
	try := func(e Ease, wider Calendar) error {
		other := *in
		other.Calendar = wider
		n, err := other.search(ctx, fields, m.Month, limits, follow)
		if err != nil {
			return err
		}
		e.Fits, e.Over, e.Gallons = n.Fits, n.Over, n.Gallons
		if !n.Fits && !(n.Over < m.Over) {
			return nil
		}
		if !n.Fits {
			e.Says += " It helps, but is not enough by itself."
		}
		m.Eases = append(m.Eases, e)
		return nil
	}
	for _, d := range apart(in.Calendar.Days) {
		wider := in.Calendar
		wider.Days = append([]bool(nil), wider.Days...)
		wider.Days[d] = true
		if err := try(Ease{Day: d, Says: fmt.Sprintf("One more day, %s.", dayName(d, len(wider.Days)))}, wider); err != nil {
			return err
		}
		if m.Eases != nil && m.Eases[len(m.Eases)-1].Fits && m.Eases[len(m.Eases)-1].Day == d {
			break
		}
	}
	if byHours && !in.Calendar.Together && in.Calendar.Flow > 0 && in.side() {
		wider := in.Calendar
		wider.Together = true
		return try(Ease{Day: -1, Side: true, Says: "Stations side by side as far as the design flow goes."}, wider)
	}
	return nil
}

// side reports whether any two stations can run side by side, and each by itself.
func (in *Input) side() bool {
	any := false
	for i, z := range in.Zones {
		if z.Flow > in.Calendar.Flow {
			return false
		}
		for _, y := range in.Zones[:i] {
			any = any || z.Flow+y.Flow <= in.Calendar.Flow
		}
	}
	return any
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

// apart lists the days not allowed, those furthest from any allowed one first: of these
// at most two are worth trying.
func apart(allowed []bool) []int {
	n := len(allowed)
	var days []int
	for want := n; want > 0 && len(days) < 2; want-- {
		for d := range allowed {
			if !allowed[d] && len(days) < 2 && away(allowed, d) == want {
				days = append(days, d)
			}
		}
	}
	return days
}

func away(allowed []bool, d int) int {
	n := len(allowed)
	for k := 1; k < n; k++ {
		if allowed[(d+k)%n] || allowed[(d+n-k)%n] {
			return k
		}
	}
	return n
}

var weekdays = [7]string{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"}

// dayName is a weekday where the cycle is a week, and a number elsewhere.
func dayName(d, days int) string {
	if days == 7 {
		return weekdays[d]
	}
	return fmt.Sprintf("day %d of %d", d+1, days)
}
