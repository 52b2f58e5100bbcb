package packs

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/plan"
)

// photographs lists the photographs that are kept with the plan, by what they show.
func (b *builder) photographs() error {
	f := b.list()
	ids := plan.SortedIDs(b.p.Photos)
	if len(ids) == 0 {
		f.para("No photograph is kept with this plan yet. Trenches before they are filled in, what stands in each valve box, the backflow device and the wires at the controller are worth one each: nobody sees them again without digging.")
		return nil
	}
	slices.SortStableFunc(ids, func(x, y plan.ID) int { return cmp.Compare(b.p.Photos[x].On, b.p.Photos[y].On) })
	f.para(fmt.Sprintf("%s kept with the plan: they go along with it as one file for the next person.", plan.Plural(len(ids), "photograph is", "photographs are")))
	g := grid{Head: []string{"No.", "Taken on", "It shows", "Caption"}, Shares: []float64{6, 13, 34, 57}}
	for i, id := range ids {
		v := b.p.Photos[id]
		g.Rows = append(g.Rows, []string{itoa(i + 1), v.On, b.photoShows(v), strings.TrimSpace(v.Caption)})
	}
	f.table(g)
	return nil
}

// photoShows names what a photograph is about.
func (b *builder) photoShows(v plan.Photo) string {
	if v.About == "" {
		return ""
	}
	if name := b.p.Label(v.About); name != "" {
		return plan.Capital(name)
	}
	return "something that is gone from the plan"
}
