package arrange

import (
	"math"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The four shapes that layouts were published for (reference, section 6): each
// alone on a plan without a lot, no lip, no set-backs.
var referenceShapes = []struct {
	name    string
	outline geom.Outline
	holes   []geom.Outline
}{
	{"rectangle 30×20", rect(0, 0, 30, 20), nil},
	{"L 60×45", geom.Outline{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 20}, {X: 30, Y: 20}, {X: 30, Y: 45}, {X: 0, Y: 45}}, nil},
	{"curved lawn", lobed(), []geom.Outline{ellipse(6, 4)}},
	{"strip 60×7", rect(0, 0, 60, 7), nil},
}

// lobed is the curved lawn: r = 28 + 3 cos 2φ + 1.5 sin 3φ.
func lobed() geom.Outline {
	var o geom.Outline
	for i := range 180 {
		a := float64(i) * math.Pi / 90
		r := 28 + 3*math.Cos(2*a) + 1.5*math.Sin(3*a)
		o = append(o, geom.Vertex{X: 40 + r*math.Cos(a), Y: 40 + r*math.Sin(a)})
	}
	return o
}

// ellipse is the bed in the curved lawn's middle.
func ellipse(a, b float64) geom.Outline {
	var o geom.Outline
	for i := range 90 {
		t := float64(i) * math.Pi / 45
		o = append(o, geom.Vertex{X: 40 + a*math.Cos(t), Y: 40 + b*math.Sin(t)})
	}
	return o
}

// referenceStock is what the published layouts were made of: nozzles matched at
// any arc, and when turned down.
var referenceStock = []struct {
	id    plan.ID
	f     catalog.Family
	throw float64
	rate  float64
}{
	{"s8", catalog.Spray, 8, 1.6}, {"s10", catalog.Spray, 10, 1.6}, {"s12", catalog.Spray, 12, 1.6}, {"s15", catalog.Spray, 15, 1.6},
	{"r18", catalog.Stream, 18, 0.5}, {"r24", catalog.Stream, 24, 0.5},
}

// referencePlan is one shape on open ground with the reference's nozzles.
func referencePlan(outline geom.Outline, holes []geom.Outline) *plan.Plan {
	p := noSetBacks(plan.Empty("reference", units.US))
	none := units.Feet(0)
	p.Options.EdgeLipFt, p.Options.WallLipFt = &none, &none
	p.Areas = map[plan.ID]plan.Area{"a": lawn(outline, holes...)}
	p.Nozzles = map[plan.ID]catalog.Nozzle{}
	p.Bodies = map[plan.ID]catalog.Body{}
	for _, n := range referenceStock {
		p.Nozzles[n.id] = catalog.Nozzle{
			Name: string(n.id), Family: n.f, Source: "reference", ArcLeast: 45, ArcMost: 360, FlowFollowsArc: true,
			Trajectory: 25, Profile: catalog.Profile{Kind: catalog.ProfileLinear},
			TurnDown: catalog.TurnDown{UsualShare: 0.75, LeastShare: 0.5, FlowPower: 2}, BestPSI: 30, Thread: catalog.SprayThread,
			Rows: []catalog.Row{{Pressure: 30, Throw: units.Feet(n.throw), Flow: units.GPM(n.rate * n.throw * n.throw / 96.25)}},
		}
	}
	return p
}

// referenceOptions are the settings the published figures hold for.
func referenceOptions(f catalog.Family, past units.Ratio) Options {
	o := Options{
		Families: []catalog.Family{f}, Hard: past, Bare: past, Other: past,
		AngleStep: 5, ThrowStep: 0.5, TidyWithin: 0.03, Seed: 1, Effort: Usual().Effort,
	}
	for _, n := range referenceStock {
		if n.f == f {
			o.Stock = append(o.Stock, n.id)
		}
	}
	return o
}
