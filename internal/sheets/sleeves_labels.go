package sheets

import (
	"math"
	"unicode/utf8"

	"github.com/paulmach/orb"
)

// labels keeps what is written in a drawing apart: a label is set where its box meets
// none set before.
type labels struct {
	inside orb.Bound // of the drawing, where labels may be
	taken  []orb.Bound
}

// textBox is the room a line of text takes about its middle. A letter is taken as 0.58
// of the size wide: chosen on the wide side for plain sans-serif letters.
func textBox(mid orb.Point, size float64, s string) orb.Bound {
	w, h := float64(utf8.RuneCountInString(s))*size*0.58+4, size*1.15
	return orb.Bound{Min: orb.Point{mid[0] - w/2, mid[1] - h/2}, Max: orb.Point{mid[0] + w/2, mid[1] + h/2}}
}

func meets(a, b orb.Bound) bool {
	return a.Min[0] < b.Max[0] && b.Min[0] < a.Max[0] && a.Min[1] < b.Max[1] && b.Min[1] < a.Max[1]
}

// free reports whether a box is inside and meets nothing.
func (l *labels) free(b orb.Bound) bool {
	if b.Min[0] < l.inside.Min[0] || b.Min[1] < l.inside.Min[1] || b.Max[0] > l.inside.Max[0] || b.Max[1] > l.inside.Max[1] {
		return false
	}
	for _, t := range l.taken {
		if meets(b, t) {
			return false
		}
	}
	return true
}

// set takes the first of some places at which a label is free.
func (l *labels) set(size float64, s string, places ...orb.Point) (orb.Point, bool) {
	for _, at := range places {
		if b := textBox(at, size, s); l.free(b) {
			l.taken = append(l.taken, b)
			return at, true
		}
	}
	return orb.Point{}, false
}

// around are places about one, nearer ones first: for a label with a leader.
func around(at orb.Point, from, to float64) []orb.Point {
	out := []orb.Point{}
	for r := from; r <= to; r += 6 {
		for k := range 16 {
			sin, cos := math.Sincos(math.Pi/8*float64(k) + math.Pi/4)
			out = append(out, orb.Point{at[0] + r*cos, at[1] - r*sin})
		}
	}
	return out
}

// baseline is where a text is written so that its middle is at a place.
func baseline(mid orb.Point, size float64) orb.Point { return orb.Point{mid[0], mid[1] + size*0.36} }
