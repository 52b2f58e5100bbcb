package packs

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// detail is one drawing of how something is put together, to scale, with what is to
// be said of it. It is set down in inches, x to the right and y up; in sections y is 0
// at finished grade.
type detail struct {
	title string
	what  string // section | plan view …, for the line under the title
	notes []string
	box   orb.Bound // what is shown, inches
	items []drawing.Item
	dims  []dim
	tells []leader
	words []word
}

// The pens of details: what is cut, what is seen, what is behind or within, and the
// lines that only measure and point.
var (
	cutPen    = drawing.Pen{Ink: drawing.Black, Width: 1.1}
	seenPen   = drawing.Pen{Ink: drawing.Black, Width: 0.7}
	finePen   = drawing.Pen{Ink: drawing.Black, Width: 0.4}
	hiddenPen = drawing.Pen{Ink: drawing.Black, Width: 0.5, Dash: []float64{3.5, 2}}
	axisPen   = drawing.Pen{Ink: drawing.Grey, Width: 0.35, Dash: []float64{8, 2, 1.5, 2}}
	stonePen  = drawing.Pen{Ink: drawing.RGB(0x8c8c8c), Width: 0.35}
	dimPen    = drawing.Pen{Ink: drawing.Black, Width: 0.35}
)

var (
	plastic = drawing.RGB(0xe4e4e4)
	solid   = drawing.RGB(0xc9c9c9)
	paved   = drawing.RGB(0xececec)
)

// ft are inches in the feet of a View.
func ft(x, y float64) orb.Point { return orb.Point{x / 12, y / 12} }

func ftAll(inches []orb.Point) []orb.Point {
	out := make([]orb.Point, len(inches))
	for i, p := range inches {
		out[i] = ft(p[0], p[1])
	}
	return out
}

func (d *detail) add(items ...drawing.Item) { d.items = append(d.items, items...) }

func (d *detail) shape(pen drawing.Pen, fill drawing.Ink, inches ...orb.Point) {
	d.add(&drawing.Area{Pen: pen, Fill: fill, Rings: [][]orb.Point{ftAll(inches)}})
}

func (d *detail) rect(pen drawing.Pen, fill drawing.Ink, x0, y0, x1, y1 float64) {
	d.shape(pen, fill, orb.Point{x0, y0}, orb.Point{x1, y0}, orb.Point{x1, y1}, orb.Point{x0, y1})
}

func (d *detail) line(pen drawing.Pen, inches ...orb.Point) {
	d.add(&drawing.Line{Pen: pen, Points: ftAll(inches)})
}

func (d *detail) circle(pen drawing.Pen, fill drawing.Ink, x, y, r float64) {
	d.add(&drawing.Arc{Pen: pen, Fill: fill, Centre: ft(x, y), Radius: r / 12, SweepDeg: 360})
}

// ring is a pipe cut across.
func (d *detail) ring(x, y, outside, wall float64) {
	d.circle(cutPen, solid, x, y, outside/2)
	d.circle(finePen, drawing.White, x, y, max(outside/2-max(wall, 0.05), 0.01))
}

// tube is a pipe seen from the side along its line, with mitred turns.
func (d *detail) tube(pen drawing.Pen, fill drawing.Ink, wide float64, inches ...orb.Point) {
	n := len(inches)
	left, right := make([]orb.Point, n), make([]orb.Point, n)
	for i, p := range inches {
		a, b := inches[max(i-1, 0)], inches[min(i+1, n-1)]
		ux, uy := unit(p[0]-a[0], p[1]-a[1])
		vx, vy := unit(b[0]-p[0], b[1]-p[1])
		if i == 0 {
			ux, uy = vx, vy
		}
		if i == n-1 {
			vx, vy = ux, uy
		}
		nx, ny := unit(-uy-vy, ux+vx)
		half := wide / 2 / max(nx*-uy+ny*ux, 0.3)
		left[i] = orb.Point{p[0] + nx*half, p[1] + ny*half}
		right[n-1-i] = orb.Point{p[0] - nx*half, p[1] - ny*half}
	}
	d.shape(pen, fill, append(left, right...)...)
}

func unit(x, y float64) (float64, float64) {
	l := math.Hypot(x, y)
	if l < 1e-9 {
		return 1, 0
	}
	return x / l, y / l
}

// collar is a socket or nut on a tube: a short wider piece about a place, along a direction.
func (d *detail) collar(x, y, dirDeg, long, wide float64, fill drawing.Ink) {
	sin, cos := math.Sincos(dirDeg * math.Pi / 180)
	at := func(u, v float64) orb.Point { return orb.Point{x + u*cos - v*sin, y + u*sin + v*cos} }
	d.shape(seenPen, fill, at(-long/2, -wide/2), at(long/2, -wide/2), at(long/2, wide/2), at(-long/2, wide/2))
}

// earth is ground that is not dug.
func (d *detail) earth(inches ...orb.Point) {
	d.add(&drawing.Area{Rings: [][]orb.Point{ftAll(inches)}, Hatch: &drawing.Hatch{Pen: drawing.Pen{Ink: drawing.Pale, Width: 0.4}, Deg: 45, Every: 5}})
}

// backfill is ground that was dug and put back: loose dots, by the sketch's own dice.
func (d *detail) backfill(x0, y0, x1, y1 float64) {
	d.rect(drawing.Pen{}, drawing.White, x0, y0, x1, y1)
	dice := rand.New(rand.NewPCG(uint64(len(d.items)), 7))
	for range int((x1 - x0) * (y1 - y0) * 1.4) {
		x, y := x0+dice.Float64()*(x1-x0), y0+dice.Float64()*(y1-y0)
		d.add(&drawing.Arc{Fill: drawing.Pale, Centre: ft(x, y), Radius: 0.5, SweepDeg: 360, OnPaper: true})
	}
}

// gravel are stones that do not overlap; large ones are set first.
func (d *detail) gravel(x0, y0, x1, y1 float64) {
	d.rect(drawing.Pen{}, drawing.White, x0, y0, x1, y1)
	dice := rand.New(rand.NewPCG(uint64(len(d.items)), 11))
	type stone struct{ x, y, r float64 }
	var set []stone
	for _, r := range []float64{0.42, 0.3, 0.2} {
		r = min(r, (y1-y0)/2.2, (x1-x0)/2.2)
		for range min(int((x1-x0)*(y1-y0)*7), 4000) {
			s := stone{x0 + r + dice.Float64()*(x1-x0-2*r), y0 + r + dice.Float64()*(y1-y0-2*r), r}
			free := r > 0.02
			for _, o := range set {
				free = free && math.Hypot(o.x-s.x, o.y-s.y) >= o.r+s.r+0.04
			}
			if free {
				set = append(set, s)
				d.circle(stonePen, 0, s.x, s.y, s.r)
			}
		}
	}
}

// grade is the line of finished grade with what grows on it.
func (d *detail) grade(x0, x1, y float64) {
	d.line(cutPen, orb.Point{x0, y}, orb.Point{x1, y})
	for i, x := 0, x0+0.4; x < x1-0.2; i, x = i+1, x+0.7 {
		lean := []float64{-0.15, 0.1, 0.2, -0.05}[i%4]
		d.line(drawing.Pen{Ink: drawing.Grey, Width: 0.4}, orb.Point{x, y}, orb.Point{x + lean, y + 0.55 + 0.2*float64(i%3)})
	}
}

// concrete is paving cut through.
func (d *detail) concrete(x0, y0, x1, y1 float64) {
	d.rect(cutPen, paved, x0, y0, x1, y1)
	dice := rand.New(rand.NewPCG(uint64(len(d.items)), 13))
	for i := range int((x1 - x0) * (y1 - y0) * 0.7) {
		x, y := x0+0.3+dice.Float64()*(x1-x0-0.6), y0+0.3+dice.Float64()*(y1-y0-0.6)
		if i%3 > 0 {
			d.add(&drawing.Arc{Fill: drawing.Grey, Centre: ft(x, y), Radius: 0.45, SweepDeg: 360, OnPaper: true})
			continue
		}
		d.shape(drawing.Pen{Ink: drawing.Grey, Width: 0.35}, 0, orb.Point{x - 0.2, y - 0.12}, orb.Point{x + 0.2, y - 0.12}, orb.Point{x, y + 0.22})
	}
}

// brick is one cut through.
func (d *detail) brick(x0, y0, x1, y1 float64) {
	d.rect(drawing.Pen{}, drawing.White, x0, y0, x1, y1)
	d.add(&drawing.Area{Pen: cutPen, Rings: [][]orb.Point{ftAll([]orb.Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}})},
		Hatch: &drawing.Hatch{Pen: finePen, Deg: 45, Every: 2.6}})
}

// broken is where a thing goes on past what is drawn: a line with a kink, upright.
func (d *detail) broken(x, y0, y1 float64) {
	m, k := (y0+y1)/2, min(0.6, (y1-y0)/5)
	d.line(finePen, orb.Point{x, y0}, orb.Point{x, m - k}, orb.Point{x - k, m - k/3}, orb.Point{x + k, m + k/3}, orb.Point{x, m + k}, orb.Point{x, y1})
}

// coil is wire wound about a finger, seen from the side.
func (d *detail) coil(x, y, r float64, turns int) {
	for i := range turns {
		d.circle(seenPen, 0, x+float64(i)*r*0.55, y, r)
	}
}

func polar(r, deg float64) (x, y float64) {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return r * cos, r * sin
}
