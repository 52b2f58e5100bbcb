package pressure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenfall/internal/hydraulics"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const (
	// ratedShare is the part of its rating that pipe under constant pressure may
	// stand at: New Mexico State University, Soils 456, notes chapter 8, which also
	// holds pressure and surge together to the rating.
	ratedShare = 0.72
	// closing is the time in which a diaphragm valve shuts at the fastest, 1 to 3 s
	// by common practice.
	closing units.Seconds = 1
)

// load is what a pipe of the main has to bear.
type load struct {
	pipe          plan.ID
	rating        units.PSI
	rest          units.PSI // with nothing running, at its lower end, on the day of the highest reading
	slow, instant units.PSI // rest and surge
}

// rated holds the pipes of the main, which stand under pressure all the time, to
// their ratings: by the figures, not by the name of the class. What is behind a
// valve stands under less, and only while it runs.
func (w *water) rated(r *Result) []plan.Finding {
	var resting, slow, instant []load
	for _, l := range w.loads(r) {
		switch {
		case l.rest > ratedShare*l.rating+roundPSI:
			resting = append(resting, l)
		case l.slow > l.rating+roundPSI:
			slow = append(slow, l)
		case l.instant > l.rating+roundPSI:
			instant = append(instant, l)
		}
	}
	bear := slices.Concat(resting, slow, instant)
	if len(bear) == 0 {
		return nil
	}
	about := make([]plan.Ref, len(bear))
	for i, l := range bear {
		about[i] = plan.RefTo("pipes", l.pipe)
	}
	kind := resting // the worst kind there is
	if len(kind) == 0 {
		kind = slow
	}
	if len(kind) == 0 {
		kind = instant
	}
	worst := slices.MaxFunc(kind, func(a, b load) int { return cmp.Compare(a.instant-a.rating, b.instant-b.rating) })
	f := plan.Found(plan.ClassUnderPressure, w.bears(worst, len(resting) > 0, len(slow) > 0, len(bear)), about...).
		Looking(w.middle(worst.pipe)).Measured("rating_psi", float64(worst.rating)).Measured("rest_psi", float64(worst.rest))
	if len(resting)+len(slow) == 0 {
		f = f.Ranked(plan.Notice)
		f.Title = "Instant stop over the pipe's rating"
	}
	return []plan.Finding{f}
}

// bears tells the worst of the loads.
func (w *water) bears(l load, resting, slow bool, n int) string {
	rating := w.sys.NominalPressure(l.rating)
	pipes := plan.Plural(n, "pipe", "pipes") + " of the main"
	switch {
	case resting:
		return fmt.Sprintf("%s %s up to %s with nothing running, more than 72 %% of the rating of %s.", pipes, plan.Choose(n, "stands at", "stand at"), w.sys.Pressure(l.rest), rating)
	case slow:
		return fmt.Sprintf("A valve that shuts in a second takes %s to %s, over the rating of %s; an instant stop would take it to %s.", pipes, w.sys.Pressure(l.slow), rating, w.sys.Pressure(l.instant))
	}
	return fmt.Sprintf("An instant stop would take %s to %s, over the rating of %s; a valve that shuts in a second takes it to %s.", pipes, w.sys.Pressure(l.instant), rating, w.sys.Pressure(l.slow))
}

// loads are what the sized pipes of the main bear, by id.
func (w *water) loads(r *Result) []load {
	rest, known := w.highestRest()
	if !known {
		return nil
	}
	fastest := map[plan.ID]units.FeetPerSecond{}
	for _, z := range r.Zones {
		for _, f := range z.Pipes {
			fastest[f.Pipe] = max(fastest[f.Pipe], units.FeetPerSecond(math.Abs(float64(f.Velocity))))
		}
	}
	way := w.farthestValve()
	var out []load
	for _, id := range w.mains {
		e := w.net.Pipes[id]
		if e.Size.Rating <= 0 || e.Size.Wall <= 0 {
			continue
		}
		l := load{pipe: id, rating: e.Size.Rating, rest: rest - min(riseTo(w, e.From), riseTo(w, e.To))}
		l.instant = l.rest + hydraulics.Surge(fastest[id], e.Size.Outside, e.Size.Wall, e.Class.ModulusPSI)
		l.slow = l.rest + hydraulics.SlowSurge(fastest[id], way, e.Size.Outside, e.Size.Wall, e.Class.ModulusPSI, closing)
		out = append(out, l)
	}
	return out
}

// highestRest is the pressure at the connection with nothing running on the day of
// the highest reading; a regulator holds it down.
func (w *water) highestRest() (units.PSI, bool) {
	s := w.p.Supply
	rest := s.StaticPSI
	for _, reading := range s.Statics {
		rest = max(rest, reading.PSI)
	}
	for _, point := range s.Pump {
		rest = max(rest, point.PSI)
	}
	if behindRegulator(s) {
		rest = min(rest, s.RegulatorPSI)
	}
	return rest, rest > 0
}

// farthestValve is the longest way along the main from the connection to a valve.
func (w *water) farthestValve() units.Feet {
	far := map[plan.ID]units.Feet{}
	longest := units.Feet(0)
	for _, id := range w.net.Order {
		if up := w.net.Nodes[id].Up; up != "" {
			e := w.net.Pipes[up]
			far[id] = far[e.From] + e.Length
		}
		if w.valves[id] != "" {
			longest = max(longest, far[id])
		}
	}
	return longest
}
