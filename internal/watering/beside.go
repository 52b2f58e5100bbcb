package watering

import (
	"fmt"
	"slices"
	"strings"
)

// Beside is two stations that run at the same time.
type Beside struct {
	Zones       [2]int // of Input.Zones, the lower station first
	From, Until int    // minutes after midnight of the day the program starts
}

// Beside lists the stations of a program that run at the same time, by when they begin
// to; none where they run in turn.
func (p Program) Beside(in *Input) []Beside {
	var all []Beside
	for i, s := range p.Steps {
		for _, o := range p.Steps[:i] {
			from, until := max(s.From, o.From), min(s.Until, o.Until)
			if from >= until {
				continue
			}
			zones := [2]int{s.Zone, o.Zone}
			if in.Zones[zones[0]].Station > in.Zones[zones[1]].Station {
				zones[0], zones[1] = zones[1], zones[0]
			}
			all = append(all, Beside{zones, from, until})
		}
	}
	slices.SortStableFunc(all, func(x, y Beside) int { return x.From - y.From })
	return all
}

// StartsOf is when a station starts on a day of the program, its cycles each, in minutes
// after midnight.
func (p Program) StartsOf(zone int) []int {
	var at []int
	for _, s := range p.Steps {
		if s.Zone == zone {
			at = append(at, s.From)
		}
	}
	slices.Sort(at)
	return at
}

// BesideSays is what has to be known to key in stations that run side by side, in
// sentences; "" where they run in turn.
func (p Program) BesideSays(in *Input) string {
	all := p.Beside(in)
	if len(all) == 0 {
		return ""
	}
	var pairs []string
	told := map[[2]int]bool{}
	for _, b := range all {
		if told[b.Zones] {
			continue
		}
		told[b.Zones] = true
		pairs = append(pairs, fmt.Sprintf("%d and %d (first from %s to %s)", in.Zones[b.Zones[0]].Station, in.Zones[b.Zones[1]].Station, Clock(b.From), Clock(b.Until)))
	}
	return "Stations that run together: " + strings.Join(pairs, "; ") + ". A controller that opens one valve at a time cannot do this: let stations run in turn for it. One that can must be able to power both valves at once."
}
