package audit

import (
	"math"
	"testing"
)

// cones samples one cell of an endless lattice of heads whose water falls off in a
// straight line to nothing at 1, by the middles of 200 × n equal cells: s along a row, l
// between rows. If staggered, every other row is aside by half of s, and the cell is of
// two rows.
func cones(s, l float64, staggered bool, n int) []float64 {
	var catches []float64
	tall := l
	if staggered {
		tall = 2 * l
	}
	for i := range 200 {
		for j := range n {
			x, y := (float64(i)+0.5)/200*s, (float64(j)+0.5)/float64(n)*tall
			sum := 0.0
			for row := -2; row <= 4; row++ {
				aside := 0.0
				if staggered && row&1 != 0 {
					aside = s / 2
				}
				for col := -3; col <= 4; col++ {
					if r := math.Hypot(x-float64(col)*s-aside, y-float64(row)*l); r < 1 {
						sum += 1 - r
					}
				}
			}
			catches = append(catches, sum)
		}
	}
	return catches
}

// The layouts of reference/agronomy.md (b), reckoned there on 200 × 200 middles of cells;
// the mean is exact, a cone's volume over the lattice's cell: π/3/(s·l).
func TestConesOnLattices(t *testing.T) {
	t.Parallel()
	tall := math.Sqrt(3) / 2
	for _, c := range []struct {
		name                  string
		s, l                  float64
		staggered             bool
		mean, least, most, cu float64
		quarter, half         float64
	}{
		{"square 1.0", 1, 1, false, 1.047198, 0.9655, 1.1716, 0.9636, 0.9498, 0.9638},
		{"1.0 by 1.2", 1, 1.2, false, 0.872665, 0.7367, 1.0000, 0.9312, 0.9084, 0.9335},
		{"b-1: 1.0 by 1.4", 1, 1.4, false, 0.747998, 0.489, 1.0000, 0.7988, 0.7475, 0.7995},
		{"square 1.2", 1.2, 1.2, false, 0.727221, 0.5599, 0.9958, 0.9055, 0.8474, 0.9065},
		{"equilateral 1.0", 1, tall, true, 1.209200, 1.0050, 1.2679, 0.9655, 0.9356, 0.9677},
		{"equilateral 1.1", 1.1, 1.1 * tall, true, 0.999338, 0.8838, 1.0947, 0.9531, 0.9242, 0.9531},
		{"equilateral 1.2", 1.2, 1.2 * tall, true, 0.839722, 0.7610, 0.9940, 0.9542, 0.9436, 0.9547},
	} {
		n := 200
		if c.l == 1.4 {
			n = 280 // as b-1 was reckoned
		}
		f := figures(t, cones(c.s, c.l, c.staggered, n))
		near(t, c.name+" mean", f.Mean, c.mean, 2e-4)
		near(t, c.name+" mean, exact", f.Mean, math.Pi/3/(c.s*c.l), 2e-4)
		near(t, c.name+" least", f.Least, c.least, 5e-4)
		near(t, c.name+" most", f.Most, c.most, 6e-3) // a cone's tip, which no middle hits
		near(t, c.name+" CU", float64(f.CU), c.cu, 1e-3)
		near(t, c.name+" low quarter", float64(f.DULowQuarter), c.quarter, 1e-3)
		near(t, c.name+" low half", float64(f.DULowHalf), c.half, 1e-3)
	}
}

// b-1 [4]: four heads at half and 0.7 of their wetted diameter, 10 at a head. The paper
// took a coarse grid of nodes, which counts the heads too often: what it printed holds
// within 0.03, and its own grid brings it closer.
func TestPublishedCone(t *testing.T) {
	t.Parallel()
	cell := cones(1, 1.4, false, 280)
	for i := range cell {
		cell[i] *= 10
	}
	f := figures(t, cell)
	near(t, "mean", f.Mean, 7.480, 1e-3)
	near(t, "least", f.Least, 4.89, 5e-3)
	near(t, "CU", float64(f.CU), 0.805, 0.03)
	near(t, "low half", float64(f.DULowHalf), 0.810, 0.03)
	near(t, "low quarter", float64(f.DULowQuarter), 0.772, 0.03)
	near(t, "CU, exact", float64(f.CU), 0.7988, 1e-3)
	near(t, "low quarter, exact", float64(f.DULowQuarter), 0.7475, 1e-3)

	// Nodes on the lines of the heads, 11 × 11, 0.6875 of the diameter apart.
	var nodes []float64
	for i := range 11 {
		for j := range 11 {
			x, y, sum := float64(i)/10, float64(j)/10*1.375, 0.0
			for _, h := range [][2]float64{{0, 0}, {1, 0}, {0, 1.375}, {1, 1.375}} {
				sum += 10 * max(0, 1-math.Hypot(x-h[0], y-h[1]))
			}
			nodes = append(nodes, sum)
		}
	}
	g := figures(t, nodes)
	near(t, "mean of nodes", g.Mean, 7.81, 0.006)
	near(t, "least of nodes", g.Least, 5.38, 0.006)
	near(t, "CU of nodes", float64(g.CU), 0.810, 0.0006)
	near(t, "low half of nodes", float64(g.DULowHalf), 0.809, 0.003)
	near(t, "low quarter of nodes", float64(g.DULowQuarter), 0.761, 0.002)
	near(t, "printed mean", g.Mean, 7.8, 0.05)
	near(t, "printed least", g.Least, 5.4, 0.05)
	near(t, "printed CU", float64(g.CU), 0.805, 0.01)
}
