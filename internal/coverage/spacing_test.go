package coverage

import (
	"testing"

	"evenfall/internal/plan"
)

// The spacing form, 96.25 x full-circle flow / head spacing / row spacing, on
// heads as they stand: a square grid, an equilateral one, and the lopsided
// triangle of a set of horticulture teaching slides (rows 25 ft, heads 30 ft,
// 6 gpm), which multiply the measured row spacing by 0.866 once more and print
// 0.89 in/h; with the rows as measured it is 0.770.
func TestRateBySpacingTakesRowsAsTheyStand(t *testing.T) {
	for _, tt := range []struct {
		name              string
		spacing, row, gpm float64
		stagger           bool
		want              float64
	}{
		{"square 15 ft, 3.60 gpm (University of Nevada Cooperative Extension)", 15, 15, 3.60, false, 1.540},
		{"square 20 ft, 2.60 gpm (same)", 20, 20, 2.60, false, 0.6256},
		{"equilateral 30 ft", 30, 25.98, 6, true, 0.741},
		{"rows 25 ft, heads 30 ft", 30, 25, 6, true, 0.770},
	} {
		t.Run(tt.name, func(t *testing.T) {
			y := newYard().lip(0).area("lawn", "planting", 0, 0, 300, 0, 300, 300, 0, 300)
			throw := tt.spacing * 1.05
			y.nozzle("n", throw, tt.gpm*96.25/(throw*throw), linear)
			y.Zones["z"] = plan.Zone{Name: "z"}
			for j := range 5 {
				for i := range 5 {
					x := 80 + tt.spacing*float64(i)
					if tt.stagger && j%2 == 1 {
						x += tt.spacing / 2
					}
					id := y.head("n", x, 80+tt.row*float64(j), 0, 360)
					h := y.Heads[id]
					h.Zone = "z"
					y.Heads[id] = h
				}
			}
			near(t, "by spacing", float64(compute(t, y).Zones[0].RateBySpacing), tt.want, 0.001)
		})
	}
}
