package proof

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/audit"
	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// expected is what a plan predicts for the cans of an audit: of each head that can bring
// one of them water, and of all together, in inches.
type expected struct {
	heads  []audit.Head   // those that reach a can that counts, plumb or leaning, by id
	at     []units.Inches // of every can, in the order of catches.cans; nil: nothing can be predicted
	solved bool           // by the pressures that the drawn pipes come to
	wind   coverage.Wind  // it was carried by
	left   []string       // heads that have no figures, with why
}

// leans is how many directions heads are tried leaning in. Chosen: the fit asks for six at
// least, and takes the way between two for a mix of both.
const leans = 8

// blur is the radius in feet that a prediction is the mean over, where the can is no
// wider: nobody knows nearer where heads and cans stand. Chosen.
const blur = 0.5

// expectedOf predicts an audit at the pressures heads really have where the drawn pipes
// are solved, in the wind that was noted.
func expectedOf(p *plan.Plan, c *catches) (*expected, error) {
	e := &expected{}
	ran := c.ran(p)
	if len(ran) == 0 || len(c.cans) == 0 {
		return e, nil
	}
	solved, _ := pressure.Compute(p, pipework.Of(p))
	given := design.GivenOf(solved)
	e.solved = len(given) > 0
	if c.WindMPH != nil && c.WindFromDeg != nil {
		e.wind = coverage.Wind{Speed: *c.WindMPH, From: *c.WindFromDeg}
	}
	all, out, err := coverage.Footprints(p, given, e.wind)
	if err != nil {
		return nil, err
	}
	for _, o := range out {
		if c.Runs[p.Heads[o.Head].Zone] > 0 {
			e.left = append(e.left, o.Sentence)
		}
	}
	round := rounds(math.Max(math.Sqrt(c.ThroatIn2/math.Pi)/12, blur))
	e.at = make([]units.Inches, len(c.cans))
	for k := range all {
		f := &all[k]
		hours := c.Runs[p.Heads[f.ID].Zone] / 60
		if !(hours > 0) {
			continue
		}
		plumb := e.depths(f, c, round, hours, nil)
		h := audit.Head{ID: string(f.ID), Zone: string(p.Heads[f.ID].Zone), Upright: counted(plumb, c)}
		reached := some(h.Upright)
		for n := range leans {
			way := units.Degrees(360 * n / leans)
			by := func(towards units.Degrees) float64 {
				return audit.LeanedThrow(f.Trajectory(), audit.StandardTilt, towards-way)
			}
			h.Leaning = append(h.Leaning, counted(e.depths(f, c, round, hours, by), c))
			reached = reached || some(h.Leaning[n])
		}
		for i, v := range plumb {
			e.at[i] += v
		}
		if reached {
			e.heads = append(e.heads, h)
		}
	}
	return e, nil
}

// depths are what a head brings every can in a number of hours.
func (e *expected) depths(f *coverage.Footprint, c *catches, round []orb.Point, hours float64, by coverage.Stretch) []units.Inches {
	out := make([]units.Inches, len(c.cans))
	far := float64(f.Farthest()) + 1
	for i := range c.cans {
		at := c.cans[i].place()
		if q := f.At(); math.Abs(q[0]-at[0]) > far || math.Abs(q[1]-at[1]) > far {
			continue
		}
		sum := 0.0
		for _, d := range round {
			sum += float64(f.RateAt(orb.Point{at[0] + d[0], at[1] + d[1]}, by))
		}
		out[i] = units.Inches(sum / float64(len(round)) * hours)
	}
	return out
}

// rounds are places that stand for a disc about a can, each for as much of it: the middle,
// and six on the circle that makes their mean square distance the disc's.
func rounds(r float64) []orb.Point {
	out := []orb.Point{{}}
	on := r * math.Sqrt(7.0/12) // 6·on²/7 = r²/2
	for k := range 6 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 3)
		out = append(out, orb.Point{on * cos, on * sin})
	}
	return out
}

// counted are the depths at the cans that count.
func counted(depths []units.Inches, c *catches) []float64 {
	out := make([]float64, len(c.read))
	for k, i := range c.read {
		out[k] = float64(depths[i])
	}
	return out
}

func some(v []float64) bool {
	for _, x := range v {
		if x > 0 {
			return true
		}
	}
	return false
}

// readingML is how well a can of volume is read, one standard deviation, and readingIn one
// marked in inches. Chosen: half a millilitre of a graduated cup, and a fifth of a mark of
// a tenth of an inch.
const (
	readingML = 0.5
	readingIn = 0.02
)

// problem is the audit to be explained by its heads, in inches; catches whose depth is not
// known are taken as much as the prediction on average.
func (e *expected) problem(c *catches) audit.Problem {
	q := audit.Problem{Heads: e.heads, Catches: c.values(), Reading: readingIn}
	if c.Scale != ByDepth {
		q.Reading = readingML
		if depth, err := audit.Depth(readingML, c.ThroatIn2); err == nil {
			q.Reading = float64(depth)
		}
	}
	if !c.known {
		by := e.meanOf(c) / meanOf(q.Catches)
		for i := range q.Catches {
			q.Catches[i] *= by
		}
		q.Reading *= by
	}
	return q
}

// meanOf is the mean prediction at the cans that count.
func (e *expected) meanOf(c *catches) float64 {
	if e.at == nil {
		return 0
	}
	return meanOf(counted(e.at, c))
}

func meanOf(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(max(len(v), 1))
}
