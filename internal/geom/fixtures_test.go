package geom

import (
	"math"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// corners makes a straight outline of x, y, x, y …
func corners(xy ...float64) Outline {
	var o Outline
	for i := 0; i+1 < len(xy); i += 2 {
		o = append(o, Vertex{X: xy[i], Y: xy[i+1]})
	}
	return o
}

// lot is a concave lot with a slanted front, a house, a shed and a pool in it.
//
//	80 ┌────────────────────────────┐
//	   │  ▒▒▒▒ house        o pool  │
//	   │  ▒▒▒▒▒▒▒▒         ┌────────┘ 50
//	   │            ▪ shed │
//	 0 └───────╲___________┘ 100          140
func lot() (Outline, []Outline) {
	outer := corners(0, 0, 30, 0, 45, -12, 100, -12, 100, 50, 140, 50, 140, 80, 70, 80, 60, 86, 50, 80, 0, 80)
	house := corners(10, 40, 30, 40, 30, 30, 55, 30, 55, 62, 10, 62)
	shed := corners(80, 10, 88, 10, 88, 18, 80, 18)
	pool := Outline{{X: 110, Y: 65, Bulge: 1}, {X: 122, Y: 65, Bulge: 1}}
	return outer, []Outline{house, shed, pool}
}

func lotPolygon() orb.MultiPolygon {
	outer, holes := lot()
	poly, err := Polygon(outer, holes)
	if err != nil {
		panic(err)
	}
	return orb.MultiPolygon{poly}
}

// drawSector draws a head's ground: free, or in the ways that make shapes share
// edges and corners with the lot.
func drawSector(t *rapid.T, label string) orb.MultiPolygon {
	at := orb.Point{rapid.Float64Range(-10, 150).Draw(t, label+" x"), rapid.Float64Range(-20, 90).Draw(t, label+" y")}
	r := rapid.Float64Range(0.5, 40).Draw(t, label+" r")
	start := rapid.Float64Range(0, 360).Draw(t, label+" start")
	sweep := rapid.Float64Range(1, 360).Draw(t, label+" sweep")
	switch rapid.IntRange(0, 3).Draw(t, label+" kind") {
	case 1: // whole feet and quarter turns
		at = orb.Point{math.Round(at[0]), math.Round(at[1])}
		r, start, sweep = math.Ceil(r), math.Round(start/90)*90, math.Ceil(sweep/90)*90
	case 2: // on a corner of the lot, along its edge
		outer, _ := lot()
		i := rapid.IntRange(0, len(outer)-1).Draw(t, label+" corner")
		at = outer[i].Point()
		start = Bearing(at, outer[(i+1)%len(outer)].Point())
	case 3: // on an edge of the house
		at = orb.Point{10 + 20*rapid.Float64Range(0, 1).Draw(t, label+" along"), 40}
		start, sweep = 180, 180
	}
	return orb.MultiPolygon{{Sector(at, r, start, sweep)}}
}

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }
