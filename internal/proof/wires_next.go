package proof

import "math/bits"

// ask is a reading that may be taken next.
type ask struct{ a, b int }

// readingGame seeks the readings that tell which of several worlds it is in the fewest
// readings, whatever they show. A reading shows one coil, two in line, or none.
type readingGame struct {
	worlds []world
	n      int
	told   uint64 // wires that records tell something of; the others are alike
	read   map[ask]bool
	memo   map[uint64]int
	splits int
}

// mostSplits bounds the search through all ways to read (chosen: some milliseconds; past
// it the reading that parts the worlds most evenly is taken).
const mostSplits = 30_000

// parts are what a reading could show.
const parts = 3

// shows is what reading a pair shows in a world without faults.
func (w world) shows(q ask) int {
	pair := uint64(1)<<q.a | 1<<q.b
	switch {
	case w.dead&pair != 0:
		return 0
	case w.commons&pair != 0:
		return 1
	}
	return 2
}

// asks are the readings worth thinking of: of wires nothing is known of, two stand for
// all, since each may take the other's place.
func (g *readingGame) asks(told uint64) []ask {
	var of []int
	fresh := 0
	for i := range g.n {
		if told>>i&1 == 0 {
			if fresh++; fresh > 2 {
				continue
			}
		}
		of = append(of, i)
	}
	var out []ask
	for i, a := range of {
		for _, b := range of[i+1:] {
			if q := (ask{a, b}); !g.read[q] {
				out = append(out, q)
			}
		}
	}
	return out
}

// split parts a set of worlds by what a reading shows in each.
func (g *readingGame) split(set uint64, q ask) (by [parts]uint64) {
	for rest := set; rest != 0; rest &= rest - 1 {
		i := bits.TrailingZeros64(rest)
		by[g.worlds[i].shows(q)] |= 1 << i
	}
	return by
}

// leastReadings is how many readings so many worlds take at least: each parts them in three.
func leastReadings(worlds int) int {
	n := 0
	for reach := 1; reach < worlds; reach *= parts {
		n++
	}
	return n
}

// unsolvable stands for worlds that no reading left can part.
const unsolvable = 1000

// solve is how many readings a set of worlds takes in the worst case, by the best play,
// and its first reading. Past mostSplits it looks no deeper.
func (g *readingGame) solve(set, told uint64) (int, ask) {
	count := bits.OnesCount64(set)
	if count <= 1 {
		return 0, ask{}
	}
	if v, ok := g.memo[set]; ok {
		return v >> 16, ask{v >> 8 & 255, v & 255}
	}
	if g.splits > mostSplits {
		return leastReadings(count), ask{}
	}
	best, first := unsolvable, ask{}
	for _, q := range g.asks(told) {
		by := g.split(set, q)
		g.splits++
		worst := 0
		for _, part := range by {
			if part == set {
				worst = unsolvable
			} else if part != 0 {
				worst = max(worst, 1+leastReadings(bits.OnesCount64(part)))
			}
		}
		for _, part := range by {
			if worst >= best {
				break
			}
			if part != 0 {
				more, _ := g.solve(part, told|1<<q.a|1<<q.b)
				worst = max(worst, 1+more)
			}
		}
		if worst < best {
			best, first = worst, q
		}
		if best == leastReadings(count) {
			break
		}
	}
	g.memo[set] = best<<16 | first.a<<8 | first.b
	return best, first
}

// next is the reading to take next and how many are still needed at most; ok is false
// where no reading tells more. Few worlds are gone through in full; of many, the reading
// that leaves the fewest in the worst case is taken, and the number is what that way comes to.
func (g *readingGame) next() (q ask, most int, ok bool) {
	if len(g.worlds) < 2 {
		return ask{}, 0, false
	}
	if len(g.worlds) <= 64 {
		g.memo = map[uint64]int{}
		most, q = g.solve(^uint64(0)>>(64-len(g.worlds)), g.told)
		if g.splits <= mostSplits && most < unsolvable {
			return q, most, true
		}
	}
	return g.evenly()
}

// evenly takes the reading that leaves the fewest worlds in the worst case, and follows
// that case to its end, or as far as anybody would.
func (g *readingGame) evenly() (first ask, most int, ok bool) {
	left, told := g.worlds, g.told
	for len(left) > 1 && most < mostReadings {
		best, worst, found := ask{}, len(left), false
		for _, q := range g.asks(told) {
			var by [parts]int
			for _, w := range left {
				by[w.shows(q)]++
			}
			if most := max(by[0], by[1], by[2]); most < worst {
				best, worst, found = q, most, true
			}
		}
		if !found {
			break
		}
		left = largest(left, best)
		told |= 1<<best.a | 1<<best.b
		if most++; most == 1 {
			first, ok = best, true
		}
	}
	return first, most, ok
}

// mostReadings is how far evenly looks ahead (chosen: nobody takes more).
const mostReadings = 25

// largest are the worlds that a reading leaves in the worst case.
func largest(worlds []world, q ask) []world {
	var by [parts][]world
	for _, w := range worlds {
		by[w.shows(q)] = append(by[w.shows(q)], w)
	}
	most := by[0]
	for _, part := range by[1:] {
		if len(part) > len(most) {
			most = part
		}
	}
	return most
}
