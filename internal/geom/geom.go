// Package geom adds to orb and simplefeatures the plane geometry the program
// needs: outlines with arcs, validity with a reason and a place, booleans,
// offsets, area coverage masks and sight lines.
//
// Coordinates are feet, x east and y north; angles are degrees anticlockwise
// from east. The package knows nothing of heads, pipes or plans.
package geom

import "github.com/paulmach/orb"

// Vertex is one corner of an Outline. Bulge describes the edge that leaves it:
// 0 is straight; otherwise an arc whose included angle is 4*atan(Bulge),
// anticlockwise when positive. In JSON it is [x, y] or [x, y, bulge].
type Vertex struct {
	X, Y  float64 // feet
	Bulge float64 // tangent of a quarter of the included angle
}

// Point returns the place of the vertex.
func (v Vertex) Point() orb.Point { return orb.Point{v.X, v.Y} }

// Outline is a closed boundary: the last vertex joins the first, which is not
// repeated. Either direction is allowed.
type Outline []Vertex

// Line is an open run of vertices, for walls and fences.
type Line []Vertex
