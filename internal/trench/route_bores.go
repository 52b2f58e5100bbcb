package trench

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// share is the length of a stretch weighed by how far it is into the root zone: 1
// at the clear distance, 0 at the zone's edge. The integral of the distance
// √(u² + h²) is (u·√(u²+h²) + h²·asinh(u/h)) / 2.
func (t trunk) share(a, b orb.Point, from, to, length float64) float64 {
	ux, uy := (b[0]-a[0])/length, (b[1]-a[1])/length
	mid := float64((t.at[0]-a[0])*ux) + float64((t.at[1]-a[1])*uy)
	h := math.Abs(float64((t.at[0]-a[0])*uy) - float64((t.at[1]-a[1])*ux))
	sum := func(u float64) float64 {
		s := float64(u * math.Hypot(u, h))
		if h > 1e-9 {
			s += float64(h * h * math.Asinh(u/h))
		}
		return s / 2
	}
	far := sum(to-mid) - sum(from-mid) // the distance summed over the stretch
	return max(0, (float64(t.roots*(to-from))-far)/(t.roots-t.clear))
}

// bore is one way under paving on a straight way: what lies between two pieces of
// paving and is too short for the ends of two sleeves is bored, too.
type bore struct {
	from, to float64
	area     plan.ID // the first of them
}

func (f *field) bores(way []stretch) []bore {
	var out []bore
	for _, s := range way {
		if s.is != Paved {
			continue
		}
		if n := len(out); n > 0 && s.from-out[n-1].to < 2*f.rates.past {
			out[n-1].to = s.to
			continue
		}
		out = append(out, bore{s.from, s.to, s.area})
	}
	return out
}

// dig is what a straight way costs to dig, and in how many crossings it passes
// under paving. A sleeve that has no room to end in soil costs as much as another.
func (f *field) dig(a, b orb.Point) (cost float64, bores int, ok bool) {
	way, ok := f.walk(a, b)
	if !ok {
		return 0, 0, false
	}
	length := apart(a, b)
	cost = f.rates.bend
	for _, s := range way {
		cost += s.cost
	}
	under := f.bores(way)
	for _, u := range under {
		cost += f.rates.sleeveEach
		if u.from < f.rates.past-0.01 || length-u.to < f.rates.past-0.01 {
			cost += f.rates.sleeveEach
		}
	}
	return cost, len(under), true
}
