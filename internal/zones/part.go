package zones

import (
	"context"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// usualEffort is how many evaluations a search makes unless asked otherwise: enough
// for 400 heads in a second or two. Chosen.
const usualEffort = 400_000

// group is the heads of one zone to be.
type group struct {
	heads []head
	zone  plan.ID // of the plan, where it has heads that stay or nothing was changed
	kept  bool    // its heads and zone are as they are in the plan
	fixed bool    // a zone that takes no part
}

func (g *group) flow() units.GPM {
	var sum units.GPM
	for _, h := range g.heads {
		sum += h.flow
	}
	return sum
}

// kind is what was found of the heads of one key whose rates may go together.
type kind struct {
	key    key
	flow   units.GPM
	heads  int
	valves int
	bound  int
	proved bool
	tried  bool
	areas  []plan.ID
}

// grouped is a whole grouping.
type grouped struct {
	groups []*group
	kinds  []kind
	looked int
}

// group seeks the grouping, key by key.
func (j *job) group(ctx context.Context, tell func(done, total int)) (*grouped, error) {
	out := &grouped{}
	var open []head
	closed := map[plan.ID]*group{}
	for _, h := range j.heads {
		if h.stays && j.closed[h.zone] != "" {
			g := closed[h.zone]
			if g == nil {
				g = &group{zone: h.zone, fixed: true}
				closed[h.zone] = g
				out.groups = append(out.groups, g)
			}
			g.heads = append(g.heads, h)
			continue
		}
		open = append(open, h)
	}
	slices.SortStableFunc(open, func(a, b head) int { return a.key.compare(b.key) })
	effort := j.o.Effort
	if effort <= 0 {
		effort = usualEffort
	}
	total, done := len(open), 0
	for len(open) > 0 {
		n := 1
		for n < len(open) && open[n].key == open[0].key {
			n++
		}
		of := slices.Clone(open[:n])
		open = open[n:]
		slices.SortStableFunc(of, byRate)
		for _, part := range cut(of, components(of)) {
			if err := j.component(ctx, part, effort*len(part)/max(total, 1), out); err != nil {
				return nil, err
			}
			done += len(part)
			tell(done, total)
		}
	}
	return out, nil
}

func byRate(a, b head) int {
	switch {
	case a.rate < b.rate:
		return -1
	case a.rate > b.rate:
		return 1
	}
	return 0
}

// components are the first of each run of heads, by rate, that no zone can join
// with another run: the step between two neighbours is wider than a zone may be.
func components(of []head) []int {
	starts := []int{0}
	for i := 1; i < len(of); i++ {
		if of[i].rate > of[i-1].rate*wide*(1+rateSlack) {
			starts = append(starts, i)
		}
	}
	return starts
}

func cut(of []head, starts []int) [][]head {
	var out [][]head
	for k, from := range starts {
		to := len(of)
		if k+1 < len(starts) {
			to = starts[k+1]
		}
		out = append(out, of[from:to])
	}
	return out
}

// component groups heads of one key that lie within steps of rate.
func (j *job) component(ctx context.Context, of []head, effort int, out *grouped) error {
	k := kind{key: of[0].key, heads: len(of), proved: true, areas: areasOf(of)}
	for _, h := range of {
		k.flow += h.flow
	}
	of, windows := j.parted(of, wide, out)
	for _, w := range windows {
		if err := j.window(ctx, w, effort*len(w)/len(of), &k, out); err != nil {
			return err
		}
	}
	if len(windows) > 1 { // the heads might be parted by rate otherwise
		k.bound = max(len(windows), packingBound(sizesOf(of), j.capacity()))
		k.proved, k.tried = k.valves <= k.bound, false
	}
	out.kinds = append(out.kinds, k)
	return nil
}

// window groups heads whose rates may all go together, or parts them further where
// no grouping matches.
func (j *job) window(ctx context.Context, of []head, effort int, k *kind, out *grouped) error {
	q, seeds := j.question(of)
	a, ok, err := q.solve(ctx, j.o.Seed, effort)
	out.looked += q.looked
	if err != nil {
		return err
	}
	if !ok && len(of) > 0 {
		_, parts := j.parted(of, narrow, out)
		for _, part := range parts {
			if err := j.window(ctx, part, effort*len(part)/len(of), k, out); err != nil {
				return err
			}
		}
		k.proved = false
		return nil
	}
	if now := asTheyAre(of, seeds); now != nil {
		if s := q.judge(now); s.sound() && !q.clearlyBetter(a.score, s) {
			a.in, a.score = now, s
		}
	}
	k.valves += a.score[valvesAt]
	k.bound += a.bound
	k.proved = k.proved && a.proved
	k.tried = k.tried || a.tried
	for z, items := range members(a.in, q.seeds) {
		if len(items) == 0 {
			continue
		}
		g := &group{}
		for _, i := range items {
			g.heads = append(g.heads, of[i])
		}
		if z < len(seeds) {
			g.zone = seeds[z]
		}
		out.groups = append(out.groups, g)
	}
	return nil
}

// parted parts heads by rate. A zone whose heads that stay would fall into two parts
// takes no part.
func (j *job) parted(of []head, most float64, out *grouped) (left []head, parts [][]head) {
	for {
		parts = cut(of, classes(ratesOf(of), most))
		in, torn := map[plan.ID]int{}, plan.ID("")
		for k, part := range parts {
			for _, h := range part {
				if was, ok := in[h.zone]; h.stays && ok && was != k && torn == "" {
					torn = h.zone
				} else if h.stays {
					in[h.zone] = k
				}
			}
		}
		if torn == "" {
			return of, parts
		}
		g := &group{zone: torn, fixed: true}
		var rest []head
		for _, h := range of {
			if h.stays && h.zone == torn {
				g.heads = append(g.heads, h)
			} else {
				rest = append(rest, h)
			}
		}
		j.closed[torn] = "closed"
		out.groups = append(out.groups, g)
		of = rest
	}
}

func ratesOf(of []head) []float64 {
	out := make([]float64, len(of))
	for i, h := range of {
		out[i] = h.rate
	}
	return out
}

func sizesOf(of []head) []int {
	out := make([]int, len(of))
	for i, h := range of {
		out[i] = grains(h.flow)
	}
	return out
}

func grains(q units.GPM) int { return int(float64(q)/grain + 0.5) }

// capacity is the limit in grains, with what printing rounds away.
func (j *job) capacity() int { return grains(j.limit + roundGPM/2) }

// question asks how to share heads. seeds are the zones of those that stay.
func (j *job) question(of []head) (*question, []plan.ID) {
	q := &question{limit: j.capacity(), least: grains(j.least - roundGPM), even: j.equalFirst(), walls: j.walls}
	var seeds, areas []plan.ID
	for _, h := range of {
		if h.stays && !slices.Contains(seeds, h.zone) {
			seeds = append(seeds, h.zone)
		}
		if !slices.Contains(areas, h.area) {
			areas = append(areas, h.area)
		}
	}
	slices.Sort(seeds)
	for _, h := range of {
		it := item{at: h.at, flow: grains(h.flow), rate: h.rate, area: slices.Index(areas, h.area), seed: -1}
		if h.stays {
			it.seed = slices.Index(seeds, h.zone)
		}
		q.items = append(q.items, it)
	}
	q.seeds = len(seeds)
	q.rated = of[len(of)-1].rate > of[0].rate*narrow
	return q, seeds
}

// asTheyAre is the plan's own grouping of the heads, whatever else their zones have
// that is not to be with them; nil where some have no zone.
func asTheyAre(of []head, seeds []plan.ID) []int {
	zones := slices.Clone(seeds)
	in := make([]int, len(of))
	for i, h := range of {
		if h.zone == "" {
			return nil
		}
		if in[i] = slices.Index(zones, h.zone); in[i] < 0 {
			in[i] = len(zones)
			zones = append(zones, h.zone)
		}
	}
	return in
}

// shorter is how much more compact zones must be for people to be asked to change
// what they have. Chosen.
const shorter = 0.05

// clearlyBetter reports whether one grouping is so much better than the plan's own
// that it is worth a change: fewer valves, fewer of them low, or well ahead in the
// first of the two aims.
func (q *question) clearlyBetter(a, own score) bool {
	for k := valvesAt; k <= underAt; k++ {
		if a[k] != own[k] {
			return a[k] < own[k]
		}
	}
	first := float64(own[4] - a[4])
	if q.even {
		return first >= 4 || first > -2 && float64(own[6+1]-a[6+1]) > shorter*float64(own[6+1])
	}
	return first > shorter*float64(own[4])
}
