package audit

import "math"

// settled is the yard by one account: every amount not negative, and how open each is.
type settled struct {
	share  float64 // chance of the account
	heads  []headSettled
	common []normal // what heads have in common, as shares
	cans   []float64
}

// headSettled is a head by one account.
type headSettled struct {
	own     normal // its output beside what it has in common with others
	leaning bool
	tilt    normal  // as a share of StandardTilt, when it leans
	toward  float64 // in radians
}

// normal is a normal distribution of which only what is not negative counts.
type normal struct{ mean, sd float64 }

// under is the chance of less than v.
func (d normal) under(v float64) float64 {
	if v <= 0 {
		return 0
	}
	if d.sd <= 0 {
		if d.mean < v {
			return 1
		}
		return 0
	}
	if v > d.mean+6*d.sd {
		return 1
	}
	if d.mean > 6*d.sd { // nothing of it is below nothing
		return below((v - d.mean) / d.sd)
	}
	all := below(d.mean / d.sd)
	if all < 1e-300 { // far below nothing: nothing it is
		return 1
	}
	return max(0, 1-below((d.mean-v)/d.sd)/all)
}

// bench settles accounts at one level of noise.
type bench struct {
	y     *yard
	level int
	root  matrix               // of noise and small leans
	heads [][]float64          // upright patterns over it
	leans map[[2]int][]float64 // leaning ones, as they are asked for
	catch []float64
	gram  matrix // products of heads
}

func newBench(y *yard, level int) *bench {
	b := &bench{y: y, level: level, root: y.variance(levels[level]), leans: map[[2]int][]float64{}}
	b.root.cholesky()
	b.catch = b.over(y.caught)
	b.gram = newMatrix(len(y.heads))
	for i, h := range y.heads {
		b.heads = append(b.heads, b.over(h.Upright))
		for j := range i + 1 {
			v := dot(b.heads[i], b.heads[j])
			b.gram.row(i)[j], b.gram.row(j)[i] = v, v
		}
	}
	return b
}

func (b *bench) over(v []float64) []float64 {
	w := append([]float64(nil), v...)
	b.root.lower(w)
	return w
}

// unknown is one of what an account leaves open beside the heads' upright parts.
type unknown struct {
	head    int // of a lean; -1 otherwise
	toward  int
	common  int // -1 unless it is what heads have in common
	pattern []float64
	mean    float64
	spread  float64
}

// settle fits upright and leaning part of every head, what they have in common, and the
// cans that are no measure, all not negative, and reads how open each is off the curve of
// what is left unexplained, among those above nothing.
func (b *bench) settle(wrong []int) settled {
	y := b.y
	hs := len(y.heads)
	mean, spread := make([]float64, hs), make([]float64, hs)
	for j := range hs {
		mean[j], spread[j] = 1, headVaries
	}
	var more []unknown
	for g := range y.common {
		more = append(more, unknown{-1, 0, g, nil, 1, y.common[g].spread})
	}
	s := settled{heads: make([]headSettled, hs)}
	for _, x := range wrong {
		c := &y.suspect[x]
		switch {
		case c.onCan():
			v := make([]float64, len(y.caught))
			v[c.who] = c.sign() * c.pattern[c.who]
			more = append(more, unknown{-1, 0, -1, b.over(v), math.Abs(c.mean), c.spread})
		case c.kind == lean:
			key := [2]int{c.who, c.toward}
			if b.leans[key] == nil {
				b.leans[key] = b.over(y.heads[c.who].Leaning[c.toward])
			}
			more = append(more, unknown{c.who, c.toward, -1, b.leans[key], c.mean, c.spread})
		default:
			mean[c.who] += c.mean
			spread[c.who] = math.Hypot(headVaries, c.spread)
		}
	}
	h, f := b.normals(more, mean, spread)
	x, free, rising := nonNegative(h, f)
	open := openness(h, free)
	s.read(b, more, x, free, rising, h, open)
	return s
}

// normals are the normal equations of the fit: catches, and what is known beforehand.
func (b *bench) normals(more []unknown, mean, spread []float64) (matrix, []float64) {
	hs := len(b.heads)
	h, f := newMatrix(hs+len(more)), make([]float64, hs+len(more))
	for i := range hs {
		copy(h.row(i), b.gram.row(i))
		f[i] = dot(b.heads[i], b.catch)
	}
	for u, m := range more {
		at := hs + u
		f[at] += m.mean / (m.spread * m.spread)
		h.row(at)[at] += 1 / (m.spread * m.spread)
		if m.pattern == nil {
			continue
		}
		f[at] += dot(m.pattern, b.catch)
		for i := range hs {
			v := dot(m.pattern, b.heads[i])
			h.row(at)[i] += v
			h.row(i)[at] += v
		}
		for o := range u + 1 {
			if p := more[o].pattern; p != nil {
				v := dot(m.pattern, p)
				h.row(at)[hs+o] += v
				if o != u {
					h.row(hs + o)[at] += v
				}
			}
		}
	}
	// What a head brings, upright and leaning, is about what it should beside what it has
	// in common with others.
	belongs := make([]float64, len(f))
	for j := range hs {
		clear(belongs)
		want := mean[j]
		belongs[j] = 1
		for u, m := range more {
			switch {
			case m.head == j:
				belongs[hs+u] = 1
			case m.common >= 0 && b.y.common[m.common].has(j):
				belongs[hs+u] = -1
				want--
			}
		}
		by := 1 / (spread[j] * spread[j])
		h.addOuter(by, belongs)
		for i, v := range belongs {
			f[i] += by * want * v
		}
	}
	return h, f
}

func (s *shared) has(head int) bool {
	for _, j := range s.heads {
		if j == head {
			return true
		}
	}
	return false
}

// openness is the covariance of the unknowns above nothing, 0 at the others.
func openness(h matrix, free []bool) matrix {
	var at []int
	for i, is := range free {
		if is {
			at = append(at, i)
		}
	}
	part := newMatrix(len(at))
	for i, a := range at {
		for j, c := range at {
			part.row(i)[j] = h.row(a)[c]
		}
	}
	inv, open := part.inverse(), newMatrix(len(free))
	for i, a := range at {
		for j, c := range at {
			open.row(a)[c] = inv.row(i)[j]
		}
	}
	return open
}

// read turns unknowns into what is told of heads, zones and cans.
func (s *settled) read(b *bench, more []unknown, x []float64, free []bool, rising []float64, h, open matrix) {
	y := b.y
	hs := len(y.heads)
	s.common = make([]normal, len(y.common))
	together := make([]float64, len(x))
	for g := range y.common {
		clear(together)
		share := 1.0
		for u, m := range more {
			// A zone's is beside all: the first in common is that of all heads.
			if m.common == g || m.common == 0 {
				share += x[hs+u] - 1
				together[hs+u] = 1
			}
		}
		s.common[g] = normal{max(share, 0), open.along(together)}
	}
	s.cans = make([]float64, len(y.caught))
	for j := range hs {
		y.readHead(&s.heads[j], j, more, x, free, rising, h, open)
		for c, v := range y.heads[j].Upright {
			s.cans[c] += x[j] * v
		}
	}
	for u, m := range more {
		if m.head >= 0 {
			for c, v := range y.heads[m.head].Leaning[m.toward] {
				s.cans[c] += x[hs+u] * v
			}
		}
	}
}

func (y *yard) readHead(told *headSettled, j int, more []unknown, x []float64, free []bool, rising []float64, h, open matrix) {
	hs := len(y.heads)
	all, share, leaning := x[j], 1.0, -1
	for u, m := range more {
		switch {
		case m.head == j:
			all += x[hs+u]
			leaning = hs + u
		case m.common >= 0 && y.common[m.common].has(j):
			share += x[hs+u] - 1
		}
	}
	share = max(share, 0.05) // a zone that brings next to nothing says nothing of its heads
	own := all / share
	slope := make([]float64, len(x))
	slope[j] = 1 / share
	for u, m := range more {
		switch {
		case m.head == j:
			slope[hs+u] = 1 / share
		case m.common >= 0 && y.common[m.common].has(j):
			slope[hs+u] = -own / share
		}
	}
	told.own = normal{own, open.along(slope)}
	if !free[j] && (leaning < 0 || !free[leaning]) {
		// It brings nothing: the slope there says how quickly more is ruled out.
		sharp := h.row(j)[j]
		told.own = normal{-rising[j] / sharp / share, 1 / math.Sqrt(sharp) / share}
	}
	if leaning < 0 || !free[leaning] || all <= 0 {
		return
	}
	t := x[leaning] / all
	clear(slope)
	slope[j], slope[leaning] = -t/all, (1-t)/all
	told.leaning, told.tilt = true, normal{t, open.along(slope)}
	k := more[leaning-hs].toward
	told.toward = 2 * math.Pi * float64(k) / float64(len(y.heads[j].Leaning))
}
