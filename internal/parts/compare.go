package parts

import (
	"cmp"
	"slices"

	"evenfall/internal/plan"
)

// Comparison is what two designs take and cost, line by line.
type Comparison struct {
	Lines []ComparedLine `json:"lines"` // those that differ, in the order of the list
	Same  int            `json:"same"`  // lines that do not
	From  Cents          `json:"from_cents"`
	To    Cents          `json:"to_cents"`
	More  Cents          `json:"more_cents"` // To less From
	Whole bool           `json:"whole"`      // every line of both has its price; else More is not the whole difference
	Says  string         `json:"says"`
}

// ComparedLine is one item of two designs.
type ComparedLine struct {
	Group  string `json:"group"`
	Item   string `json:"item"`
	Unit   string `json:"unit"`
	From   int    `json:"from"`
	To     int    `json:"to"`
	More   Cents  `json:"more_cents"`
	Priced bool   `json:"priced"` // on every side that has it
}

// Compare compares two priced designs: two states of a plan, or two ways to do it.
func Compare(from, to *Cost) *Comparison {
	c := &Comparison{Lines: []ComparedLine{}, From: from.Sum, To: to.Sum, More: to.Sum - from.Sum,
		Whole: len(from.Missing) == 0 && len(to.Missing) == 0}
	key := func(l CostLine) [3]string { return [3]string{l.Group, l.Item, l.Unit} }
	now := map[[3]string]CostLine{}
	for _, l := range to.Total {
		now[key(l)] = l
	}
	add := func(was, is CostLine, priced bool) {
		if was.Count == is.Count && was.Sum == is.Sum && was.Priced == is.Priced {
			c.Same++
			return
		}
		c.Lines = append(c.Lines, ComparedLine{Group: cmp.Or(is.Group, was.Group), Item: cmp.Or(is.Item, was.Item), Unit: cmp.Or(is.Unit, was.Unit),
			From: was.Count, To: is.Count, More: is.Sum - was.Sum, Priced: priced})
	}
	before := map[[3]string]bool{}
	for _, was := range from.Total {
		before[key(was)] = true
		is, stays := now[key(was)]
		add(was, is, was.Priced && (is.Priced || !stays))
	}
	for _, is := range to.Total {
		if !before[key(is)] {
			add(CostLine{}, is, is.Priced)
		}
	}
	slices.SortStableFunc(c.Lines, func(a, b ComparedLine) int {
		return cmp.Or(cmp.Compare(slices.Index(groupOrder, a.Group), slices.Index(groupOrder, b.Group)), cmp.Compare(a.Item, b.Item))
	})
	c.Says = c.says(to.Currency)
	return c
}

func (c *Comparison) says(currency string) string {
	if len(c.Lines) == 0 {
		return "Both take the same parts."
	}
	says := plan.Plural(len(c.Lines), "line differs", "lines differ") + ". "
	switch {
	case !c.Whole:
		return says + "Some parts have no price, so what the others come to is not the whole difference."
	case c.More > 0:
		return says + "The second costs " + c.More.In(currency) + " more in parts."
	case c.More < 0:
		return says + "The second costs " + (-c.More).In(currency) + " less in parts."
	}
	return says + "Both cost the same in parts."
}
