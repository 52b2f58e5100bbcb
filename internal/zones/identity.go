package zones

import (
	"cmp"
	"fmt"
	"hash/fnv"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// identify gives every group its zone: the plan's own where most of its heads come
// from, so that name, valve and flag stay where they fit, else a new one.
func (j *job) identify(groups []*group) {
	in := byZone(j.heads)
	taken := map[plan.ID]bool{}
	for _, g := range groups {
		if g.zone != "" {
			taken[g.zone] = true
		}
	}
	type claim struct {
		group, heads int
		zone         plan.ID
	}
	var claims []claim
	for n, g := range groups {
		if g.zone != "" {
			continue
		}
		count := map[plan.ID]int{}
		for _, h := range g.heads {
			count[h.zone]++
		}
		for _, id := range plan.SortedIDs(count) {
			if id != "" && !taken[id] && j.closed[id] == "" {
				claims = append(claims, claim{n, count[id], id})
			}
		}
	}
	slices.SortStableFunc(claims, func(a, b claim) int {
		return cmp.Or(cmp.Compare(b.heads, a.heads), strings.Compare(string(a.zone), string(b.zone)), cmp.Compare(a.group, b.group))
	})
	for _, c := range claims {
		if groups[c.group].zone == "" && !taken[c.zone] {
			groups[c.group].zone = c.zone
			taken[c.zone] = true
		}
	}
	for _, g := range groups {
		if g.zone == "" {
			g.zone = j.newID(g, taken)
			taken[g.zone] = true
			continue
		}
		g.kept = len(g.heads) == len(in[g.zone]) && !slices.ContainsFunc(g.heads, func(h head) bool { return h.zone != g.zone })
	}
}

// newID is an id for a zone that no zone has, nor ever had as far as the plan tells:
// it is made of the heads and the seed.
func (j *job) newID(g *group, taken map[plan.ID]bool) plan.ID {
	used := func(id plan.ID) bool {
		_, there := j.p.Zones[id]
		ref := plan.RefTo("zones", id)
		for _, a := range j.p.Accepted {
			there = there || slices.Contains(a.About, ref)
		}
		return there || taken[id]
	}
	for n := 0; ; n++ {
		sum := fnv.New64a()
		fmt.Fprint(sum, j.o.Seed, n)
		for _, h := range g.heads {
			fmt.Fprint(sum, " ", h.id)
		}
		text := strconv.FormatUint(sum.Sum64(), 36)
		if id := plan.ID("z" + text[:min(7, len(text))]); !used(id) {
			return id
		}
	}
}

// names gives every zone its name. A zone keeps the name it has while most of its
// heads stay together.
func (j *job) names(groups []*group) map[plan.ID]string {
	in := byZone(j.heads)
	out, used := map[plan.ID]string{}, map[string]bool{}
	for _, id := range plan.SortedIDs(j.p.Zones) {
		used[j.p.Zones[id].Name] = true
	}
	share := map[string][]*group{} // groups that would have one name
	for _, g := range groups {
		z, there := j.p.Zones[g.zone]
		if there && strings.TrimSpace(z.Name) != "" && (g.fixed || j.persists(g, in[g.zone])) {
			out[g.zone] = z.Name
			continue
		}
		if there {
			delete(used, z.Name)
		}
		name := j.groundName(g, groups)
		share[name] = append(share[name], g)
	}
	for _, name := range sortedNames(share) {
		of := share[name]
		words := j.sides(of, groups)
		for n, g := range of {
			full := name
			if words[n] != "" {
				full += " " + words[n]
			}
			base := full
			for k := 2; used[full]; k++ {
				full = fmt.Sprintf("%s %d", base, k)
			}
			used[full] = true
			out[g.zone] = full
		}
	}
	return out
}

// persists reports whether most of a zone's heads stay together and most of what it
// gets are its own: what is written of it is still true.
func (j *job) persists(g *group, had []head) bool {
	stay := 0
	for _, h := range g.heads {
		if h.zone == g.zone {
			stay++
		}
	}
	return stay > 0 && 2*stay > len(had) && 2*stay >= len(g.heads)
}

func sortedNames(m map[string][]*group) []string {
	var out []string
	for name := range m {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// groundName names a group by the areas its heads stand for: "Front lawn", "Island
// bed and Entry bed"; and by its nozzles where others of another kind water there.
func (j *job) groundName(g *group, all []*group) string {
	var names []string
	for _, id := range areasOf(g.heads) {
		if id != "" {
			names = append(names, j.p.AreaName(id))
		}
	}
	if len(names) == 1 {
		own := j.familiesOf(g)
		for _, o := range all {
			if slices.Contains(areasOf(o.heads), areasOf(g.heads)[0]) && j.familiesOf(o) != own {
				return short(names[0] + " " + own)
			}
		}
	}
	switch {
	case len(names) == 0:
		return "Zone"
	case len(names) <= 2:
		return short(plan.Series(names))
	}
	return short(names[0] + " and " + plan.Plural(len(names)-1, "other area", "other areas"))
}

// short cuts a name to what a list of zones has room for.
func short(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return strings.TrimSpace(string(r[:most]))
	}
	return s
}

// areasOf are the areas that heads stand for, the one with most heads first.
func areasOf(heads []head) []plan.ID {
	count := map[plan.ID]int{}
	for _, h := range heads {
		count[h.area]++
	}
	out := plan.SortedIDs(count)
	slices.SortStableFunc(out, func(a, b plan.ID) int { return cmp.Compare(count[b], count[a]) })
	return out
}

// sides tells groups of one name apart by where they lie: west, middle and east, or
// south and north; more of them by number.
func (j *job) sides(of, all []*group) []string {
	out := make([]string, len(of))
	rivals := 0
	for _, g := range all {
		if slices.Equal(areasOf(g.heads), areasOf(of[0].heads)) && j.familiesOf(g) == j.familiesOf(of[0]) {
			rivals++
		}
	}
	if len(of) == 1 && rivals < 2 {
		return out
	}
	if len(of) > 3 || len(of) != rivals {
		for n := range of {
			out[n] = strconv.Itoa(n + 1)
		}
		return out
	}
	middles := make([]orb.Point, len(of))
	low, high := orb.Point{1e9, 1e9}, orb.Point{-1e9, -1e9}
	for n, g := range of {
		middles[n] = middle(g.heads)
		for k := range 2 {
			low[k], high[k] = min(low[k], middles[n][k]), max(high[k], middles[n][k])
		}
	}
	along := 0
	if high[1]-low[1] > high[0]-low[0] {
		along = 1
	}
	order := make([]int, len(of))
	for n := range order {
		order[n] = n
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(middles[a][along], middles[b][along]) })
	first, last := middles[order[0]], middles[order[len(order)-1]]
	out[order[0]], out[order[len(order)-1]] = j.p.Compass(last, first), j.p.Compass(first, last)
	if len(order) == 3 {
		out[order[1]] = "middle"
	}
	return out
}

func middle(heads []head) orb.Point {
	var sum orb.Point
	for _, h := range heads {
		sum[0] += h.at[0]
		sum[1] += h.at[1]
	}
	n := float64(max(len(heads), 1))
	return orb.Point{sum[0] / n, sum[1] / n}
}
