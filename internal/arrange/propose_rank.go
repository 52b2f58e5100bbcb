package arrange

import (
	"cmp"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// outstanding are the few layouts of equal intervals worth measuring: of those
// better than every one with fewer heads the best, and the first that is even.
func outstanding(seeds []candidate, few int) []candidate {
	seeds = slices.Clone(seeds)
	slices.SortStableFunc(seeds, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(len(a.heads), len(b.heads)), cmp.Compare(a.cost, b.cost))
	})
	var rising []candidate
	for _, c := range seeds {
		if n := len(rising); n == 0 || c.cost < rising[n-1].cost {
			rising = append(rising, c)
		}
	}
	if len(rising) <= few {
		return rising
	}
	best := slices.Clone(rising[len(rising)-few:]) // rising in heads, falling in cost
	i := slices.IndexFunc(rising, func(c candidate) bool { return c.tried.DU >= evenEnough && c.h2h > 0.999 })
	if i >= 0 && i < len(rising)-few {
		best[0] = rising[i]
	}
	return best
}

// take measures a candidate and keeps it, once. It reports whether what would be
// offered changes.
func (j *job) take(k int, c candidate) bool {
	key := keyOf(c.heads)
	if slices.ContainsFunc(j.pool, func(f finalist) bool { return f.kit == k && f.key == key }) {
		return false
	}
	if j.gauge == nil {
		var err error
		if j.gauge, err = j.newGauge(); err != nil {
			j.why = err.Error()
			return false
		}
	}
	thinner := false
	if s := j.searches[k]; s != nil {
		if thin, ok := s.thinned(c); ok {
			thinner = j.take(k, thin)
		}
	}
	c.heads = slices.Clone(c.heads)
	f := j.gauge.measure(k, c)
	f.key = key
	j.made = nil
	before := j.choose()
	j.pool = append(j.pool, f)
	after := j.choose()
	return thinner || !slices.EqualFunc(before.list, after.list, func(a, b finalist) bool { return a.kit == b.kit && a.key == b.key })
}

// holds reports whether a layout keeps what may be wetted past the edge. Water on
// paving and the like is held to the letter, that on soft ground to what is
// printed of it.
func (j *job) holds(f *finalist) bool {
	soft := func(share, limit units.Ratio) bool { return share <= limit+0.0005 }
	return f.hard <= j.o.Hard+1e-9 && soft(f.bare, j.o.Bare) && soft(f.soft, j.o.Other)
}

// fit are the layouts that may be offered: those that keep the limits past the
// edge; of them those that stand head to head, no two on one spot, and are even enough, if
// there are, and that no finding names, unless that takes many times the heads.
func (j *job) fit() []finalist {
	keep := func(all []finalist, ok func(f *finalist) bool) []finalist {
		var out []finalist
		for i := range all {
			if ok(&all[i]) {
				out = append(out, all[i])
			}
		}
		return out
	}
	good := keep(j.pool, func(f *finalist) bool { return j.holds(f) && f.m.DU > 0 })
	if even := keep(good, func(f *finalist) bool { return f.m.DU >= evenEnough }); len(even) > 0 {
		good = even
	} else if len(good) > 0 { // of uneven ones only those near the best
		top := slices.MaxFunc(good, func(a, b finalist) int { return cmp.Compare(a.m.DU, b.m.DU) }).m.DU
		good = keep(good, func(f *finalist) bool { return f.m.DU >= top-0.05 })
	}
	if single := keep(good, func(f *finalist) bool { return f.m.Doubled == 0 }); len(single) > 0 {
		good = single
	}
	for k := range j.kits { // what would not last in the field, where others of its kit do
		if slices.ContainsFunc(good, func(f finalist) bool { return f.kit == k && j.lasts(&f) }) {
			neat, ok := j.neatest(ofKit(good, k))
			good = keep(good, func(f *finalist) bool {
				return f.kit != k || j.lasts(f) || ok && f.key == neat.key
			})
		}
	}
	// What the findings would name, where there are others not of many times the heads.
	clean := keep(good, func(f *finalist) bool { return f.m.Blamed == 0 })
	if few, ok := leanest(clean); ok {
		good = keep(good, func(f *finalist) bool {
			of := few
			if own, ok := leanest(ofKit(clean, f.kit)); ok {
				of = own
			}
			return f.m.Blamed == 0 || float64(of) > firstTimes*float64(f.m.Heads)
		})
	}
	for k := range j.kits { // of each kit those within a throw of each other, where there are
		if slices.ContainsFunc(good, func(f finalist) bool { return f.kit == k && f.m.Apart == 0 }) {
			good = keep(good, func(f *finalist) bool { return f.kit != k || f.m.Apart == 0 })
		}
	}
	if near := keep(good, func(f *finalist) bool { return f.m.HeadToHead > 0.999 }); len(near) > 0 {
		good = near
	}
	return good
}

// leanest is the least number of heads of some layouts.
func leanest(all []finalist) (heads int, ok bool) {
	for _, f := range all {
		if !ok || f.m.Heads < heads {
			heads, ok = f.m.Heads, true
		}
	}
	return heads, ok
}

// What the tenth percentile of the field estimate is to be (reference coverage
// §9, goal 5): sprays on ground wider than wideGround feet, and everything else.
const (
	lastsWide   units.Ratio = 0.75
	lastsNarrow units.Ratio = 0.70
	wideGround  units.Feet  = 15
)

// lasts reports whether a layout is even enough in the field, nine times in ten.
func (j *job) lasts(f *finalist) bool {
	if j.kits[f.kit].family == catalog.Spray && j.ground.widest > wideGround {
		return f.m.FieldP10 >= lastsWide
	}
	return f.m.FieldP10 >= lastsNarrow
}

// neatShort is how far below what lasts in the field the neatest layout may come out
// to be offered all the same, with a sentence that says so, where no other of equal
// intervals lasts: people look for it. Chosen.
const neatShort = 0.06

// neatest is the layout of equal intervals that comes nearest to lasting in the
// field, if none does.
func (j *job) neatest(all []finalist) (finalist, bool) {
	f, ok := mostOf(all, func(f finalist) bool { return f.c.tidy }, func(f finalist) float64 { return float64(f.m.FieldP10) })
	if !ok || j.lasts(&f) {
		return finalist{}, false
	}
	f.m.FieldP10 += neatShort
	near := j.lasts(&f)
	f.m.FieldP10 -= neatShort
	return f, near
}

func ofKit(all []finalist, k int) []finalist {
	return slices.DeleteFunc(slices.Clone(all), func(f finalist) bool { return f.kit != k })
}

// frontOf leaves out every layout that another one is no worse than in heads,
// evenness, in the field and past the edge; a tidy one gives way to tidy ones only.
func frontOf(all []finalist) []finalist {
	var out []finalist
	for i, f := range all {
		if !slices.ContainsFunc(all, func(g finalist) bool { return beats(&g, &f) }) &&
			!slices.ContainsFunc(all[:i], func(g finalist) bool { return !beats(&f, &g) && same(&g, &f) }) {
			out = append(out, f)
		}
	}
	return out
}

func beats(a, b *finalist) bool {
	if b.c.tidy && !a.c.tidy {
		return false
	}
	no := a.m.Heads <= b.m.Heads && a.m.DU >= b.m.DU && a.m.FieldP10 >= b.m.FieldP10 && a.m.PastEdge <= b.m.PastEdge
	return no && (!same(a, b) || a.c.tidy && !b.c.tidy)
}

func same(a, b *finalist) bool {
	return a.m.Heads == b.m.Heads && a.m.DU == b.m.DU && a.m.FieldP10 == b.m.FieldP10 && a.m.PastEdge == b.m.PastEdge
}

// most is the layout of the greatest worth, of equals the first.
func most(all []finalist, worth func(finalist) float64) finalist {
	f, _ := mostOf(all, func(finalist) bool { return true }, worth)
	return f
}

func mostOf(all []finalist, of func(finalist) bool, worth func(finalist) float64) (best finalist, ok bool) {
	top := 0.0
	for _, f := range all {
		if w := worth(f); of(f) && (!ok || w > top) {
			best, top, ok = f, w, true
		}
	}
	return best, ok
}

// sortPast puts water past the edge in order, most first, then by surface.
func sortPast(past []Past) {
	slices.SortFunc(past, func(a, b Past) int {
		return cmp.Or(cmp.Compare(b.Share, a.Share), cmp.Compare(a.Surface, b.Surface))
	})
}
