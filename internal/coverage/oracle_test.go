package coverage

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// oracle is a second, slow reckoning of the same model, written differently:
// every place by itself, polar angle by arctangent, walls by asking of each
// whether it crosses the line from the head.
type oracle struct {
	y     *yard
	heads []oracleHead
	walls []oracleWall
	areas []oracleArea // strongest first
	lot   orb.Ring     // the property line, if drawn
}

type oracleHead struct {
	id               plan.ID
	at               orb.Point
	throw, peak      float64
	flow             float64
	start, sweep     float64
	strip            *catalog.StripShape
	profile          catalog.Profile
	tangent, nozzleH float64
}

type oracleWall struct {
	a, b   orb.Point
	height float64 // infinite for buildings
	trunk  float64
}

type oracleArea struct {
	id     plan.ID
	kind   plan.Kind
	poly   orb.Polygon
	target bool
	size   float64
}

func newOracle(t testing.TB, y *yard) *oracle {
	o := &oracle{y: y}
	if len(y.Site.Lot) > 0 {
		o.lot = y.Site.Lot.Ring()
	}
	for id, h := range y.Heads {
		n := y.Nozzles[h.Nozzle]
		run, err := Running(&y.Plan, id)
		if err != nil {
			t.Fatal(err)
		}
		k := oracleHead{
			id: id, at: orb.Point{float64(h.X), float64(h.Y)}, throw: float64(run.Throw), flow: float64(run.Flow),
			start: float64(h.StartDeg), sweep: float64(h.SweepDeg), strip: n.Strip, profile: n.Profile,
			tangent: math.Tan(float64(n.Trajectory) * math.Pi / 180), nozzleH: float64(y.Bodies[h.Body].Height) / 12,
		}
		k.peak = 96.25 * k.flow / k.integral()
		o.heads = append(o.heads, k)
	}
	slices.SortFunc(o.heads, func(a, b oracleHead) int { return cmpID(a.id, b.id) })
	for _, b := range y.Barriers {
		for i := 0; i+1 < len(b.Line); i++ {
			o.walls = append(o.walls, oracleWall{a: b.Line[i].Point(), b: b.Line[i+1].Point(), height: float64(b.HeightFt)})
		}
	}
	for _, tr := range y.Trees {
		at := orb.Point{float64(tr.X), float64(tr.Y)}
		o.walls = append(o.walls, oracleWall{a: at, height: 30, trunk: float64(tr.TrunkIn) / 24})
	}
	for id, a := range y.Areas {
		ring := a.Outline.Ring()
		if a.Kind == plan.Building {
			for i := 0; i+1 < len(ring); i++ {
				o.walls = append(o.walls, oracleWall{a: ring[i], b: ring[i+1], height: math.Inf(1)})
			}
		}
		poly := orb.Polygon{ring}
		for _, h := range a.Holes {
			poly = append(poly, h.Ring())
		}
		if a.Kind != plan.NoDig {
			o.areas = append(o.areas, oracleArea{id, a.Kind, poly, a.Kind == plan.Planting && (a.Watering == "" || a.Watering == plan.Overhead), math.Abs(planar.Area(poly))})
		}
	}
	strength := map[plan.Kind]int{plan.Building: 6, plan.Water: 5, plan.Paving: 4, plan.Ground: 3, plan.Planting: 2, plan.RightOfWay: 1}
	slices.SortFunc(o.areas, func(a, b oracleArea) int {
		if d := strength[b.kind] - strength[a.kind]; d != 0 {
			return d
		}
		if a.size != b.size {
			return int(math.Copysign(1, a.size-b.size))
		}
		return -cmpID(a.id, b.id)
	})
	return o
}

func cmpID(a, b plan.ID) int {
	if a < b {
		return -1
	}
	if a > b {
		return 1
	}
	return 0
}

// shape is f(ρ).
func (h *oracleHead) shape(rho float64) float64 {
	switch {
	case rho > 1:
		return 0
	case h.profile.Kind == catalog.ProfileFlat:
		return 1
	case h.profile.Kind == catalog.ProfileTable:
		n := float64(len(h.profile.Shares) - 1)
		i := int(math.Min(rho*n, n-1))
		t := rho*n - float64(i)
		return (h.profile.Shares[i]*(1-t) + h.profile.Shares[i+1]*t) / slices.Max(h.profile.Shares)
	}
	return 1 - rho
}

// integral is ∫f dA over the pattern, by 20,000 midpoints.
func (h *oracleHead) integral() float64 {
	const n = 20000
	sum := 0.0
	for i := range n {
		rho := (float64(i) + 0.5) / n
		if h.strip != nil {
			sum += h.shape(rho) / n
		} else {
			sum += h.shape(rho) * rho / n
		}
	}
	if h.strip == nil {
		return sum * h.sweep * math.Pi / 180 * h.throw * h.throw
	}
	sides := 0.0
	if h.strip.Ahead {
		sides++
	}
	if h.strip.Back {
		sides++
	}
	return sum * h.throw * sides * float64(h.strip.Left+h.strip.Right)
}

// rate is what one head gives a place when nothing stands in the way.
func (h *oracleHead) rate(p orb.Point) float64 {
	dx, dy := p[0]-h.at[0], p[1]-h.at[1]
	angle := math.Atan2(dy, dx)*180/math.Pi - h.start
	if h.strip == nil {
		d := math.Sqrt(dx*dx + dy*dy)
		if angle -= 360 * math.Floor(angle/360); d > h.throw || angle > h.sweep {
			return 0
		}
		return h.peak * h.shape(d/h.throw)
	}
	d := math.Hypot(dx, dy)
	along, across := d*math.Cos(angle*math.Pi/180), d*math.Sin(angle*math.Pi/180)
	if along > 0 && !h.strip.Ahead || along < 0 && !h.strip.Back || across > float64(h.strip.Left) || across < -float64(h.strip.Right) {
		return 0
	}
	return h.peak * h.shape(math.Abs(along)/h.throw)
}

// stopped reports whether a wall stands between a head and a place.
func (o *oracle) stopped(h *oracleHead, p orb.Point) bool {
	for i := range o.walls {
		w := &o.walls[i]
		if w.trunk > 0 {
			if planar.DistanceFromSegment(h.at, p, w.a) < w.trunk && planar.Distance(h.at, p) > planar.Distance(h.at, w.a) {
				return true
			}
			continue
		}
		d, ok := crossingDistance(h.at, p, w.a, w.b)
		if ok && h.tangent*d*(1-d/h.throw)+h.nozzleH < w.height {
			return true
		}
	}
	return false
}

func crossingDistance(p, q, a, b orb.Point) (float64, bool) {
	ux, uy, vx, vy := q[0]-p[0], q[1]-p[1], b[0]-a[0], b[1]-a[1]
	den := ux*vy - uy*vx
	if den == 0 {
		return 0, false
	}
	t := ((a[0]-p[0])*vy - (a[1]-p[1])*vx) / den
	s := ((a[0]-p[0])*uy - (a[1]-p[1])*ux) / den
	return t * math.Hypot(ux, uy), t > 0 && t < 1 && s >= 0 && s <= 1
}

func (o *oracle) surface(p orb.Point) (plan.ID, bool) {
	for _, a := range o.areas {
		if planar.PolygonContains(a.poly, p) {
			return a.id, a.target
		}
	}
	if len(o.lot) > 0 && planar.RingContains(o.lot, p) {
		return Undrawn, false
	}
	return Outside, false
}

func (o *oracle) rate(p orb.Point) float64 {
	sum := 0.0
	for i := range o.heads {
		h := &o.heads[i]
		if r := h.rate(p); r > 0 && !o.stopped(h, p) {
			sum += r
		}
	}
	return sum
}

// landed is the water of a head by surface, and what was stopped, from places
// step feet apart.
func (o *oracle) landed(h *oracleHead, step float64) (by map[plan.ID]float64, stopped float64) {
	by = map[plan.ID]float64{}
	reach := h.throw
	if h.strip != nil {
		reach = math.Hypot(h.throw, math.Max(float64(h.strip.Left), float64(h.strip.Right)))
	}
	n := int(math.Ceil(reach / step))
	for i := -n; i < n; i++ {
		for j := -n; j < n; j++ {
			p := orb.Point{h.at[0] + (float64(i)+0.5)*step, h.at[1] + (float64(j)+0.5)*step}
			r := h.rate(p) * step * step / 96.25
			if r == 0 {
				continue
			}
			if o.stopped(h, p) {
				stopped += r
				continue
			}
			id, _ := o.surface(p)
			by[id] += r
		}
	}
	return by, stopped
}

// randomYard is a lot with a house, walks, a bed in the lawn, fences, trees and
// heads of every kind, all turned by a random angle.
func randomYard(r *rand.Rand) *yard {
	y := newYard().lip(0.5)
	turn := r.Float64() * 360
	sin, cos := math.Sincos(turn * math.Pi / 180)
	rot := func(x, yy float64) (float64, float64) { return cos*x - sin*yy, sin*x + cos*yy }
	box := func(id plan.ID, kind plan.Kind, x0, y0, x1, y1 float64) {
		var c []float64
		for _, p := range [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}} {
			a, b := rot(p[0], p[1])
			c = append(c, a, b)
		}
		y.area(id, kind, c...)
	}
	for _, p := range [][2]float64{{-3, -6}, {46, -6}, {46, 38}, {-3, 38}} {
		a, b := rot(p[0], p[1])
		y.Site.Lot = append(y.Site.Lot, geom.Vertex{X: a, Y: b})
	}
	box("lawn", plan.Planting, 0, 0, 40, 30)
	box("house", plan.Building, 12+4*r.Float64(), 20, 30, 45)
	box("walk", plan.Paving, 38, -5, 42, 35)
	box("bed", plan.Planting, 5, 8, 11, 13)
	box("gravel", plan.Ground, -6, -3, 3, 4)
	box("street", plan.RightOfWay, -10, -12, 50, 2)
	box("easement", plan.NoDig, 10, 0, 20, 30)
	bed := y.Areas["bed"]
	if r.IntN(2) == 0 {
		bed.Watering = plan.PointSource
	}
	y.Areas["bed"] = bed
	ax, ay := rot(0, 26)
	bx, by := rot(10, 27+r.Float64())
	y.Barriers["fence"] = plan.Barrier{Line: geom.Line{{X: ax, Y: ay}, {X: bx, Y: by}}, HeightFt: 6}
	ax, ay = rot(20+8*r.Float64(), 4)
	bx, by = rot(33, 10)
	y.Barriers["hedge"] = plan.Barrier{Line: geom.Line{{X: ax, Y: ay}, {X: bx, Y: by}}, HeightFt: units.Feet(1 + r.Float64())}
	tx, ty := rot(8, 18)
	y.Trees["oak"] = plan.Tree{X: units.Feet(tx), Y: units.Feet(ty), TrunkIn: 14}
	y.nozzle("spray", 12, 1.6, linear)
	y.nozzle("flat", 10, 1.2, catalog.Profile{Kind: catalog.ProfileFlat})
	y.nozzle("donut", 18, 0.5, catalog.Profile{Kind: catalog.ProfileTable, Shares: []float64{0.4, 0.6, 1, 0.8, 0.3, 0}})
	y.stripNozzle("side", 15, 1.2, catalog.StripShape{Ahead: true, Back: true, Left: 4})
	y.stripNozzle("end", 15, 0.7, catalog.StripShape{Ahead: true, Left: 2, Right: 2})
	y.Bodies["pop"] = catalog.Body{Height: 4}
	for range 6 + r.IntN(5) {
		x, yy := rot(-5+50*r.Float64(), -5+25*r.Float64())
		at := orb.Point{x, yy}
		if planar.RingContains(y.Areas["house"].Outline.Ring(), at) || planar.Distance(at, orb.Point{tx, ty}) < 1 {
			continue // where no head can stand
		}
		id := plan.ID("")
		switch k := r.IntN(5); k {
		case 3:
			id = y.head("side", x, yy, 360*r.Float64(), 0)
		case 4:
			id = y.head("end", x, yy, 360*r.Float64(), 0)
		default:
			sweep := 20 + 340*r.Float64()
			if r.IntN(4) == 0 {
				sweep = 360
			}
			id = y.head([]plan.ID{"spray", "flat", "donut"}[k], x, yy, 360*r.Float64(), sweep)
		}
		h := y.Heads[id]
		h.Body = "pop"
		y.Heads[id] = h
	}
	return y
}

// The ledger against the oracle: where each head's water lands and what is
// stopped, on random yards with walls, beds and walks at any angle. The oracle's
// places are 0.07 ft apart.
func TestLedgerAgainstOracle(t *testing.T) {
	if testing.Short() {
		t.Skip("a long sweep of numbers in one goroutine")
	}
	r := rand.New(rand.NewPCG(7, 11))
	worst := 0.0
	for range 8 {
		y := randomYard(r)
		o := newOracle(t, y)
		res := compute(t, y)
		for i := range o.heads {
			h := &o.heads[i]
			want, stopped := o.landed(h, 0.07)
			got := map[plan.ID]float64{}
			total := float64(res.Heads[i].Stopped)
			for _, l := range res.Heads[i].Landed {
				got[l.Surface] = float64(l.GPM)
				total += float64(l.GPM)
			}
			if math.Abs(total-h.flow) > 1e-9*h.flow {
				t.Fatalf("%s: landed and stopped make %.12g gpm of %.12g", h.id, total, h.flow)
			}
			check := func(what string, got, want float64) {
				d := math.Abs(got-want) / h.flow
				worst = math.Max(worst, d)
				if d > 0.0025 {
					t.Errorf("head %s (%s): %s gets %.5f gpm, the oracle says %.5f of %.4f", h.id, y.Heads[h.id].Nozzle, what, got, want, h.flow)
				}
			}
			check("stopped", float64(res.Heads[i].Stopped), stopped)
			for id := range y.Areas {
				check(string(id), got[id], want[id])
			}
			check("undrawn", got[Undrawn], want[Undrawn])
			check("outside", got[Outside], want[Outside])
		}
	}
	t.Logf("worst difference %.4f of a head's flow", worst)
}

// Rates of cells against the oracle's rates about their middles.
func TestRatesAgainstOracle(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 17))
	even := 0
	for range 6 {
		y := randomYard(r)
		o := newOracle(t, y)
		f := New()
		if _, _, err := f.Update(t.Context(), &y.Plan); err != nil {
			t.Fatal(err)
		}
		fr := f.Frame()
		for range 4000 {
			x, yy := r.IntN(fr.NX), r.IntN(fr.NY)
			p := fr.Middle(x, yy)
			// A cell's rate lies between the rates around its middle.
			least, most := o.rate(p), o.rate(p)
			for _, d := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
				q := o.rate(orb.Point{p[0] + 0.13*d[0], p[1] + 0.13*d[1]})
				least, most = math.Min(least, q), math.Max(most, q)
			}
			if most-least < 0.12 {
				even++
			}
			got, _ := f.RateAt(p)
			if g := float64(got.Rate); g < least-0.002 || g > most+0.002 {
				t.Errorf("at %.2f, %.2f: %.4f in/h, the oracle says %.4f to %.4f", p[0], p[1], g, least, most)
			}
		}
	}
	if even < 20000 {
		t.Errorf("only %d places are even enough to say much", even)
	}
}
