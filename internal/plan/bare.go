package plan

import (
	"math"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// absent marks a number that must be given, before its object is read. JSON has
// no such number, so one that is still there afterwards was left out: without it
// a head without x_ft would stand at x = 0.
var absent = math.NaN()

// The types below have the members of their namesakes but not their entry in
// unmarshalers, which would otherwise call itself.
type (
	bareSpot      Spot
	bareTree      Tree
	bareKeepDry   KeepDry
	bareElevation Elevation
	bareTie       Tie
	bareSleeve    Sleeve
	bareHead      Head
	bareNode      Node
	bareSensor    Sensor
	bareCan       CatchCan
	bareNote      Note
	bareUnderlay  Underlay
	barePixel     PicturePoint
	bareKnown     KnownLength
	bareNozzle    catalog.Nozzle
	bareTurnDown  catalog.TurnDown
	bareLoss      catalog.LossPoint
	barePumpPoint PumpPoint
	bareLocalRule LocalRule
	bareFigure    Figure
	bareBox       Box
	barePrice     Price
	bareRental    Rental
)

// unmarshalers read corners, and the objects with a number that must be given
// and may be zero.
var unmarshalers = json.JoinUnmarshalers(
	json.UnmarshalFromFunc(readVertex),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Spot) error {
		return marked(d, (*bareSpot)(v), &v.X, &v.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Tree) error {
		return marked(d, (*bareTree)(v), &v.X, &v.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *KeepDry) error {
		return marked(d, (*bareKeepDry)(v), &v.X, &v.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Elevation) error {
		return marked(d, (*bareElevation)(v), &v.X, &v.Y, &v.Z)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Tie) error {
		return marked(d, (*bareTie)(v), &v.From.X, &v.From.Y, &v.To.X, &v.To.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Sleeve) error {
		return marked(d, (*bareSleeve)(v), &v.From.X, &v.From.Y, &v.To.X, &v.To.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Head) error {
		return marked(d, (*bareHead)(v), &v.X, &v.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Node) error {
		return marked(d, (*bareNode)(v), &v.X, &v.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Sensor) error {
		return marked(d, (*bareSensor)(v), &v.X, &v.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *CatchCan) error {
		return marked(d, (*bareCan)(v), &v.X, &v.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Note) error {
		return marked(d, (*bareNote)(v), &v.X, &v.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Underlay) error {
		return marked(d, (*bareUnderlay)(v), &v.X, &v.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *PicturePoint) error {
		v.X, v.Y = absent, absent
		return marked(d, (*barePixel)(v))
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *KnownLength) error {
		nowhere := PicturePoint{X: absent, Y: absent}
		v.From, v.To = nowhere, nowhere
		return marked(d, (*bareKnown)(v))
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *catalog.Nozzle) error {
		v.Trajectory = units.Degrees(absent)
		return marked(d, (*bareNozzle)(v))
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *catalog.TurnDown) error {
		v.FlowPower = absent
		return marked(d, (*bareTurnDown)(v))
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *catalog.LossPoint) error {
		v.Loss = units.PSI(absent)
		return marked(d, (*bareLoss)(v))
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *PumpPoint) error {
		v.Flow, v.PSI = units.GPM(absent), units.PSI(absent)
		return marked(d, (*barePumpPoint)(v))
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *LocalRule) error {
		return marked(d, (*bareLocalRule)(v), &v.Feet)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Figure) error {
		v.Value = absent
		return marked(d, (*bareFigure)(v))
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Box) error {
		return marked(d, (*bareBox)(v), &v.X, &v.Y)
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Price) error {
		v.Each = absent
		return marked(d, (*barePrice)(v))
	}),
	json.UnmarshalFromFunc(func(d *jsontext.Decoder, v *Rental) error {
		v.Days, v.Each = absent, absent
		return marked(d, (*bareRental)(v))
	}),
)

// marked reads an object after marking the lengths that must be given.
func marked(d *jsontext.Decoder, object any, lengths ...*units.Feet) error {
	for _, l := range lengths {
		*l = units.Feet(absent)
	}
	return json.UnmarshalDecode(d, object)
}
