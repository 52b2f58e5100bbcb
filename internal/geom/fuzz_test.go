package geom

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// outlineFrom makes an outline of up to 12 corners of bytes: five for a corner,
// its place in sixteenths of a foot within 128 ft, its bulge in 32nds.
func outlineFrom(b []byte) Outline {
	var o Outline
	for ; len(b) >= 5 && len(o) < 12; b = b[5:] {
		o = append(o, Vertex{
			X: float64(binary.LittleEndian.Uint16(b)%2048) / 16, Y: float64(binary.LittleEndian.Uint16(b[2:])%2048) / 16,
			Bulge: float64(int8(b[4])) / 32,
		})
	}
	return o
}

// bytesOf is the other way round.
func bytesOf(o Outline) []byte {
	var b []byte
	for _, v := range o {
		b = binary.LittleEndian.AppendUint16(b, uint16(v.X*16))
		b = binary.LittleEndian.AppendUint16(b, uint16(v.Y*16))
		b = append(b, byte(int8(v.Bulge*32)))
	}
	return b
}

// groundFrom is the ground of an outline of bytes; not ok when it is refused.
func groundFrom(b []byte) (orb.MultiPolygon, bool) {
	poly, err := Polygon(outlineFrom(b), nil)
	return orb.MultiPolygon{poly}, err == nil
}

// seedPairs are outlines that share corners, edges or arcs, or cross.
func seedPairs() [][2][]byte {
	square := bytesOf(corners(10, 10, 50, 10, 50, 50, 10, 50))
	round := bytesOf(Outline{{X: 20, Y: 20, Bulge: 1}, {X: 60, Y: 20, Bulge: 1}})
	return [][2][]byte{
		{square, square},
		{square, bytesOf(corners(50, 10, 90, 10, 90, 50, 50, 50))},
		{square, bytesOf(corners(30, 30, 70, 30, 70, 70, 30, 70))},
		{square, round},
		{round, round},
		{bytesOf(corners(0, 0, 100, 0, 100, 0.0625, 0, 0.125)), square},
		{bytesOf(corners(0, 0, 60, 60, 60, 0, 0, 60)), square},
		{nil, square},
	}
}

// FuzzBooleans combines the ground of two small outlines every way.
func FuzzBooleans(f *testing.F) {
	for _, p := range seedPairs() {
		f.Add(p[0], p[1])
	}
	f.Fuzz(func(t *testing.T, first, second []byte) {
		a, okA := groundFrom(first)
		b, okB := groundFrom(second)
		if !okA || !okB {
			return
		}
		both, err := Intersection(a, b)
		check(t, "intersection", both, err)
		all, err := Union(a, b)
		check(t, "union", all, err)
		rest, err := Difference(a, b)
		check(t, "difference", rest, err)
		inA, inB := Area(a), Area(b)
		slack := snapSlack(a, b)
		if got := Area(both); got > min(inA, inB)+slack {
			t.Errorf("both cover %v of %v and %v", got, inA, inB)
		}
		if got := Area(all); got < max(inA, inB)-slack || got > inA+inB+slack {
			t.Errorf("together they cover %v of %v and %v", got, inA, inB)
		}
		if got := Area(rest) + Area(both); math.Abs(got-inA) > slack {
			t.Errorf("what is shared and what is not make %v of %v", got, inA)
		}
	})
}

// FuzzOffset moves the edges of a small outline in and out.
func FuzzOffset(f *testing.F) {
	for _, p := range seedPairs() {
		f.Add(p[1], uint8(8))
		f.Add(p[0], uint8(200))
	}
	f.Fuzz(func(t *testing.T, outline []byte, by uint8) {
		ground, ok := groundFrom(outline)
		if !ok {
			return
		}
		d := float64(by) / 16
		in, err := Inset(ground, d)
		check(t, "inset", in, err)
		out, err := Outset(ground, d)
		check(t, "outset", out, err)
		area, slack := Area(ground), snapSlack(ground)
		if got := Area(in); got > area+slack {
			t.Errorf("%v ft in leaves %v of %v", d, got, area)
		}
		if got := Area(out); got < area-slack {
			t.Errorf("%v ft out leaves %v of %v", d, got, area)
		}
	})
}

// check holds a result to be there and of finite area that is not negative.
func check(t *testing.T, what string, mp orb.MultiPolygon, err error) {
	t.Helper()
	if err != nil {
		t.Errorf("%s: %v", what, err)
	}
	if a := Area(mp); math.IsNaN(a) || math.IsInf(a, 0) || a < 0 {
		t.Errorf("%s has an area of %v", what, a)
	}
}

// snapSlack is the area that snapping may add or take: two lattice steps along
// every edge, in square feet.
func snapSlack(grounds ...orb.MultiPolygon) float64 {
	length := 0.0
	for _, mp := range grounds {
		for _, poly := range mp {
			for _, r := range poly {
				for i := 0; i+1 < len(r); i++ {
					length += math.Hypot(r[i+1][0]-r[i][0], r[i+1][1]-r[i][1])
				}
			}
		}
	}
	return 2*length*Grid + 1e-6
}
