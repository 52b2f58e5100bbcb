package wire

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// yard is a plan with digs made by hand: places joined to those before them, from
// the controller at the origin on.
type yard struct {
	*plan.Plan
	digs  *trench.Digs
	at    []orb.Point
	back  []int // the place before each
	under []int // the segment to each from there
}

func newYard() *yard {
	p := plan.Empty("Yard", units.US)
	p.Controller = plan.Controller{At: &plan.Spot{}, Stations: 24}
	p.Zones, p.Sensors = map[plan.ID]plan.Zone{}, map[plan.ID]plan.Sensor{}
	p.Options.Figures = map[plan.ID]plan.Figure{}
	return &yard{Plan: p, digs: &trench.Digs{}, at: []orb.Point{{}}, back: []int{-1}, under: []int{-1}}
}

// bare takes rise, coils, slack and spares off, so that sums are those of the ground.
func (y *yard) bare() *yard {
	for _, id := range []plan.ID{plan.WireRise, plan.WireCoil, plan.WireSpares, plan.WireWaste} {
		y.figure(id, 0)
	}
	y.figure(plan.WireSlack, 0)
	return y
}

func (y *yard) figure(id plan.ID, v float64) {
	y.Options.Figures[id] = plan.Figure{Value: v}
}

// dig leads a trench on from a place and returns the new one's number.
func (y *yard) dig(from int, to orb.Point, ground trench.Ground) int {
	s := trench.Segment{From: y.at[from], To: to, Ground: ground, Crossing: -1, New: true, Dug: true}
	if len(y.digs.Segments)%2 == 1 {
		s.From, s.To = s.To, s.From // either way round
	}
	s.Length = units.Feet(apart(s.From, s.To))
	y.under = append(y.under, len(y.digs.Segments))
	y.digs.Segments = append(y.digs.Segments, s)
	y.at, y.back = append(y.at, to), append(y.back, from)
	return len(y.at) - 1
}

// box sets a box at a place.
func (y *yard) box(place int, kind trench.BoxKind) int {
	y.digs.Boxes = append(y.digs.Boxes, trench.Box{At: y.at[place], Kind: kind, New: true})
	return len(y.digs.Boxes) - 1
}

// lead adds the way of a thing's wire to a place, spliced in a box.
func (y *yard) lead(to plan.Ref, place, box int) {
	w := trench.Way{To: to, Box: box}
	for at := place; y.back[at] >= 0; at = y.back[at] {
		w.Segments = append([]int{y.under[at]}, w.Segments...)
		w.Length += y.digs.Segments[y.under[at]].Length
	}
	y.digs.Ways = append(y.digs.Ways, w)
}

// valve sets the valve of a zone in a box at a place.
func (y *yard) valve(station, place, box int) {
	id := plan.ID(fmt.Sprintf("z%d", station))
	y.Zones[id] = plan.Zone{Name: fmt.Sprintf("Zone %d", station), Station: station}
	if box >= 0 {
		y.digs.Boxes[box].Zones = append(y.digs.Boxes[box].Zones, id)
	}
	y.lead(plan.RefTo("zones", id), place, box)
}

// line is a yard of one straight trench with valves in boxes at so many feet.
func line(feet ...float64) *yard {
	y := newYard()
	place := 0
	for i, x := range feet {
		place = y.dig(place, orb.Point{x, 0}, trench.Lawn)
		y.valve(i+1, place, y.box(place, trench.RoundBox))
	}
	return y
}

// drawn is a yard drawn at random: a tree of places, some with boxes of one to five
// valves, some with splice boxes; at times a master valve and sensors.
func drawn(rng *rand.Rand) *yard {
	y := newYard()
	scale := []float64{10, 40, 160, 600}[rng.IntN(4)]
	grounds := []trench.Ground{trench.Lawn, trench.Bed, trench.Paved, trench.Lawn, trench.Undrawn}
	for range 2 + rng.IntN(14) {
		from := rng.IntN(len(y.at))
		sin, cos := math.Sincos(2 * math.Pi * rng.Float64())
		far := 9 + scale*rng.Float64()
		ground := grounds[rng.IntN(len(grounds))]
		if from == 0 && rng.IntN(3) == 0 {
			ground = trench.Indoors
		}
		y.dig(from, orb.Point{y.at[from][0] + far*cos, y.at[from][1] + far*sin}, ground)
	}
	station := 0
	for place := 1; place < len(y.at); place++ {
		if y.crowded(place) {
			continue
		}
		switch rng.IntN(4) {
		case 0, 1:
			b := y.box(place, trench.StandardBox)
			for range 1 + rng.IntN(5) {
				station++
				y.valve(station, place, b)
			}
		case 2:
			y.box(place, trench.SpliceBox)
		}
	}
	if place := rng.IntN(len(y.at)-1) + 1; rng.IntN(3) == 0 && !y.crowded(place) {
		y.Supply.MasterValve = "master-valve-1"
		b := boxFinder(y.digs, orb.Point{})(y.at[place])
		if b < 0 {
			b = y.box(place, trench.RoundBox)
		}
		y.lead("supply", place, b)
	}
	for i := range rng.IntN(3) {
		id := plan.ID(fmt.Sprintf("s%d", i))
		y.Sensors[id] = plan.Sensor{Kind: "rain", HeightFt: new(units.Feet(9))}
		y.lead(plan.RefTo("sensors", id), rng.IntN(len(y.at)), -1)
	}
	switch rng.IntN(4) {
	case 0:
		y.Wiring.Cable = Multi
	case 1:
		y.Wiring.Cable = Single
	}
	y.figure(plan.WireSpares, float64(rng.IntN(4)))
	return y
}

// crowded reports whether a place is so near another that one box would do for
// both, which the drawing of these yards leaves out.
func (y *yard) crowded(place int) bool {
	for i, at := range y.at {
		if i != place && apart(at, y.at[place]) <= 2*valveBoxReach {
			return true
		}
	}
	return false
}
