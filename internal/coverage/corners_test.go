package coverage

import (
	"math"
	"testing"

	"evenfall/internal/geom"
)

// A polygon of twelve sides, which stands for a circle, has no corners wherever the
// grid puts its vertices; one of eight has eight.
func TestRoundPolygonsHaveNoCorners(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		sides, want int
	}{{4, 4}, {8, 8}, {12, 0}, {24, 0}} {
		for _, radius := range []float64{5, 12, 24, 33.3} {
			for _, off := range []float64{0, 7.123, 101.77} {
				var o geom.Outline
				for i := range c.sides {
					sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(c.sides))
					o = append(o, geom.Vertex{X: off + radius*cos, Y: off + radius*sin})
				}
				shape, err := geom.Polygon(o, nil)
				if err != nil {
					t.Fatal(err)
				}
				if got := len(cornersOf(shape[0])); got != c.want {
					t.Errorf("%d sides, %g ft to a vertex, middle at %g: %d corners, want %d", c.sides, radius, off, got, c.want)
				}
			}
		}
	}
}
