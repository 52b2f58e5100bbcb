package geom

import (
	"fmt"

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
	return guarded("union", sf.Union, snapShape(a), snapShape(b))
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

func snapShape(g sf.Geometry) sf.Geometry {
	s, err := toShape(fromShape(g))
	if err != nil {
		return g
	}
	return s
}
