package coverage

import (
	"math"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// Unlimited lattices of full circles with a linear profile, no wind. The values
// were taken by midpoint samples over the symmetric cell, n by n (square) or n
// by 1.732 n (equilateral); those at n = 250, 500, 1,000 and 2,000 agree to six
// decimals. Spacing is a share of the wetted diameter. Mean is over the greatest
// rate of one head; for the square at 50 % it is π/3 by hand.
var lattices = []struct {
	spacing                    float64
	cu, du, least, most, mean  float64 // square
	cu3, du3, least3, most3, m float64 // equilateral
}{
	{0.40, .975912, .972235, .9478, 1.1000, 1.636246, .965062, .961404, .9491, 1.1643, 1.889374},
	{0.45, .948473, .927306, .8508, 1.1250, 1.292836, .985683, .978837, .9592, 1.0717, 1.492839},
	{0.50, .963577, .949795, .9213, 1.1188, 1.047198, .965485, .935568, .8271, 1.0486, 1.209200},
	{0.55, .974150, .956482, .9004, 1.1552, .865453, .953105, .924225, .8832, 1.0955, .999338},
	{0.60, .905456, .847372, .7671, 1.3748, .727221, .954236, .943641, .9061, 1.1906, .839722},
	{0.65, .832962, .708455, .5001, 1.6135, .619644, .947444, .939470, .8864, 1.3973, .715503},
	{0.70, .759936, .581409, .0749, 1.8712, .534284, .887582, .877000, .8134, 1.6205, .616939},
}

// cell of a lattice as a lawn, with every head that reaches it.
func latticeYard(across, up float64, throw float64, heads [][2]float64) *yard {
	y := newYard().lip(0).area("cell", plan.Planting, 0, 0, across, 0, across, up, 0, up)
	y.nozzle("n", throw, 1.6, linear)
	n := int(math.Ceil(throw/math.Min(across, up))) + 1
	for i := -n; i <= n; i++ {
		for j := -n; j <= n; j++ {
			for _, h := range heads {
				x, yy := h[0]+float64(i)*across, h[1]+float64(j)*up
				dx := math.Max(0, math.Max(-x, x-across))
				dy := math.Max(0, math.Max(-yy, yy-up))
				if math.Hypot(dx, dy) < throw {
					y.head("n", x, yy, 0, 360)
				}
			}
		}
	}
	return y
}

func TestLattices(t *testing.T) {
	const throw = 30.0
	for _, c := range lattices {
		s := c.spacing * 2 * throw
		square := latticeYard(s, s, throw, [][2]float64{{0, 0}})
		triangle := latticeYard(s, s*math.Sqrt(3), throw, [][2]float64{{0, 0}, {s / 2, s * math.Sqrt(3) / 2}})
		for _, k := range []struct {
			name                      string
			y                         *yard
			cu, du, least, most, mean float64
		}{
			{"square", square, c.cu, c.du, c.least, c.most, c.mean},
			{"equilateral", triangle, c.cu3, c.du3, c.least3, c.most3, c.m},
		} {
			t.Run(k.name, func(t *testing.T) {
				a := compute(t, k.y).Areas[0]
				peak := 3 * 1.6 / math.Pi
				near(t, "CU", float64(a.CU), k.cu, 0.0005)
				near(t, "DU", float64(a.DU), k.du, 0.0005)
				near(t, "mean over greatest", float64(a.Mean)/peak, k.mean, 0.0005)
				near(t, "least over mean", float64(a.Least/a.Mean), k.least, 0.004)
				// Cells are read at their middles and the table is level within a 64th of
				// the throw, while the cusps of the cones stand on corners of cells.
				near(t, "most over mean", float64(a.Most/a.Mean), k.most, 0.012/k.mean)
				if a.SC < 1 || a.SC > float64(a.Mean/a.Least) {
					t.Errorf("SC %.4f is not between 1 and mean/least", a.SC)
				}
			})
		}
	}
}

// Four linear heads on the corners of a rectangle of 50 % by 70 % of the
// diameter: von Bernuth and Mecham, "Defining the Run Time Multiplier", p. 1-2,
// print CU .805, DU .772, mean 7.8 and least 5.4 of 10 from a coarse grid of
// places, and 10 all along the 50 % edge; in the limit they are .7988, .7475,
// 7.480 (10·π/3/1.4) and 4.88.
func TestRectangleOfVonBernuthAndMecham(t *testing.T) {
	const throw = 30.0
	a := compute(t, latticeYard(throw, 1.4*throw, throw, [][2]float64{{0, 0}})).Areas[0]
	peak := 3 * 1.6 / math.Pi / 10
	near(t, "CU as printed", float64(a.CU), 0.805, 0.03)
	near(t, "DU as printed", float64(a.DU), 0.772, 0.03)
	near(t, "CU", float64(a.CU), 0.7988, 0.001)
	near(t, "DU", float64(a.DU), 0.7475, 0.001)
	near(t, "mean", float64(a.Mean)/peak, 7.480, 0.004)
	near(t, "least", float64(a.Least)/peak, 4.88, 0.03)
	near(t, "most", float64(a.Most)/peak, 10, 0.12)
}

// Layouts of cones by midpoint samples, 200 by 200: the rectangle 1.0 by 1.2
// throws, and the driest half of two.
func TestOtherConeLayouts(t *testing.T) {
	const throw = 30.0
	a := compute(t, latticeYard(throw, 1.2*throw, throw, [][2]float64{{0, 0}})).Areas[0]
	peak := 3 * 1.6 / math.Pi
	near(t, "CU", float64(a.CU), 0.9312, 0.001)
	near(t, "DU", float64(a.DU), 0.9084, 0.001)
	near(t, "mean", float64(a.Mean)/peak, 0.872665, 0.0005)
	near(t, "least", float64(a.Least)/peak, 0.7367, 0.003)
}

// The water of one head on the raster is its flow: P0·θ·R²/6 for the linear
// profile, to 1e-4 where the throw is 250 cells or more.
func TestSectorVolume(t *testing.T) {
	for _, p := range []struct {
		name    string
		profile catalog.Profile
		moment  float64 // integral of f·ρ, by hand
	}{
		{"linear", linear, 1.0 / 6},
		{"flat", catalog.Profile{Kind: catalog.ProfileFlat}, 1.0 / 2},
		{"table", catalog.Profile{Kind: catalog.ProfileTable, Shares: []float64{1, 1, 0}}, 7.0 / 24},
	} {
		fall := newProfile(p.profile)
		near(t, p.name+" moment", fall.moment, p.moment, 1e-12)
		for _, sweep := range []float64{0.6, 1.57, 3, 4.1, 6, 2 * math.Pi} {
			for _, c := range []struct{ cell, throw, within float64 }{{0.05, 13.7, 1e-4}, {0.25, 15, 1e-3}, {0.2, 55, 1e-4}} {
				g, s := lone(c.cell, c.throw, sweep*180/math.Pi)
				s.fall = fall
				peak := 1.3
				s.rate = newTable(fall, math.Ldexp(peak, usualScale))
				clear(g.rate)
				g.pour(s, 1)
				sum := 0.0
				for _, r := range g.rate {
					sum += float64(r)
				}
				got := math.Ldexp(sum, -usualScale) * c.cell * c.cell
				want := peak * sweep * c.throw * c.throw * p.moment
				if e := math.Abs(got/want - 1); e > c.within {
					t.Errorf("%s, %.2f rad, R %.1f at %.2f ft: off by %.2g of the volume", p.name, sweep, c.throw, c.cell, e)
				}
			}
		}
	}
}
