package packs

import (
	"strconv"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/sheets"
)

// grid is a table on paper.
type grid struct {
	Head    []string
	Numbers []bool       // columns set to the right; nil: none
	Shares  []float64    // of the width; nil: by what is in them
	Rows    [][]string   // a row shorter than Head is filled up with nothing
	Heavy   map[int]bool // rows in bold under a line, as of a total; kept with the row before
	Groups  map[int]bool // rows whose first cell heads the rows after it, across the table
	Ticks   bool         // a box to tick before every other row
	Least   float64      // rows are no lower, as those to be written in by hand, points
	Small   bool         // in small print
	Even    bool         // columns stay as Shares are, however high that makes rows
	Note    string       // small print under the table
	// Mark draws a mark no larger than 11 points about a place before a row; nil: none.
	Mark func(row int, at orb.Point) []drawing.Item
}

func itoa(n int) string { return strconv.Itoa(n) }

// gridOf is a list as a table on paper, of the columns named, all when none is. Its
// lines that are notes become the note under it.
func gridOf(t sheets.Table, columns ...string) grid {
	var g grid
	var of []int
	for i, c := range t.Columns {
		take := len(columns) == 0
		for _, name := range columns {
			take = take || name == c.Name
		}
		if take {
			of = append(of, i)
			g.Head = append(g.Head, c.Name)
		}
	}
	g.Numbers = make([]bool, len(of))
	for k, i := range of {
		any, all := false, true
		for _, row := range t.Rows {
			if i < len(row) && row[i].String() != "" && row[0].String() != sheets.NoteName {
				any, all = any || row[i].IsNumber(), all && row[i].IsNumber()
			}
		}
		g.Numbers[k] = any && all
	}
	for _, row := range t.Rows {
		if len(row) > 0 && row[0].String() == sheets.NoteName {
			for _, c := range row[1:] {
				if s := c.String(); s != "" {
					g.Note = joined(g.Note, s)
				}
			}
			continue
		}
		var cells []string
		for _, i := range of {
			s := ""
			if i < len(row) {
				s = row[i].String()
			}
			cells = append(cells, s)
		}
		g.Rows = append(g.Rows, cells)
	}
	return g
}

func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}
