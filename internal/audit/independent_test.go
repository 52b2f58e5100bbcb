package audit_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"evenfall/internal/audit"
)

// This file checks the fit from outside, by a little model of its own: other profiles than
// the lab's cone, other yards, and errors of other sorts than the fit reckons with (arcs
// that are off, cans that stand elsewhere than noted, noise that is skew).

// jet is a head of the model; place and throw in feet, angles in degrees from east.
type jet struct {
	x, y, throw, from, arc float64
	flat                   bool // spreads its water evenly to two thirds of its throw, as a turning stream does
	valve                  string
	gives                  float64
	lean, way              float64
}

// falls is what a jet brings a place, 1 near where it stands upright and whole.
func (j jet) falls(x, y float64) float64 {
	dx, dy := x-j.x, y-j.y
	r := math.Hypot(dx, dy)
	turn := math.Atan2(dy, dx) * 180 / math.Pi
	if j.arc < 360 && r > 0 {
		for turn < j.from {
			turn += 360
		}
		for turn >= j.from+360 {
			turn -= 360
		}
		if turn > j.from+j.arc {
			return 0
		}
	}
	reach := j.throw
	if j.lean > 0 {
		// The side that it leans to is thrown flatter: the range in a vacuum, held to what
		// air leaves of it.
		up := 25 - j.lean*math.Cos((turn-j.way)*math.Pi/180)
		reach *= min(max(math.Sin(up*math.Pi/90)/math.Sin(50*math.Pi/180), 0.3), 1.15)
	}
	if r >= reach {
		return 0
	}
	s := r / reach
	shape := 1.15 * (1 - s*s) * (1 - 0.5*s) // a spray: round at the foot, thin at the end
	if j.flat {
		shape = 0.62 * min(1, 3*(1-s))
	}
	return j.gives * shape * min((j.throw/reach)*(j.throw/reach), 3)
}

// plot is a yard of jets and cans.
type plot struct {
	name string
	jets []jet
	cans [][2]float64
}

// row adds jets with a throw and an arc from an azimuth.
func (p *plot) row(valve string, flat bool, throw, from, arc float64, at ...[2]float64) {
	for _, q := range at {
		p.jets = append(p.jets, jet{x: q[0], y: q[1], throw: throw, from: from, arc: arc, flat: flat, valve: valve, gives: 1})
	}
}

// cansOn sets so many cans in columns and rows over what inside allows, 1.5 ft off jets.
func (p *plot) cansOn(columns, rows int, wide, deep float64, inside func(x, y float64) bool) {
	for i := range columns {
		for k := range rows {
			x, y := wide*(float64(i)+0.5)/float64(columns), deep*(float64(k)+0.5)/float64(rows)
			for _, j := range p.jets {
				if r := math.Hypot(x-j.x, y-j.y); r < 1.5 {
					x += 1.5
				}
			}
			if inside(x, y) {
				p.cans = append(p.cans, [2]float64{x, y})
			}
		}
	}
}

func everywhere(float64, float64) bool { return true }

// ell is a lawn of an L: 40 by 40 ft less a corner of 20 by 20, twelve jets of 14 ft along
// its edges.
func ell() plot {
	p := plot{name: "an L"}
	p.row("1", false, 14, 0, 90, [2]float64{0, 0})
	p.row("1", false, 14, 90, 90, [2]float64{40, 0})
	p.row("1", false, 14, 180, 90, [2]float64{40, 20}, [2]float64{20, 40})
	p.row("1", false, 14, 270, 90, [2]float64{0, 40})
	p.row("1", false, 14, 0, 180, [2]float64{13.3, 0}, [2]float64{26.7, 0})
	p.row("1", false, 14, 270, 180, [2]float64{0, 13.3}, [2]float64{0, 26.7})
	p.row("1", false, 14, 90, 270, [2]float64{20, 20})
	p.row("1", false, 14, 180, 180, [2]float64{30, 20})
	p.row("1", false, 14, 90, 180, [2]float64{20, 30})
	p.cansOn(6, 6, 40, 40, func(x, y float64) bool { return x < 20 || y < 20 })
	p.cans = slices.Delete(p.cans, 0, len(p.cans)-24) // 27 less three
	return p
}

// strip is 60 by 9 ft with six jets of 10 ft on either side, face to face.
func strip() plot {
	p := plot{name: "a strip"}
	for i := range 6 {
		from, arc := 0.0, 180.0
		lower, upper := from, 180.0
		if i == 0 || i == 5 {
			arc = 90
		}
		if i == 5 {
			lower = 90
		}
		if i == 0 {
			upper = 270
		}
		p.row("1", false, 10, lower, arc, [2]float64{12 * float64(i), 0})
		p.row("1", false, 10, upper, arc, [2]float64{12 * float64(i), 9})
	}
	p.cansOn(12, 2, 60, 9, everywhere)
	return p
}

// mixedSprays are throws of 8, 12 and 15 ft on two valves, set as a narrow and a wide part
// of one lawn want.
func mixedSprays() plot {
	p := plot{name: "mixed sprays"}
	p.row("wide", false, 15, 0, 90, [2]float64{0, 0})
	p.row("wide", false, 15, 270, 90, [2]float64{0, 28})
	p.row("wide", false, 15, 0, 180, [2]float64{14, 0})
	p.row("wide", false, 15, 180, 180, [2]float64{14, 28})
	p.row("wide", false, 15, 270, 180, [2]float64{0, 14})
	p.row("wide", false, 15, 0, 360, [2]float64{14, 14})
	p.row("wide", false, 12, 90, 180, [2]float64{28, 22}, [2]float64{28, 8})
	p.row("narrow", false, 8, 0, 180, [2]float64{32, 10})
	p.row("narrow", false, 8, 180, 180, [2]float64{32, 18})
	p.row("narrow", false, 8, 90, 90, [2]float64{40, 10})
	p.row("narrow", false, 8, 180, 90, [2]float64{40, 18})
	p.cansOn(4, 5, 27, 28, everywhere)
	p.cans = append(p.cans, [2]float64{31, 12}, [2]float64{31, 16}, [2]float64{36.5, 12}, [2]float64{36.5, 16})
	return p
}

// turning are twelve streams that turn, 24 ft apart and throwing 25, in rows that are set
// half a space aside.
func turning() plot {
	p := plot{name: "streams, staggered"}
	for i := range 4 {
		x := 24 * float64(i)
		p.row("1", true, 25, 0, 180, [2]float64{x, 0})
		p.row("1", true, 25, 0, 360, [2]float64{x + 12, 21})
		p.row("1", true, 25, 180, 180, [2]float64{x, 42})
	}
	p.cansOn(6, 4, 84, 42, everywhere)
	return p
}

// ask is the plot's audit: what it was drawn as, and what its cans caught of the truth.
func (p plot) ask(truth []jet, rng *rand.Rand) audit.Problem {
	q := audit.Problem{Reading: 0.01}
	for i, j := range p.jets {
		h := audit.Head{ID: fmt.Sprint("j", i), Zone: j.valve}
		at := func(j jet) (out []float64) {
			for _, c := range p.cans {
				out = append(out, j.falls(c[0], c[1]))
			}
			return out
		}
		h.Upright = at(j)
		for k := range 8 {
			l := j
			l.lean, l.way = float64(audit.StandardTilt), 45*float64(k)
			h.Leaning = append(h.Leaning, at(l))
		}
		q.Heads = append(q.Heads, h)
	}
	for _, c := range p.cans {
		sum := 0.0
		x, y := c[0]+0.15*rng.NormFloat64(), c[1]+0.15*rng.NormFloat64()
		for _, j := range truth {
			sum += j.falls(x, y)
		}
		sum *= math.Exp(0.08*rng.NormFloat64() - 0.0032)
		q.Catches = append(q.Catches, max(0, math.Round((sum+0.01*rng.NormFloat64())*100)/100))
	}
	return q
}

// laid is the plot as a careful crew lays it: nothing quite as drawn.
func (p plot) laid(rng *rand.Rand) []jet {
	truth := append([]jet(nil), p.jets...)
	pressure := 1 + 0.06*(2*rng.Float64()-1) // the valve's, for all its jets
	for i := range truth {
		j := &truth[i]
		j.gives *= pressure * (1 + 0.08*(2*rng.Float64()-1))
		j.throw *= 1 + 0.04*(2*rng.Float64()-1)
		if j.arc < 360 {
			j.from += 3 * (2*rng.Float64() - 1)
			j.arc += 3 * (2*rng.Float64() - 1)
		}
		j.lean, j.way = 3*rng.Float64(), 360*rng.Float64()
	}
	return truth
}

// times is how many audits a plot is asked: all where the long tests are asked for.
func times(few, all int) int {
	if os.Getenv("EVENFALL_THOROUGH") != "" {
		return all
	}
	return few
}

func plots() []plot { return []plot{ell(), strip(), mixedSprays(), turning()} }

func fitted(t *testing.T, q audit.Problem) *audit.Fitted {
	t.Helper()
	f, err := audit.Fit(context.Background(), q)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func accused(h audit.FittedHead) bool {
	return h.Verdict == audit.Low || h.Verdict == audit.High || h.Verdict == audit.Leaning
}

// accuses reports whether a head but one is laid at.
func accuses(f *audit.Fitted, but int) bool {
	for i, h := range f.Heads {
		if i != but && accused(h) {
			return true
		}
	}
	return false
}

// suspected is the head likeliest at fault: of those that are not told fine.
func suspected(f *audit.Fitted) int {
	first, most := -1, 0.0
	for i, h := range f.Heads {
		if h.Verdict != audit.Fine && h.Chance > most {
			first, most = i, h.Chance
		}
	}
	return first
}

// One of twelve half-blocked, 24 cans, in yards where no head is quite as drawn: nearly
// always it is the first to be suspected, mostly named, else the cans are said not to tell;
// a sound one is laid at in one audit of twenty at most.
//
// As measured in 1,200 audits: first in 95 %, named in 81 %, left open in 19 %, told fine in
// 0.5 %; a sound one laid at in 3.5 %.
func TestIndependentHalfBlocked(t *testing.T) {
	t.Parallel()
	type count struct{ all, first, named, open, fine, amiss int }
	var sum count
	for n, p := range plots() {
		if len(p.jets) != 12 || len(p.cans) != 24 {
			t.Fatalf("%s: %d jets, %d cans", p.name, len(p.jets), len(p.cans))
		}
		rng := rand.New(rand.NewPCG(9, 2291+uint64(n)))
		var c count
		for range times(30, 300) {
			truth := p.laid(rng)
			bad := rng.IntN(len(truth))
			truth[bad].gives = 0.5
			f := fitted(t, p.ask(truth, rng))
			c.all++
			switch f.Heads[bad].Verdict {
			case audit.Low:
				c.named++
			case audit.Untold:
				c.open++
			case audit.Fine:
				c.fine++
			}
			if suspected(f) == bad {
				c.first++
			}
			if accuses(f, bad) {
				c.amiss++
			}
		}
		t.Logf("%s: %+v", p.name, c)
		sum = count{sum.all + c.all, sum.first + c.first, sum.named + c.named, sum.open + c.open, sum.fine + c.fine, sum.amiss + c.amiss}
	}
	t.Logf("all: %+v", sum)
	of := func(n int) float64 { return float64(n) / float64(sum.all) }
	// Told fine in one of fifty at most; of few audits two standard deviations more say nothing.
	fine := 0.02 + 2*math.Sqrt(0.02*0.98/float64(sum.all))
	if of(sum.first) < 0.9 || of(sum.named) < 0.75 || of(sum.fine) > fine || of(sum.amiss) > 0.05 {
		t.Errorf("first %.3f, named %.3f, told fine %.3f, another laid at %.3f", of(sum.first), of(sum.named), of(sum.fine), of(sum.amiss))
	}
}

// Nothing wrong but what a careful crew is off: something is laid at a head in one audit of
// twenty at most. As measured in 1,200 audits: in 3.3 %.
func TestIndependentFaultless(t *testing.T) {
	t.Parallel()
	all, amiss := 0, 0
	for n, p := range plots() {
		rng := rand.New(rand.NewPCG(77, 31+uint64(n)))
		was := amiss
		each := times(30, 300)
		for range each {
			if all++; accuses(fitted(t, p.ask(p.laid(rng), rng)), -1) {
				amiss++
			}
		}
		t.Logf("%s: %d of %d", p.name, amiss-was, each)
	}
	if float64(amiss) > 0.05*float64(all) {
		t.Errorf("something is laid at a head in %d of %d", amiss, all)
	}
}

// Where all cans stand on the line between two rows, a head and the one across bring each
// of them as much: neither is ever named by itself, and hardly ever another; that one of the
// pair is at fault is told.
func TestIndependentIndistinguishable(t *testing.T) {
	t.Parallel()
	p := strip()
	for i := range p.cans {
		p.cans[i] = [2]float64{60 * (float64(i) + 0.5) / 24, 4.5}
	}
	rng := rand.New(rand.NewPCG(5, 5))
	all, pairs, amiss := 0, 0, 0
	for range times(24, 300) {
		truth := p.laid(rng)
		bad := rng.IntN(6)
		truth[2*bad].gives = 0.3
		f := fitted(t, p.ask(truth, rng))
		all++
		for _, i := range []int{2 * bad, 2*bad + 1} {
			if h := f.Heads[i]; accused(h) {
				amiss++
			}
		}
		for _, a := range f.Among {
			if slices.Contains(a.Heads, f.Heads[2*bad].ID) && slices.Contains(a.Heads, f.Heads[2*bad+1].ID) {
				pairs++
				break
			}
		}
	}
	t.Logf("of %d: the pair told in %d, one of it named by itself in %d", all, pairs, amiss)
	if float64(pairs) < 0.75*float64(all) || float64(amiss) > 0.02*float64(all) {
		t.Errorf("of %d: the pair told in %d, one of it named by itself in %d", all, pairs, amiss)
	}
}
