package coverage

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// motionCase is a rigid motion, a head, and what the board makes of it.
type motionCase struct {
	What   string
	Mirror *struct {
		At  [2]float64
		Deg float64
	}
	Turn *struct {
		Centre [2]float64
		Deg    float64
	}
	Head, Want struct{ X, Y, Start, Sweep float64 }
}

// place is where the motion takes a place.
func (c motionCase) place(p orb.Point) orb.Point {
	if c.Mirror != nil {
		// Across the axis: the foot of the perpendicular is the middle of both.
		sin, cos := math.Sincos(c.Mirror.Deg * math.Pi / 180)
		dx, dy := p[0]-c.Mirror.At[0], p[1]-c.Mirror.At[1]
		along := dx*cos + dy*sin
		return orb.Point{c.Mirror.At[0] + 2*along*cos - dx, c.Mirror.At[1] + 2*along*sin - dy}
	}
	sin, cos := math.Sincos(c.Turn.Deg * math.Pi / 180)
	dx, dy := p[0]-c.Turn.Centre[0], p[1]-c.Turn.Centre[1]
	return orb.Point{c.Turn.Centre[0] + cos*dx - sin*dy, c.Turn.Centre[1] + sin*dx + cos*dy}
}

// The board moves, turns and mirrors heads in TypeScript; the water is worked
// out here. Both are held to the same cases: whatever place a head waters, the
// head the board makes of it waters the place the motion takes that one to.
func TestRowA10_MovedHeadsWaterTheMovedGround(t *testing.T) {
	data, err := os.ReadFile("../../testdata/vectors/motions.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases []motionCase
	if err := json.Unmarshal(data, &cases); err != nil {
		t.Fatal(err)
	}
	if len(cases) < 5 {
		t.Fatalf("only %d cases", len(cases))
	}
	r := rand.New(rand.NewPCG(113, 127))
	for _, c := range cases {
		before := setting{at: orb.Point{c.Head.X, c.Head.Y}, start: c.Head.Start, sweep: c.Head.Sweep}
		after := setting{at: orb.Point{c.Want.X, c.Want.Y}, start: c.Want.Start, sweep: c.Want.Sweep}
		if at := c.place(before.at); math.Hypot(at[0]-after.at[0], at[1]-after.at[1]) > 1e-9 {
			t.Errorf("%s: the head comes to %v, want %v", c.What, at, after.at)
		}
		for range 500 {
			q := orb.Point{before.at[0] + 60*r.Float64() - 30, before.at[1] + 60*r.Float64() - 30}
			edge := math.Min(offEdge(before, q, 0), offEdge(before, q, before.sweep))
			if edge < 1e-6 {
				continue
			}
			if before.faces(q) != after.faces(c.place(q)) {
				t.Errorf("%s: %v is watered before (%v) but not after, or the other way", c.What, q, before.faces(q))
			}
		}
	}
}

// offEdge is how far, in degrees, a place is from an edge of the head's arc with its slack.
func offEdge(s setting, q orb.Point, at float64) float64 {
	least := 180.0
	for _, slack := range []float64{-neighbourSlack, neighbourSlack} {
		off := geom.NormDeg(geom.Bearing(s.at, q) - s.start - at - slack)
		least = math.Min(least, math.Min(off, 360-off))
	}
	return least
}
