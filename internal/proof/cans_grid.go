package proof

import (
	"math"

	"github.com/paulmach/orb"
)

// lattice is rows and columns of places: (u0 + i·su, v0 + j·sv) on axes turned by along.
type lattice struct {
	sin, cos       float64
	u0, v0, su, sv float64
	iu, iv         int // places along the rows, and rows
}

func (l *lattice) place(i, j int) orb.Point {
	u, v := l.u0+float64(i)*l.su, l.v0+float64(j)*l.sv
	return orb.Point{float64(u*l.cos) - float64(v*l.sin), float64(u*l.sin) + float64(v*l.cos)}
}

// nearest is the place of the lattice nearest to a point.
func (l *lattice) nearest(p orb.Point) (i, j int) {
	u, v := float64(p[0]*l.cos)+float64(p[1]*l.sin), float64(p[1]*l.cos)-float64(p[0]*l.sin)
	return int(math.Round((u - l.u0) / l.su)), int(math.Round((v - l.v0) / l.sv))
}

// What lattices are tried: how wide over how deep, how far apart over what the ground has
// for each can, and from where. Chosen: some three thousand, a few milliseconds.
var (
	gridShapes = []float64{1, 0.9, 1.1, 0.8, 1.25, 0.67, 1.5}
	gridScales = []float64{1, 1.03, 0.97, 1.06, 0.94, 1.1, 0.9, 1.15, 0.85, 1.2, 0.8, 0.75, 0.7}
)

const (
	gridStarts  = 5
	gridSamples = 600
	gridSpare   = 8 // cans more than wanted that a lattice may have
)

// grid sets cans out in rows and columns: of all lattices whose cans are a multiple of
// four the one on which they stand for the most equal ground, are predicted as even as the
// ground is, for a grid in step with the heads would find every can alike, and tell of
// every head. Ground that takes none is filled by its widest gaps.
func (s *sitting) grid() []site {
	g := s.ground
	sample := g.some(gridSamples)
	even := evennessOf(s.lookAt(sample))
	apart := math.Sqrt(g.sqft / float64(s.want))
	var best lattice
	least := math.Inf(1)
	for _, shape := range gridShapes {
		for _, scale := range gridScales {
			l := g.latticed(apart*scale*math.Sqrt(shape), apart*scale/math.Sqrt(shape))
			if min(l.su, l.sv) < leastApart/2 || l.iu*l.iv > 40*mostAsked {
				continue
			}
			u0, v0 := l.u0, l.v0
			for a := range gridStarts {
				for b := range gridStarts {
					l.u0, l.v0 = u0+l.su*float64(a)/gridStarts, v0+l.sv*float64(b)/gridStarts
					n := s.count4(&l)
					if n < s.want || n > s.want+gridSpare || n%4 != 0 {
						continue
					}
					bad := s.unequal(&l, sample, n) + 0.02*float64(n-s.want)/4 + 0.05*math.Abs(math.Log(shape))
					if bad < least {
						places := s.lookAt(s.points(&l))
						bad += math.Abs(evennessOf(places)-even) + s.dark(places)
					}
					if bad < least-1e-12 {
						best, least = l, bad
					}
				}
			}
		}
	}
	var out []site
	if !math.IsInf(least, 1) {
		out = s.onLattice(&best)
	}
	return s.fill(out, max(s.want, (len(out)+3)/4*4))
}

// latticed is a lattice over the ground with room for a start anywhere in its first cell.
func (g *canGround) latticed(su, sv float64) lattice {
	l := lattice{su: su, sv: sv}
	l.sin, l.cos = math.Sincos(g.along * math.Pi / 180)
	u0, u1, v0, v1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, cell := range g.cells {
		p := g.middle(cell)
		u, v := float64(p[0]*l.cos)+float64(p[1]*l.sin), float64(p[1]*l.cos)-float64(p[0]*l.sin)
		u0, u1, v0, v1 = min(u0, u), max(u1, u), min(v0, v), max(v1, v)
	}
	l.u0, l.v0 = u0, v0
	l.iu, l.iv = int((u1-u0)/su)+1, int((v1-v0)/sv)+1
	return l
}

// count4 is how many places of a lattice lie on the ground; it gives up past what may be.
func (s *sitting) count4(l *lattice) int {
	n := 0
	for j := range l.iv {
		for i := range l.iu {
			if s.ground.at(l.place(i, j)) != otherGround {
				n++
			}
		}
		if n > s.want+gridSpare {
			return n
		}
	}
	return n
}

// unequal is how unequal the ground is that the cans of a lattice stand for: the mean
// square of what each is off, and four times the share of the ground that none stands for.
func (s *sitting) unequal(l *lattice, sample []orb.Point, cans int) float64 {
	of := make([]int, l.iu*l.iv)
	lost := 0
	for _, p := range sample {
		i, j := l.nearest(p)
		if i < 0 || j < 0 || i >= l.iu || j >= l.iv || s.ground.at(l.place(i, j)) == otherGround {
			lost++
			continue
		}
		of[j*l.iu+i]++
	}
	each, sum := float64(len(sample))/float64(cans), 0.0
	for j := range l.iv {
		for i := range l.iu {
			if s.ground.at(l.place(i, j)) != otherGround {
				off := float64(of[j*l.iu+i])/each - 1
				sum += float64(off * off)
			}
		}
	}
	return sum/float64(cans) + 4*float64(lost)/float64(len(sample))
}

// points are the places of a lattice on the ground.
func (s *sitting) points(l *lattice) []orb.Point {
	var out []orb.Point
	for j := range l.iv {
		for i := range l.iu {
			if at := l.place(i, j); s.ground.at(at) != otherGround {
				out = append(out, at)
			}
		}
	}
	return out
}

// onLattice are the places of a lattice on the ground, those where something stands moved
// beside it.
func (s *sitting) onLattice(l *lattice) []site {
	var out []site
	for _, at := range s.points(l) {
		if at, ok := s.ground.beside(at, min(max(min(l.su, l.sv)/2, offHead), 2*offHead)); ok && nearestTo(at, out) > leastApart/2 {
			out = append(out, site{at: at})
		}
	}
	return out
}

// fill adds cans where the ground is farthest from any, until there are so many or the
// next would stand too near to one.
func (s *sitting) fill(sites []site, want int) []site {
	var free []orb.Point
	for _, p := range s.ground.some(3000) {
		if s.ground.at(p) == open {
			free = append(free, p)
		}
	}
	away := make([]float64, len(free))
	for k, p := range free {
		away[k] = nearestTo(p, sites)
	}
	for len(sites) < want {
		next := -1
		for k := range free {
			if next < 0 || away[k] > away[next] {
				next = k
			}
		}
		if next < 0 || away[next] < leastApart/2 {
			return sites
		}
		at := free[next]
		sites = append(sites, site{at: at})
		for k, p := range free {
			away[k] = min(away[k], math.Hypot(p[0]-at[0], p[1]-at[1]))
		}
	}
	return sites
}

// nearestTo is how far the nearest site is; without any a length beyond all.
func nearestTo(p orb.Point, sites []site) float64 {
	least := math.MaxFloat64
	for _, s := range sites {
		least = min(least, math.Hypot(p[0]-s.at[0], p[1]-s.at[1]))
	}
	return least
}
