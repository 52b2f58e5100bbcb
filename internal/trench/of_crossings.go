package trench

import (
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const (
	// crossingLeast is the shortest piece under paving that is one, in feet. Chosen:
	// less is a corner that whoever digs goes round.
	crossingLeast = 0.25
	// sideBySide is how far apart, in feet, two ways through one paving may be to go
	// through together. Chosen.
	sideBySide = 2.0
	// walkWidest is how long a crossing of paving may be, in feet, that is taken for
	// one of a walk where its name does not say. Chosen.
	walkWidest = 6.0
)

// pass is the way of one strand through one paving.
type pass struct {
	strand   int
	segs     []int
	from, to orb.Point
	length   float64
}

// cross gathers the crossings: each strand's ways under paving, those side by side
// as one.
func (w *work) cross(d *Digs) {
	for i := range w.strands {
		s := &w.strands[i]
		var now pass
		paving := -1
		end := func() {
			if paving >= 0 && now.length >= crossingLeast {
				w.take(d, paving, now)
			}
			paving = -1
		}
		w.alongStrand(s, func(k int, back bool) {
			seg := &d.Segments[k]
			from, to := seg.From, seg.To
			if back {
				from, to = to, from
			}
			if at := w.segs[k].paving; at != paving {
				end()
				if at >= 0 {
					paving, now = at, pass{strand: i, from: from}
				}
			}
			if paving >= 0 {
				now.segs, now.to, now.length = append(now.segs, k), to, now.length+float64(seg.Length)
			}
		})
		end()
	}
}

// take puts a pass into the crossing it goes with, or makes one.
func (w *work) take(d *Digs, paving int, now pass) {
	a := &w.land.areas[paving]
	at := slices.IndexFunc(d.Crossings, func(c Crossing) bool {
		return c.Area == a.id && (endsNear(c.From, c.To, now.from, now.to) || endsNear(c.From, c.To, now.to, now.from))
	})
	for _, k := range now.segs {
		if c := d.Segments[k].Crossing; c >= 0 && at < 0 {
			at = c
		}
	}
	if at < 0 {
		at = len(d.Crossings)
		d.Crossings = append(d.Crossings, Crossing{Area: a.id, From: now.from, To: now.to})
		w.passes = append(w.passes, nil)
	}
	c := &d.Crossings[at]
	c.Length = max(c.Length, units.Feet(now.length))
	if s := &w.strands[now.strand]; s.pipe != "" && !slices.Contains(c.Pipes, s.pipe) {
		c.Pipes = append(c.Pipes, s.pipe)
		slices.Sort(c.Pipes)
	}
	for _, k := range now.segs {
		if d.Segments[k].Crossing < 0 {
			d.Segments[k].Crossing = at
		}
	}
	w.passes[at] = append(w.passes[at], now)
}

// endsNear reports whether two ways run side by side: both ends within reach.
func endsNear(a, b, c, d orb.Point) bool {
	return math.Hypot(a[0]-c[0], a[1]-c[1]) <= sideBySide && math.Hypot(b[0]-d[0], b[1]-d[1]) <= sideBySide
}

// driveWords and walkWords tell by its name what a paving is used as.
var (
	driveWords = []string{"drive", "street", "road", "alley", "parking", "carport", "apron"}
	walkWords  = []string{"walk", "path", "patio", "terrace", "pad", "step", "porch", "stoop", "pool"}
)

// driven reports whether cars are taken to stand on a paving: by its name; where
// that does not say, when it is wide to cross.
func driven(a plan.Area, length units.Feet) bool {
	name := strings.ToLower(a.Name)
	named := func(words []string) bool {
		return slices.ContainsFunc(words, func(s string) bool { return strings.Contains(name, s) })
	}
	switch {
	case named(driveWords):
		return true
	case named(walkWords):
		return false
	}
	return length > walkWidest
}
