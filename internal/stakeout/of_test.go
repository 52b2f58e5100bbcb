package stakeout

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// sound holds a stake-out to what must be true of any.
func sound(t testing.TB, p *plan.Plan, s *Plan) {
	t.Helper()
	want := 0
	for _, h := range p.Heads {
		if h.Status.IsNew() {
			want++
		}
	}
	heads, letters := 0, map[string]bool{}
	for _, f := range s.Flags {
		if f.What == "head" {
			heads++
			_, id := f.Of.Split()
			if !p.Heads[id].Status.IsNew() {
				t.Errorf("head %s is %s and gets a flag", f.Tag, p.Heads[id].Status)
			}
		}
		if f.From == f.To || f.Says == "" || f.Check >= 0 && f.Near >= 0 {
			t.Errorf("flag %s: from %d to %d, check %d and %d: %q", f.Tag, f.From, f.To, f.Check, f.Near, f.Says)
		}
		for _, v := range []units.Feet{f.A, f.B, f.C} {
			if v < 0 || math.IsNaN(float64(v)) || v > s.Tape+1 {
				t.Errorf("flag %s asks for a tape of %v ft", f.Tag, v)
			}
		}
		if f.How == TwoTapes && (f.Angle < leastCross-1e-6 || f.Angle > mostCross+1e-6) {
			t.Errorf("flag %s: tapes cross at %v°", f.Tag, f.Angle)
		}
	}
	for _, l := range s.Left {
		if strings.HasPrefix(string(l.Of), "heads/") {
			heads++
		}
		if l.Why == "" {
			t.Errorf("%s is left and nobody says why", l.Tag)
		}
	}
	if heads != want {
		t.Errorf("%d heads are set out or left of %d new ones", heads, want)
	}
	for _, q := range s.Points {
		if !q.Flag && (letters[q.Letter] || q.Name == "") {
			t.Errorf("letter %s of %q is there twice or has no name", q.Letter, q.Name)
		}
		letters[q.Letter] = letters[q.Letter] || !q.Flag
		collection, id := q.Of.Split()
		if q.Flag || q.Own || q.Post {
			continue
		}
		status := p.Areas[id].Status
		if collection == "barriers" {
			status = p.Barriers[id].Status
		}
		if status != plan.Existing {
			t.Errorf("%s, %s, is %s", q.Letter, q.Name, status)
		}
	}
}

// Tapes run through nothing: an oracle goes through every wall, with the segments of geom.
func TestE18_NoTapeRunsThroughAWallFenceOrHedge(t *testing.T) {
	t.Parallel()
	tapes := 0
	for seed := range uint64(30) {
		p, s := stakedOut(t, yardOf(seed, 40))
		sound(t, p, s)
		for _, f := range s.Flags {
			from := []orb.Point{s.Points[f.From].At, s.Points[f.To].At}
			if f.How == AlongEdge {
				from = nil
			}
			if f.Check >= 0 {
				from = append(from, s.Points[f.Check].At)
			}
			if f.Near >= 0 {
				from = append(from, s.Flags[f.Near].At)
			}
			for _, a := range from {
				tapes++
				if what := inTheWay(p, a, f.At); what != "" {
					t.Errorf("yard %d, flag %s: the tape from %v to %v runs through %s", seed, f.Tag, a, f.At, what)
				}
			}
		}
	}
	t.Logf("shown: %d tapes looked at", tapes)
}

// inTheWay is what a tape runs through: something met well away from both its ends.
func inTheWay(p *plan.Plan, a, b orb.Point) string {
	meets := func(line []orb.Point) bool {
		for i := 0; i+1 < len(line); i++ {
			at, meet := geom.SegmentIntersection(a, b, line[i], line[i+1])
			if meet && apart(at, a) > 0.1 && apart(at, b) > 0.1 && math.Abs(cross(a, b, line[i]))+math.Abs(cross(a, b, line[i+1])) > 0.05*apart(a, b) {
				return true
			}
		}
		return false
	}
	for _, id := range plan.SortedIDs(p.Areas) {
		if p.Areas[id].Kind == plan.Building && meets(p.Areas[id].Outline.Ring()) {
			return p.Areas[id].Name
		}
	}
	for _, id := range plan.SortedIDs(p.Barriers) {
		if meets(p.Barriers[id].Line.Points()) {
			return p.Barriers[id].Name
		}
	}
	return ""
}

// The demo's points and flags by name: what a crew reads first.
func TestE18_TheDemoIsSetOutFromItsCorners(t *testing.T) {
	t.Parallel()
	p, s := stakedOut(t, demo(t))
	sound(t, p, s)
	says := map[string]string{}
	for _, f := range s.Flags {
		says[f.Tag] = f.Says
	}
	for tag, want := range map[string]string{
		"1-4": ` 18' 0" along the south edge of Service walk toward `,
		"3-8": `along North fence toward`,
		"BF":  `along the south wall of House toward`,
	} {
		if !strings.Contains(says[tag], want) {
			t.Errorf("flag %s: %q, want %q", tag, says[tag], want)
		}
	}
	if len(s.Left) != 0 || says["CON"] != "" {
		t.Errorf("left: %v, %q; the controller hangs indoors, where no flag is set", s.Left, says["CON"])
	}
	again := Of(p, trench.Of(p, pipework.Of(p)))
	if !reflect.DeepEqual(s, again) {
		t.Error("set out twice, two answers")
	}
	byTag := slices.Clone(s.Flags)
	slices.SortFunc(byTag, func(a, b Flag) int { return strings.Compare(a.Tag, b.Tag) })
	if a, b := steps(s.Flags), steps(byTag); a > 0.8*b {
		t.Errorf("the walk is %.0f ft, by number %.0f ft", a, b)
	} else {
		t.Logf("shown: a walk of %.0f ft, by number %.0f ft; %d letters for %d flags", a, b, len(s.Points), len(s.Flags))
	}
}

func steps(flags []Flag) float64 {
	sum := 0.0
	for i := 1; i < len(flags); i++ {
		sum += apart(flags[i-1].At, flags[i].At)
	}
	return sum
}

// New paving, a house to come down and a new fence are not there to measure from.
func TestE18_OnlyWhatIsThereIsMeasuredFrom(t *testing.T) {
	t.Parallel()
	p := demo(t)
	for id, a := range p.Areas {
		a.Status = plan.New
		if a.Kind == plan.Building {
			a.Status = plan.Remove
		}
		p.Areas[id] = a
	}
	for id, b := range p.Barriers {
		b.Status = plan.New
		p.Barriers[id] = b
	}
	read, s := stakedOut(t, p)
	sound(t, read, s)
	for _, q := range s.Points {
		if !q.Post && !q.Flag {
			t.Errorf("measured from %s", q.Name)
		}
	}
	p.Site.Lot = nil
	read, s = stakedOut(t, p)
	sound(t, read, s)
	if !strings.HasPrefix(s.Own, `Nothing fixed is drawn`) || !s.Points[0].Own || !s.Points[1].Own || len(s.Flags) < 30 {
		t.Errorf("nothing is there: %q, %d flags, points %v", s.Own, len(s.Flags), s.Points)
	}
}

func TestE18_HeadsThatAreThereGetNoFlag(t *testing.T) {
	t.Parallel()
	p := demo(t)
	for _, id := range []plan.ID{"h1-1", "h1-2"} {
		h := p.Heads[id]
		h.Status = map[plan.ID]plan.Status{"h1-1": plan.Existing, "h1-2": plan.Remove}[id]
		p.Heads[id] = h
	}
	read, s := stakedOut(t, p)
	sound(t, read, s)
	if len(s.Out) != 1 || s.Out[0].Tag != "1-2" || !strings.HasPrefix(s.Out[0].Where, "about 19 ft south of the south-west corner of Service walk") {
		t.Errorf("to take out: %+v", s.Out)
	}
}

func TestLetters(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := letter(n); got != want {
			t.Errorf("letter %d is %s, want %s", n, got, want)
		}
	}
}

// Plans with nothing, one head, heads in one place, heads far away.
func TestOddPlans(t *testing.T) {
	t.Parallel()
	for name, at := range map[string][][2]float64{
		"nothing": nil, "one head": {{3, 4}}, "two in one place": {{1, 1}, {1, 1}, {1, 1}},
		"far": {{30000, -30000}, {30050, -30010}}, "in a line": {{0, 0}, {10, 0}, {20, 0}, {30, 0}}, "very wide": {{0, 0}, {5000, 0}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := yardOf(1, 0)
			p.Areas, p.Barriers, p.Site.Lot = nil, nil, nil
			for i, q := range at {
				p.Heads[plan.ID(fmt.Sprintf("h%d", i))] = plan.Head{Nozzle: "stream-16", Body: "body-4-reg40", X: units.Feet(q[0]), Y: units.Feet(q[1]), SweepDeg: 90}
			}
			read, s := stakedOut(t, p)
			sound(t, read, s)
			if name == "in a line" && len(s.Left) > 0 {
				t.Errorf("left: %v", s.Left)
			}
		})
	}
}

// FuzzOf sets out yards that were bent, emptied, moved far and changed in status by what
// the bytes say.
func FuzzOf(f *testing.F) {
	f.Add(uint64(1), uint8(12), []byte{})
	f.Add(uint64(2), uint8(3), []byte("no lot, no house, a fence of one place"))
	f.Add(uint64(5), uint8(30), []byte{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 250, 251, 252, 253, 254, 255})
	f.Fuzz(func(t *testing.T, seed uint64, heads uint8, how []byte) {
		p := yardOf(seed, int(heads%40))
		for i, b := range how {
			if i > 40 {
				break
			}
			odd(p, b)
		}
		p, err := plan.Decode(p.Encode())
		if err != nil {
			return // a yard that no file holds
		}
		s := Of(p, trench.Of(p, pipework.Of(p)))
		sound(t, p, s)
		Aims(p, s)
	})
}

// odd changes one thing of a yard by a byte: which by its lowest bits, how by the others.
func odd(p *plan.Plan, b byte) {
	ids, bars, heads := plan.SortedIDs(p.Areas), plan.SortedIDs(p.Barriers), plan.SortedIDs(p.Heads)
	n := int(b >> 3)
	status := []plan.Status{plan.New, plan.Existing, plan.Remove}[n%3]
	switch b % 8 {
	case 0:
		if n%2 == 0 {
			p.Site.Lot = nil
		}
		p.Site.NorthDeg = units.Degrees(n * 11)
	case 1, 2:
		if len(ids) > 0 {
			id := ids[n%len(ids)]
			a := p.Areas[id]
			a.Status = status
			k := n % len(a.Outline)
			a.Outline[k].Bulge = float64(n%7-3) / 4
			a.Outline[k].X += float64(n % 5)
			p.Areas[id] = a
		}
	case 3:
		if len(bars) > 0 {
			w := p.Barriers[bars[n%len(bars)]]
			w.Status, w.Line = status, w.Line[:1+n%len(w.Line)]
			p.Barriers[bars[n%len(bars)]] = w
		}
	case 4, 5:
		if len(heads) > 0 {
			h := p.Heads[heads[n%len(heads)]]
			h.X, h.Y, h.Status = h.X*units.Feet(n), -h.Y, status
			p.Heads[heads[n%len(heads)]] = h
		}
	case 6:
		if len(ids) > 0 {
			delete(p.Areas, ids[n%len(ids)])
		}
	case 7:
		if len(heads) > 1 {
			h, o := p.Heads[heads[n%len(heads)]], p.Heads[heads[(n+1)%len(heads)]]
			h.X, h.Y, h.SweepDeg = o.X, o.Y, 0.5
			p.Heads[heads[n%len(heads)]] = h
		}
	}
}

func BenchmarkOf(b *testing.B) {
	for _, n := range []int{100, 1000} {
		p, err := plan.Decode(yardOf(4, n).Encode())
		if err != nil {
			b.Fatal(err)
		}
		d := trench.Of(p, pipework.Of(p))
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				Of(p, d)
			}
		})
	}
}
