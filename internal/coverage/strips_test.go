package coverage

import (
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

func ringOf(o geom.Outline) orb.Ring { return o.Ring() }

// A side is what runs from corner to corner: a bend in a walk makes no second side,
// and a round island in paving has paving on all of them.
func TestSidesAlongPavingAreCountedOnce(t *testing.T) {
	t.Parallel()
	walk := func(corners ...float64) orb.Polygon { return orb.Polygon{ringOf(outline(corners...))} }
	straight := ringOf(outline(0, 0, 30, 0, 30, 3, 0, 3))
	bent := ringOf(outline(0, 0, 15, 0, 30, 3, 30, 6, 15, 3, 0, 3))
	island := ringOf(geom.Outline{{X: -1.5, Y: 0, Bulge: 1}, {X: 1.5, Y: 0, Bulge: 1}})
	curved := ringOf(geom.Outline{{X: 0, Y: 0, Bulge: 0.2}, {X: 30, Y: 0}, {X: 30, Y: 3, Bulge: -0.2}, {X: 0, Y: 3}})
	south := walk(0, -4, 30, -4, 30, 0, 0, 0)
	for _, c := range []struct {
		name  string
		ring  orb.Ring
		paved []orb.Polygon
		want  int
	}{
		{"a strip with a walk along one side", straight, []orb.Polygon{south}, 1},
		{"a strip between two walks", straight, []orb.Polygon{south, walk(0, 3, 30, 3, 30, 7, 0, 7)}, 2},
		{"a strip that bends with its walk", bent, []orb.Polygon{walk(0, -4, 16, -4, 30, -1, 30, 3, 15, 0, 0, 0)}, 1},
		{"a strip that curves with its walk", curved, []orb.Polygon{{ringOf(geom.Outline{{X: 0, Y: -4, Bulge: 0.2}, {X: 30, Y: -4}, {X: 30, Y: 0, Bulge: -0.2}, {X: 0, Y: 0}})}}, 1},
		{"an island in paving", island, []orb.Polygon{{ringOf(outline(-20, -20, 20, -20, 20, 20, -20, 20)), island}}, 4},
		{"nothing paved", straight, nil, 0},
	} {
		if got := PavedSides(c.ring, c.paved); got != c.want {
			t.Errorf("%s: %d sides paved, want %d", c.name, got, c.want)
		}
	}
}
