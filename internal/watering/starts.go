package watering

// Where every start of a controller runs all stations of a program one after the other,
// what one has put on slow ground may still stand there when the next puts more on it.
// Whether that runs off is modelled: water stands as far as it comes faster than the
// ground takes it in, and goes on soaking in while others run.

// pass is one start of a program: minutes of each zone, in the order of the stations.
type pass struct {
	in      *Input
	g       ground
	minutes []int
	length  int
	begin   []int // by zone, after the start
}

func passOf(in *Input, g ground, minutes []int) *pass {
	p := &pass{in: in, g: g, minutes: minutes, begin: make([]int, len(minutes))}
	for z, m := range minutes {
		p.begin[z] = p.length
		p.length += m
	}
	return p
}

// apart is the least minutes from one of so many starts to the next so that each station
// has soaked in full (60·ASA/IR) before it runs again, and no water that zones share
// the ground of runs off; false where it does however far apart they are.
func (p *pass) apart(starts int) (int, bool) {
	least, most := p.length, p.length
	for z, m := range p.minutes {
		if m > 0 && starts > 1 && p.g.limits[z].cycle > 0 {
			least = max(least, m+p.g.limits[z].soak)
			most = max(most, p.length+p.g.limits[z].soak)
		}
	}
	for apart := least; apart <= max(least, most); apart++ {
		if p.runsOff(starts, apart) < 0 {
			return apart, true
		}
	}
	return least, false
}

// runsOff is the first area that zones share the slow ground of and on which more stands
// than may; -1: none.
func (p *pass) runsOff(starts, apart int) int {
	for i := range p.in.Areas {
		shared := 0
		for z, m := range p.minutes {
			if m > 0 && p.g.share[i][z] {
				shared++
			}
		}
		if shared > 1 && !p.soaksIn(i, starts, apart) {
			return i
		}
	}
	return -1
}

// soaksIn plays what stands on an area. A run of a minute is the shortest there is, so
// what that leaves is no fault of the starts.
func (p *pass) soaksIn(area, starts, apart int) bool {
	a := &p.in.Areas[area]
	stands, last := 0.0, 0
	for s := range starts {
		for z, m := range p.minutes {
			rate := p.g.rate[area][z]
			if m == 0 || rate == 0 {
				continue
			}
			from := s*apart + p.begin[z]
			stands = max(0, stands-float64(a.Intake)*float64(from-last)/60)
			stands = max(0, stands+(rate-float64(a.Intake))*float64(m)/60)
			if last = from + m; stands > max(float64(a.Surface), (rate-float64(a.Intake))/60)+1e-9 {
				return false
			}
		}
	}
	return true
}

// startsFor is how many starts a program of minutes of a day takes so that nothing runs
// off: those of the longest cycles, and more where zones share slow ground and more of
// them help.
func (in *Input) startsFor(g ground, minutes []float64) int {
	starts, most := 1, 1
	for z, m := range minutes {
		if m > 0 {
			starts, most = max(starts, g.limits[z].cycles(int(m))), max(most, int(m))
		}
	}
	each := make([]int, len(minutes))
	for n := starts; n <= min(most, 2*starts+2); n++ {
		for z, m := range minutes {
			each[z] = int(up(m / float64(n)))
		}
		if _, keeps := passOf(in, g, each).apart(n); keeps {
			return n
		}
	}
	return starts
}

// byStarts is the timetable of a program whose every start runs all its stations one
// after the other, a cycle each.
func byStarts(in *Input, minutes []int, starts int, g ground) (steps []Step, at []int) {
	apart, _ := passOf(in, g, minutes).apart(starts)
	for s := range starts {
		t := in.Calendar.From + s*apart
		at = append(at, t)
		for z, m := range minutes {
			if m > 0 {
				steps = append(steps, Step{z, t, t + m})
				t += m
			}
		}
	}
	return steps, at
}
