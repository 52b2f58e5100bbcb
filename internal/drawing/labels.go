package drawing

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
)

// Want is one label that a drawing would like to have.
type Want struct {
	Text     Text          // At, Anchor and TurnDeg are chosen; "\n" parts lines
	About    orb.Point     // of the page: the middle of what is named
	Clear    float64       // half the side of the mark at About, which no label lies on, points
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
	Dot    *Arc    // where a leader starts upon an area or a line; nil: at a mark
}

// Items are what is drawn of it.
func (s *Settled) Items() []Item {
	var out []Item
	if s.Leader != nil {
		out = append(out, s.Leader)
	}
	if s.Dot != nil {
		out = append(out, s.Dot)
	}
	for _, t := range s.Texts {
		out = append(out, t)
	}
	return out
}

// Settle finds places for labels inside a box of the page, so that no text lies on
// another, on a mark or on a box that is taken, nor any leader across them. Lines are
// crossed by letters where nothing better is free. Each label takes the best of its
// places that is free, those first that matter most and have fewest; one that finds
// none has others move for it, up to a chain of three. The answer has the order of
// wants, and the same wants have the same answer.
func Settle(inside orb.Bound, wants []Want, taken []orb.Bound, lines [][2]orb.Point) []Settled {
	s := newSettling(inside, wants, taken, lines)
	order := make([]int, 0, len(wants))
	for i := range s.labels {
		if s.labels[i].able {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, k int) int {
		a, b := &s.labels[i], &s.labels[k]
		return cmp.Or(cmp.Compare(b.want.Priority, a.want.Priority), cmp.Compare(len(a.near), len(b.near)))
	})
	for _, i := range order {
		s.find(i)
	}
	s.better(order)
	out := make([]Settled, len(wants))
	for i := range s.labels {
		if l := &s.labels[i]; l.now != nil {
			out[i] = l.settled()
		}
	}
	return out
}

// label is one want with the places it may take.
type label struct {
	want       *Want
	able       bool // has words and finite numbers
	lines      []string
	wide, high float64 // of its block, points
	words      []orb.Bound
	near, off  []spot // by their cost; off has leaders and is made when it is asked for
	offMade    bool
	now        *spot
}

// spot is one place a label may take.
type spot struct {
	cost    float64
	boxes   []orb.Bound // of the page, one, or one a word when the text is turned
	middle  orb.Point   // of the block
	turnDeg float64
	anchor  Anchor
	led     bool
	leader  [2]orb.Point
}

const (
	lineFeed  = 1.2  // from one line of a label to the next, as a share of its size
	textGap   = 0.8  // kept free over and under every text, points
	sideGap   = 2.4  // kept free at its ends, so that two in a row do not read as one
	legGap    = 2.2  // between leaders, that each is followed to its end
	markGap   = 1.6  // between a mark and its label
	minLetter = 0.01 // smaller texts are not placed
)

func newLabel(w *Want) label {
	l := label{want: w}
	for _, s := range strings.Split(w.Text.S, "\n") {
		if s = strings.TrimSpace(Printable(s)); s != "" {
			l.lines = append(l.lines, s)
			t := w.Text
			t.S = s
			l.wide = max(l.wide, t.Width())
		}
	}
	size := w.Text.Size
	l.high = size * (ascent + descent + lineFeed*float64(len(l.lines)-1))
	l.words = l.wordsOf()
	l.able = len(l.lines) > 0 && size > minLetter && usable(size) && usable(w.About[0]) && usable(w.About[1]) && usable(w.Clear) && w.Clear >= 0
	for _, p := range w.Along {
		l.able = l.able && usable(p[0]) && usable(p[1])
	}
	return l
}

func usable(v float64) bool { return !math.IsNaN(v) && math.Abs(v) < 1e9 }

// settled are the texts of a label at its place.
func (l *label) settled() Settled {
	p := l.now
	out := Settled{Placed: true}
	size := l.want.Text.Size
	sin, cos := math.Sincos(p.turnDeg * math.Pi / 180)
	x := 0.0
	switch p.anchor {
	case Start:
		x = -l.wide / 2
	case End:
		x = l.wide / 2
	}
	for i, s := range l.lines {
		t := l.want.Text
		t.S, t.Anchor, t.TurnDeg = s, p.anchor, p.turnDeg
		y := l.high/2 - size*(ascent+lineFeed*float64(i))
		t.At = orb.Point{p.middle[0] + x*cos - y*sin, p.middle[1] + x*sin + y*cos}
		out.Texts = append(out.Texts, &t)
	}
	if p.led {
		out.Leader = &Line{Pen: l.want.Leader, Points: []orb.Point{p.leader[0], p.leader[1]}}
		if l.want.Clear == 0 {
			out.Dot = &Arc{Centre: p.leader[0], Radius: 1.3, SweepDeg: 360, Fill: l.want.Leader.Ink, OnPaper: true}
		}
	}
	return out
}
