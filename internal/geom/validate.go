package geom

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// What an outline may hold. Chosen: far above any property, low enough that the
// slowest outline still answers in about a second.
const (
	MaxCorners = 10_000 // corners of one outline or line
	maxPlaces  = 50_000 // places of a ring after its arcs are chords
	MaxBulge   = 20.0   // an arc of 348.5 degrees
	leastArea  = 1.0 / 144
)

// Validate reports the first thing wrong with the outline as a *Fault, or nil.
// An outline is sound when it has three corners (two when an edge is an arc),
// every number is finite and within Limit, no corner repeats, it encloses at
// least a square inch, and its edges meet nowhere but at their common corners.
// The direction does not matter.
func (o Outline) Validate() error {
	if f := o.fault(); f != nil {
		return f
	}
	return nil
}

func (o Outline) fault() *Fault {
	if f := cornersFault(o, o.leastCorners(), true); f != nil {
		return f
	}
	ring, owner := o.traced()
	if len(ring) > maxPlaces {
		return &Fault{Reason: TooMany, Sentence: "The outline has too many arcs. Draw it as several outlines.", At: o[0].Point()}
	}
	for i, s := range ring {
		if max(s.x, -s.x, s.y, -s.y) > Limit*4096 {
			return tooFar(owner[i], s.point(), "The arc that leaves corner %d reaches")
		}
	}
	return ringFault(ring, owner)
}

func tooFar(i int, at orb.Point, what string) *Fault {
	at = orb.Point{min(max(at[0], -Limit), Limit), min(max(at[1], -Limit), Limit)}
	return &Fault{Reason: TooFar, Vertex: i, At: at, Sentence: fmt.Sprintf(what+" more than 10 km (32,808 ft) from the origin. Check its coordinates, or move the plan nearer to the origin.", i+1)}
}

// leastCorners is two when an arc closes the figure, as in a half disc.
func (o Outline) leastCorners() int {
	for _, v := range o {
		if v.Bulge != 0 {
			return 2
		}
	}
	return 3
}

// Validate reports the first thing wrong with the line as a *Fault, or nil. A
// line has two corners or more, finite and within Limit, none repeated. It may
// cross itself.
func (l Line) Validate() error {
	if f := cornersFault(l, 2, false); f != nil {
		return f
	}
	return nil
}

// cornersFault looks at one corner and one edge at a time.
func cornersFault(vs []Vertex, least int, closed bool) *Fault {
	if len(vs) < least {
		f := &Fault{Reason: TooFew, Sentence: fmt.Sprintf("It has %s; it needs %d or more. Add corners.", count(len(vs)), least)}
		if len(vs) > 0 && finite(vs[0]) {
			f.At = vs[0].Point()
		}
		return f
	}
	if len(vs) > MaxCorners {
		return &Fault{Reason: TooMany, Sentence: fmt.Sprintf("It has %d corners; the most is %d. Leave out corners that lie close together.", len(vs), MaxCorners)}
	}
	for i, v := range vs {
		if f := vertexFault(i, v); f != nil {
			return f
		}
	}
	last := len(vs)
	if !closed {
		last--
	}
	for i := range last {
		if f := edgeFault(i, vs[i], vs[(i+1)%len(vs)], (i+1)%len(vs)); f != nil {
			return f
		}
	}
	return nil
}

func count(n int) string {
	switch n {
	case 0:
		return "no corners"
	case 1:
		return "one corner"
	}
	return fmt.Sprintf("%d corners", n)
}

func finite(v Vertex) bool {
	return !math.IsNaN(v.X-v.X) && !math.IsNaN(v.Y-v.Y)
}

func vertexFault(i int, v Vertex) *Fault {
	switch {
	case !finite(v):
		return &Fault{Reason: NotFinite, Vertex: i, Sentence: fmt.Sprintf("Corner %d has a coordinate that is not a number. Give it a place.", i+1)}
	case math.Abs(v.X) > Limit || math.Abs(v.Y) > Limit:
		return tooFar(i, v.Point(), "Corner %d lies")
	case !(math.Abs(v.Bulge) <= MaxBulge):
		return &Fault{Reason: BadBulge, Vertex: i, At: v.Point(), Sentence: fmt.Sprintf("The arc that leaves corner %d turns through nearly a whole circle. Draw it as two arcs.", i+1)}
	}
	return nil
}

func edgeFault(i int, v, w Vertex, next int) *Fault {
	switch {
	case v.X == w.X && v.Y == w.Y:
		return &Fault{Reason: Repeated, Vertex: next, At: w.Point(), Sentence: fmt.Sprintf("Corners %d and %d are in the same place. Remove one of them.", i+1, next+1)}
	case Snap(v.Point()) == Snap(w.Point()):
		return &Fault{Reason: Repeated, Vertex: next, At: w.Point(), Sentence: fmt.Sprintf("Corners %d and %d are too close to tell apart. Remove one of them.", i+1, next+1)}
	}
	return nil
}
