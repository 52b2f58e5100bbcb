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

// limits finds them by zone. The rate is the mean that its water meets (weighted by the
// water itself, so that ground it hardly reaches does not dilute it; chosen).
func (in *Input) limits() []limit {
	all := make([]limit, len(in.Zones))
	for z := range all {
		for i := range in.Areas {
			a := &in.Areas[i]
			rate := met(a.Rates[z])
			longest := LongestCycle(rate, a.Intake, a.Surface)
			if math.IsInf(longest, 1) {
				continue
			}
			cycle := max(1, int(longest+1e-9))
			if all[z].cycle == 0 || cycle < all[z].cycle {
				all[z].cycle, all[z].rate, all[z].area = cycle, rate, i
			}
			all[z].soak = max(all[z].soak, int(math.Ceil(Soak(a.Intake, a.Surface)-1e-9)))
		}
	}
	return all
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

// follow says by pairs of zones whose water one would run onto ground that the other has
// wetted faster than it takes in: it waits until that has soaked in as well.
func (in *Input) follow() [][]bool {
	all := make([][]bool, len(in.Zones))
	for z := range all {
		all[z] = make([]bool, len(in.Zones))
		for y := range all {
			all[z][y] = z == y || in.meet(z, y)
		}
	}
	return all
}

// meet reports whether two zones both outrun the intake of some ground: a twentieth of
// an area at least (chosen, so that stray drops do not count).
func (in *Input) meet(z, y int) bool {
	for i := range in.Areas {
		a := &in.Areas[i]
		if a.Rates[z] == nil || a.Rates[y] == nil {
			continue
		}
		both := 0
		for c, r := range a.Rates[z] {
			if r > float32(a.Intake) && a.Rates[y][c] > float32(a.Intake) {
				both++
			}
		}
		if both*20 >= len(a.Rates[z]) && both > 0 {
			return true
		}
	}
	return false
}
