package arrange

import (
	"context"

	"evenfall/internal/coverage"
	"evenfall/internal/units"

	"github.com/paulmach/orb"
)

// stand is a head of a candidate.
type stand struct {
	at    orb.Point
	start units.Degrees
	set   *setting
	stays bool
}

// candidate is a layout as the search left it.
type candidate struct {
	heads []stand
	tidy  bool // as seeded
	tried coverage.Tried
	cost  float64 // what the search lowered
	h2h   units.Ratio
}

// search seeks layouts of one kit on one ground.
type search struct {
	ground *ground
	kit    *kit
	o      Options
	seed   uint64
	stays  []stand
	trial  *coverage.Trial
}

// constructive are layouts from equal intervals, the best few by number of heads
// first found: within half a second of asking.
func (s *search) constructive(ctx context.Context) []candidate { return nil }

// anneal betters candidates one number of heads at a time, the fewest last. It
// tells each number as it is done.
func (s *search) anneal(ctx context.Context, from []candidate, tell func(candidate)) []candidate {
	return nil
}
