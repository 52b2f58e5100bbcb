package arrange

import (
	"slices"

	"evenfall/internal/catalog"
)

// role is what a layout is chosen for.
type role int

const (
	roleFirst role = iota
	roleTidy
	roleFewest
	roleEven
	roleInside
	roleKinds
	roleOther
	roleSpare
	roleLast // a second spare
	roles
)

// choice of layouts for one area: each once, and which of them has each role; -1
// for none. No two are near twins: see better.
type chosen struct {
	list []finalist
	role [roles]int
}

// What a layout is worth, in tenth percentiles of the field estimate: a tenth more
// heads must buy 0.008 of it, and a share of water past the edge costs as much as a
// fifth of it does. Chosen.
const (
	worthHeads = 0.08
	worthPast  = 0.2
)

// mostTimes is how many times the heads of the best layout another may have to be
// offered at all. Chosen.
const mostTimes = 2

// firstTimes is how many times the heads of the leanest layout one may have to be put
// first, however neat. Chosen: nobody trenches to twice the heads for neat rows.
const firstTimes = 1.75

// worthOver is what a layout is worth beside others, of which the leanest has so many
// heads.
func worthOver(fewest int) func(finalist) float64 {
	return func(f finalist) float64 {
		return float64(f.m.FieldP10) - worthHeads*(float64(f.m.Heads)/float64(fewest)-1) - worthPast*float64(f.m.PastEdge)
	}
}

// choose picks the layouts to offer of those found.
func (j *job) choose() chosen {
	c := chosen{}
	for i := range c.role {
		c.role[i] = -1
	}
	good := j.fit()
	if len(good) == 0 {
		return c
	}
	main := j.mainKit(good)
	own := frontOf(ofKit(good, main))
	fewest, _ := leanest(own)
	worth := worthOver(fewest)
	best := j.first(own, fewest, worth)
	c.put(roleFirst, best)
	within := func(f *finalist) bool { return f.m.Heads <= mostTimes*best.m.Heads }
	own = slices.DeleteFunc(own, func(f finalist) bool { return !within(&f) })
	if best.c.tidy { // one is called the neatest
		c.role[roleTidy] = c.role[roleFirst]
	} else if f, ok := mostOf(own, func(f finalist) bool { return f.c.tidy }, worth); ok {
		c.put(roleTidy, f)
	}
	c.putUnless(j, roleFewest, most(own, func(f finalist) float64 { return -float64(f.m.Heads) + float64(f.m.FieldP10) }))
	c.putUnless(j, roleEven, most(own, func(f finalist) float64 { return float64(f.m.FieldP10) + float64(f.m.DU)/4 }))
	c.putUnless(j, roleInside, most(own, func(f finalist) float64 { return -float64(f.m.PastEdge) + worth(f)/50 }))
	other := frontOf(slices.DeleteFunc(slices.Clone(good), func(f finalist) bool {
		return j.kits[f.kit].family == j.kits[main].family || !j.lastsBeside(&f, &best)
	}))
	if few, ok := leanest(other); ok {
		c.putUnless(j, roleOther, most(other, worthOver(few)))
	}
	all := slices.DeleteFunc(ofKit(good, main), func(f finalist) bool { return !within(&f) }) // the front knows no settings
	c.putUnless(j, roleKinds, most(all, func(f finalist) float64 { return -float64(f.m.Settings) + worth(f) }))
	for _, of := range [][]finalist{all, other, slices.DeleteFunc(j.apart(main), func(f finalist) bool { return !within(&f) })} {
		j.fill(&c, of, worth)
	}
	return c
}

// mainKit is the kit that the layout to take first is made of: the one asked for by
// width and cover, if it does, and one that lasts in the field before one that does not.
func (j *job) mainKit(good []finalist) int {
	main := good[0].kit
	for _, f := range good {
		main = min(main, f.kit)
	}
	for k := range j.kits {
		if slices.ContainsFunc(good, func(f finalist) bool { return f.kit == k && j.lasts(&f) }) {
			return k
		}
	}
	return main
}

// first is the layout to take first: the one of the greatest worth, the neatest
// where that is nearly as good.
func (j *job) first(own []finalist, fewest int, worth func(finalist) float64) finalist {
	lean := slices.DeleteFunc(slices.Clone(own), func(f finalist) bool { return float64(f.m.Heads) > firstTimes*float64(fewest) })
	// Where the property line is not drawn the findings take what leaves the drawing
	// for water off the lot: others come first.
	if within := slices.DeleteFunc(slices.Clone(lean), func(f finalist) bool { return f.m.Blamed > 0 || f.away > j.o.Hard+1e-9 }); len(within) > 0 {
		lean = within
	}
	best := most(lean, worth)
	neat, ok := mostOf(lean, func(f finalist) bool { return f.c.tidy }, worth)
	if ok && !best.c.tidy && neat.m.FieldP10 >= best.m.FieldP10-j.o.TidyWithin {
		return neat
	}
	return best
}

// lastsBeside reports whether a layout of another family lasts in the field, or
// hardly less than the first where that does not; strips fit where they fit.
func (j *job) lastsBeside(f, first *finalist) bool {
	return j.lasts(f) || j.kits[f.kit].family == catalog.Strip || !j.lasts(first) && f.m.FieldP10 >= first.m.FieldP10-noise
}

// apart are layouts of a kit that want nothing but that some heads stand up to a
// tenth of a throw farther apart than head to head, as far as published standards let
// them (see headToHeadReach): offered, with the sentence that says so, where others
// are few.
func (j *job) apart(kit int) []finalist {
	var out []finalist
	for i := range j.pool {
		f := &j.pool[i]
		if f.kit == kit && f.m.Apart > 0 && f.m.HeadToHead > 0.999 && j.holds(f) && f.m.DU >= evenEnough && j.lasts(f) && f.m.Blamed == 0 && f.m.Doubled == 0 {
			out = append(out, *f)
		}
	}
	return out
}

// fill adds layouts until there are few, each better by something that shows than
// every other one there is.
func (j *job) fill(c *chosen, of []finalist, worth func(finalist) float64) {
	for _, r := range []role{roleSpare, roleLast} {
		if len(c.list) >= fewOffers {
			return
		}
		if c.role[r] >= 0 {
			continue
		}
		f, ok := mostOf(of, func(f finalist) bool { return c.besides(j, &f) < 0 }, worth)
		if !ok {
			return
		}
		c.put(r, f)
	}
}

// put gives a role to a layout.
func (c *chosen) put(r role, f finalist) {
	at := c.at(f)
	if at < 0 {
		at = len(c.list)
		c.list = append(c.list, f)
	}
	c.role[r] = at
}

// putUnless gives a role to a layout that is better by something that shows than each
// there is; else to the first of those that it is not.
func (c *chosen) putUnless(j *job, r role, f finalist) {
	if at := c.besides(j, &f); at >= 0 {
		c.role[r] = at
		return
	}
	c.put(r, f)
}

// besides is the first layout chosen that another one is no better than by anything;
// -1 when there is none.
func (c *chosen) besides(j *job, f *finalist) int {
	return slices.IndexFunc(c.list, func(g finalist) bool { return !j.better(f, &g) })
}

func (c *chosen) at(f finalist) int {
	return slices.IndexFunc(c.list, func(g finalist) bool { return g.kit == f.kit && g.key == f.key })
}

// What two layouts must differ by for one to be offered as the better. Chosen, but
// for noise: seeds alone scatter evenness by twice as much (reference coverage §6c).
const (
	noise      = 0.01 // of evenness in the field
	drawnShows = 0.02 // of evenness as drawn
	pastShows  = 0.01 // of the flow past the edge
	headsShow  = 0.04 // of the heads, and one at the least
	kindsShow  = 2    // distinct settings
)

// better reports whether a layout is better than another by something that people
// choose by and that shows: neat rows, another family, heads, evenness, water past the
// edge, distinct settings.
func (j *job) better(f, g *finalist) bool {
	return f.c.tidy && !g.c.tidy || j.kits[f.kit].family != j.kits[g.kit].family ||
		float64(f.m.Heads) <= float64(g.m.Heads)-max(1, headsShow*float64(g.m.Heads)) ||
		f.m.FieldP10 > g.m.FieldP10+noise || f.m.DU > g.m.DU+drawnShows || f.m.PastEdge < g.m.PastEdge-pastShows ||
		f.m.Settings <= g.m.Settings-kindsShow
}
