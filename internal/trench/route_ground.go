package trench

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// touching is how near a forbidden outline a place counts as inside it, and how
// far beyond the property line as still on it, in feet: below what a drawing can
// tell.
const touching = 1e-6

// field is the ground that ways are sought over.
type field struct {
	p      *plan.Plan
	rates  rates
	plots  []plot // that take ground, strongest first
	noDig  []plot
	lot    orb.Polygon // nil: none drawn
	trunks []trunk
}

// plot is an area as ways see it.
type plot struct {
	id    plan.ID
	kind  plan.Kind
	is    Ground
	poly  orb.Polygon
	bound orb.Bound
}

// trunk is a tree: nothing is dug within clear feet of its middle, and up to roots
// digging is dear.
type trunk struct {
	id           plan.ID
	at           orb.Point
	clear, roots float64
}

// stretch is a part of a straight way within one ground. from and to are feet
// from its beginning.
type stretch struct {
	from, to float64
	is       Ground
	area     plan.ID
	rooted   bool
	cost     float64
}

func newField(p *plan.Plan) *field {
	f := &field{p: p, rates: ratesOf(p)}
	for _, id := range slices.Backward(coverage.GroundOrder(p)) {
		if q, ok := plotOf(id, p.Areas[id]); ok {
			f.plots = append(f.plots, q)
		}
	}
	for _, id := range plan.SortedIDs(p.Areas) {
		if a := p.Areas[id]; a.Kind == plan.NoDig && a.Status.Stands() {
			if q, ok := plotOf(id, a); ok {
				f.noDig = append(f.noDig, q)
			}
		}
	}
	if lot, err := geom.Polygon(p.Site.Lot, nil); err == nil && len(lot) > 0 {
		f.lot = lot
	}
	for _, id := range plan.SortedIDs(p.Trees) {
		t := p.Trees[id]
		if !t.Status.Stands() {
			continue
		}
		clear := max(float64(t.TrunkIn)*f.rates.perInch, float64(t.TrunkIn)/24)
		f.trunks = append(f.trunks, trunk{id, orb.Point{float64(t.X), float64(t.Y)}, clear, max(clear, float64(t.RootZoneFt))})
	}
	return f
}

func plotOf(id plan.ID, a plan.Area) (plot, bool) {
	poly, err := geom.Polygon(a.Outline, a.Holes)
	if err != nil || len(poly) == 0 {
		return plot{}, false // a draft has no ground yet
	}
	return plot{id, a.Kind, groundOf(a), poly, poly.Bound()}, true
}

// forbidden reports whether nothing is ever dug in a ground.
func forbidden(g Ground) bool { return g == Indoors || g == NotToDig || g == Wet || g == OffLot }

// at is the ground at a place and whose it is.
func (f *field) at(q orb.Point) (Ground, plan.ID) {
	if f.lot != nil && !geom.PolygonContains(f.lot, q) && edgeDistance(f.lot, q) > touching {
		return OffLot, plan.ID("")
	}
	for i := range f.noDig {
		if f.noDig[i].has(q, touching) {
			return NotToDig, f.noDig[i].id
		}
	}
	for i := range f.plots {
		s := &f.plots[i]
		grown := 0.
		if forbidden(s.is) {
			grown = touching
		}
		if s.has(q, grown) {
			return s.is, s.id
		}
	}
	return Undrawn, ""
}

// has reports whether a place lies in a plot or within so many feet of it.
func (s *plot) has(q orb.Point, grown float64) bool {
	if q[0] < s.bound.Min[0]-grown || q[0] > s.bound.Max[0]+grown || q[1] < s.bound.Min[1]-grown || q[1] > s.bound.Max[1]+grown {
		return false
	}
	return geom.PolygonContains(s.poly, q) || grown > 0 && edgeDistance(s.poly, q) <= grown
}

func edgeDistance(poly orb.Polygon, q orb.Point) float64 {
	least := math.Inf(1)
	for _, r := range poly {
		d, _, _ := geom.DistanceToEdge(q, r)
		least = min(least, d)
	}
	return least
}

// clearOf reports whether a place is in a ground that may be dug, and far enough
// from trunks.
func (f *field) clearOf(q orb.Point) bool {
	if g, _ := f.at(q); forbidden(g) {
		return false
	}
	for _, t := range f.trunks {
		if apart(t.at, q) < t.clear {
			return false
		}
	}
	return true
}

// cuts are the places, in feet from a, at which the straight way to b may come
// from one ground into another.
func (f *field) cuts(a, b orb.Point, length float64) []float64 {
	out := make([]float64, 0, 16)
	box := orb.Bound{Min: orb.Point{min(a[0], b[0]), min(a[1], b[1])}, Max: orb.Point{max(a[0], b[0]), max(a[1], b[1])}}
	add := func(poly orb.Polygon) {
		for _, ring := range poly {
			for i := 1; i < len(ring); i++ {
				if t, ok := meets(a, b, ring[i-1], ring[i]); ok {
					out = append(out, float64(t*length))
				}
			}
		}
	}
	if f.lot != nil {
		add(f.lot)
	}
	for _, list := range [][]plot{f.noDig, f.plots} {
		for i := range list {
			if list[i].bound.Intersects(box) {
				add(list[i].poly)
			}
		}
	}
	ux, uy := (b[0]-a[0])/length, (b[1]-a[1])/length
	for _, t := range f.trunks {
		along := float64((t.at[0]-a[0])*ux) + float64((t.at[1]-a[1])*uy)
		off := float64((t.at[0]-a[0])*uy) - float64((t.at[1]-a[1])*ux)
		if h := float64(t.roots*t.roots) - float64(off*off); h > 0 {
			h = math.Sqrt(h)
			out = append(out, along-h, along+h)
		}
	}
	out = slices.DeleteFunc(out, func(s float64) bool { return s <= 0 || s >= length })
	out = append(out, 0, length)
	slices.Sort(out)
	return slices.Compact(out)
}

// meets is where the straight way from a to b meets an edge, as a share of it.
func meets(a, b, c, d orb.Point) (float64, bool) {
	ux, uy, vx, vy := b[0]-a[0], b[1]-a[1], d[0]-c[0], d[1]-c[1]
	den := float64(ux*vy) - float64(uy*vx)
	if den == 0 {
		return 0, false
	}
	wx, wy := c[0]-a[0], c[1]-a[1]
	t := (float64(wx*vy) - float64(wy*vx)) / den
	s := (float64(wx*uy) - float64(wy*ux)) / den
	return t, t >= 0 && t <= 1 && s >= -1e-9 && s <= 1+1e-9
}

// walk is the straight way from a to b, ground by ground. ok is false where it may
// not be dug.
func (f *field) walk(a, b orb.Point) (out []stretch, ok bool) {
	length := apart(a, b)
	if length == 0 {
		return nil, true
	}
	for _, t := range f.trunks {
		if apart(t.at, geom.NearestOnSegment(t.at, a, b)) < t.clear-touching {
			return nil, false
		}
	}
	cuts := f.cuts(a, b, length)
	for i := 1; i < len(cuts); i++ {
		from, to := cuts[i-1], cuts[i]
		if to-from < 1e-9 {
			continue
		}
		mid := along(a, b, (from+to)/2/length)
		is, area := f.at(mid)
		if forbidden(is) {
			return nil, false
		}
		rate := f.rates.of(is)
		s := stretch{from: from, to: to, is: is, area: area, cost: float64(rate * (to - from))}
		for _, t := range f.trunks {
			if is != Paved && t.roots > t.clear && apart(t.at, mid) < t.roots {
				s.rooted = true
				s.cost += float64(max(f.rates.roots-rate, 0) * t.share(a, b, from, to, length))
			}
		}
		if n := len(out); n > 0 && out[n-1].is == is && out[n-1].area == area && out[n-1].rooted == s.rooted {
			out[n-1].to, out[n-1].cost = to, out[n-1].cost+s.cost
			continue
		}
		out = append(out, s)
	}
	return out, true
}

func apart(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

func along(a, b orb.Point, share float64) orb.Point {
	return orb.Point{a[0] + float64((b[0]-a[0])*share), a[1] + float64((b[1]-a[1])*share)}
}
