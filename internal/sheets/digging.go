package sheets

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// Digging is what is dug for a plan as a crew walks it: named points, and the
// stretches that run from one to another. The names alone say what is joined to what,
// so that whoever has the list can lay out the whole without the drawing.
type Digging struct {
	Points    []DigPoint // in the order in which the list first names them
	Stretches []Stretch  // in the order of digging
	Short     Short      // what no stretch has
}

// DigPoint is a place that trenches start, end, part, bend or come past a thing at.
type DigPoint struct {
	Name  string // "head 2-5", "V3" of the valve of station 3, else "T4"
	At    orb.Point
	Where string // in words: what stands there, or from what it is how far
	Drawn bool   // it is a T: nothing else on a drawing names it
	Joint bool   // several things stand there, and Where names them
}

// Stretch is trench of one kind from one point to another, as it is dug in one go.
type Stretch struct {
	Number  int
	Stops   []Stop         // its ends, and the points it comes past, at least two
	Line    orb.LineString // with its corners
	Length  units.Feet
	Lies    []Lain
	Grounds []GroundLength
	How     string
	Cover   units.Inches // over the top of what lies deepest
	Depth   units.Inches // to the bottom of it; 0 where nothing is dug
	Width   units.Inches
	Of      []int // of trench.Digs.Segments
	order   int   // the main first, then the zones by station, wire last
}

// Stop is a point of a stretch.
type Stop struct {
	Point int        // of Digging.Points
	At    units.Feet // from the first of the stretch
}

// Lain is pipe or wire that lies in a stretch.
type Lain struct {
	What  string // "3/4 in lateral of zone 2 (Front lawn)", "wire to stations 1 and 3"
	Short string // the same where room is short: "3/4 in lateral 2", "wire 1, 3"
	Times int    // pipes of the kind side by side
}

// GroundLength is how much of a stretch lies in what.
type GroundLength struct {
	Name   string // a ground, or the paving by its own name
	Length units.Feet
}

// Short is the pieces that are too short to be dug by themselves, as where pipes of one
// trench part: they are in the sums alone.
type Short struct {
	Pieces  int
	Length  units.Feet
	Lies    []LainLength
	Grounds []GroundLength
	Dug     units.Feet // of Length
}

// LainLength is how much of what lies in the short pieces.
type LainLength struct {
	What   string
	Short  string
	Length units.Feet
}

// DiggingOf reads the digs of a plan as a crew's list. What is there already is left
// out. The same plan gives the same names.
func DiggingOf(p *plan.Plan, d *trench.Digs) *Digging {
	w := newWalk(p, d)
	w.things()
	w.whole()
	w.meetUp()
	w.joinAll()
	w.settle()
	w.arrange()
	return w.name()
}

// Spade is the length of trench below which a stretch is none by itself. Chosen: less
// than a spade is wide.
const Spade units.Feet = 0.25

// How a stretch is made.
const (
	digIt     = "trench"
	digByHand = "by hand, among roots"
	inHouse   = "clipped in the building"
)

// IsDug reports whether there is earth to be taken out.
func (s *Stretch) IsDug() bool { return s.How == digIt || s.How == digByHand }

// groundWords names the ground of a stretch.
var groundWords = map[trench.Ground]string{
	trench.Lawn: "lawn", trench.Bed: "bed", trench.Loose: "loose ground", trench.Roots: "roots", trench.Street: "right of way",
	trench.Paved: "paving", trench.Indoors: "building", trench.NotToDig: "not to be dug", trench.Wet: "water",
	trench.Undrawn: "ground not drawn", trench.OffLot: "off the lot",
}

// piece is one segment as the walk takes it.
type piece struct {
	segment int
	ends    [2]int // of walk.spots
	lies    []Lain
	key     string // alike: the same in it, made the same way, as deep
	ground  string
	how     string
	order   int
	short   bool // taken off the list, in the sums alone
}

// spot is a place where pieces end.
type spot struct {
	at     orb.Point
	into   int // the spot it was put together with; itself for none
	bound  orb.Bound
	stands []standing
}

// standing is a thing that stands at a spot.
type standing struct {
	rank int // the lower one gives the spot its name
	name string
	says string
}

// walk is a Digging in the making.
type walk struct {
	p         *plan.Plan
	d         *trench.Digs
	spots     []spot
	pieces    []piece
	near      map[[2]int][]int // spots by the cell they lie in
	pipes     map[plan.ID][]int
	stretches []joined
	short     Short
	meet      []int // pieces of the list that end at each spot
}

// joined is a stretch in the making: pieces end to end.
type joined struct {
	Stretch
	pieces []int
	spots  []int // one more than pieces
}

func newWalk(p *plan.Plan, d *trench.Digs) *walk {
	w := &walk{p: p, d: d, near: map[[2]int][]int{}, pipes: map[plan.ID][]int{}}
	numbers := sleeveNumbers(p, d)
	for i := range d.Segments {
		seg := &d.Segments[i]
		if !seg.New || len(seg.Pipes)+len(seg.Wires)+len(seg.Ways) == 0 {
			continue
		}
		s := piece{segment: i, ends: [2]int{w.spot(seg.From), w.spot(seg.To)}, how: digIt, ground: groundWords[seg.Ground]}
		s.lies, s.order = liesIn(p, d, seg)
		switch {
		case seg.Crossing >= 0:
			s.ground, s.how = p.AreaName(d.Crossings[seg.Crossing].Area), "under paving"
			if n := numbers[seg.Crossing]; n != "" {
				s.how = n
			}
		case seg.Ground == trench.Indoors:
			s.how = inHouse
		case seg.Ground == trench.Roots:
			s.how = digByHand
		}
		s.key = lainWords(s.lies, inFull) + "\n" + s.how + "\n" + fmt.Sprint(float64(seg.Cover))
		for _, id := range seg.Pipes {
			w.pipes[id] = append(w.pipes[id], len(w.pieces))
		}
		w.pieces = append(w.pieces, s)
	}
	return w
}

// samePlace is how near ends are that are one: a quarter of an inch.
const samePlace = 1.0 / 48

// spot is the place where a piece ends, the same for all that end there.
func (w *walk) spot(at orb.Point) int {
	cell := cellOf(at, samePlace)
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for _, k := range w.near[[2]int{cell[0] + dx, cell[1] + dy}] {
				if spanned(w.spots[k].at, at) <= samePlace {
					return k
				}
			}
		}
	}
	k := len(w.spots)
	w.spots = append(w.spots, spot{at: at, into: k, bound: at.Bound()})
	w.near[cell] = append(w.near[cell], k)
	return k
}

// of is the spot that one was put together with.
func (w *walk) of(k int) int {
	for w.spots[k].into != k {
		k = w.spots[k].into
	}
	return k
}

// leave takes a piece off the list into the sums.
func (w *walk) leave(k int) {
	e := &w.pieces[k]
	length := w.d.Segments[e.segment].Length
	e.short = true
	w.short.Pieces++
	w.short.Length += length
	for _, l := range e.lies {
		w.short.Lies = addLain(w.short.Lies, l, length*units.Feet(l.Times))
	}
	w.short.Grounds = addGround(w.short.Grounds, e.ground, length)
	if e.how == digIt || e.how == digByHand {
		w.short.Dug += length
	}
}

func addLain(all []LainLength, of Lain, length units.Feet) []LainLength {
	for i := range all {
		if all[i].What == of.What {
			all[i].Length += length
			return all
		}
	}
	return append(all, LainLength{of.What, of.Short, length})
}

func addGround(all []GroundLength, name string, length units.Feet) []GroundLength {
	for i := range all {
		if all[i].Name == name {
			all[i].Length += length
			return all
		}
	}
	return append(all, GroundLength{name, length})
}

// settle puts what is told of a stretch together.
func (w *walk) settle() {
	for i := range w.stretches {
		s := &w.stretches[i]
		first := &w.pieces[s.pieces[0]]
		s.Lies, s.How, s.order = first.lies, first.how, first.order
		size := units.Inches(0)
		for _, k := range s.pieces {
			seg := &w.d.Segments[w.pieces[k].segment]
			s.Of = append(s.Of, w.pieces[k].segment)
			s.Grounds = addGround(s.Grounds, w.pieces[k].ground, seg.Length)
			s.Cover, s.Width = max(s.Cover, seg.Cover), max(s.Width, seg.Width)
			for _, id := range seg.Pipes {
				size = max(size, w.p.Pipes[id].NominalIn)
			}
		}
		if s.IsDug() {
			s.Depth = units.Inches(math.Ceil(float64(s.Cover+size) - 1e-9)) // as trench reckons what is dug out, to the whole inch
		} else {
			s.Width = 0
		}
	}
	slices.SortStableFunc(w.stretches, func(a, b joined) int { return cmp.Compare(a.order, b.order) })
}
