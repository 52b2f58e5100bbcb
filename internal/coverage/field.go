package coverage

import (
	"context"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Field keeps the water of one plan so that an edit redoes only what it
// touches. Its zero value is not ready: use New. It is not safe for use by two
// goroutines at once.
type Field struct {
	frame geom.Frame
}

// New returns an empty field.
func New() *Field { return &Field{} }

// Changed is what an update changed on the map.
type Changed struct {
	Cells geom.Cells // the dirty rectangle
	Frame bool       // the frame itself is another: every cell is new
}

// Compute reckons a plan from nothing.
func Compute(ctx context.Context, p *plan.Plan) (*Result, error) {
	r, _, err := New().Update(ctx, p)
	return r, err
}

// Update brings the field to the plan and returns the same Result as Compute.
func (f *Field) Update(ctx context.Context, p *plan.Plan) (*Result, Changed, error) {
	return &Result{}, Changed{}, ctx.Err()
}

// Frame is the raster of the field.
func (f *Field) Frame() geom.Frame { return f.frame }

// Cells returns the map bytes of a rectangle, row by row from the south.
func (f *Field) Cells(c geom.Cells) []byte {
	c = c.Within(f.frame)
	return make([]byte, (c.X1-c.X0)*(c.Y1-c.Y0))
}

// Reading is the water at one place.
type Reading struct {
	Rate     units.InchesPerHour
	Surface  plan.ID     // area id, or Outside
	OnTarget bool        // planting watered overhead
	OfMean   units.Ratio // rate over the area's mean; 0 off target
}

// RateAt reads the field at a place; outside the frame it is false.
func (f *Field) RateAt(p orb.Point) (Reading, bool) { return Reading{}, false }

// FieldEstimate draws installations with small errors.
func FieldEstimate(ctx context.Context, p *plan.Plan, seed uint64, draws int) ([]Estimate, error) {
	return nil, ctx.Err()
}
