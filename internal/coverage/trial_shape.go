package coverage

import (
	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// appendRing appends the outline of what a head wets where nothing stops it: the
// same that a shower's outline is then.
func (s *setting) appendRing(ring orb.Ring, cell float64) orb.Ring {
	if !s.isStrip {
		return geom.AppendSector(ring, s.at, s.throw, s.start, s.sweep, cell/32)
	}
	ahead, back := 0.0, 0.0
	if s.strip.Ahead {
		ahead = s.throw
	}
	if s.strip.Back {
		back = s.throw
	}
	return append(ring, geom.StripRect(s.at, s.start, ahead, back, float64(s.strip.Left), float64(s.strip.Right))...)
}
