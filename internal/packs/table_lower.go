package packs

import (
	"evenfall/internal/drawing"
)

// Limits of the search for a lower table: chosen, so that it takes a few milliseconds.
const (
	lowerStep = 5.0 // points that go from one column to another at once
	lowerRows = 40  // rows looked at
	lowerMost = 60  // steps
)

// lower makes a table with wrapped cells lower: again and again a column gives a little
// of its width to the one by which most lines are saved, as long as any is.
func (g *grid) lower(widths, least []float64, size float64) {
	rows := g.spaced(size)
	n := len(widths)
	lines := make([][]int, len(rows)) // of every cell as the columns are
	for r, row := range rows {
		lines[r] = make([]int, n)
		for c, words := range row {
			lines[r][c] = linesIn(words, widths[c]-2*cellPad, size)
		}
	}
	for range lowerMost {
		best := gift{}
		for to := range n {
			if !tallest(lines, to) {
				continue
			}
			for from := range n {
				for _, by := range []float64{lowerStep, 3 * lowerStep, 6 * lowerStep} {
					if from == to || widths[from]-by < least[from] {
						break
					}
					if saved := savedBy(rows, lines, widths, size, from, to, by); saved > best.saved {
						best = gift{saved, from, to, by}
					}
				}
			}
		}
		if best.saved == 0 {
			return
		}
		widths[best.to] += best.by
		widths[best.from] -= best.by
		for r, row := range rows {
			for _, c := range []int{best.from, best.to} {
				lines[r][c] = linesIn(row[c], widths[c]-2*cellPad, size)
			}
		}
	}
}

// gift is width that one column gives another, and how many lines that saves.
type gift struct {
	saved, from, to int
	by              float64
}

// savedBy is how many lines a table is lower by when a column gives another so much.
func savedBy(rows [][][]float64, lines [][]int, widths []float64, size float64, from, to int, by float64) int {
	saved := 0
	for r, row := range rows {
		rest := 1
		for k, l := range lines[r] {
			if k != from && k != to {
				rest = max(rest, l)
			}
		}
		was := max(rest, lines[r][from], lines[r][to])
		is := max(rest, linesIn(row[from], widths[from]-by-2*cellPad, size))
		if lines[r][to] > rest { // else it is no higher by more width
			is = max(is, linesIn(row[to], widths[to]+by-2*cellPad, size))
		}
		saved += was - is
	}
	return saved
}

// tallest reports whether a column is the only one that makes some row as high as it is.
func tallest(lines [][]int, c int) bool {
next:
	for _, row := range lines {
		if row[c] < 2 {
			continue
		}
		for k, l := range row {
			if k != c && l >= row[c] {
				continue next
			}
		}
		return true
	}
	return false
}

// spaced are the widths of the words of some rows, evenly taken, the head first.
func (g *grid) spaced(size float64) [][][]float64 {
	words := func(cells []string, bold bool) [][]float64 {
		row := make([][]float64, len(g.Head))
		for i, s := range cells[:min(len(cells), len(g.Head))] {
			for _, w := range drawing.Unbroken(s) {
				row[i] = append(row[i], (&drawing.Text{S: w, Size: size, Bold: bold}).Width())
			}
		}
		return row
	}
	out := [][][]float64{words(g.Head, true)}
	step := max(1, len(g.Rows)/lowerRows)
	for i := 0; i < len(g.Rows); i += step {
		if !g.Groups[i] {
			out = append(out, words(g.Rows[i], g.Heavy[i]))
		}
	}
	return out
}

// linesIn is how many lines words take in a width.
func linesIn(words []float64, wide, size float64) int {
	space := size * 0.28 // of the library's fonts
	n, x := 1, 0.0
	for _, w := range words {
		switch {
		case x == 0:
			x = w
		case x+space+w <= wide:
			x += space + w
		default:
			n++
			x = w
		}
		for x > wide && wide > size { // broken
			n++
			x -= wide
		}
	}
	return n
}
