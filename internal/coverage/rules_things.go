package coverage

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const (
	// nearThing is how close to a head a wall or hedge in its stream does harm, in
	// feet (common practice). Trunks have plan.TrunkClear.
	nearThing = 10.0
	// insideArc is how far inside an arc, in degrees, a thing counts as in the
	// throw: one beside the arc's end is missed by turning it a hair. Chosen.
	insideArc = 5.0
)

// thing is something that stands in the throw of heads.
type thing struct {
	ref   plan.Ref
	name  string
	at    orb.Point
	heads []spot
	near  float64 // of the nearest head, in feet
	trunk bool
}

// thingsInThrow finds trunks, walls and hedges that stand in the stream close
// to a head, and things to keep dry that are wetted.
func thingsInThrow(s *survey) []plan.Finding {
	var found []plan.Finding
	for _, t := range append(s.trunks(), s.walls()...) {
		text := fmt.Sprintf("%s stands in the throw of %s, %s away.", plan.Capital(t.name), s.named(t.heads), s.p.Show.Length(units.Feet(t.near)))
		f := plan.Found(plan.ThingInThrow, text, append(refs(t.heads), t.ref)...).Looking(t.at)
		if t.trunk {
			f = s.p.ByRule(f, plan.TrunkClear)
		}
		found = append(found, f)
	}
	for _, t := range s.wetted() {
		text := fmt.Sprintf("%s is to stay dry, but %s %s it.", plan.Capital(t.name), s.named(t.heads), plan.Choose(len(t.heads), "wets", "wet"))
		found = append(found, plan.Found(plan.ThingInThrow, text, append(refs(t.heads), t.ref)...).Looking(t.at))
	}
	return found
}

// add puts a head into whose throw the thing stands.
func (t *thing) add(h spot, distance float64) {
	if len(t.heads) == 0 || distance < t.near {
		t.near = distance
	}
	t.heads = append(t.heads, h)
}

func (s *survey) trunks() []thing {
	var out []thing
	clear := s.rule(plan.TrunkClear)
	for _, id := range plan.SortedIDs(s.p.Trees) {
		tree := s.p.Trees[id]
		if !tree.Status.Stands() {
			continue
		}
		t := thing{ref: plan.RefTo("trees", id), name: nameOr(tree.Name, "the tree"), at: orb.Point{float64(tree.X), float64(tree.Y)}, trunk: true}
		for h := range s.near(t.at, clear) {
			if d := apart(h.at, t.at); d < min(clear, h.throw()) && h.faces(t.at, -insideArc) {
				t.add(*h, d)
			}
		}
		if len(t.heads) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// walls are barriers that cut through the ground a head waters. One along the
// edge of an area is no obstacle but its end.
func (s *survey) walls() []thing {
	var out []thing
	for _, id := range plan.SortedIDs(s.p.Barriers) {
		b := s.p.Barriers[id]
		if !b.Status.Stands() {
			continue
		}
		line := b.Line.Points()
		t := thing{ref: plan.RefTo("barriers", id), name: nameOr(b.Name, "the "+string(b.Kind))}
		for h := range s.inside(orb.MultiPoint(line).Bound().Pad(nearThing)) {
			d, foot, _ := geom.DistanceToEdge(h.at, line)
			if d <= 0 || d >= min(nearThing, h.throw()) || !h.faces(foot, -insideArc) {
				continue
			}
			if float64(b.HeightFt) > h.heightAt(d) && s.cuts(*h, foot, d) {
				if len(t.heads) == 0 || d < t.near {
					t.at = foot
				}
				t.add(*h, d)
			}
		}
		if len(t.heads) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// heightAt is how high the head's stream flies at a distance, in feet: it leaves
// the top of the popped-up body.
func (h *spot) heightAt(x float64) float64 {
	return streamHeight(float64(h.body.Height.Feet()), float64(h.nozzle.Trajectory), h.throw(), x)
}

// cuts reports whether the ground on both sides of a barrier's place is the
// area that the head waters.
func (s *survey) cuts(h spot, foot orb.Point, d float64) bool {
	for _, at := range []orb.Point{towards(h.at, foot, max(d-1, 0)), towards(h.at, foot, d+1)} {
		if top := s.surfaceAt(at); top == nil || top.id != h.reading.Area {
			return false
		}
	}
	return true
}

// wetRate is the rate from which a thing to keep dry counts as wetted, in
// inches an hour: a hundredth, the least that the map prints.
const wetRate = 0.01

func (s *survey) wetted() []thing {
	var out []thing
	for _, id := range plan.SortedIDs(s.p.KeepDry) {
		k := s.p.KeepDry[id]
		if !k.Status.Stands() {
			continue
		}
		t := thing{ref: plan.RefTo("keep_dry", id), name: nameOr(k.Name, "a thing to keep dry"), at: orb.Point{float64(k.X), float64(k.Y)}}
		radius := k.Radius()
		if !s.wetAround(t.at, float64(radius)) {
			continue
		}
		for h := range s.near(t.at, s.reaches+float64(radius)) {
			if d := apart(h.at, t.at); d < h.throw()+float64(radius) && h.faces(t.at, insideArc) {
				t.add(*h, d)
			}
		}
		if len(t.heads) > 0 {
			out = append(out, t)
		}
	}
	return out
}

func (s *survey) wetAround(at orb.Point, radius float64) bool {
	if s.rateOn(at) >= wetRate {
		return true
	}
	for i := range 8 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 4)
		if s.rateOn(orb.Point{at[0] + float64(radius*cos), at[1] + float64(radius*sin)}) >= wetRate {
			return true
		}
	}
	return false
}

func nameOr(name, other string) string {
	if name == "" {
		return other
	}
	return name
}
