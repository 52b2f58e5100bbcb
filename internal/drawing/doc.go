// Package drawing is the draw list that every sheet is made of, and its writers:
// PDF to scale, SVG and DXF. It knows paper, lines and letters, and no plan.
//
// A page is in points, 72 to the inch, with the origin at its lower left corner, x to
// the right and y up. A View on it is in feet of the ground, east and north; letters
// and pens are in points on paper everywhere, whatever the scale.
package drawing

import "github.com/paulmach/orb"

// Document is pages in order.
type Document struct {
	Title   string
	Subject string
	Pages   []Page
}

// Page is one sheet of paper, printed on one side.
type Page struct {
	Name          string // as bookmark and title: "C3 Stake-out"
	Width, Height float64
	Items         []Item // in the order they are drawn
}

// Item is one thing drawn: *Line, *Area, *Arc, *Text, *Image, *Photo, *Layer or *View.
type Item interface{ item() }

// Ink is a colour; its zero value draws nothing. All inks are opaque, so that every
// writer and printer shows the same.
type Ink uint32

// RGB is the ink of a colour 0xRRGGBB.
func RGB(hex uint32) Ink { return Ink(hex&0xffffff | 1<<24) }

// Parts are the red, green and blue of an ink, and whether it draws at all.
func (k Ink) Parts() (r, g, b uint8, draws bool) {
	return uint8(k >> 16), uint8(k >> 8), uint8(k), k>>24 != 0
}

// The inks of words and plain lines.
var (
	Black = RGB(0x111111)
	Grey  = RGB(0x666666)
	Pale  = RGB(0xbbbbbb)
	White = RGB(0xffffff)
)

// Pen is how a line is drawn; no ink or no width draws none.
type Pen struct {
	Ink   Ink
	Width float64   // points
	Dash  []float64 // points of line and gap by turns; nil: solid
}

// Hatch is parallel lines over an area.
type Hatch struct {
	Pen   Pen
	Deg   float64 // of the lines, anticlockwise from the right
	Every float64 // points of paper from one to the next
}

// Line is an open line through its points.
type Line struct {
	Pen    Pen
	Points []orb.Point
}

// Area is what lies in an odd number of its rings: outlines with their holes. Rings
// need not repeat their first point.
type Area struct {
	Pen   Pen
	Fill  Ink
	Hatch *Hatch
	Rings [][]orb.Point
}

// Arc is part of a circle, drawn as a true arc by every writer; a whole one may be filled.
type Arc struct {
	Pen               Pen
	Fill              Ink // of a whole circle alone
	Centre            orb.Point
	Radius            float64
	FromDeg, SweepDeg float64 // anticlockwise
	OnPaper           bool    // Radius is in points whatever the scale, as of a mark
}

// Anchor is which end of a text stands at its place.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of words with its baseline at a place.
type Text struct {
	At      orb.Point
	Size    float64 // points
	Bold    bool
	Italic  bool
	Anchor  Anchor
	TurnDeg float64 // anticlockwise about At
	Ink     Ink     // zero: Black
	Halo    bool    // white laid round the letters, so that lines do not run through them
	S       string
}

// Image is a picture of cells, its first row at the top, drawn without smoothing.
type Image struct {
	Box           orb.Bound
	Columns, Rows int
	Inks          []Ink  // by index
	Cells         []byte // Columns × Rows indices of Inks, row by row
}

// Layer is items that belong together, switched on and off by their name in PDF and DXF.
type Layer struct {
	Name  string
	Items []Item
}

// View is ground shown to scale in a box of the page; what goes past the box is cut off.
type View struct {
	Box     orb.Bound // of the page, points
	Middle  orb.Point // feet, shown in the middle of Box
	PerFoot float64   // points of paper to a foot
	Items   []Item    // in feet
}

func (*Line) item()  {}
func (*Area) item()  {}
func (*Arc) item()   {}
func (*Text) item()  {}
func (*Image) item() {}
func (*Layer) item() {}
func (*View) item()  {}

// ToPage is where a place of the ground is on the page.
func (v *View) ToPage(ft orb.Point) orb.Point {
	c := v.Box.Center()
	return orb.Point{c[0] + (ft[0]-v.Middle[0])*v.PerFoot, c[1] + (ft[1]-v.Middle[1])*v.PerFoot}
}

// ToGround is which place of the ground a place of the page shows.
func (v *View) ToGround(pt orb.Point) orb.Point {
	c := v.Box.Center()
	return orb.Point{v.Middle[0] + (pt[0]-c[0])/v.PerFoot, v.Middle[1] + (pt[1]-c[1])/v.PerFoot}
}
