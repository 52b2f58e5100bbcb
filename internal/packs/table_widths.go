package packs

import (
	"evenfall/internal/drawing"
)

// widths are how wide the columns of a table are: by Shares to begin with, or by what
// stands in them, measured, and then so that the table gets low. A column is never
// narrower than its longest word while there is room for that, and a table without
// shares not much wider than its words. Where even words do not fit, the letters get
// smaller, down to 7 points, and then words are broken.
func (g *grid) widths(wide float64, size *float64) []float64 {
	n := len(g.Head)
	out := make([]float64, n)
	var least, whole []float64
	for {
		least, whole = g.measured(*size, wide)
		if total(least) <= wide || *size <= 7 {
			break
		}
		*size -= 0.5
	}
	switch has, floor := total(whole), total(least); {
	case g.Shares != nil && floor <= wide:
		out = shared(g.Shares, least, wide)
		if !g.Even {
			g.lower(out, least, *size)
		}
	case has <= wide:
		// More room than is needed: shared out, at most so much to a column that its words
		// are still found in the row.
		extra := (wide - has) / has
		for i := range out {
			out[i] = whole[i] + min(whole[i]*extra, 40)
		}
		// Nearly as wide as the page, it is as wide.
		if is := total(out); is > 0.7*wide {
			for i := range out {
				out[i] *= wide / is
			}
		}
	case floor <= wide:
		for i := range out {
			out[i] = least[i] + (whole[i]-least[i])*(wide-floor)/(has-floor)
		}
		g.lower(out, least, *size)
	default:
		for i := range out {
			out[i] = wide * least[i] / floor
		}
	}
	return out
}

// shared are widths by shares, none under its least: those that would be have it, and
// the others share the rest.
func shared(shares, least []float64, wide float64) []float64 {
	out := make([]float64, len(least))
	fixed := make([]bool, len(least))
	for again := true; again; {
		again = false
		rest, sum := wide, 0.0
		for i, s := range shares {
			if fixed[i] {
				rest -= least[i]
			} else {
				sum += s
			}
		}
		for i, s := range shares {
			out[i] = least[i]
			if !fixed[i] {
				out[i] = rest * s / sum
				if out[i] < least[i] {
					fixed[i], again = true, true
				}
			}
		}
	}
	return out
}

func total(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum
}

// measured is how wide each column must be for its longest word, words wider than a
// third of the table apart, and for its longest cell on one line.
func (g *grid) measured(size, wide float64) (least, whole []float64) {
	least, whole = make([]float64, len(g.Head)), make([]float64, len(g.Head))
	see := func(i int, s string, bold bool) {
		if s == "" {
			return
		}
		if w := (&drawing.Text{S: s, Size: size, Bold: bold}).Width() + 2*cellPad + 0.1; w > whole[i] {
			whole[i] = w
		}
		if whole[i] <= least[i] {
			return
		}
		for _, word := range drawing.Unbroken(s) {
			if w := (&drawing.Text{S: word, Size: size, Bold: bold}).Width() + 2*cellPad + 0.1; w > least[i] {
				least[i] = min(w, wide/3)
			}
		}
	}
	for i, h := range g.Head {
		least[i] = 14
		see(i, h, true)
		// A head may be wrapped, however long it is.
		whole[i] = max(least[i], min(whole[i], 60))
	}
	for k, row := range g.Rows {
		if g.Groups[k] {
			continue
		}
		for i, s := range row {
			if i < len(g.Head) {
				see(i, s, g.Heavy[k])
			}
		}
	}
	return least, whole
}
