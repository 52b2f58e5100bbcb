package coverage

import (
	"context"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// windowShares are the sizes of window in use [5], as shares of the ground.
var windowShares = []float64{0.01, 0.02, windowShare, 0.1}

// Scheduling is the scheduling coefficient of one area for windows of several
// sizes.
type Scheduling struct {
	ID      plan.ID  `json:"id"`
	Windows []Window `json:"windows"` // smallest first; none when the area gets no water
}

// Window is the driest square window of one size on an area.
type Window struct {
	Share units.Ratio `json:"share_of_ground"`        // that the window holds
	SC    float64     `json:"scheduling_coefficient"` // mean over the window's rate; 0: it gets no water
	At    *orb.Point  `json:"at,omitempty"`           // middle of the window
}

// SchedulingCoefficients reads the scheduling coefficient of every planting area
// watered overhead for windows of 1, 2, 5 and 10 % of its ground, by id. The one
// of 5 % is the SC of its reading. It reckons the plan anew, so it is for when
// somebody asks, not for every edit. The error is the context's.
func SchedulingCoefficients(ctx context.Context, p *plan.Plan) ([]Scheduling, error) {
	f := New()
	if _, _, err := f.Update(ctx, p); err != nil {
		return nil, err
	}
	out := []Scheduling{}
	for _, id := range plan.SortedIDs(f.index) {
		i := f.index[id]
		if !f.plots[i].target {
			continue
		}
		f.readPlaces(i) // leaves the ground and the water of the area in its blocks
		out = append(out, Scheduling{ID: id, Windows: f.windows(f.reads[i].inner.mean())})
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// windows are the driest ones of the area whose places were read last.
func (f *Field) windows(mean float64) []Window {
	list := []Window{}
	cells := f.blocks.ground[len(f.blocks.ground)-1]
	if !(mean > 0) || !(cells > 0) {
		return list
	}
	for _, share := range windowShares {
		w := Window{Share: units.Ratio(share)}
		w.SC, w.At = f.blocks.schedule(share, cells, mean, f.frame)
		list = append(list, w)
	}
	return list
}
