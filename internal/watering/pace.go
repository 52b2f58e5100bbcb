package watering

// Pace is why a run is parted into its cycles.
type Pace struct {
	Zone    int // of Input.Zones, that sets how many; -1: ground that stations share does, and whole minutes
	Minutes int // of a day, of that zone
	Longest int // minutes that it may run at once without running off
	Area    int // of Input.Areas, whose ground that is
}

// PaceOf is what sets the cycles of a run of a program: the station itself where the
// controller parts run times, and where each start runs all stations the one of them that
// asks for most.
func (m *Month) PaceOf(program int, run Run) Pace {
	of := Pace{Zone: -1, Area: -1}
	if m.q == nil { // it was not worked out here
		return of
	}
	in := m.q.in
	runs := m.Programs[program].Runs
	if in.Controller.Soaks || in.Calendar.Together {
		runs = []Run{run}
	}
	for _, r := range runs {
		l := m.g.limits[r.Zone]
		if n := l.cycles(r.Minutes); n >= run.Cycles && l.cycle > 0 && (of.Zone < 0 || r.Zone == run.Zone) {
			of = Pace{r.Zone, r.Minutes, l.cycle, l.area}
		}
	}
	return of
}
