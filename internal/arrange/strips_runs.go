package arrange

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// run is a straight stretch of narrow ground between two edges: at is its corner at
// the right edge, looking along it; the ground lies to the left.
//
//	──────────────────────────
//	            wide
//	at───────── long ────────▶
type run struct {
	at         orb.Point
	dir        float64 // degrees
	sin, cos   float64
	long, wide float64 // feet
	// before and after are how far it goes on past either end, across another run.
	before, after float64
}

// What makes a run, feet and degrees. Chosen: edges that part by more than
// parallel, or lie off a line by more than straight, are no straight strip; a run
// shorter than shortRun is no row of strips.
const (
	parallel  = 6.0
	straight  = 0.25
	shortRun  = 8.0
	widerThan = 1.5 // how much wider than the widest strip a run may be: two rows of half strips
)

// place is a spot on a run: along it, and left of its right edge.
func (r *run) place(along, across float64) orb.Point {
	return orb.Point{
		r.at[0] + float64(along*r.cos) - float64(across*r.sin),
		r.at[1] + float64(along*r.sin) + float64(across*r.cos),
	}
}

// along is how far along a run a place is.
func (r *run) along(p orb.Point) float64 {
	return float64((p[0]-r.at[0])*r.cos) + float64((p[1]-r.at[1])*r.sin)
}

// turned is the run seen from its other end: its left edge becomes the right one.
func (r *run) turned() run {
	out := *r
	out.at = r.place(r.long, r.wide)
	out.dir, out.sin, out.cos = r.dir+180, -r.sin, -r.cos
	out.before, out.after = r.after, r.before
	return out
}

// runs are the straight runs of narrow ground, longest first found by its edges.
func runsOf(wet orb.MultiPolygon, most float64) []run {
	var sides []side
	for _, poly := range wet {
		for _, ring := range poly {
			sides = append(sides, straightSides(ring)...)
		}
	}
	var out []run
	for i := range sides {
		for j := range i {
			if r, ok := between(&sides[j], &sides[i], most); ok && geom.Contains(wet, r.place(r.long/2, r.wide/2)) {
				r.stretch(wet)
				out = append(out, r)
			}
		}
	}
	return out
}

// side is one straight piece of an outline, the ground to its left.
type side struct {
	from, to orb.Point
	dir      float64 // degrees
}

// straightSides are the straight pieces of a ring, places that lie on them left out.
func straightSides(ring orb.Ring) []side {
	pts := ring[:max(len(ring)-1, 0)]
	n := len(pts)
	if n < 3 {
		return nil
	}
	first := 0 // the sharpest corner: no side runs over it
	most := -1.0
	for i := range n {
		turn := math.Abs(geom.NormDeg(geom.Bearing(pts[i], pts[(i+1)%n])-geom.Bearing(pts[(i+n-1)%n], pts[i])+180) - 180)
		if turn > most+1e-9 {
			most, first = turn, i
		}
	}
	var out []side
	for i := 0; i < n; {
		k := i + 1
		for k < n && onLine(pts, first+i, first+k+1) {
			k++
		}
		a, b := pts[(first+i)%n], pts[(first+k)%n]
		if distance(a, b) >= shortRun {
			out = append(out, side{a, b, geom.Bearing(a, b)})
		}
		i = k
	}
	return out
}

// onLine reports whether all places between two of a ring lie straight between
// them.
func onLine(pts []orb.Point, from, to int) bool {
	n := len(pts)
	a, b := pts[from%n], pts[to%n]
	for i := from + 1; i < to; i++ {
		q := geom.NearestOnSegment(pts[i%n], a, b)
		if distance(q, pts[i%n]) > straight {
			return false
		}
	}
	return a != b
}

// between is the run between two sides that face each other.
func between(a, b *side, most float64) (run, bool) {
	if math.Abs(geom.NormDeg(b.dir-a.dir)-180) > parallel {
		return run{}, false
	}
	sin, cos := math.Sincos(a.dir * math.Pi / 180)
	r := run{at: a.from, dir: a.dir, sin: sin, cos: cos}
	lo, hi := max(0, r.along(b.to)), min(distance(a.from, a.to), r.along(b.from))
	across := func(p orb.Point) float64 {
		return float64((p[1]-a.from[1])*cos) - float64((p[0]-a.from[0])*sin)
	}
	t := func(along float64) float64 { // width there
		u, v := r.along(b.from), r.along(b.to)
		return across(b.from) + (across(b.to)-across(b.from))*(along-u)/(v-u)
	}
	if hi-lo < shortRun {
		return run{}, false
	}
	r.wide = t((lo + hi) / 2)
	r.at, r.long = r.place(lo, 0), hi-lo
	return r, r.wide > 1 && r.wide <= most && r.long >= r.wide
}

// stretch finds how far a run goes on past its ends.
func (r *run) stretch(wet orb.MultiPolygon) {
	const step = 0.25
	free := func(along float64) bool {
		for _, share := range []float64{0.1, 0.5, 0.9} {
			if !geom.Contains(wet, r.place(along, share*r.wide)) {
				return false
			}
		}
		return true
	}
	for r.before < 2*r.wide && free(-r.before-step) {
		r.before += step
	}
	for r.after < 2*r.wide && free(r.long+r.after+step) {
		r.after += step
	}
	if r.before >= 2*r.wide { // wide ground, not the end of a bend
		r.before = 0
	}
	if r.after >= 2*r.wide {
		r.after = 0
	}
}

// stripWidths are the narrowest and the widest band of a kit, feet.
func (k *kit) stripWidths() (least, most float64) {
	least = math.Inf(1)
	for i := range k.strips {
		w := float64(k.strips[i].strip.Left + k.strips[i].strip.Right)
		least, most = min(least, w), max(most, w)
	}
	return least, most
}

// noStrips says why strips do not suit a ground, "" when they do.
func (s *search) noStrips(runs []run) string {
	g, show := s.ground, &s.p.Show
	least, most := s.kit.stripWidths()
	name := plan.Capital(g.name)
	switch wide := float64(g.widest); {
	case wide > most+widerThan:
		return fmt.Sprintf("%s is up to %s wide, and the strip nozzles of the stock wet a band of %s at most: sprays suit it better.",
			name, show.Length(g.widest), show.Length(units.Feet(most)))
	case wide < least/2:
		return narrowWords(s.p, g, least)
	}
	covered := 0.0
	for i := range runs {
		covered += (runs[i].long + runs[i].before + runs[i].after) * runs[i].wide
	}
	if covered < mostlyStraight*geom.Area(g.wet) {
		return fmt.Sprintf("%s bends or tapers: strip nozzles wet straight bands, of which it has too few. Sprays follow a curve.", name)
	}
	return ""
}

// mostlyStraight is the share of a ground that its straight runs must make up for
// strips to be set out on it. Chosen.
const mostlyStraight = 0.7

// bearing of a strip: which sides of a line along a run it wets.
type lean int

const (
	toLeft lean = iota
	toRight
	toBoth
)

// leanOf is which way most of a strip's width lies, looking along it.
func leanOf(sh *catalog.StripShape) lean {
	switch {
	case sh.Left > 2*sh.Right:
		return toLeft
	case sh.Right > 2*sh.Left:
		return toRight
	}
	return toBoth
}

// fits reports whether a strip, as it is or turned about, wets what is wanted
// along a run.
func fits(sh *catalog.StripShape, want lean, ahead, back bool) (turned, ok bool) {
	has := leanOf(sh)
	if has == want && sh.Ahead == ahead && sh.Back == back {
		return false, true
	}
	if has != toBoth {
		has = toLeft + toRight - has
	}
	return true, has == want && sh.Ahead == back && sh.Back == ahead
}
