package trench

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
)

// What places for boxes are compared by before anything is routed, in feet of trench
// in lawn. Chosen.
const (
	towardMain = 0.6  // of the way to the backflow device: others share it
	inLow      = 20.0 // the low end of a bed, which fills with water
	mostSites  = 160  // places that are looked at
	sameValve  = 3.0  // feet: valves no farther apart stand in the same place
)

// placement is places for the valves that may be moved.
type placement struct {
	name string
	at   map[plan.ID]orb.Point
}

// survey tells how far it is from every place where a box may stand to the heads of
// each zone and to the backflow device, by the cost of the way.
type survey struct {
	ground *coverage.ValveGround
	p      *plan.Plan
	rates  rates
	sites  []coverage.ValveSite
	zones  []plan.ID
	away   [][]float64 // by zone, by site
	main   []float64   // by site
}

// newSurvey looks at the ground of the zones that may have their valves moved.
func newSurvey(ctx context.Context, j *job, zones []plan.ID) *survey {
	v := &survey{ground: coverage.ValveGroundOf(j.p), p: j.p, rates: j.f.rates, zones: zones}
	all := v.ground.Sites(j.p)
	for i := range all {
		if len(all) <= mostSites || i*mostSites/len(all) != (i-1)*mostSites/len(all) {
			v.sites = append(v.sites, all[i])
		}
	}
	s := newSpots(j.f)
	heads := make([][]int32, len(zones))
	for i, id := range zones {
		for _, h := range j.heads[id] {
			head := j.p.Heads[h]
			heads[i] = append(heads[i], s.end(orb.Point{float64(head.X), float64(head.Y)}))
		}
	}
	from := s.end(j.nets[0].ends[len(j.nets[0].ends)-1].at)
	if j.nets[0].role == mainNet {
		from = s.end(j.nets[0].ends[0].at)
	}
	at := make([]int32, len(v.sites))
	for i, site := range v.sites {
		at[i] = s.end(site.At)
	}
	ends := orb.Bound{Min: s.at[0], Max: s.at[0]}
	for _, q := range s.at {
		ends = ends.Extend(q)
	}
	s.fill(ends)
	g := s.build()
	g.index()
	seek := newSeeker(g)
	spread := func(foot float64, from []int32) []float64 {
		seek.fresh()
		for _, n := range from {
			seek.from(n, 0)
		}
		for {
			n, ok := seek.next(math.Inf(1))
			if !ok {
				break
			}
			seek.on(n, math.Inf(1))
		}
		out := make([]float64, len(at))
		for i, n := range at {
			if out[i] = math.Inf(1); seek.seen[n] == seek.round {
				out[i] = seek.dist[n]
			}
		}
		return out
	}
	weigh := func(foot float64) {
		for e := range seek.w {
			seek.w[e] = g.dig[e] + float64(foot*g.length[e])
			if g.indoors[e] {
				seek.w[e] = math.Inf(1)
			}
		}
	}
	weigh(j.f.rates.lateral)
	for i := range zones {
		if ctx.Err() != nil {
			return v
		}
		joined := slices.Clone(heads[i])
		for _, e := range seek.tree(heads[i][0], heads[i]) {
			joined = append(joined, g.ends[e][0], g.ends[e][1])
		}
		v.away = append(v.away, spread(j.f.rates.lateral, joined))
	}
	weigh(j.f.rates.main)
	for e := range seek.w {
		if g.indoors[e] && (g.ends[e][0] == from || g.ends[e][1] == from) {
			seek.w[e] = g.dig[e]
		}
	}
	v.main = spread(j.f.rates.main, []int32{from})
	return v
}

// manifold is a box with the valves of some zones.
type manifold struct {
	site  int
	zones []int
	cost  float64
}

// best is the best place for a box with the valves of some zones.
func (v *survey) best(zones []int) manifold {
	m := manifold{site: -1, zones: zones, cost: math.Inf(1)}
	for i, s := range v.sites {
		c := v.rates.box + float64(towardMain*v.main[i])
		for _, z := range zones {
			c += v.away[z][i]
		}
		if s.Lawn {
			c += v.rates.boxLawn
		}
		if s.Low {
			c += inLow
		}
		if c < m.cost {
			m.site, m.cost = i, c
		}
	}
	return m
}

// placements are ways to place the valves: each near its own heads, those joined
// whose joining saves, and as few boxes as hold them.
func (v *survey) placements(taken []orb.Point) []placement {
	var boxes []manifold
	for z := range v.zones {
		if m := v.best([]int{z}); m.site >= 0 {
			boxes = append(boxes, m)
		}
	}
	if len(boxes) < len(v.zones) {
		return nil
	}
	out := []placement{v.placed("spread", boxes, taken)}
	saved := v.merged(boxes, math.Inf(1))
	out = append(out, v.placed("joined", saved, taken))
	few := v.merged(saved, 0)
	return append(out, v.placed("grouped", few, taken))
}

// merged joins the two boxes whose joining saves most, or costs least, until none
// saves - or, with 0 for most, as far as boxes hold them.
func (v *survey) merged(boxes []manifold, most float64) []manifold {
	boxes = slices.Clone(boxes)
	known := map[[2]int]manifold{}
	for {
		at, with, gain := -1, manifold{}, 1e-9
		if most == 0 {
			gain = math.Inf(-1)
		}
		second := 0
		for i := range boxes {
			for k := i + 1; k < len(boxes); k++ {
				if len(boxes[i].zones)+len(boxes[k].zones) > mostInBox {
					continue
				}
				key := [2]int{boxes[i].zones[0], boxes[k].zones[0]}
				m, ok := known[key]
				if !ok || len(m.zones) != len(boxes[i].zones)+len(boxes[k].zones) {
					both := slices.Concat(boxes[i].zones, boxes[k].zones)
					slices.Sort(both)
					m = v.best(both)
					known[key] = m
				}
				if m.site < 0 {
					continue
				}
				if g := boxes[i].cost + boxes[k].cost - m.cost; g > gain {
					at, second, with, gain = i, k, m, g
				}
			}
		}
		if at < 0 {
			return boxes
		}
		boxes[at] = with
		boxes = slices.Delete(boxes, second, second+1)
	}
}

// placed gives every valve its place in its box.
func (v *survey) placed(name string, boxes []manifold, taken []orb.Point) placement {
	out := placement{name, map[plan.ID]orb.Point{}}
	taken = slices.Clone(taken)
	for _, b := range boxes {
		for _, z := range b.zones {
			at := v.ground.Beside(v.p, v.sites[b.site], taken)
			taken = append(taken, at)
			out.at[v.zones[z]] = at
		}
	}
	return out
}

// movable are the zones of a job whose valves may be put elsewhere, and the places
// of the others' valves.
func (j *job) movable() (zones []plan.ID, taken []orb.Point) {
	for _, id := range j.zones {
		z := j.p.Zones[id]
		node := j.nodeFor("valve", "", id)
		at, known := j.valves[id]
		if known && (z.Locked || !z.Status.IsNew() || node != "" && j.pinned[node] || !j.whole && node != "") {
			taken = append(taken, at)
			continue
		}
		zones = append(zones, id)
	}
	return zones, taken
}

// samePlaces reports whether valves stand in the same places in two placements.
func samePlaces(a, b map[plan.ID]orb.Point) bool {
	for _, id := range plan.SortedIDs(a) {
		if at, ok := b[id]; !ok || apart(at, a[id]) > sameValve {
			return false
		}
	}
	return len(a) == len(b)
}

// unplaced tells of the zones whose valves have no place.
func (j *job) unplaced(ids []plan.ID) []Blocked {
	var out []Blocked
	for _, id := range ids {
		h := j.p.Heads[j.heads[id][0]]
		out = append(out, Blocked{What: plan.RefTo("zones", id), At: orb.Point{float64(h.X), float64(h.Y)}, Why: fmt.Sprintf(
			"No place was found for the valve of %s that is planted, off paving and roots, and not low. Set its valve by hand.", j.p.ZoneName(id))})
	}
	return out
}
