package geom

import "github.com/paulmach/orb"

// Contour is the places at one level, as lines: each goes on until it leaves the
// measured ground or comes back to where it began.
type Contour struct {
	Z     float64
	Lines [][]orb.Point
}

// Range is the least and the greatest height that was measured; false when there
// are not three places off one line, and so no ground between them.
func (r *Relief) Range() (least, most float64, ok bool) {
	if len(r.faces) == 0 {
		return 0, 0, false
	}
	least, most = r.z[0], r.z[0]
	for _, z := range r.z {
		least, most = min(least, z), max(most, z)
	}
	return least, most, true
}

// Contours are the lines at levels on the ground between the heights, in the order
// of the levels. Ground that lies level at one of them has no line of it. A place
// at just a level counts as above it, so that every line is whole.
func (r *Relief) Contours(levels []float64) []Contour {
	var out []Contour
	for _, z := range levels {
		if lines := r.contour(z); len(lines) > 0 {
			out = append(out, Contour{z, lines})
		}
	}
	return out
}

// rise is an edge of the ground that passes a level, by its two places.
type rise [2]int32

// contour joins the stretches across single faces to lines.
func (r *Relief) contour(z float64) [][]orb.Point {
	next := map[rise][]rise{}
	var ends []rise // in the order of the faces, so that lines come out alike every time
	for _, f := range r.faces {
		var cut []rise
		for e := range 3 {
			a, b := f.corner[e], f.corner[(e+1)%3]
			if (r.z[a] >= z) != (r.z[b] >= z) {
				cut = append(cut, rise{min(a, b), max(a, b)})
			}
		}
		if len(cut) != 2 {
			continue
		}
		for i, at := range cut {
			if len(next[at]) == 0 {
				ends = append(ends, at)
			}
			next[at] = append(next[at], cut[1-i])
		}
	}
	seen := map[rise]bool{}
	var out [][]orb.Point
	follow := func(from rise) {
		if seen[from] {
			return
		}
		line := []orb.Point{r.onRise(from, z)}
		at, before := from, rise{-1, -1}
		for {
			seen[at] = true
			to, ok := onward(next[at], before)
			if !ok {
				break
			}
			line = append(line, r.onRise(to, z))
			if to == from {
				break
			}
			at, before = to, at
		}
		if len(line) > 1 {
			out = append(out, line)
		}
	}
	for _, at := range ends { // those that begin at the rim first, then those that close
		if len(next[at]) == 1 {
			follow(at)
		}
	}
	for _, at := range ends {
		follow(at)
	}
	return out
}

// onward is the way on that does not lead back.
func onward(ways []rise, before rise) (rise, bool) {
	for _, w := range ways {
		if w != before {
			return w, true
		}
	}
	return rise{}, false
}

// onRise is where an edge passes a level.
func (r *Relief) onRise(e rise, z float64) orb.Point {
	a, b := r.at[e[0]].point(), r.at[e[1]].point()
	share := (z - r.z[e[0]]) / (r.z[e[1]] - r.z[e[0]])
	return orb.Point{a[0] + float64(share*(b[0]-a[0])), a[1] + float64(share*(b[1]-a[1]))}
}
