package coverage

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const (
	// insideWall is how far inside a building a sensor is drawn, in feet, before it is
	// taken to be under its roof and not on its wall. Chosen.
	insideWall = 1.0
	// eaves are how far a roof commonly stands out past the wall, in feet, and
	// eavesUp how high it hangs at least (common practice, from memory). A sensor
	// that is said to hang higher is on the roof or its edge.
	eaves   = 2.0
	eavesUp = 8.0
	// stripUp is how high the water of a strip nozzle flies at most, in feet. Chosen.
	stripUp = 3.0
	// lowSensor is the height under which a sensor is reached by feet, snow, mowers
	// and other water, in feet (common practice, from memory).
	lowSensor = 5.0
)

// sensing is a rain sensor with its place.
type sensing struct {
	plan.Sensor
	ref plan.Ref
	at  orb.Point
}

// over reports whether the sensor is said to hang higher than so many feet.
func (r *sensing) over(feet float64) bool { return r.HeightFt != nil && float64(*r.HeightFt) >= feet }

// sensorPlaces finds rain sensors that are watered, or that rain does not reach. Of
// each what comes first is told.
func sensorPlaces(s *survey) []plan.Finding {
	var found []plan.Finding
	for _, id := range plan.SortedIDs(s.p.Sensors) {
		r := &sensing{s.p.Sensors[id], plan.RefTo("sensors", id), orb.Point{}}
		if r.Kind != "rain" || !r.Status.Stands() {
			continue
		}
		r.at = orb.Point{float64(r.X), float64(r.Y)}
		for _, look := range []func(*sensing) (plan.Finding, bool){s.underRoof, s.inThrow, s.underTree, s.underEaves, s.lowDown} {
			if f, ok := look(r); ok {
				found = append(found, f.Looking(r.at))
				break
			}
		}
	}
	return found
}

// underRoof tells of a sensor drawn inside a building, and not said to be on its roof.
func (s *survey) underRoof(r *sensing) (plan.Finding, bool) {
	top := s.surfaceAt(r.at)
	if top == nil || top.Kind != plan.Building || top.edgeDistance(r.at) <= insideWall || r.over(eavesUp) {
		return plan.Finding{}, false
	}
	text := fmt.Sprintf("The rain sensor is drawn inside %s: unless it stands on the roof, no rain falls on it.", s.p.AreaName(top.id))
	return plan.Found(plan.SensorWetted, text, r.ref, plan.RefTo("areas", top.id)).Ranked(plan.Notice), true
}

// inThrow tells of a sensor in the throw of heads: those that put water on its place,
// and not under the sensor where its height is said.
func (s *survey) inThrow(r *sensing) (plan.Finding, bool) {
	if s.rateOn(r.at) < wetRate {
		return plan.Finding{}, false
	}
	var wet []spot
	for h := range s.near(r.at, max(s.reaches, s.stripReach)) {
		away := apart(h.at, r.at)
		switch {
		case h.strip() && h.wets(r.at) && !r.over(stripUp):
		case !h.strip() && away < h.throw() && h.faces(r.at, insideArc) && !r.over(h.heightAt(away)):
		default:
			continue
		}
		wet = append(wet, *h)
	}
	if len(wet) == 0 {
		return plan.Finding{}, false
	}
	text := fmt.Sprintf("The rain sensor %s stands in the throw of %s, which %s %s on it.", OnSurface(s.p, s.surfaceIDAt(r.at)), s.named(wet),
		plan.Choose(len(wet), "puts", "put"), s.p.Show.Rate(units.InchesPerHour(s.rateOn(r.at))))
	return plan.Found(plan.SensorWetted, text, append(refs(wet), r.ref)...), true
}

// underTree tells of a sensor under a tree: inside its root zone, which is taken to
// end where its leaves do.
func (s *survey) underTree(r *sensing) (plan.Finding, bool) {
	tree, away := s.rootsAt(r.at)
	if tree == "" {
		return plan.Finding{}, false
	}
	text := fmt.Sprintf("The rain sensor stands under %s, %s from its trunk: leaves hold the rain off, and drip when it is over.", nameOr(s.p.Trees[tree].Name, "a tree"), s.p.About(units.Feet(away)))
	f := plan.Found(plan.SensorWetted, text, r.ref, plan.RefTo("trees", tree))
	f.Title = "Rain sensor under a tree"
	f.Source = "Inside the drip line, taken as the root zone: common practice"
	return f, true
}

// underEaves tells of a sensor at a wall, that is said to hang lower than eaves do.
func (s *survey) underEaves(r *sensing) (plan.Finding, bool) {
	if r.HeightFt == nil || r.over(eavesUp) {
		return plan.Finding{}, false
	}
	for i := range s.lands {
		l := &s.lands[i]
		if l.Kind != plan.Building || !l.bound.Pad(eaves).Contains(r.at) || l.edgeDistance(r.at) > eaves {
			continue
		}
		text := fmt.Sprintf("The rain sensor hangs %s up at the wall of %s: eaves over it would keep the rain off.", s.p.Show.Length(*r.HeightFt), s.p.AreaName(l.id))
		f := plan.Found(plan.SensorWetted, text, r.ref, plan.RefTo("areas", l.id)).Ranked(plan.Notice)
		f.Title = "Rain sensor under eaves"
		f.Do = "Hang it on the edge of the roof, or where the roof ends short of it; if no eaves stand out there, accept this."
		f.Source = "Eaves stand out {2 ft} and hang {8 ft} up or higher: common practice"
		return f, true
	}
	return plan.Finding{}, false
}

// lowDown tells of a sensor that is said to hang too low.
func (s *survey) lowDown(r *sensing) (plan.Finding, bool) {
	if r.HeightFt == nil || r.over(lowSensor) {
		return plan.Finding{}, false
	}
	text := fmt.Sprintf("The rain sensor is %s over the ground.", s.p.Show.Length(*r.HeightFt))
	f := plan.Found(plan.SensorWetted, text, r.ref).Ranked(plan.Notice)
	f.Title = "Rain sensor low down"
	f.Why = "So low it is knocked, grown over and snowed in, and hoses and other water wet it."
	f.Do = "Hang it out of reach, at least {5 ft} up, where rain falls freely."
	f.Source = "At least {5 ft} over the ground: common practice"
	return f, true
}
