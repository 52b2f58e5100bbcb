package stakeout

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// This is a yard measured again from nothing but the printed words: letters with their
// places, and sentences. It shares no geometry with the package.

// crew is two people with the sheet.
type crew struct {
	t   testing.TB
	sys units.System
	at  map[string][2]float64 // of letters and "flag 1-3", as they stand
}

var (
	sayTapes = regexp.MustCompile(`^(.+) from (flag .+?|[A-Z]+) and (.+) from (flag .+?|[A-Z]+), on the (right|left) as you look from (?:.+) to (?:.+?)\. `)
	sayEdge  = regexp.MustCompile(`^From ([A-Z]+) (.+) along (.+) toward ([A-Z]+), then (.+) square off it, on the (right|left)\. `)
	sayCheck = regexp.MustCompile(` Check( along)?: (.+) from (flag .+|[A-Z]+)\.$`)
)

// length reads a printed length; half an inch may be printed as none.
func (c *crew) length(s string) float64 {
	if s == `0"` || s == "0.00 m" {
		return 0
	}
	v, err := units.ParseLength(s, c.sys)
	if err != nil {
		c.t.Fatalf("%q does not read as a length: %v", s, err)
	}
	return float64(v)
}

// order is one sentence as it was understood.
type order struct {
	edge     bool
	from, to string
	a, b     float64
	right    bool
	check    string
	c        float64
	half     bool // the check is of the way along alone
}

func (c *crew) read(says string) order {
	var o order
	if m := sayEdge.FindStringSubmatch(says); m != nil {
		o = order{edge: true, from: m[1], a: c.length(m[2]), to: m[4], b: c.length(m[5]), right: m[6] == "right"}
	} else if m := sayTapes.FindStringSubmatch(says); m != nil {
		o = order{a: c.length(m[1]), from: m[2], b: c.length(m[3]), to: m[4], right: m[5] == "right"}
	} else {
		c.t.Fatalf("nobody could work by %q", says)
	}
	if m := sayCheck.FindStringSubmatch(says); m != nil {
		o.half, o.check, o.c = m[1] != "", m[3], c.length(m[2])
	} else if !strings.HasSuffix(says, "No third point is in sight: read it twice.") {
		c.t.Fatalf("%q says nothing about a check", says)
	}
	return o
}

// stand is where two tapes, or a tape and a square, end: with complex numbers, in which
// the pair of circles is one root. ok is false where the tapes do not meet.
func (c *crew) stand(o order, ea, eb float64) (at [2]float64, ok bool) {
	p, q := c.at[o.from], c.at[o.to]
	z, w := complex(p[0], p[1]), complex(q[0], q[1])
	l := math.Hypot(real(w-z), imag(w-z))
	hand := 1.0
	if o.right {
		hand = -1
	}
	a, b := o.a+ea, o.b+eb
	if !o.edge { // cosine rule, then up by the height of the triangle
		x := (l*l + a*a - b*b) / (2 * l)
		h := a*a - x*x
		if h < 0 || a < 0 || b < 0 {
			return at, false
		}
		a, b = x, math.Sqrt(h)
	}
	s := z + (w-z)/complex(l, 0)*complex(a, hand*b)
	return [2]float64{real(s), imag(s)}, true
}

func far(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// tally is what became of many flags.
type tally struct {
	flags, placed, left, edges, fromFlag int
	sets, near                           int // flags set with errors, and those within 3 in
	unchecked, half, alarms              int
	slips, caught                        int
	hands, seen                          int // wrong hands taken, and those that show in the check
}

func (k *tally) add(o tally) {
	k.flags, k.placed, k.left, k.edges, k.fromFlag = k.flags+o.flags, k.placed+o.placed, k.left+o.left, k.edges+o.edges, k.fromFlag+o.fromFlag
	k.sets, k.near, k.unchecked, k.alarms = k.sets+o.sets, k.near+o.near, k.unchecked+o.unchecked, k.alarms+o.alarms
	k.slips, k.caught, k.half = k.slips+o.slips, k.caught+o.caught, k.half+o.half
	k.hands, k.seen = k.hands+o.hands, k.seen+o.seen
}

func (k tally) String() string {
	share := func(a, b int) string { return fmt.Sprintf("%.2f %%", 100*float64(a)/math.Max(float64(b), 1)) }
	return fmt.Sprintf("%d things, %d left; %s along an edge, %d from flags; within 3 in: %s of %d; no check: %s; of the way along alone: %s; false alarms: %s; slips of a foot caught: %s of %d; the wrong hand caught: %s of %d",
		k.flags, k.left, share(k.edges, k.placed), k.fromFlag, share(k.near, k.sets), k.sets, share(k.unchecked, k.placed), share(k.half, k.placed), share(k.alarms, k.sets), share(k.caught, k.slips), k.slips, share(k.seen, k.hands), k.hands)
}

const inch = 1. / 12

// measured sets out a yard again and again with errors of reading.
func measured(t testing.TB, p *plan.Plan, s *Plan, times int, seed uint64, slip func(*rand.Rand) float64) tally {
	r := rand.New(rand.NewPCG(seed, 5))
	k := tally{flags: len(s.Flags) + len(s.Left), placed: len(s.Flags), left: len(s.Left)}
	start := func() *crew {
		c := &crew{t: t, sys: p.Show, at: map[string][2]float64{}}
		for _, q := range s.Points {
			if !q.Flag {
				c.at[q.Letter] = q.At
			}
		}
		return c
	}
	exact, orders := start(), make([]order, len(s.Flags))
	for i := range s.Flags {
		orders[i] = exact.read(s.Flags[i].Says)
		k.once(exact, &s.Flags[i], orders[i])
	}
	for range times {
		c := start()
		for i := range s.Flags {
			f, o := &s.Flags[i], orders[i]
			at, ok := c.stand(o, slip(r), slip(r))
			k.sets++
			if !ok {
				c.at["flag "+f.Tag] = f.At // the tapes do not meet: read again
				continue
			}
			if far(at, f.At) <= 3*inch {
				k.near++
			}
			c.at["flag "+f.Tag] = at
			if o.check == "" {
				continue
			}
			if off(c, o, at, slip(r)) {
				k.alarms++
			}
			for _, foot := range []float64{-1, 1} {
				for i, in := range [][2]float64{{foot, 0}, {0, foot}} {
					if o.half && i == 1 {
						continue
					}
					bad, ok := c.stand(o, slip(r)+in[0], slip(r)+in[1])
					k.slips++
					if !ok || o.edge && (o.a+in[0] < -inch || o.b+in[1] < -inch) || off(c, o, bad, slip(r)) {
						k.caught++
					}
				}
			}
		}
	}
	return k
}

// off reports whether a check of a flag is off by more than the sheet allows.
func off(c *crew, o order, at [2]float64, slip float64) bool {
	return math.Abs(far(c.at[o.check], at)+slip-o.c) > float64(Tolerance)
}

// once looks at a flag without errors of reading: it is where it should be but for the
// rounding, on the right hand, and a foot off in either reading shows in the check.
func (k *tally) once(c *crew, f *Flag, o order) {
	c.t.Helper()
	c.at["flag "+f.Tag] = f.At
	at, ok := c.stand(o, 0, 0)
	if !ok || far(at, f.At) > 0.75*inch {
		c.t.Errorf("flag %s: %q leads to %.3v, %.3f in off", f.Tag, f.Says, at, far(at, f.At)*12)
	}
	if f.How == AlongEdge {
		k.edges++
	}
	if strings.Contains(o.from+o.to, "flag ") {
		k.fromFlag++
	}
	if o.check == "" {
		k.unchecked++
		return
	}
	if o.half {
		k.half++
	}
	wrong := o
	wrong.right = !o.right
	if other, ok := c.stand(wrong, 0, 0); ok && far(other, at) > 1 {
		k.hands++
		if off(c, o, other, 0) {
			k.seen++
		}
	}
	if off(c, o, at, 0) {
		c.t.Errorf("flag %s: %q: the check is off by itself", f.Tag, f.Says)
	}
}

func even(r *rand.Rand) float64   { return (2*r.Float64() - 1) * inch }
func normal(r *rand.Rand) float64 { return r.NormFloat64() * inch }

// TestE18_FlagsSetFromThePrintedWordsStandWithinThreeInches sets out the demo, the
// mended demo and yards drawn by chance from the printed sentences alone.
func TestE18_FlagsSetFromThePrintedWordsStandWithinThreeInches(t *testing.T) {
	t.Parallel()
	times, yards := 100, 40
	if os.Getenv("EVENFALL_THOROUGH") != "" {
		times, yards = 400, 120
	}
	text, err := os.ReadFile("../../testdata/plans/demo-mended.json")
	if err != nil {
		t.Fatal(err)
	}
	mended, err := plan.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	look := func(name string, p *plan.Plan, seed uint64) (tally, tally) {
		p, s := stakedOut(t, p)
		a, b := measured(t, p, s, times, seed, even), measured(t, p, s, times, seed, normal)
		if name != "" {
			t.Logf("%s: even ±1 in: %v", name, a)
			t.Logf("%s: normal, 1 in: %v", name, b)
			holds(t, name, a)
		}
		return a, b
	}
	look("demo", demo(t), 1)
	look("demo mended", mended, 2)
	var all, loose tally
	for seed := range uint64(yards) {
		a, b := look("", yardOf(seed, 10+int(seed%60)), seed)
		all.add(a)
		loose.add(b)
	}
	t.Logf("%d yards: even ±1 in: %v", yards, all)
	t.Logf("%d yards: normal, 1 in: %v", yards, loose)
	holds(t, "yards", all)
	if all.left*50 > all.flags {
		t.Errorf("%d of %d things find no place by tape", all.left, all.flags)
	}
}

func holds(t *testing.T, name string, k tally) {
	t.Helper()
	if float64(k.near) < 0.95*float64(k.sets) {
		t.Errorf("%s: %d of %d flags within 3 in", name, k.near, k.sets)
	}
	if float64(k.caught) < 0.99*float64(k.slips) {
		t.Errorf("%s: %d of %d slips of a foot show in the check", name, k.caught, k.slips)
	}
	if float64(k.seen) < 0.95*float64(k.hands) {
		t.Errorf("%s: %d of %d wrong hands show in the check", name, k.seen, k.hands)
	}
	if float64(k.alarms) > 0.02*float64(k.sets) {
		t.Errorf("%s: %d of %d good flags fail their check", name, k.alarms, k.sets)
	}
}
