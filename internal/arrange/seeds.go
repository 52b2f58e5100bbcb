package arrange

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// What seeds are laid out by: spacing as shares of the wetted diameter, and how
// many times worse water past the edge is than the same on the ground is good
// (reference, section 7 step 1).
var (
	seedSpacing = []float64{0.40, 0.45, 0.50, 0.55, 0.60, 0.65}
	seedStrict  = []float64{0.5, 1.5, 5}
)

// Bounds of the first look, chosen so that it takes less than half a second: head
// settings tried, the cells it is ranked on, and the heads of one layout.
const (
	seedSettings = 20_000
	seedCells    = 900
	seedHeads    = 150
	seedFew      = 3 // kept of each number of heads
)

// sown is a way to stand heads, before they have arcs.
type sown struct {
	throw int
	heads []stand
}

// seeds are the layouts of equal intervals that come to most, best few by number
// of heads.
func (s *search) seeds(ctx context.Context) []candidate {
	b, err := s.bench(min(max(s.cell*math.Sqrt(searchCells/seedCells), s.cell), 2*s.cell+0.5))
	if err != nil {
		return nil
	}
	var all []candidate
	budget := seedSettings
	seen := map[string]bool{}
	for _, sow := range s.sow(ctx) {
		if ctx.Err() != nil || budget <= 0 {
			break
		}
		for _, c := range s.aimed(sow) {
			if k := keyOf(c.heads); len(c.heads) == len(s.stays) || seen[k] {
				continue
			} else {
				seen[k] = true
			}
			b.read(&c)
			budget -= len(c.heads)
			all = append(all, c)
		}
	}
	fine := &bench{s: s, trial: s.trial}
	best := byHeads(all, seedFew)
	for i := range best {
		fine.read(&best[i])
	}
	s.evaluate += b.reads + fine.reads
	s.clear(fine)
	return byHeads(best, seedFew)
}

// clear takes the heads off a bench that is used again.
func (s *search) clear(b *bench) { b.lay(nil) }

// keyOf is what makes two layouts the same.
func keyOf(heads []stand) string {
	var sb strings.Builder
	for i := range heads {
		h := &heads[i]
		fmt.Fprintf(&sb, "%.2f,%.2f,%.1f,%d,%d;", h.at[0], h.at[1], float64(h.start), h.sweep, h.throw)
	}
	return sb.String()
}

// aimed are the layouts a way to stand heads gives: one for each strictness.
func (s *search) aimed(sow sown) []candidate {
	var out []candidate
	look := make([]rays, len(sow.heads))
	for i := range sow.heads {
		h := &sow.heads[i]
		s.lie.look(&look[i], h.at, h.base, s.step, float64(s.kit.throws[sow.throw]))
	}
	whole := max(1, int(math.Round(float64(s.o.AngleStep)/s.step))) // neat arcs start along the edge or whole steps off
	for _, strict := range seedStrict {
		c := candidate{tidy: true, heads: slices.Clone(s.stays)}
		for i := range sow.heads {
			h := sow.heads[i]
			turn, sweep, ok := s.best(&look[i], sow.throw, whole, strict)
			if !ok {
				continue
			}
			h.turn, h.sweep, h.throw = turn, sweep, sow.throw
			if s.pick(&h) {
				c.heads = append(c.heads, h)
			}
		}
		out = append(out, c)
	}
	return out
}

// sow lists the ways to stand heads, fewest heads first; fewer ways when it is
// called off.
func (s *search) sow(ctx context.Context) []sown {
	var out []sown
	seen := map[string]bool{}
	add := func(throw int, heads []stand) {
		if len(heads) == 0 || len(heads)+len(s.stays) > seedHeads {
			return
		}
		k := fmt.Sprint(throw) + keyOf(heads)
		if !seen[k] {
			seen[k] = true
			out = append(out, sown{throw, heads})
		}
	}
	for t, throw := range s.kit.throws {
		for _, f := range seedSpacing {
			if ctx.Err() != nil {
				return nil
			}
			spacing := 2 * f * float64(throw)
			for _, holes := range []bool{true, false} {
				if !holes && !s.hasHoles() {
					continue
				}
				edge := s.edgeHeads(spacing, holes)
				for _, grid := range s.grids(spacing) {
					add(t, s.filled(edge, grid, spacing))
				}
				add(t, edge)
			}
		}
	}
	return byFewest(out)
}

func byFewest(all []sown) []sown {
	slices.SortStableFunc(all, func(a, b sown) int { return len(a.heads) - len(b.heads) })
	return all
}

func (s *search) hasHoles() bool {
	for i := range s.paths {
		if s.paths[i].hole() {
			return true
		}
	}
	return false
}

// hole reports whether a path goes round a hole in the ground: clockwise.
func (pa *path) hole() bool {
	a := 0.0
	for i, p := range pa.pts {
		q := pa.pts[(i+1)%len(pa.pts)]
		a += float64(p[0]*q[1]) - float64(p[1]*q[0])
	}
	return a < 0
}

// edgeHeads stands heads at the corners and at equal intervals between them.
func (s *search) edgeHeads(spacing float64, holes bool) []stand {
	var out []stand
	for i := range s.paths {
		pa := &s.paths[i]
		if pa.hole() && !holes {
			continue
		}
		for _, along := range pa.marks(spacing) {
			h := s.onEdge(i, along)
			if s.free(h.at, out, min(spacing, 8)/8) {
				out = append(out, h)
			}
		}
	}
	return out
}

// onEdge is a head at a place along a path.
func (s *search) onEdge(ring int, along float64) stand {
	pa := &s.paths[ring]
	along = pa.wrap(along)
	return stand{at: geom.Snap(pa.at(along)), pose: pose{ring: ring, along: along, base: pa.direction(along)}}
}

// marks are the places along a path: its corners, less those that crowd, and
// equal intervals of at most spacing between them; all round where it is smooth.
func (pa *path) marks(spacing float64) []float64 {
	corners := pa.thinned(0.4 * spacing)
	var out []float64
	if len(corners) == 0 {
		n := max(3, int(math.Ceil(pa.length()/spacing-1e-6)))
		for i := range n {
			out = append(out, pa.length()*float64(i)/float64(n))
		}
		return out
	}
	for i, c := range corners {
		l := pa.length()
		if len(corners) > 1 {
			l = pa.wrap(corners[(i+1)%len(corners)] - c)
		}
		n := max(1, int(math.Ceil(l/spacing-1e-6)))
		for j := range n {
			out = append(out, pa.wrap(c+l*float64(j)/float64(n)))
		}
	}
	return out
}

// thinned are the corners at least least feet apart along, the first of each crowd.
func (pa *path) thinned(least float64) []float64 {
	var out []float64
	for _, c := range pa.corners {
		if n := len(out); n > 0 && (c-out[n-1] < least || pa.length()-(c-out[0]) < least) {
			continue
		}
		out = append(out, c)
	}
	return out
}

// free reports whether a place is at least least feet from every head so far and
// from every one that stays.
func (s *search) free(at orb.Point, heads []stand, least float64) bool {
	for i := range heads {
		if distance(at, heads[i].at) < least {
			return false
		}
	}
	for i := range s.stays {
		if distance(at, s.stays[i].at) < max(least, 1) {
			return false
		}
	}
	return true
}

// filled is the edge heads and those of a grid that do not crowd.
func (s *search) filled(edge, grid []stand, spacing float64) []stand {
	out := slices.Clone(edge)
	for _, h := range grid {
		if s.free(h.at, out, crowded*spacing) {
			out = append(out, h)
		}
	}
	return out
}

// crowded is how near to another an inside head is left out, in spacings
// (reference, section 7 step 1).
const crowded = 0.75

// grids are square and staggered rows over the ground, along the axes and along
// its main edge, the inside places of each.
func (s *search) grids(spacing float64) [][]stand {
	var out [][]stand
	dirs := []float64{0}
	if m := math.Mod(s.main, 90); m > 1 && m < 89 {
		dirs = append(dirs, s.main)
	}
	for _, dir := range dirs {
		for _, staggered := range []bool{false, true} {
			if g := s.grid(spacing, dir, staggered); len(g) > 0 {
				out = append(out, g)
			}
		}
	}
	return out
}

// grid is the inside places of rows laid at dir degrees so that whole intervals
// fit the ground's box.
func (s *search) grid(spacing, dir float64, staggered bool) []stand {
	sin, cos := math.Sincos(dir * math.Pi / 180)
	u := func(p orb.Point) orb.Point {
		return orb.Point{float64(p[0]*cos) + float64(p[1]*sin), float64(p[1]*cos) - float64(p[0]*sin)}
	}
	back := func(p orb.Point) orb.Point {
		return orb.Point{float64(p[0]*cos) - float64(p[1]*sin), float64(p[0]*sin) + float64(p[1]*cos)}
	}
	lo, hi := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for i := range s.paths {
		for _, p := range s.paths[i].pts {
			q := u(p)
			lo = orb.Point{min(lo[0], q[0]), min(lo[1], q[1])}
			hi = orb.Point{max(hi[0], q[0]), max(hi[1], q[1])}
		}
	}
	rise := spacing
	if staggered {
		rise *= math.Sqrt(3) / 2
	}
	w, h := hi[0]-lo[0], hi[1]-lo[1]
	if !(w > 0 && h > 0) {
		return nil
	}
	nx, ny := max(1, math.Ceil(w/spacing-1e-6)), max(1, math.Ceil(h/rise-1e-6))
	if nx*ny > 4*seedHeads {
		return nil
	}
	var out []stand
	for j := 1.0; j < ny; j++ {
		shift := 0.0
		if staggered && int(j)%2 == 1 {
			shift = 0.5
		}
		for i := 0.0; i <= nx; i++ {
			p := back(orb.Point{lo[0] + w*(i+shift)/nx, lo[1] + h*j/ny})
			if geom.Contains(s.ground.stand, p) {
				if _, _, off := s.nearestEdge(p); off > snapEdge {
					out = append(out, s.within(p))
				}
			}
		}
	}
	return out
}

// snapEdge is how near to an edge or a corner a head is set onto it, feet: easier
// to stake, and a search cannot seek out the cells along an edge (reference,
// section 6b).
const snapEdge = 1.5

// within is a head inside the ground.
func (s *search) within(p orb.Point) stand {
	return stand{at: geom.Snap(p), pose: pose{ring: inside, base: s.main}}
}
