package drawing

import (
	"cmp"
	"slices"
	"strings"

	"github.com/paulmach/orb"
)

// word is a text of a page with the place it is read at.
type word struct {
	at   orb.Point
	size float64
	s    string
}

// Words are the words of a page as they are read: lines from the top down, in each from
// the left to the right. Texts whose baselines differ by less than a third of a letter
// are of one line; parts of it are set apart by two spaces.
func Words(q *Page) []string {
	var all []word
	gather(&all, q.Items, func(p orb.Point) orb.Point { return p })
	slices.SortStableFunc(all, func(a, b word) int { return cmp.Compare(b.at[1], a.at[1]) })
	var lines []string
	for len(all) > 0 {
		n := 1
		for n < len(all) && all[0].at[1]-all[n].at[1] < min(all[0].size, all[n].size)/3 {
			n++
		}
		line := all[:n]
		all = all[n:]
		slices.SortStableFunc(line, func(a, b word) int { return cmp.Compare(a.at[0], b.at[0]) })
		parts := make([]string, n)
		for i, w := range line {
			parts[i] = w.s
		}
		lines = append(lines, strings.Join(parts, "  "))
	}
	return lines
}

// gather puts the texts among items into all; toPage is where a place of theirs is on
// the page.
func gather(all *[]word, items []Item, toPage func(orb.Point) orb.Point) {
	for _, it := range items {
		switch it := it.(type) {
		case *Text:
			if s := strings.TrimSpace(Printable(it.S)); s != "" {
				*all = append(*all, word{toPage(it.At), it.Size, s})
			}
		case *Layer:
			gather(all, it.Items, toPage)
		case *View:
			gather(all, it.Items, it.ToPage)
		}
	}
}
