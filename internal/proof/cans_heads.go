package proof

import (
	"math"

	"github.com/paulmach/orb"
)

// byHeads sets cans out as heads are spaced: one near each head, into its arc, one midway
// between neighbours, and the rest where the ground is farthest from any.
func (s *sitting) byHeads() []site {
	sites := s.near(nil)
	sites = s.midway(sites)
	want := s.want
	if len(sites) > want {
		if s.asked == 0 {
			want = min((len(sites)+3)/4*4, MostCans)
		}
		sites = thinned(sites, min(want, len(sites)))
	}
	return s.fill(sites, want)
}

// near adds a can near each head of the area.
func (s *sitting) near(sites []site) []site {
	for _, i := range s.own {
		f := &s.heads[i]
		sin, cos := math.Sincos(float64(f.Facing()) * math.Pi / 180)
		at := orb.Point{f.At()[0] + float64(nearHead*cos), f.At()[1] + float64(nearHead*sin)}
		sites = s.put(sites, at, 1.5, "near "+s.p.HeadTag(f.ID))
	}
	return sites
}

// farNeighbour is how far apart heads may be, in throws of the farther, that still have a
// can midway between them. Chosen.
const farNeighbour = 1.6

// midway adds a can midway between heads of the area that have no other between them: in
// the circle over the line that joins them.
func (s *sitting) midway(sites []site) []site {
	for a, i := range s.own {
		for _, j := range s.own[a+1:] {
			f, o := &s.heads[i], &s.heads[j]
			apart := math.Hypot(f.At()[0]-o.At()[0], f.At()[1]-o.At()[1])
			if apart < 2*nearHead || apart > farNeighbour*float64(max(f.Run.Throw, o.Run.Throw)) {
				continue
			}
			at := orb.Point{(f.At()[0] + o.At()[0]) / 2, (f.At()[1] + o.At()[1]) / 2}
			if s.standsBetween(i, j, at, apart/2) {
				continue
			}
			sites = s.put(sites, at, apart/6, "between "+s.p.HeadTag(f.ID)+" and "+s.p.HeadTag(o.ID))
		}
	}
	return sites
}

func (s *sitting) standsBetween(i, j int, at orb.Point, within float64) bool {
	for _, k := range s.own {
		if q := s.heads[k].At(); k != i && k != j && math.Hypot(q[0]-at[0], q[1]-at[1]) < within+0.05 {
			return true
		}
	}
	return false
}

// put adds a can beside a place unless another stands there already.
func (s *sitting) put(sites []site, at orb.Point, within float64, where string) []site {
	at, ok := s.ground.beside(at, within)
	if !ok || nearestTo(at, sites) < leastApart {
		return sites
	}
	return append(sites, site{at, where})
}

// thinned keeps so many sites, each time the one that is farthest from those kept.
func thinned(sites []site, want int) []site {
	kept := []site{sites[0]}
	away := make([]float64, len(sites))
	for k := range sites {
		away[k] = nearestTo(sites[k].at, kept)
	}
	for len(kept) < want {
		next := 0
		for k := range sites {
			if away[k] > away[next] {
				next = k
			}
		}
		kept = append(kept, sites[next])
		for k := range sites {
			away[k] = min(away[k], math.Hypot(sites[k].at[0]-sites[next].at[0], sites[k].at[1]-sites[next].at[1]))
		}
	}
	return kept
}
