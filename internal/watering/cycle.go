package watering

import (
	"math"

	"evenfall/internal/units"
)

// limit is how long a zone may run at once, in whole minutes, and how long the ground
// soaks after it: those of the hardest of the areas it wets.
type limit struct {
	cycle int // 0: as long as is asked
	soak  int
	rate  units.InchesPerHour // that the cycle goes by
	area  int                 // of Input.Areas, that the limit is of
}

// ground is what the soils of a yard make of water that comes faster than they take it in.
type ground struct {
	limits []limit     // by zone
	rate   [][]float64 // by area and zone: in/h that its water meets
	follow [][]bool    // by pairs of zones: both outrun the intake of some ground
	share  [][]bool    // by area and zone: it outruns the intake of ground that another does too
}

// ground finds it. The rate is the mean that a zone's water meets (weighted by the water
// itself, so that ground it hardly reaches does not dilute it; chosen).
func (in *Input) ground() ground {
	g := ground{limits: make([]limit, len(in.Zones)), rate: make([][]float64, len(in.Areas)), share: make([][]bool, len(in.Areas)), follow: make([][]bool, len(in.Zones))}
	for z := range g.follow {
		g.follow[z] = make([]bool, len(in.Zones))
		g.follow[z][z] = true
	}
	for i := range in.Areas {
		a := &in.Areas[i]
		g.rate[i], g.share[i] = make([]float64, len(in.Zones)), make([]bool, len(in.Zones))
		for z := range in.Zones {
			rate := met(a.Rates[z])
			g.rate[i][z] = float64(rate)
			longest := LongestCycle(rate, a.Intake, a.Surface)
			if math.IsInf(longest, 1) {
				continue
			}
			l := &g.limits[z]
			cycle := max(1, int(longest+1e-9))
			if l.cycle == 0 || cycle < l.cycle {
				l.cycle, l.rate, l.area = cycle, rate, i
			}
			l.soak = max(l.soak, int(math.Ceil(Soak(a.Intake, a.Surface)-1e-9)))
		}
		for z := range in.Zones {
			for y := range z {
				if a.meet(z, y) {
					g.follow[z][y], g.follow[y][z] = true, true
					g.share[i][z], g.share[i][y] = true, true
				}
			}
		}
	}
	return g
}

// met is the mean rate of ground that a drop of its water falls on; 0 for none.
func met(rates []float32) units.InchesPerHour {
	sum, squares := 0.0, 0.0
	for _, r := range rates {
		sum += float64(r)
		squares += float64(r) * float64(r)
	}
	if sum <= 0 {
		return 0
	}
	return units.InchesPerHour(squares / sum)
}

// cycles is how many cycles so many minutes take.
func (l limit) cycles(minutes int) int {
	if l.cycle == 0 || minutes == 0 {
		return min(minutes, 1)
	}
	return (minutes + l.cycle - 1) / l.cycle
}

// meet reports whether two zones both outrun the intake of some ground of an area: of a
// twentieth of it at least (chosen, so that stray drops do not count). What one puts
// there has to soak in before the other's comes.
func (a *Area) meet(z, y int) bool {
	if a.Rates[z] == nil || a.Rates[y] == nil {
		return false
	}
	both := 0
	for c, r := range a.Rates[z] {
		if r > float32(a.Intake) && a.Rates[y][c] > float32(a.Intake) {
			both++
		}
	}
	return both*20 >= len(a.Rates[z]) && both > 0
}
