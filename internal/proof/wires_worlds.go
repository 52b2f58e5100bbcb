package proof

import (
	"math"
	"math/bits"

	"evenfall/internal/plan"
)

// world is one way the wires may be joined in the ground: which of them are commons and
// which lead to no valve, as sets of wires. The others each lead to a valve.
type world struct{ commons, dead uint64 }

// The limits of reckoning with worlds one by one; past them what is seen of each wire
// has to do (chosen: some hundredths of a second).
const (
	mostWires  = 64
	mostWorlds = 2000
)

// mostBroken is how many more wires may be dead than a system without faults has.
const mostBroken = 2

// possible are the worlds that explain all that was seen with the fewest faults, and how many
// faults that is. There are none where they would be too many to go through.
func (f *wireWork) possible() (fewest []world, faults int) {
	n := len(f.ids)
	if n < 2 || n > mostWires {
		return nil, 0
	}
	seen := 0
	faults = math.MaxInt
	for extra := 0; extra <= mostBroken && extra < faults; extra++ {
		for _, commons := range f.commons() {
			hots := n - bits.OnesCount64(commons)
			missing := max(0, f.valves()-hots)
			sure, may := f.deadSure(commons), f.deadMaybe(commons)
			pick := max(0, hots-f.valves()) + extra - bits.OnesCount64(sure)
			switch room := bits.OnesCount64(may); {
			case pick < 0 || pick > room:
				continue
			default:
				if seen += combinations(room, pick); seen > mostWorlds {
					return nil, 0
				}
			}
			for _, more := range subsets(may, pick) {
				w := world{commons, sure | more}
				cost := extra + missing + f.misfits(w)
				if cost < faults {
					fewest, faults = fewest[:0], cost
				}
				if cost == faults {
					fewest = append(fewest, w)
				}
			}
		}
	}
	if faults == math.MaxInt {
		return nil, 0
	}
	return fewest, faults + f.oddTouches()
}

// valves is how many wires lead to a valve where nothing is at fault: one a zone, but
// one for zones of a station that ran by one wire, and the master valve's.
func (f *wireWork) valves() int {
	n := len(f.zones)
	if f.hasMaster {
		n++
	}
	for i := range f.ids {
		if ran, _ := f.ran(i); len(ran) > 1 && f.terminal(ran) > 0 {
			n -= len(ran) - 1
		}
	}
	return max(n, 0)
}

// oddTouches are the faults that show in touches whatever the wires are: a zone that
// ran by two wires, zones of several stations that ran by one.
func (f *wireWork) oddTouches() int {
	odd, by := 0, map[plan.ID]bool{}
	for i := range f.ids {
		ran, _ := f.ran(i)
		if len(ran) > 1 && f.terminal(ran) == 0 {
			odd++
		}
		for _, z := range ran {
			if by[z] {
				odd++
			}
			by[z] = true
		}
		if f.doubtful[i] >= 0 {
			odd++
		}
	}
	return odd
}

// commons are the sets of wires that may be the commons: those the user says are, else
// each wire that was not powered itself.
func (f *wireWork) commons() []uint64 {
	var marked uint64
	var one []uint64
	for i, w := range f.wires {
		if w.Common && !f.unmarked {
			marked |= 1 << i
		}
		if _, powered := f.ran(i); !powered {
			one = append(one, 1<<i)
		}
	}
	if marked != 0 {
		return []uint64{marked}
	}
	return one
}

// deadSure are the wires that read open to a common and ran nothing.
func (f *wireWork) deadSure(commons uint64) uint64 {
	var dead uint64
	for _, r := range f.readings {
		if !r.open {
			continue
		}
		for _, pair := range [][2]int{{r.a, r.b}, {r.b, r.a}} {
			if ran, _ := f.ran(pair[1]); commons>>pair[0]&1 == 1 && commons>>pair[1]&1 == 0 && len(ran) == 0 {
				dead |= 1 << pair[1]
			}
		}
	}
	return dead
}

// deadMaybe are the wires of which nothing shows that they lead anywhere, nor that they
// do not.
func (f *wireWork) deadMaybe(commons uint64) uint64 {
	may := ^commons &^ f.deadSure(commons)
	for i := range mostWires {
		if i >= len(f.ids) {
			may &^= 1 << i
		} else if ran, _ := f.ran(i); len(ran) > 0 {
			may &^= 1 << i
		}
	}
	for _, r := range f.readings {
		if !r.open {
			may &^= 1<<r.a | 1<<r.b
		}
	}
	return may
}

// misfits counts what in the records a world does not explain without a fault.
func (f *wireWork) misfits(w world) int {
	odd := 0
	silent := !f.hasMaster // a live wire that ran nothing is the master valve's, once
	for i := range f.ids {
		if ran, powered := f.ran(i); powered && len(ran) == 0 && (w.dead|w.commons)>>i&1 == 0 {
			if silent {
				odd++
			}
			silent = true
		}
	}
	return odd + f.misread(w)
}

// misread counts the readings that a world does not explain, each good valve having
// some resistance of its own within what valves have.
func (f *wireWork) misread(w world) int {
	odd := 0
	coil := make([]ohmSpan, len(f.ids))
	for i := range coil {
		coil[i] = valveSpan(f.longest(i))
	}
	narrow := func(i int, to ohmSpan) bool {
		if now := coil[i].and(to); !now.empty() {
			coil[i] = now
			return true
		}
		return false
	}
	var pairs []reading
	for _, r := range f.readings {
		dead := w.dead>>r.a&1 == 1 || w.dead>>r.b&1 == 1
		commonA, commonB := w.commons>>r.a&1 == 1, w.commons>>r.b&1 == 1
		switch {
		case r.open || dead:
			if r.open != dead {
				odd++
			}
		case commonA && commonB:
			if r.ohms >= shortMost {
				odd++
			}
		case commonA:
			if !narrow(r.b, ohmsSeen(r.ohms)) {
				odd++
			}
		case commonB:
			if !narrow(r.a, ohmsSeen(r.ohms)) {
				odd++
			}
		default:
			pairs = append(pairs, r)
		}
	}
	// Two hots in line are the sum of their coils. Narrowing twice reaches along chains
	// as long as they get; what it leaves too wide only keeps a world that could go.
	for round := range 3 {
		for _, r := range pairs {
			okA := narrow(r.a, ohmsSeen(r.ohms).less(coil[r.b]))
			okB := okA && narrow(r.b, ohmsSeen(r.ohms).less(coil[r.a]))
			if round == 2 && !okB {
				odd++
			}
		}
	}
	return odd
}

// combinations is the number of ways to take k of n; past mostWorlds it is only more than that.
func combinations(n, k int) int {
	c := 1
	for i := range min(k, n-k) {
		if c = c * (n - i) / (i + 1); c > 64*mostWorlds {
			return c
		}
	}
	return c
}

// subsets are the subsets of a set with k members.
func subsets(of uint64, k int) []uint64 {
	if k == 0 {
		return []uint64{0}
	}
	var out []uint64
	for rest := of; bits.OnesCount64(rest) >= k; {
		first := rest & -rest
		rest &^= first
		for _, more := range subsets(rest, k-1) {
			out = append(out, first|more)
		}
	}
	return out
}
