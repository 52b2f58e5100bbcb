package audit

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// The lab makes audits whose faults are known. Its water falls by a sampler of its own,
// in a yard of 3 × 4 heads, 15 ft apart, whose catch is 1 where all is as drawn.

const labThrow = 15.0

// labHead stands somewhere, throws from one azimuth through an arc, and is what it is.
type labHead struct {
	x, y, from, arc float64 // ft, degrees
	zone            string
	output          float64 // as a share
	throw           float64 // as a share
	tilt, toward    float64 // degrees
}

// depth is what a head brings a place in the time that a row of heads brings 1.
func (h labHead) depth(x, y float64) float64 {
	r, az := math.Hypot(x-h.x, y-h.y), math.Atan2(y-h.y, x-h.x)*180/math.Pi
	off := math.Mod(az-h.from+720, 360)
	if off > h.arc && off < 360-1e-9 && r > 1e-9 {
		return 0
	}
	throw := labThrow * h.throw
	if h.tilt != 0 {
		// Written apart from LeanedThrow: a throw in vacuum from 25°, cut short and
		// bounded as that says.
		a := (25 - h.tilt*math.Cos((az-h.toward)*math.Pi/180)) * math.Pi / 180
		throw *= math.Max(0.3, math.Min(1.15, math.Sin(2*a)/math.Sin(50*math.Pi/180)))
	}
	if r >= throw {
		return 0
	}
	// As much water falls whatever the throw is, so a short one falls deeper; bounded.
	gain := math.Min((labThrow/throw)*(labThrow/throw), 3)
	return h.output * (1 - r/throw) * gain
}

// labYard is a yard: heads, and cans.
type labYard struct {
	heads []labHead
	cans  [][2]float64
}

// square sets heads on a square grid: quarters at the corners, halves along the edges.
func square3x4() labYard {
	return mixed(func(col, row int) float64 { return float64(col) * labThrow })
}

// mixed sets 4 × 3 heads and 24 cans at the middles of cells.
func mixed(x func(col, row int) float64) labYard {
	var y labYard
	for row := range 3 {
		for col := range 4 {
			h := labHead{x: x(col, row), y: float64(row) * labThrow, arc: 360, zone: "1", output: 1, throw: 1}
			switch {
			case row == 0:
				h.from, h.arc = 0, 180
			case row == 2:
				h.from, h.arc = 180, 180
			case col == 0:
				h.from, h.arc = 270, 180
			case col == 3:
				h.from, h.arc = 90, 180
			}
			if row != 1 && (col == 0 || col == 3) {
				h.arc = 90
				h.from = map[[2]int]float64{{0, 0}: 0, {3, 0}: 90, {3, 2}: 180, {0, 2}: 270}[[2]int{col, row}]
			}
			y.heads = append(y.heads, h)
		}
	}
	for i := range 6 {
		for j := range 4 {
			y.cans = append(y.cans, [2]float64{(float64(i) + 0.5) * 7.5, (float64(j) + 0.5) * 7.5})
		}
	}
	return y
}

// staggered sets the middle row half a space aside, full circles everywhere, so that water
// goes over the edges.
func staggered() labYard {
	y := mixed(func(col, row int) float64 { return (float64(col) + 0.5*float64(row%2)) * labThrow })
	for i := range y.heads {
		y.heads[i].arc, y.heads[i].from = 360, 0
	}
	for i := range y.cans {
		y.cans[i][0] *= 52.5 / 45 // as far as the middle row goes
	}
	return y
}

// nearHeads is the square yard with cans by its heads and midway between them.
func nearHeads() labYard {
	y := square3x4()
	y.cans = nil
	for _, h := range y.heads {
		dx, dy := 2.0, 2.0
		if h.x > 40 {
			dx = -2
		}
		if h.y > 25 {
			dy = -2
		}
		y.cans = append(y.cans, [2]float64{h.x + dx, h.y + dy})
	}
	for i := range 3 {
		for j := range 2 {
			y.cans = append(y.cans, [2]float64{(float64(i) + 0.5) * labThrow, (float64(j) + 0.5) * labThrow})
		}
	}
	for i := range 3 {
		y.cans = append(y.cans, [2]float64{(float64(i) + 0.5) * labThrow, labThrow - 1}, [2]float64{(float64(i) + 0.5) * labThrow, 1})
	}
	return y
}

// twoZones is the square yard with two rows on one valve, one on another.
func twoZones() labYard {
	y := square3x4()
	for i := range y.heads {
		if i >= 8 {
			y.heads[i].zone = "2"
		}
	}
	return y
}

var labYards = []struct {
	name string
	make func() labYard
}{
	{"square, quarters and halves", square3x4},
	{"staggered, full circles", staggered},
	{"cans by heads and midway", nearHeads},
	{"two zones", twoZones},
}

// problem is what the yard's cans were caught for, by heads as they are in truth.
func (y labYard) problem(truth []labHead, noise float64, rng *rand.Rand) Problem {
	p := Problem{Reading: 0.005}
	for i, h := range y.heads {
		g := Head{ID: labID(i), Zone: h.zone}
		for _, c := range y.cans {
			g.Upright = append(g.Upright, h.depth(c[0], c[1]))
		}
		for k := range 8 {
			l, leaning := h, []float64(nil)
			l.tilt, l.toward = float64(StandardTilt), 45*float64(k)
			for _, c := range y.cans {
				leaning = append(leaning, l.depth(c[0], c[1]))
			}
			g.Leaning = append(g.Leaning, leaning)
		}
		p.Heads = append(p.Heads, g)
	}
	for _, c := range y.cans {
		v := 0.0
		for _, h := range truth {
			v += h.depth(c[0], c[1])
		}
		v = v*(1+noise*rng.NormFloat64()) + 0.005*rng.NormFloat64()
		p.Catches = append(p.Catches, max(v, 0))
	}
	return p
}

// set are the heads as a crew sets them: each a little off, by no more than two standard
// deviations, for what is worse is seen. off of 0 is as drawn, 1 by the usual errors.
func (y labYard) set(off float64, rng *rand.Rand) []labHead {
	stray := func() float64 {
		for {
			if v := rng.NormFloat64(); math.Abs(v) <= 2 {
				return off * v
			}
		}
	}
	truth := append([]labHead(nil), y.heads...)
	for i := range truth {
		truth[i].output *= 1 + 0.05*stray()
		truth[i].throw *= 1 + 0.03*stray()
		truth[i].tilt = math.Abs(2 * stray())
		truth[i].toward = 360 * rng.Float64()
	}
	return truth
}

// lean has the first of the heads that can lean so that it shows lean so: its catches
// change by four standard deviations or more. Away from its arc, or where no can stands on
// that side, a lean changes little; at is put in order so that the one that leans is first.
func (y labYard) lean(at []int, tilt float64, rng *rand.Rand) {
	for try := range 40 {
		i := at[try%len(at)]
		was, leaned := y.heads[i], y.heads[i]
		leaned.tilt, leaned.toward = tilt, 360*rng.Float64()
		shows := 0.0
		for _, c := range y.cans {
			all := 0.0
			for _, h := range y.heads {
				all += h.depth(c[0], c[1])
			}
			change := leaned.depth(c[0], c[1]) - was.depth(c[0], c[1])
			shows += change * change / (0.08*0.08*all*all + 1e-4)
		}
		if shows >= 16 {
			at[0], at[try%len(at)] = i, at[0]
			y.heads[i] = leaned
			return
		}
	}
	panic("no head of the lab can lean so that it shows")
}

// labID names a head of the lab: a to z, then by number.
func labID(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return fmt.Sprint("h", i)
}
