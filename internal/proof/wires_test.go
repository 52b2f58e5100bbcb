package proof

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// Yards without faults, coils of any make and meters of any: whatever is told is so, all
// is found, and no more wires are powered than valves less one, which the last is told by.
func TestWires_FindsAllInYardsWithoutFaults(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewPCG(9, 1))
	over, all, most := 0, 0, 0
	for n := range 400 {
		zones, spares, master := 1+rnd.IntN(9), rnd.IntN(4), rnd.IntN(4) == 0
		alike := n%4 < 2 // as in most yards: coils of one make
		y := newWiredYard(rnd, zones, spares, master, 21, 59)
		if alike {
			least := 21 + rnd.Float64()*15
			y = newWiredYard(rnd, zones, spares, master, least, least*1.4)
		}
		p := y.plan(n%2 == 0)
		first := Wires(p)
		m, touches, readings := y.work(t, p, nil)
		valves := zones
		if master {
			valves++
		}
		if valves == 1 {
			valves++ // its two wires are alike until one is powered
		}
		if touches > first.Touches || touches > valves-1 {
			t.Errorf("%d zones, %d spares, master %v: %d touches, %d were told", zones, spares, master, touches, first.Touches)
		}
		if zones == 1 && !master && n%2 == 1 {
			if m.Found != 1 {
				t.Errorf("the only zone is not found")
			}
		} else {
			y.holds(t, m, true)
		}
		all++
		if n%2 == 0 && readings > first.Readings {
			t.Errorf("%d zones, %d spares, the common known: %d readings, %d were told", zones, spares, readings, first.Readings)
		}
		if readings > first.Readings {
			over, most = over+1, max(most, readings-first.Readings)
		}
		if readings > first.Readings+2+len(y.on)/2 {
			t.Errorf("%d readings of %d wires, %d were told", readings, len(y.on), first.Readings)
		}
		if alike && len(m.Warnings) > 0 {
			t.Errorf("warnings where nothing is at fault: %q", m.Warnings)
		}
		if t.Failed() {
			t.Fatalf("%+v\n%+v", y, m)
		}
	}
	// One coil of 50 Ω reads as two of 25 in line, which another reading tells.
	t.Logf("more readings than told in %d of %d yards, by %d at most", over, all, most)
}

// The worst case of what is asked for, against a search through all ways to read and
// touch in all worlds of up to five wires.
func TestWires_FewestOfAllWays(t *testing.T) {
	t.Parallel()
	for wires := 2; wires <= 5; wires++ {
		for zones := 1; zones < wires; zones++ {
			for _, known := range []bool{true, false} {
				if zones == 1 && !known {
					continue // the two wires of one valve are alike
				}
				name := fmt.Sprintf("%d wires, %d zones, common known %v", wires, zones, known)
				t.Run(name, func(t *testing.T) {
					t.Parallel()
					worlds := allWiredYards(wires, zones, known)
					worst := 0
					for _, y := range worlds {
						p := y.plan(known)
						m, touches, readings := y.work(t, p, shortWires(zones))
						y.holds(t, m, true)
						worst = max(worst, touches*touchCost+readings)
					}
					if best := bestPlay(worlds, known); worst != best {
						t.Errorf("takes %d touches and %d readings in the worst case; %d and %d do", worst/touchCost, worst%touchCost, best/touchCost, best%touchCost)
					}
				})
			}
		}
	}
}

// touchCost makes a touch dearer than all readings.
const touchCost = 1000

// allWiredYards are all ways that wires can be joined without faults.
func allWiredYards(wires, zones int, known bool) []*wiredYard {
	var out []*wiredYard
	var place func(on []int, z int)
	add := func(on []int) {
		for c, z := range on {
			if z != 0 || known && c != 0 {
				continue
			}
			y := &wiredYard{zones: zones, common: c, stuck: make([]bool, zones), shorted: make([]bool, wires), adds: make([]float64, wires)}
			for _, z := range on {
				if z == 0 {
					y.on = append(y.on, nil)
				} else {
					y.on = append(y.on, []int{z - 1})
				}
			}
			for range zones + 1 {
				y.coil = append(y.coil, 36) // two in line are no coil, one is no two
			}
			out = append(out, y)
		}
	}
	place = func(on []int, z int) {
		if z > zones {
			add(on)
			return
		}
		for w := range on {
			if on[w] == 0 {
				on[w] = z
				place(on, z+1)
				on[w] = 0
			}
		}
	}
	place(make([]int, wires), 1)
	return out
}

// yardSet is a set of yards.
type yardSet [2]uint64

// bestPlay is the least cost in the worst case of finding in which of the yards one is, as
// far as zones go, by any readings and touches.
func bestPlay(worlds []*wiredYard, known bool) int {
	wires := len(worlds[0].on)
	memo := map[yardSet]int{}
	var play func(s yardSet) int
	members := func(s yardSet) []int {
		var out []int
		for i := range worlds {
			if s[i/64]>>(i%64)&1 == 1 {
				out = append(out, i)
			}
		}
		return out
	}
	split := func(in []int, show func(y *wiredYard) int) map[int]yardSet {
		by := map[int]yardSet{}
		for _, i := range in {
			k := show(worlds[i])
			s := by[k]
			s[i/64] |= 1 << (i % 64)
			by[k] = s
		}
		return by
	}
	play = func(s yardSet) int {
		if v, ok := memo[s]; ok {
			return v
		}
		in := members(s)
		if len(in) == 1 {
			return 0
		}
		best := 1 << 30
		try := func(cost int, show func(y *wiredYard) int) {
			by := split(in, show)
			if len(by) == 1 {
				return
			}
			worst := 0
			for _, part := range by { // the greatest of them: in any order
				worst = max(worst, cost+play(part))
			}
			best = min(best, worst)
		}
		sameCommon := true
		for _, i := range in {
			sameCommon = sameCommon && worlds[i].common == worlds[in[0]].common
		}
		for a := range wires {
			for b := a + 1; b < wires; b++ {
				try(1, func(y *wiredYard) int {
					n := 0
					for _, w := range []int{a, b} {
						if w == y.common {
							continue
						}
						if len(y.on[w]) == 0 {
							return -1
						}
						n++
					}
					return n
				})
			}
			if sameCommon && a != worlds[in[0]].common {
				try(touchCost, func(y *wiredYard) int {
					if len(y.on[a]) == 0 {
						return 0
					}
					return 1 + y.on[a][0]
				})
			}
		}
		memo[s] = best
		return best
	}
	var all yardSet
	for i := range worlds {
		all[i/64] |= 1 << (i % 64)
	}
	return play(all)
}
