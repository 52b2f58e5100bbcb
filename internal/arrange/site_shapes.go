package arrange

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// less takes shapes off a shape; slivers that are left are dropped.
func less(from orb.MultiPolygon, off ...orb.MultiPolygon) (orb.MultiPolygon, error) {
	off = filled(off)
	if len(off) == 0 || len(from) == 0 {
		return solid(from), nil
	}
	all, err := geom.Union(off...)
	if err != nil {
		return nil, err
	}
	out, err := geom.Difference(from, all)
	return solid(out), err
}

// sameShape reports whether two shapes are the same one, by their outlines.
func sameShape(a, b orb.MultiPolygon) bool {
	return slices.EqualFunc(a, b, func(p, q orb.Polygon) bool {
		return slices.EqualFunc(p, q, func(r, s orb.Ring) bool { return slices.Equal(r, s) })
	})
}

func filled(shapes []orb.MultiPolygon) []orb.MultiPolygon {
	var out []orb.MultiPolygon
	for _, mp := range shapes {
		if len(mp) > 0 {
			out = append(out, mp)
		}
	}
	return out
}

// solid leaves out parts too small to stand on, or thinner than the lattice and
// its roundings tell apart.
func solid(mp orb.MultiPolygon) orb.MultiPolygon {
	var out orb.MultiPolygon
	for _, poly := range mp {
		if len(poly) == 0 {
			continue
		}
		area := geom.Area(orb.MultiPolygon{poly})
		if area >= leastStand && area > lengthOf(poly[0])*4*geom.Grid {
			out = append(out, poly)
		}
	}
	return out
}

func lengthOf(line []orb.Point) float64 {
	l := 0.0
	for i := 0; i+1 < len(line); i++ {
		l += apart(line[i], line[i+1])
	}
	return l
}

func apart(a, b orb.Point) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

// grownIn is a shape and the ground within d feet of it, as far as that may lie in a
// rectangle: of a long street only what is near is grown.
func grownIn(mp orb.MultiPolygon, d float64, in orb.Bound) (orb.MultiPolygon, error) {
	if b := mp.Bound(); !in.Pad(4*d).Contains(b.Min) || !in.Pad(4*d).Contains(b.Max) {
		var err error
		if mp, err = geom.Intersection(mp, orb.MultiPolygon{in.Pad(2*d + 1).ToPolygon()}); err != nil {
			return nil, err
		}
	}
	if len(mp) == 0 || d <= 0 {
		return mp, nil
	}
	return geom.Outset(mp, d)
}

// beside is the ground within d feet of a line, as far as it may come into a
// rectangle.
func beside(line orb.LineString, d float64, in orb.Bound) (orb.MultiPolygon, error) {
	var parts []orb.MultiPolygon
	in = in.Pad(d)
	for i := 0; i+1 < len(line); i++ {
		a, b := line[i], line[i+1]
		if !(orb.MultiPoint{a, b}).Bound().Intersects(in) {
			continue
		}
		if r := geom.StripRect(a, geom.Bearing(a, b), apart(a, b), 0, d, d); r != nil {
			parts = append(parts, orb.MultiPolygon{{r}})
		}
		for _, p := range []orb.Point{a, b} {
			parts = append(parts, orb.MultiPolygon{{geom.Sector(p, d, 0, 360)}})
		}
	}
	return geom.Union(parts...)
}

// tidied is how far, in feet, an outline may move when places along it that tell
// nothing are left out: what unions of bands leave behind. As much as chords for
// arcs stray, and a quarter of spare. Chosen.
const tidied = 1.0 / 256

// plain is a shape with the places left out that lie on the line between those
// about them, within tidied feet.
func plain(mp orb.MultiPolygon) orb.MultiPolygon {
	out := make(orb.MultiPolygon, 0, len(mp))
	for _, poly := range mp {
		var kept orb.Polygon
		for i, r := range poly {
			if q := plainRing(r); len(q) >= 4 {
				kept = append(kept, q)
			} else if i == 0 {
				break
			}
		}
		if len(kept) > 0 {
			out = append(out, kept)
		}
	}
	return out
}

// plainRing thins out a ring between its first place in reading order and the
// place farthest from it (Ramer, Douglas and Peucker).
func plainRing(r orb.Ring) orb.Ring {
	n := len(r) - 1
	if n < 4 {
		return r
	}
	start, far := 0, 0
	for i := range n {
		if r[i][0] < r[start][0] || r[i][0] == r[start][0] && r[i][1] < r[start][1] {
			start = i
		}
	}
	turned := append(append(make(orb.Ring, 0, n+1), r[start:n]...), r[:start+1]...)
	for i := range n {
		if apart(turned[0], turned[i]) > apart(turned[0], turned[far]) {
			far = i
		}
	}
	out := orb.Ring(append(thinned(turned[:far+1]), thinned(turned[far:])[1:]...))
	// The place it began at may itself tell nothing.
	if k := len(out) - 1; k > 4 {
		q := geom.NearestOnSegment(out[0], out[k-1], out[1])
		if apart(out[0], q) <= tidied {
			out = append(out[1:k:k], out[1])
		}
	}
	return out
}

func thinned(line []orb.Point) []orb.Point {
	if len(line) < 3 {
		return slices.Clone(line)
	}
	last, at, most := len(line)-1, 0, tidied
	for i := 1; i < last; i++ {
		if d := apart(line[i], geom.NearestOnSegment(line[i], line[0], line[last])); d > most {
			at, most = i, d
		}
	}
	if at == 0 {
		return []orb.Point{line[0], line[last]}
	}
	return append(thinned(line[:at+1]), thinned(line[at:])[1:]...)
}

// outlineOf is a closed ring as an outline.
func outlineOf(r orb.Ring) geom.Outline {
	out := make(geom.Outline, 0, len(r))
	for _, p := range r[:len(r)-1] {
		out = append(out, geom.Vertex{X: p[0], Y: p[1]})
	}
	return out
}
