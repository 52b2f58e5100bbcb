package geom_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

func TestFramePlaces(t *testing.T) {
	f := geom.Frame{Origin: orb.Point{-8, 16}, Cell: 0.25, NX: 64, NY: 32}
	if b := f.Bound(); b != (orb.Bound{Min: orb.Point{-8, 16}, Max: orb.Point{8, 24}}) {
		t.Errorf("bound %v", b)
	}
	if f.Size() != 2048 || f.CellArea() != 0.0625 {
		t.Errorf("%d cells of %g square feet", f.Size(), f.CellArea())
	}
	for _, c := range []struct {
		at     orb.Point
		x, y   int
		inside bool
	}{
		{orb.Point{-8, 16}, 0, 0, true},
		{orb.Point{-7.75, 16.1}, 1, 0, true}, // a border belongs to the cell east of it
		{orb.Point{7.99, 23.99}, 63, 31, true},
		{orb.Point{8, 20}, 0, 0, false},
		{orb.Point{-8.01, 20}, 0, 0, false},
		{orb.Point{math.NaN(), 20}, 0, 0, false},
	} {
		x, y, inside := f.CellOf(c.at)
		if x != c.x || y != c.y || inside != c.inside {
			t.Errorf("%v: cell %d, %d, %v; want %d, %d, %v", c.at, x, y, inside, c.x, c.y, c.inside)
		}
		if m := f.Middle(x, y); inside && (math.Abs(m[0]-c.at[0]) > 0.25 || math.Abs(m[1]-c.at[1]) > 0.25) {
			t.Errorf("%v: the middle of its cell is %v", c.at, m)
		}
	}
}

func TestCells(t *testing.T) {
	f := geom.Frame{Cell: 1, NX: 10, NY: 10}
	a, b := geom.Cells{X0: 1, Y0: 2, X1: 3, Y1: 4}, geom.Cells{X0: 8, Y0: 0, X1: 20, Y1: 1}
	if got := a.With(b); got != (geom.Cells{X0: 1, Y0: 0, X1: 20, Y1: 4}) {
		t.Errorf("with: %+v", got)
	}
	if a.With(geom.Cells{}) != a || (geom.Cells{}).With(a) != a {
		t.Error("nothing added changes a rectangle")
	}
	if got := b.Within(f); got != (geom.Cells{X0: 8, Y0: 0, X1: 10, Y1: 1}) {
		t.Errorf("within: %+v", got)
	}
	if got := (geom.Cells{X0: 30, Y0: 1, X1: 40, Y1: 2}).Within(f); !got.Empty() {
		t.Errorf("outside: %+v", got)
	}
	if got := f.Around(orb.Bound{Min: orb.Point{0.5, -0.5}, Max: orb.Point{2, 1.5}}); got != (geom.Cells{X0: 0, Y0: -1, X1: 2, Y1: 2}) {
		t.Errorf("around: %+v", got)
	}
	if got := f.Around(orb.Bound{Min: orb.Point{1, 1}, Max: orb.Point{math.NaN(), 2}}); !got.Empty() {
		t.Errorf("around no number: %+v", got)
	}
	if got := f.All(); got != (geom.Cells{X1: 10, Y1: 10}) {
		t.Errorf("all: %+v", got)
	}
}
