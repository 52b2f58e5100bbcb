package watering

import (
	"context"
	"fmt"
	"slices"

	"evenfall/internal/units"
)

// Ease is a limit made wider so that the program fits, or fits more nearly.
type Ease struct {
	Day     int           // of the cycle, allowed as well; -1: none, or more than one
	Days    []int         // all days allowed as well
	Every   int           // days from one watering to the next, where the calendar is that; 0: as it is
	Minutes int           // more of each day
	Side    bool          // stations side by side within the design flow
	Soaks   bool          // a controller that parts run times into cycles by itself
	Fits    bool          // by itself; otherwise it only helps
	Over    int           // minutes that are then left over
	Gallons units.Gallons // of a cycle of the calendar as it is
	Says    string
}

// easing tries what would make a program fit that does not.
type easing struct {
	ctx    context.Context
	in     *Input
	fields []*field
	g      ground
	m      *Month
	tell   progress
	tried  int
}

// easeMost is how many eases are tried at most, each by a search of its own.
const easeMost = 6

// ease tries what would make a program fit that runs out of hours, of days or of starts:
// longer hours, one more day, a controller that soaks, stations side by side, and where
// none of them is enough a day with longer hours. Each is worked out in full.
func (m *Month) ease(ctx context.Context, in *Input, fields []*field, g ground, tell progress) error {
	e := &easing{ctx: ctx, in: in, fields: fields, g: g, m: m, tell: tell}
	byHours, bySoil, byStarts := m.bound(Hours), m.bound(Soil), m.bound(Starts) || m.bound(Runoff)
	if !byHours && !bySoil && !byStarts {
		return nil
	}
	if byHours {
		e.longer(m.Over, len(m.Binds) == m.count(Hours), Ease{Day: -1, Gallons: m.Gallons})
	}
	if !in.Controller.Soaks && !in.Calendar.Together && byStarts {
		other := *in
		other.Controller.Soaks = true
		if _, err := e.try(Ease{Day: -1, Soaks: true, Says: "A controller that parts run times into cycles by itself, with the soak between them said."}, &other); err != nil {
			return err
		}
	}
	if byHours || bySoil {
		if err := e.days(); err != nil {
			return err
		}
	}
	if byHours && !in.Calendar.Together && in.Calendar.Flow > 0 && in.side() {
		other := *in
		other.Calendar.Together = true
		_, err := e.try(Ease{Day: -1, Side: true, Says: "Stations side by side as far as the design flow goes."}, &other)
		return err
	}
	return nil
}

// days tries one more day, then two, then all; with longer hours where that is not enough.
func (e *easing) days() error {
	var best *Month
	var by moreDays
	more := e.moreDays(e.in.Calendar)
	for len(more) > 0 {
		var next *Month
		var with moreDays
		for _, m := range more {
			other := *e.in
			other.Calendar.Days = m.days
			n, err := e.try(m.ease, &other)
			if err != nil {
				return err
			}
			if n.Fits {
				return nil
			}
			if next == nil || n.nearer(next) {
				next, with = n, m
			}
		}
		if best != nil { // two are enough to try
			if next.nearer(best) {
				best, by = next, with
			}
			break
		}
		if best, by = next, with; by.ease.Day < 0 || !best.bound(Soil) {
			break
		}
		more = e.moreDays(Calendar{Days: by.days})
		for i := range more {
			d := more[i].ease.Day
			n := len(by.days)
			more[i].ease = Ease{Day: -1, Days: []int{by.ease.Day, d}, Says: fmt.Sprintf("Two more days, %s and %s.", DayName(min(d, by.ease.Day), n), DayName(max(d, by.ease.Day), n))}
		}
	}
	if best != nil && best.bound(Soil) {
		if fits, err := e.everyDay(by.days); fits || err != nil {
			return err
		}
	}
	if best == nil || !best.bound(Hours) || best.Over >= e.m.Over {
		return nil
	}
	// Hours so much longer can lead to another program; it has to fit as well.
	other := *e.in
	other.Calendar.Days = by.days
	over := best.Over
	for range 2 {
		if other.Calendar.Until = e.in.Calendar.Until + over; other.Calendar.window() > 24*60 {
			return nil
		}
		n, err := other.search(e.ctx, e.fields, e.m.Month, e.g, quick, e.tell.part(95, 100))
		if err != nil {
			return err
		}
		if n.Fits || !n.bound(Hours) {
			by.ease.Gallons = e.ofCycle(n.Gallons, len(by.days))
			e.longer(over, n.Fits, by.ease)
			return nil
		}
		over += n.Over
	}
	return nil
}

// everyDay tries all days, where the soil lasts so short that no day or two more do; by
// are those tried before.
func (e *easing) everyDay(by []bool) (fits bool, err error) {
	if n := len(by); n == 1 || !slices.Contains(by, false) {
		return false, nil
	}
	other := *e.in
	other.Calendar.Days = make([]bool, len(by))
	ease := Ease{Day: -1, Says: "Every day."}
	if e.in.Calendar.Every() > 0 {
		other.Calendar.Days, ease.Every = every(1), 1
	}
	for d := range other.Calendar.Days {
		if other.Calendar.Days[d] = true; ease.Every == 0 && !e.in.Calendar.Days[d] {
			ease.Days = append(ease.Days, d)
		}
	}
	m, err := e.try(ease, &other)
	return err == nil && m.Fits, err
}

// ofCycle is the water of another cycle in one of the calendar as it is.
func (e *easing) ofCycle(v units.Gallons, days int) units.Gallons {
	return v * units.Gallons(len(e.in.Calendar.Days)) / units.Gallons(days)
}

type moreDays struct {
	days []bool
	ease Ease
}

func (e *easing) moreDays(c Calendar) (all []moreDays) {
	days := c.Days
	if n := c.Every(); n > 0 {
		for k := n - 1; k > 0 && len(all) < 2; k-- {
			says := fmt.Sprintf("Every %d days.", k)
			if k == 1 {
				says = "Every day."
			}
			all = append(all, moreDays{every(k), Ease{Day: -1, Every: k, Says: says}})
		}
		return all
	}
	for _, d := range apart(days) {
		more := append([]bool(nil), days...)
		more[d] = true
		all = append(all, moreDays{more, Ease{Day: d, Days: []int{d}, Says: fmt.Sprintf("One more day, %s.", DayName(d, len(days)))}})
	}
	return all
}

// longer notes that hours longer by so much would do, with what else is eased.
func (e *easing) longer(minutes int, fits bool, by Ease) {
	c := e.in.Calendar
	if minutes+c.window() > 24*60 {
		return
	}
	by.Minutes, by.Fits, by.Over = minutes, fits, 0
	if by.Says != "" {
		by.Says = by.Says[:len(by.Says)-1] + ", and hours"
	} else {
		by.Says = "Hours"
	}
	by.Says += fmt.Sprintf(" longer by %s a day: %s to %s.", hours(minutes), Clock(c.From), Clock(c.Until+minutes))
	e.keep(by)
}

// try works out a program by wider limits, and keeps the ease if it helps.
func (e *easing) try(by Ease, wider *Input) (*Month, error) {
	n, err := wider.search(e.ctx, e.fields, e.m.Month, e.g, quick, e.tell.part(100*e.tried/easeMost, 100*(e.tried+1)/easeMost))
	if err != nil {
		return nil, err
	}
	e.tried++
	by.Fits, by.Over = n.Fits, n.Over
	by.Gallons = e.ofCycle(n.Gallons, len(wider.Calendar.Days))
	if n.Fits || n.nearer(e.m) {
		e.keep(by)
	}
	return n, nil
}

func (e *easing) keep(by Ease) {
	if !by.Fits {
		by.Says += " It helps, but is not enough by itself."
	}
	e.m.Eases = append(e.m.Eases, by)
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

// Clock is a time of the day, "06:07", from minutes after midnight, of the next day past
// it.
func Clock(minutes int) string { return fmt.Sprintf("%02d:%02d", minutes/60%24, minutes%60) }
