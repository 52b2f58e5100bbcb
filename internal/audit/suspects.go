package audit

import (
	"math"
)

// What is known of systems before a can is read. All chosen, and held by the synthetic
// audits of the tests: a yard of twelve heads has one at fault more often than not.
const (
	UsualNoise = 0.08 // of a catch, one standard deviation
	MostNoise  = 0.25

	headVaries = 0.05  // heads as drawn differ by this much, one standard deviation
	tiltVaries = 2.0   // degrees, each way
	lowOdds    = 0.25  // that a head brings too little
	highOdds   = 0.05  // too much
	leanOdds   = 0.08  // that it leans
	spiltOdds  = 0.005 // that a can tipped
	filledOdds = 0.002 // that something else filled one
	allVary    = 0.25  // everything together: minutes, openings, the day's pressure
	zoneVaries = 0.1   // a zone beside the others
)

// suspicion is one thing that may be wrong, as a pattern over the cans: how much of it
// there is has a mean and a spread, and the sign that belongs to it.
type suspicion struct {
	kind    kind
	who     int // head, by its place among those that reach a can; or can
	toward  int // of a lean
	pattern []float64
	cans    []int // where it is not 0
	mean    float64
	spread  float64
	odds    float64 // logarithm of its chance over that of its absence
}

type kind int

const (
	low kind = iota
	high
	lean
	spilt
	filled
)

// with tells whether two suspicions can be true together: a head is not low and high, and
// leans one way; a can is not both either.
func (s *suspicion) with(o *suspicion) bool {
	if s.who != o.who || s.onCan() != o.onCan() {
		return true
	}
	return !s.onCan() && (s.kind == lean) != (o.kind == lean)
}

func (s *suspicion) onCan() bool { return s.kind >= spilt }

// sign is that of its amount.
func (s *suspicion) sign() float64 {
	if s.mean < 0 {
		return -1
	}
	return 1
}

// yard is a problem made ready: the heads that reach a can, what the cans should have
// caught, and all that may be wrong.
type yard struct {
	heads   []*Head // those that reach a can
	place   []int   // of each in the problem
	drawn   []float64
	caught  []float64
	noise   []float64 // standard deviation of each catch at the usual level, head and tilt apart
	common  []shared
	suspect []suspicion
	rel     float64
}

// shared is what heads have in common: all of them, or those of a zone.
type shared struct {
	zone    string
	heads   []int // by their place in yard.heads
	pattern []float64
	spread  float64
}

func newYard(p Problem) *yard {
	n := len(p.Catches)
	y := &yard{caught: p.Catches, drawn: make([]float64, n), noise: make([]float64, n), rel: p.Relative}
	if y.rel == 0 {
		y.rel = UsualNoise
	}
	for i := range p.Heads {
		h := &p.Heads[i]
		if !reaches(h) {
			continue
		}
		y.heads, y.place = append(y.heads, h), append(y.place, i)
		for c, v := range h.Upright {
			y.drawn[c] += v
		}
	}
	mean, catch := average(y.drawn), average(p.Catches)
	reading := p.Reading
	if reading == 0 {
		reading = 0.01 * max(catch, mean)
	}
	for c, v := range y.drawn {
		// Where little is to be caught, throws a little longer or shorter make more of a
		// difference than a share of that little: a quarter goes by the mean. Chosen.
		y.noise[c] = math.Hypot(y.rel*(0.75*v+0.25*mean), reading)
	}
	y.share(n)
	y.accuse(n, mean)
	return y
}

// reaches tells whether the head brings water to a can, upright or leaning.
func reaches(h *Head) bool {
	for _, v := range h.Upright {
		if v > 0 {
			return true
		}
	}
	return false
}

func average(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s / float64(max(len(v), 1))
}

// share gathers what heads have in common.
func (y *yard) share(n int) {
	all := shared{spread: allVary, pattern: make([]float64, n)}
	var zones []shared
	at := map[string]int{}
	for j, h := range y.heads {
		all.heads = append(all.heads, j)
		z, known := at[h.Zone]
		if !known {
			z = len(zones)
			at[h.Zone] = z
			zones = append(zones, shared{zone: h.Zone, spread: zoneVaries, pattern: make([]float64, n)})
		}
		zones[z].heads = append(zones[z].heads, j)
		for c, v := range h.Upright {
			all.pattern[c] += v
			zones[z].pattern[c] += v
		}
	}
	if len(zones) == 1 {
		all.zone = zones[0].zone
	}
	y.common = append(y.common, all)
	if len(zones) == 1 {
		return
	}
	for _, z := range zones {
		// What one or two heads have in common cannot be told from what each does.
		if len(z.heads) >= 3 {
			y.common = append(y.common, z)
		}
	}
}

// accuse lists all that may be wrong.
func (y *yard) accuse(n int, mean float64) {
	add := func(s suspicion, chance float64) {
		s.odds = math.Log(chance / (1 - chance))
		s.odds -= logNormal(math.Abs(s.mean) / s.spread) // only its own sign is meant
		for c, v := range s.pattern {
			if v != 0 {
				s.cans = append(s.cans, c)
			}
		}
		y.suspect = append(y.suspect, s)
	}
	for j, h := range y.heads {
		add(suspicion{kind: low, who: j, pattern: h.Upright, mean: -0.55, spread: 0.27}, lowOdds)
		add(suspicion{kind: high, who: j, pattern: h.Upright, mean: 0.5, spread: 0.3}, highOdds)
		for k := range h.Leaning {
			add(suspicion{kind: lean, who: j, toward: k, pattern: leaned(h, k), mean: 0.7, spread: 0.3}, leanOdds/float64(len(h.Leaning)))
		}
	}
	for c := range n {
		unit := make([]float64, n)
		unit[c] = (y.drawn[c] + mean) / 2
		add(suspicion{kind: spilt, who: c, pattern: unit, mean: -0.6, spread: 0.35}, spiltOdds)
		add(suspicion{kind: filled, who: c, pattern: unit, mean: 0.6, spread: 0.5}, filledOdds)
	}
}

// leaned is what leaning towards k changes.
func leaned(h *Head, k int) []float64 {
	d := make([]float64, len(h.Upright))
	for c, v := range h.Leaning[k] {
		d[c] = v - h.Upright[c]
	}
	return d
}

// logNormal is the logarithm of the share of a normal distribution below z.
func logNormal(z float64) float64 {
	if z < -30 { // where the share itself is below every number: its leading term
		return -z*z/2 - math.Log(-z*math.Sqrt(2*math.Pi))
	}
	return math.Log(below(z))
}

// below is the share of a normal distribution below z.
func below(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
