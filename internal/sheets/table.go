package sheets

import (
	"math"
	"strconv"

	"evenfall/internal/units"
)

// Table is one list: a title, named columns and rows of cells, one a column.
type Table struct {
	Title   string // also the name of its sheet in a workbook
	Columns []Column
	Rows    [][]Cell
}

// Column is one column of a table.
type Column struct {
	Name  string // with its unit, as "Flow, gpm"
	Width int    // in characters, for workbooks; 0: by the name
}

// Cell is a text or a number. The zero Cell is an empty text.
type Cell struct {
	text     string
	number   float64
	decimals int
	numeric  bool
}

// Text is a cell of words.
func Text(s string) Cell { return Cell{text: s} }

// Count is a cell of a whole number.
func Count(n int) Cell { return Cell{number: float64(n), numeric: true} }

// Number is a cell of a number, rounded to so many decimals. What is not finite
// is an empty cell.
func Number(v float64, decimals int) Cell {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Cell{}
	}
	scale := math.Pow10(decimals)
	rounded := math.Round(v*scale) / scale
	if rounded == 0 {
		rounded = 0 // no -0.0
	}
	return Cell{number: rounded, decimals: decimals, numeric: true}
}

// IsNumber reports whether a cell is a number.
func (c Cell) IsNumber() bool { return c.numeric }

// Shown is the cell as a page shows it: as String, with commas between thousands.
func (c Cell) Shown() string {
	if !c.numeric {
		return c.text
	}
	return units.Grouped(c.String())
}

// String is the cell as a file has it: words as they are, numbers with their
// decimals.
func (c Cell) String() string {
	if !c.numeric {
		return c.text
	}
	return strconv.FormatFloat(c.number, 'f', c.decimals, 64)
}
