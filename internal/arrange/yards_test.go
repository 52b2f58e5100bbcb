package arrange

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// anyYard draws a house lot at random: house, walks and drive, street, lawns and
// beds that lie on one another, fences, trees, ground not to be dug, things to keep
// dry, sometimes rules of its own. The same seed draws the same yard.
func anyYard(seed uint64) *plan.Plan {
	d := &drawer{rand.New(rand.NewPCG(seed, 4711))}
	p := &plan.Plan{
		Format: plan.Format, Name: fmt.Sprintf("Yard %d", seed),
		Areas: map[plan.ID]plan.Area{}, Barriers: map[plan.ID]plan.Barrier{},
		Trees: map[plan.ID]plan.Tree{}, KeepDry: map[plan.ID]plan.KeepDry{},
	}
	w, h := d.between(50, 110), d.between(50, 110)
	if d.oneIn(4) == false {
		p.Site.Lot = d.quad(0, 0, w, h, 6)
	}
	put := func(id string, kind plan.Kind, o geom.Outline) {
		if geom.ValidatePolygon(o, nil) == nil {
			p.Areas[plan.ID(id)] = plan.Area{Name: id, Kind: kind, Outline: o}
		}
	}
	hx, hy := d.between(0.2, 0.4)*w, d.between(0.35, 0.5)*h
	put("house", plan.Building, d.quad(hx, hy, hx+d.between(20, 40), hy+d.between(15, 30), 3))
	put("drive", plan.Paving, d.quad(hx-14, -6, hx-3, hy+8, 2))
	put("walk", plan.Paving, d.quad(hx, hy-d.between(6, 12), hx+30, hy-3, 1))
	put("street", plan.RightOfWay, rect(-15, -22, w+15, d.between(-4, 3)))
	put("gravel", plan.Ground, d.blob(d.between(0, w), d.between(0, h), d.between(3, 8)))
	put("pond", plan.Water, d.blob(d.between(0, w), d.between(0, h), d.between(3, 8)))
	lawns := 1 + d.IntN(3)
	for i := range lawns {
		x, y := d.between(0, 0.6)*w, d.between(0, 0.6)*h
		id, o := fmt.Sprintf("lawn%d", i), d.quad(x, y, x+d.between(8, 60), y+d.between(5, 50), 5)
		if d.oneIn(3) {
			o = d.blob(x+15, y+15, d.between(6, 25))
		}
		put(id, plan.Planting, o)
	}
	for i := range d.IntN(3) {
		put(fmt.Sprintf("bed%d", i), plan.Planting, d.blob(d.between(0, w), d.between(0, h), d.between(2, 9)))
	}
	put("strip", plan.Planting, d.strip(w, h, d.between(0.5, 9)))
	for i := range d.IntN(3) {
		put(fmt.Sprintf("lines%d", i), plan.NoDig, d.strip(w, h, d.between(1, 6)))
	}
	for i := range d.IntN(3) {
		b := plan.Barrier{Kind: []plan.BarrierKind{plan.Wall, plan.Fence, plan.Hedge}[d.IntN(3)], HeightFt: 6}
		b.Line = geom.Line{{X: d.between(0, w), Y: d.between(0, h)}, {X: d.between(0, w), Y: d.between(0, h), Bulge: d.between(-0.3, 0.3)}, {X: d.between(0, w), Y: d.between(0, h)}}
		p.Barriers[plan.ID(fmt.Sprintf("fence%d", i))] = b
	}
	for i := range d.IntN(4) {
		p.Trees[plan.ID(fmt.Sprintf("tree%d", i))] = plan.Tree{
			X: d.feet(0, w), Y: d.feet(0, h), TrunkIn: units.Inches(d.between(4, 40)), RootZoneFt: 10,
		}
	}
	for i := range d.IntN(3) {
		p.KeepDry[plan.ID(fmt.Sprintf("unit%d", i))] = plan.KeepDry{X: d.feet(0, w), Y: d.feet(0, h), RadiusFt: units.Feet(d.between(0.5, 3))}
	}
	switch d.IntN(5) {
	case 0:
		noSetBacks(p)
	case 1:
		p.Options.LocalRules = map[plan.RuleID]plan.LocalRule{
			plan.BandPaving: {Feet: 2, Source: "town code"}, plan.SetBackStreet: {Feet: 1}, plan.SetBackOther: {},
		}
	}
	return p
}

// drawer draws figures at random.
type drawer struct{ *rand.Rand }

func (d *drawer) between(a, b float64) float64 { return a + (b-a)*d.Float64() }

func (d *drawer) feet(a, b float64) units.Feet { return units.Feet(d.between(a, b)) }

func (d *drawer) oneIn(n int) bool { return d.IntN(n) == 0 }

// quad is a rectangle whose corners are shifted by so many feet, one side in three
// bowed.
func (d *drawer) quad(x0, y0, x1, y1, by float64) geom.Outline {
	o := rect(x0, y0, x1, y1)
	for i := range o {
		o[i].X += d.between(-by, by) / 2
		o[i].Y += d.between(-by, by) / 2
		if d.oneIn(3) {
			o[i].Bulge = d.between(-0.2, 0.2)
		}
	}
	return o
}

// blob is a round figure of arcs and straight sides.
func (d *drawer) blob(x, y, r float64) geom.Outline {
	var o geom.Outline
	n := 3 + d.IntN(6)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + d.between(-0.3, 0.3)) / float64(n))
		k := r * d.between(0.6, 1.2)
		v := geom.Vertex{X: x + k*cos, Y: y + k*sin}
		if d.oneIn(2) {
			v.Bulge = d.between(-0.1, 0.4)
		}
		o = append(o, v)
	}
	return o
}

// strip is a narrow rectangle at any angle.
func (d *drawer) strip(w, h, wide float64) geom.Outline {
	at := orb.Point{d.between(0, w), d.between(0, h)}
	ring := geom.StripRect(at, d.between(0, 360), d.between(10, 50), 0, wide, 0)
	var o geom.Outline
	for _, q := range ring[:4] {
		o = append(o, geom.Vertex{X: q[0], Y: q[1]})
	}
	return o
}

// tape measures from places to things as drawn, by rules of a plan. It knows no
// booleans or offsets.
type tape struct {
	p     *plan.Plan
	ids   []plan.ID
	polys map[plan.ID]orb.Polygon
	size  map[plan.ID]float64
	lot   orb.Polygon
}

func newTape(p *plan.Plan) *tape {
	t := &tape{p: p, ids: plan.SortedIDs(p.Areas), polys: map[plan.ID]orb.Polygon{}, size: map[plan.ID]float64{}}
	for _, id := range t.ids {
		poly, err := geom.Polygon(p.Areas[id].Outline, p.Areas[id].Holes)
		if err != nil {
			panic(err)
		}
		t.polys[id], t.size[id] = poly, geom.Area(orb.MultiPolygon{poly})
	}
	if len(p.Site.Lot) > 2 {
		t.lot, _ = geom.Polygon(p.Site.Lot, nil)
	}
	return t
}

// never says which rule a head of an area at a place breaks by more than a slack, in
// feet; "" for none. A slack below 0 asks for that much room to spare.
func (t *tape) never(area plan.ID, at orb.Point, slack float64) string {
	rule := func(id plan.RuleID) float64 { d, _ := t.p.LocalRule(id); return float64(d) - slack }
	if awayFrom(t.polys[area], at) > max(slack, 0) {
		return "it stands outside the area"
	}
	if t.lot != nil {
		if awayFrom(t.lot, at) > max(slack, 0) {
			return "it stands off the lot"
		}
		if edgeDistance(orb.MultiPolygon{t.lot}, at) < rule(plan.SetBackLot) {
			return "it stands too near to the property line"
		}
	}
	for _, id := range t.ids {
		if id != area && t.breaks(area, id, at, slack, rule) {
			return fmt.Sprintf("it stands %.3f ft from %s", awayFrom(t.polys[id], at), id)
		}
	}
	for _, id := range plan.SortedIDs(t.p.Barriers) {
		b := t.p.Barriers[id]
		if d, _, _ := geom.DistanceToEdge(at, b.Line.Points()); b.Kind != plan.Hedge && d < rule(plan.SetBackWall) {
			return fmt.Sprintf("it stands %.3f ft from %s", d, id)
		}
	}
	for _, id := range plan.SortedIDs(t.p.Trees) {
		v := t.p.Trees[id]
		if d := apart(at, orb.Point{float64(v.X), float64(v.Y)}) - float64(v.TrunkIn)/24; d < rule(plan.SetBackTrunk) {
			return fmt.Sprintf("it stands %.3f ft from the bark of %s", d, id)
		}
	}
	for _, id := range plan.SortedIDs(t.p.KeepDry) {
		k := t.p.KeepDry[id]
		if d := apart(at, orb.Point{float64(k.X), float64(k.Y)}); d < float64(k.Radius())-slack {
			return fmt.Sprintf("it stands on %s", id)
		}
	}
	return ""
}

// breaks reports whether a head of an area stands where another area forbids it.
func (t *tape) breaks(area, id plan.ID, at orb.Point, slack float64, rule func(plan.RuleID) float64) bool {
	poly := t.polys[id]
	d := awayFrom(poly, at)
	in := d == 0 && (slack < 0 || edgeDistance(orb.MultiPolygon{poly}, at) > slack)
	switch t.p.Areas[id].Kind {
	case plan.Paving:
		return in || d < max(rule(plan.SetBackPaving), rule(plan.BandPaving))
	case plan.Building:
		return in || d < rule(plan.SetBackWall)
	case plan.NoDig, plan.Water, plan.Ground:
		return in
	case plan.Planting: // a bed has its ground from the lawn
		return in && t.size[id] < t.size[area]
	case plan.RightOfWay:
		return d < rule(plan.SetBackStreet) && t.streetWithin(at, rule(plan.SetBackStreet))
	}
	return false
}

// streetWithin looks about a place, in rings an inch apart, for ground that a right
// of way has, nothing stronger lying over it.
func (t *tape) streetWithin(at orb.Point, within float64) bool {
	for r := within; r > 0; r -= 1. / 12 {
		for k := range 64 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 64)
			if t.topKind(orb.Point{at[0] + r*cos, at[1] + r*sin}) == plan.RightOfWay {
				return true
			}
		}
	}
	return false
}

// topKind is the kind of what has the ground at a place, "" where nothing is drawn.
func (t *tape) topKind(at orb.Point) plan.Kind {
	for _, kind := range []plan.Kind{plan.Building, plan.Water, plan.Paving, plan.Ground, plan.Planting, plan.RightOfWay} {
		for _, id := range t.ids {
			if t.p.Areas[id].Kind == kind && geom.PolygonContains(t.polys[id], at) {
				return kind
			}
		}
	}
	return ""
}
