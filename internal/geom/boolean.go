package geom

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	sf "github.com/peterstace/simplefeatures/geom"
)

// Union returns the ground that any of the parts covers. Parts may overlap. It
// joins neighbours in the list two by two in a balanced tree: the library's own
// many-way union was measured to lose area when many shapes overlap.
func Union(parts ...orb.MultiPolygon) (orb.MultiPolygon, error) {
	shapes := make([]sf.Geometry, 0, len(parts))
	for _, p := range parts {
		g, err := toShape(p)
		if err != nil {
			return nil, fmt.Errorf("geom: union: %w", err)
		}
		shapes = append(shapes, g)
	}
	g, err := unionTree(shapes)
	if err != nil {
		return nil, err
	}
	return fromShape(g), nil
}

// Intersection returns the ground that both cover.
func Intersection(a, b orb.MultiPolygon) (orb.MultiPolygon, error) {
	return combine("intersection", sf.Intersection, a, b)
}

// Difference returns the ground of a that b does not cover.
func Difference(a, b orb.MultiPolygon) (orb.MultiPolygon, error) {
	return combine("difference", sf.Difference, a, b)
}

type operation func(a, b sf.Geometry) (sf.Geometry, error)

func combine(name string, op operation, a, b orb.MultiPolygon) (orb.MultiPolygon, error) {
	ga, err := toShape(a)
	if err != nil {
		return nil, fmt.Errorf("geom: %s: %w", name, err)
	}
	gb, err := toShape(b)
	if err != nil {
		return nil, fmt.Errorf("geom: %s: %w", name, err)
	}
	g, err := guarded(name, op, ga, gb)
	if err != nil {
		return nil, err
	}
	return fromShape(g), nil
}

func unionTree(shapes []sf.Geometry) (sf.Geometry, error) {
	switch len(shapes) {
	case 0:
		return sf.Geometry{}, nil
	case 1:
		// A union with nothing settles what the snapping may have folded.
		return guarded("union", sf.Union, shapes[0], sf.Geometry{})
	case 2:
		return guarded("union", sf.Union, shapes[0], shapes[1])
	}
	half := len(shapes) / 2
	a, err := unionTree(shapes[:half])
	if err != nil {
		return a, err
	}
	b, err := unionTree(shapes[half:])
	if err != nil {
		return b, err
	}
	return guarded("union", sf.Union, a, b)
}

// resettle snaps the crossings a union has made, and drops what that leaves
// thinner than the lattice tells apart.
func resettle(g sf.Geometry) (sf.Geometry, error) {
	return toShape(dropThin(fromShape(g)))
}

// settled is mp without overlaps, on the lattice.
func settled(mp orb.MultiPolygon) (orb.MultiPolygon, error) {
	g, err := toShape(mp)
	if err != nil {
		return nil, fmt.Errorf("geom: %w", err)
	}
	if g, err = guarded("union", sf.Union, g, sf.Geometry{}); err != nil {
		return nil, err
	}
	if g, err = resettle(g); err != nil {
		return nil, err
	}
	return fromShape(g), nil
}

// dropThin leaves out polygons and holes that are, on average, thinner than two
// lattice steps: what is left where edges that ran together were snapped apart.
func dropThin(mp orb.MultiPolygon) orb.MultiPolygon {
	out := mp[:0:0]
	for _, poly := range mp {
		kept := poly[:0:0]
		for i, r := range poly {
			if thin(r) {
				if i == 0 {
					break
				}
				continue
			}
			kept = append(kept, r)
		}
		if len(kept) > 0 {
			out = append(out, kept)
		}
	}
	return out
}

// thin compares the area of a ring with that of a strip two lattice steps wide
// and half its perimeter long.
func thin(r orb.Ring) bool {
	around := 0.0
	for i := 0; i+1 < len(r); i++ {
		around += math.Hypot(r[i+1][0]-r[i][0], r[i+1][1]-r[i][1])
	}
	return RingArea(r) < around*Grid
}

// guarded turns a panic of the library, which it should never meet, into an
// error: a drawing must not bring the program down.
func guarded(name string, op operation, a, b sf.Geometry) (out sf.Geometry, err error) {
	defer func() {
		if r := recover(); r != nil {
			out, err = sf.Geometry{}, fmt.Errorf("geom: %s: the shapes could not be combined: %v", name, r)
		}
	}()
	out, err = op(a, b)
	if err != nil {
		return sf.Geometry{}, fmt.Errorf("geom: %s: the shapes could not be combined: %w", name, err)
	}
	return out, nil
}
