package watering

import "evenfall/internal/units"

// Step is one run of one station.
type Step struct {
	Zone        int // of Input.Zones
	From, Until int // minutes after midnight of the day the program starts
}

// waiting is a station of a timetable with its cycles to come.
type waiting struct {
	zone, left, cycles int
	ready              int // when it may run: its ground has soaked
}

// interleaved is the timetable in which stations fill each other's soaking: of those
// ready, the one goes first that has most left to do, soaking counted. Side by side they
// run as far as the flow goes.
func interleaved(in *Input, minutes []int, g ground) (steps []Step, end int) {
	var queue []*waiting
	total := 0
	for z, m := range minutes {
		if total += m; m > 0 {
			queue = append(queue, &waiting{z, m, g.limits[z].cycles(m), in.Calendar.From})
		}
	}
	ground := &stood{in: in, g: g, at: in.Calendar.From}
	if total <= hopelessDay {
		ground.inches = make([]float64, len(in.Areas))
	}
	var running []Step
	now := in.Calendar.From
	for len(queue) > 0 || len(running) > 0 {
		for len(queue) > 0 {
			next := choose(in, queue, running, ground, now, g)
			if next < 0 {
				break
			}
			w := queue[next]
			m := (w.left + w.cycles - 1) / w.cycles
			s := Step{w.zone, now, now + m}
			running, steps = append(running, s), append(steps, s)
			ground.running = append(ground.running, s)
			w.left, w.cycles = w.left-m, w.cycles-1
			if w.left == 0 {
				queue = append(queue[:next], queue[next+1:]...)
			}
			if g.limits[w.zone].cycle > 0 {
				w.ready = s.Until + g.limits[w.zone].soak
			}
		}
		now, running = advance(queue, running, now)
		end = max(end, now)
	}
	for _, s := range steps {
		end = max(end, s.Until)
	}
	return steps, end
}

// choose is the index of the station to start now; -1 when none may. One that would make
// water run off that others left on ground they share is told when it may.
func choose(in *Input, queue []*waiting, running []Step, stands *stood, now int, g ground) int {
	flow := units.GPM(0)
	for _, s := range running {
		flow += in.Zones[s.Zone].Flow
	}
	best, most := -1, -1
	for i, w := range queue {
		if w.ready > now || len(running) > 0 && (!in.Calendar.Together || flow+in.Zones[w.zone].Flow > in.Calendar.Flow+1e-9) {
			continue
		}
		free := true
		for _, s := range running {
			free = free && s.Zone != w.zone && !g.follow[w.zone][s.Zone]
		}
		left := w.left + (w.cycles-1)*g.limits[w.zone].soak
		if !free || left <= most {
			continue
		}
		if w.ready = stands.soaked(Step{w.zone, now, now + (w.left+w.cycles-1)/w.cycles}); w.ready <= now {
			best, most = i, left
		}
	}
	return best
}

// advance goes on to when the next station ends or is ready.
func advance(queue []*waiting, running []Step, now int) (int, []Step) {
	next := -1
	sooner := func(t int) {
		if t > now && (next < 0 || t < next) {
			next = t
		}
	}
	for _, s := range running {
		sooner(s.Until)
	}
	for _, w := range queue {
		sooner(w.ready)
	}
	if next < 0 {
		return now, nil
	}
	var still []Step
	for _, s := range running {
		if s.Until > next {
			still = append(still, s)
		}
	}
	return next, still
}
