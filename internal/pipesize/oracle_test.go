package pipesize

import (
	"math"

	"evenfall/internal/units"
)

// holds says whether a choice of sizes, one for each pipe by index, keeps every limit.
func holds(t *Tree, choice []int) bool {
	at := make([]units.PSI, len(t.Pipes))
	low, high := extremes(t)
	for i, b := range t.Pipes {
		from, s := t.Inlet, b.Sizes[choice[i]]
		if b.Up >= 0 {
			from = at[b.Up]
			if up := t.Pipes[b.Up].Sizes[choice[b.Up]]; !t.Free && s.Rank > up.Rank {
				return false
			}
		}
		at[i] = from - s.Loss
		if b.Out == nil {
			continue
		}
		out := at[i] - b.Out.After
		if out < b.Out.Least-slack || out > b.Out.Most+slack {
			return false
		}
		if b.Out.Spread && b.Zone >= 0 {
			low[b.Zone], high[b.Zone] = min(low[b.Zone], out), max(high[b.Zone], out)
		}
	}
	for z, s := range t.Zones {
		if high[z]-low[z] > s.Most+slack {
			return false
		}
	}
	return true
}

// extremes are the starts of a search for least and greatest, by zone.
func extremes(t *Tree) (low, high []units.PSI) {
	low, high = make([]units.PSI, len(t.Zones)), make([]units.PSI, len(t.Zones))
	for z := range low {
		low[z], high[z] = units.PSI(math.Inf(1)), units.PSI(math.Inf(-1))
	}
	return low, high
}

// exhaustive tries every choice: the least cost that holds, +Inf for none.
func exhaustive(t *Tree) float64 {
	least := math.Inf(1)
	choice := make([]int, len(t.Pipes))
	for {
		if cost := t.Cost(choice); cost < least && holds(t, choice) {
			least = cost
		}
		i := 0
		for i < len(choice) {
			if choice[i]++; choice[i] < len(t.Pipes[i].Sizes) {
				break
			}
			choice[i] = 0
			i++
		}
		if i == len(choice) {
			return least
		}
	}
}
