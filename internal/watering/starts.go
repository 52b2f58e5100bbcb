package watering

import (
	"math"
	"slices"
)

// Where every start of a controller runs all stations of a program one after the other,
// what one has put on slow ground may still stand there when the next puts more on it.
// Whether that runs off is modelled: water stands as far as it comes faster than the
// ground takes it in, and goes on soaking in while others run.

// hopelessDay is the minutes of a day from which what stands is no longer modelled: two
// days in one, which the hours refuse whatever the ground takes in (chosen).
const hopelessDay = 2 * 24 * 60

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
	if p.length*starts > hopelessDay {
		return least, true
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

// soaksIn reports whether all that is put on an area stays there.
func (p *pass) soaksIn(area, starts, apart int) bool {
	var steps []Step
	for s := range starts {
		for z, m := range p.minutes {
			if m > 0 {
				from := s*apart + p.begin[z]
				steps = append(steps, Step{z, from, from + m})
			}
		}
	}
	_, over := p.g.play(p.in, area, 0, 0, steps)
	return over <= 0
}

// play is what stands on an area at the end of some runs, of which none begins before a
// minute at which so much stands already, and by how much more than may stands at any time
// of them, inches. A run of a minute is the shortest there is, so what that leaves is no
// fault of theirs.
func (g ground) play(in *Input, area int, stands float64, from int, steps []Step) (end, over float64) {
	rate, intake := g.rate[area], float64(in.Areas[area].Intake)
	times := []int{from}
	for _, s := range steps {
		if rate[s.Zone] > 0 {
			times = append(times, s.From, s.Until)
		}
	}
	slices.Sort(times)
	times = slices.Compact(times)
	over = math.Inf(-1)
	for i, from := range times[:len(times)-1] {
		got, fastest := -intake, 0.0
		for _, s := range steps {
			if s.From <= from && from < s.Until {
				got += rate[s.Zone]
				fastest = max(fastest, rate[s.Zone]-intake)
			}
		}
		stands = max(0, stands+got*float64(times[i+1]-from)/60)
		over = max(over, stands-max(float64(in.Areas[area].Surface), fastest/60)-1e-9)
	}
	return stands, over
}

// stood is the water that stands on the areas of a yard at a minute of a timetable.
type stood struct {
	in      *Input
	g       ground
	at      int
	inches  []float64 // by area that zones share slow ground of
	running []Step    // that have not ended by then
}

// goOn goes on to a later minute.
func (s *stood) goOn(now int) {
	if now <= s.at {
		return
	}
	for i := range s.inches {
		var steps []Step
		for _, r := range s.running {
			if s.g.share[i][r.Zone] {
				steps = append(steps, Step{r.Zone, max(r.From, s.at), min(r.Until, now)})
			}
		}
		end, last := s.inches[i], s.at
		if len(steps) > 0 {
			end, _ = s.g.play(s.in, i, end, s.at, steps)
			for _, r := range steps {
				last = max(last, r.Until)
			}
		}
		s.inches[i] = max(0, end-float64(s.in.Areas[i].Intake)*float64(now-last)/60)
	}
	s.at = now
	s.running = slices.DeleteFunc(s.running, func(r Step) bool { return r.Until <= now })
}

// soaked is the minute from which a run may begin so that no ground that its zone shares
// with others runs off, by the runs before it.
func (s *stood) soaked(next Step) int {
	s.goOn(next.From)
	ready := next.From
	for i, inches := range s.inches {
		if !s.g.share[i][next.Zone] {
			continue
		}
		steps := []Step{next}
		for _, r := range s.running {
			if s.g.share[i][r.Zone] {
				steps = append(steps, Step{r.Zone, s.at, r.Until})
			}
		}
		if _, over := s.g.play(s.in, i, inches, s.at, steps); over > 0 {
			ready = max(ready, next.From+int(over/float64(s.in.Areas[i].Intake)*60)+1)
		}
	}
	return ready
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
