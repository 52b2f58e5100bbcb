package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

var sheet = orb.Bound{Min: orb.Point{30, 80}, Max: orb.Point{760, 580}}

// crowd are labels as of a plan: heads in rows a few feet apart, pipes between them,
// names of areas.
func crowd(n int, seed uint64) (wants []Want, taken []orb.Bound, lines [][2]orb.Point) {
	r := rand.New(rand.NewPCG(seed, 7))
	leader := Pen{Ink: Grey, Width: 0.4}
	var last orb.Point
	for i := range n {
		at := orb.Point{sheet.Min[0] + 10 + r.Float64()*(sheet.Max[0]-sheet.Min[0]-20), sheet.Min[1] + 10 + r.Float64()*(sheet.Max[1]-sheet.Min[1]-20)}
		wants = append(wants, Want{Text: Text{S: fmt.Sprintf("%d-%d", 1+i/12, 1+i%12), Size: 6.5}, About: at, Clear: 2.5, Leader: leader, Priority: 1})
		if i%4 == 1 {
			lines = append(lines, [2]orb.Point{last, at})
			wants = append(wants, Want{Text: Text{S: "1 in poly pipe", Size: 6}, Along: []orb.Point{last, at}, Leader: leader})
		}
		last = at
	}
	taken = append(taken, orb.Bound{Min: orb.Point{600, 80}, Max: orb.Point{760, 200}})
	return wants, taken, lines
}

// boxesOf are the boxes of words on paper, reckoned from the texts alone.
func boxesOf(t *Text) []orb.Bound {
	var out []orb.Bound
	words := strings.SplitAfter(t.S, " ")
	x := 0.0
	whole := t.Width()
	switch t.Anchor {
	case Middle:
		x = -whole / 2
	case End:
		x = -whole
	}
	sin, cos := math.Sincos(t.TurnDeg * math.Pi / 180)
	for _, w := range words {
		one := Text{S: w, Size: t.Size, Bold: t.Bold, TurnDeg: t.TurnDeg}
		b := orb.MultiPoint{}
		for _, c := range one.Corners(orb.Point{t.At[0] + x*cos, t.At[1] + x*sin}) {
			b = append(b, c)
		}
		out = append(out, b.Bound())
		x += one.Width()
	}
	return out
}

// wrongWith says what is wrong with labels as they stand, "" when nothing is.
func wrongWith(inside orb.Bound, wants []Want, taken []orb.Bound, got []Settled) string {
	type piece struct {
		orb.Bound
		of int
	}
	var all []piece
	for i, s := range got {
		for _, t := range s.Texts {
			if t.TurnDeg > 90 || t.TurnDeg <= -90 {
				return fmt.Sprintf("label %d is turned by %g degrees", i, t.TurnDeg)
			}
			for _, b := range boxesOf(t) {
				if b.Min[0] < inside.Min[0]-1e-6 || b.Min[1] < inside.Min[1]-1e-6 || b.Max[0] > inside.Max[0]+1e-6 || b.Max[1] > inside.Max[1]+1e-6 {
					return fmt.Sprintf("label %d stands out of the box", i)
				}
				for k, x := range taken {
					if overlap(b, x) {
						return fmt.Sprintf("label %d lies on the taken box %d", i, k)
					}
				}
				for k, w := range wants {
					if w.Clear > 0 && overlap(b, orb.Bound{Min: orb.Point{w.About[0] - w.Clear, w.About[1] - w.Clear}, Max: orb.Point{w.About[0] + w.Clear, w.About[1] + w.Clear}}) {
						return fmt.Sprintf("label %d lies on the mark of %d", i, k)
					}
				}
				for _, p := range all {
					if p.of != i && overlap(p.Bound, b) {
						return fmt.Sprintf("labels %d and %d overlap", p.of, i)
					}
				}
				all = append(all, piece{b, i})
			}
		}
	}
	for i, s := range got {
		if s.Leader == nil {
			continue
		}
		leg := [2]orb.Point{s.Leader.Points[0], s.Leader.Points[1]}
		near := math.Inf(1)
		for _, p := range all {
			if p.of != i && crosses(leg, p.Bound) {
				return fmt.Sprintf("the leader of %d crosses label %d", i, p.of)
			}
			if p.of == i {
				if overlap(p.Bound, hull([2]orb.Point{leg[1], leg[1]})) {
					return fmt.Sprintf("the leader of %d ends in its text", i)
				}
				near = min(near, gapTo(leg[1], p.Bound))
			}
		}
		if near > 2 {
			return fmt.Sprintf("the leader of %d ends %.1f points from its text", i, near)
		}
		for k := range i {
			if o := got[k].Leader; o != nil && tooNear(leg, [2]orb.Point{o.Points[0], o.Points[1]}) {
				return fmt.Sprintf("the leaders of %d and %d run together", k, i)
			}
		}
	}
	return ""
}

func gapTo(p orb.Point, b orb.Bound) float64 {
	return math.Hypot(max(b.Min[0]-p[0], 0, p[0]-b.Max[0]), max(b.Min[1]-p[1], 0, p[1]-b.Max[1]))
}

func TestLabelsStandClear(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		heads int
		least float64 // share that must find room; the last is more than a page holds
	}{{1, 1}, {30, 1}, {100, 1}, {320, 0.985}, {900, 0.8}} {
		n := c.heads
		for seed := range uint64(3) {
			wants, taken, lines := crowd(n, seed)
			got := Settle(sheet, wants, taken, lines)
			if s := wrongWith(sheet, wants, taken, got); s != "" {
				t.Errorf("%d heads, seed %d: %s", n, seed, s)
			}
			placed, led := 0, 0
			for _, g := range got {
				if g.Placed {
					placed++
				}
				if g.Leader != nil {
					led++
				}
			}
			if float64(placed) < c.least*float64(len(wants)) {
				t.Errorf("%d heads, seed %d: only %d of %d labels found room", n, seed, placed, len(wants))
			}
			t.Logf("%d heads: %d of %d labels placed, %d with leaders", n, placed, len(wants), led)
		}
	}
}

func TestLabelsAnyWants(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		point := rapid.Custom(func(t *rapid.T) orb.Point {
			return orb.Point{rapid.Float64Range(-50, 250).Draw(t, "x"), rapid.Float64Range(-50, 200).Draw(t, "y")}
		})
		want := rapid.Custom(func(t *rapid.T) Want {
			w := Want{
				Text:     Text{S: rapid.StringN(0, 12, 40).Draw(t, "words"), Size: rapid.Float64Range(0, 14).Draw(t, "size"), Bold: rapid.Bool().Draw(t, "bold")},
				About:    point.Draw(t, "about"),
				Clear:    rapid.SampledFrom([]float64{0, 2, 5}).Draw(t, "clear"),
				On:       rapid.Bool().Draw(t, "on"),
				Priority: rapid.IntRange(0, 3).Draw(t, "priority"),
			}
			if w.On {
				w.Clear = 0
			}
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 1:
				w.Along = rapid.SliceOfN(point, 0, 5).Draw(t, "along")
			case 2:
				w.Within = [][]orb.Point{rapid.SliceOfN(point, 0, 6).Draw(t, "within")}
			}
			if rapid.Bool().Draw(t, "leads") {
				w.Leader = Pen{Ink: Black, Width: 0.5}
			}
			return w
		})
		inside := orb.Bound{Max: orb.Point{200, 150}}
		wants := rapid.SliceOfN(want, 0, 40).Draw(t, "wants")
		var taken []orb.Bound
		for _, p := range rapid.SliceOfN(point, 0, 4).Draw(t, "taken") {
			taken = append(taken, orb.Bound{Min: p, Max: orb.Point{p[0] + 30, p[1] + 12}})
		}
		var lines [][2]orb.Point
		for _, p := range rapid.SliceOfN(point, 0, 8).Draw(t, "lines") {
			lines = append(lines, [2]orb.Point{p, {p[1], p[0]}})
		}
		got := Settle(inside, wants, taken, lines)
		if len(got) != len(wants) {
			t.Fatalf("%d answers to %d wants", len(got), len(wants))
		}
		if s := wrongWith(inside, wants, taken, got); s != "" {
			t.Fatal(s)
		}
		if again := Settle(inside, wants, taken, lines); !reflect.DeepEqual(got, again) {
			t.Fatal("the same wants have another answer")
		}
	})
}

func TestLabelsBadNumbers(t *testing.T) {
	t.Parallel()
	nan, inf := math.NaN(), math.Inf(1)
	wants := []Want{
		{Text: Text{S: "a", Size: 8}, About: orb.Point{nan, 1}},
		{Text: Text{S: "a", Size: inf}},
		{Text: Text{S: "a", Size: 8}, Clear: nan},
		{Text: Text{S: "a", Size: 8}, Along: []orb.Point{{0, 0}, {nan, inf}}},
		{Text: Text{S: " \n ", Size: 8}},
		{Text: Text{S: "a", Size: 8}, About: orb.Point{1e300, 1}},
	}
	for i, g := range Settle(sheet, wants, []orb.Bound{{Min: orb.Point{nan, nan}}}, [][2]orb.Point{{{nan, 0}, {1, 1}}, {{-1e300, 0}, {1e300, 1}}}) {
		if g.Placed {
			t.Errorf("label %d is placed", i)
		}
	}
	if got := Settle(orb.Bound{Min: orb.Point{5, 5}, Max: orb.Point{-5, -5}}, []Want{{Text: Text{S: "a", Size: 8}}}, nil, nil); got[0].Placed {
		t.Error("a label stands in a box that is none")
	}
}

func TestLabelPlaces(t *testing.T) {
	t.Parallel()
	pen := Pen{Ink: Grey, Width: 0.5}
	one := func(w Want, taken []orb.Bound, lines [][2]orb.Point) Settled {
		t.Helper()
		got := Settle(orb.Bound{Max: orb.Point{400, 300}}, []Want{w}, taken, lines)[0]
		if !got.Placed {
			t.Fatalf("%q found no room", w.Text.S)
		}
		return got
	}
	mark := Want{Text: Text{S: "3-5", Size: 8}, About: orb.Point{200, 150}, Clear: 4, Leader: pen}
	if got := one(mark, nil, nil); got.Texts[0].At[0] < 204 || got.Texts[0].Anchor != Start || math.Abs(got.Texts[0].At[1]-150) > 4 || got.Leader != nil {
		t.Errorf("alone it does not stand at the right of its mark: %+v", got.Texts[0])
	}
	if got := one(mark, nil, [][2]orb.Point{{{200, 150}, {400, 150}}}); boxesOf(got.Texts[0])[0].Max[1] > 150 && boxesOf(got.Texts[0])[0].Min[1] < 150 && boxesOf(got.Texts[0])[0].Max[0] > 204 {
		t.Errorf("it stands on a line though it could move off: %+v", got.Texts[0])
	}
	about := orb.Bound{Min: orb.Point{180, 130}, Max: orb.Point{220, 170}}
	if got := one(mark, []orb.Bound{about}, nil); got.Leader == nil || overlap(boxesOf(got.Texts[0])[0], about) || got.Dot != nil {
		t.Errorf("with all taken about it, it has no leader: %+v", got)
	}
	slope := []orb.Point{{300, 100}, {100, 200}} // drawn from right to left
	got := one(Want{Text: Text{S: "1 in pipe", Size: 8}, Along: slope}, nil, [][2]orb.Point{{slope[0], slope[1]}})
	if turn := got.Texts[0].TurnDeg; math.Abs(turn+math.Atan2(100, 200)*180/math.Pi) > 0.01 {
		t.Errorf("along a falling line it is turned by %g degrees", turn)
	}
	lawn := [][]orb.Point{{{0, 0}, {60, 0}, {60, 250}, {300, 250}, {300, 300}, {0, 300}}}
	got = one(Want{Text: Text{S: "Front lawn", Size: 9}, About: orb.Point{150, 150}, Within: lawn, On: true}, nil, nil)
	if b := boxesOf(got.Texts[0]); !fitsIn(lawn, b[0].Center(), 20, 4) {
		t.Errorf("the name of a lawn with a corner out stands outside of it: %v", b)
	}
	two := one(Want{Text: Text{S: "Bed\n120 sq ft", Size: 9}, About: orb.Point{200, 150}, On: true}, nil, nil)
	if len(two.Texts) != 2 || two.Texts[0].At[1] <= two.Texts[1].At[1] || two.Texts[0].Anchor != Middle {
		t.Errorf("two lines: %+v", two.Texts)
	}
}

// Where one label could go anywhere and another to one place only, the first moves.
func TestLabelsMoveForOneAnother(t *testing.T) {
	t.Parallel()
	// A strip as high as a text: both marks have room at their right alone, and the
	// one to the right would be covered by a label that is placed before it.
	inside := orb.Bound{Max: orb.Point{60, 9}}
	wants := []Want{
		{Text: Text{S: "wide", Size: 8}, About: orb.Point{30, 4.5}, Clear: 1, Priority: 2},
		{Text: Text{S: "wide", Size: 8}, About: orb.Point{55, 4.5}, Clear: 1, Priority: 1},
	}
	got := Settle(inside, wants, nil, nil)
	if !got[0].Placed || !got[1].Placed {
		t.Errorf("one is left out: %+v", got)
	}
}

func BenchmarkSettle400(b *testing.B) {
	wants, taken, lines := crowd(320, 1)
	b.ReportMetric(float64(len(wants)), "labels")
	placed := 0
	for b.Loop() {
		placed = 0
		for _, g := range Settle(sheet, wants, taken, lines) {
			if g.Placed {
				placed++
			}
		}
	}
	b.ReportMetric(float64(placed), "placed")
}

func TestWordsKeepFiguresWhole(t *testing.T) {
	t.Parallel()
	for s, want := range map[string]string{
		`T29 at 8' 2 1/2"; head 1-7 at 21' 10"`: `T29|at|8' 2 1/2";|head|1-7|at|21' 10"`,
		"3/4 in lateral, 12 ft":                 "3/4 in|lateral,|12 ft",
		"zone 2 and 3":                          "zone|2|and|3",
		"lawn 40' 7 1/2\", bed":                 "lawn|40' 7 1/2\",|bed",
		"":                                      "",
	} {
		if got := strings.Join(Unbroken(s), "|"); got != want {
			t.Errorf("%q: %s, not %s", s, got, want)
		}
	}
	for _, l := range Wrap(`from 8' 2 1/2" to 9' 3"`, 10, false, 20) {
		if w := (&Text{S: l, Size: 10}).Width(); w > 20 {
			t.Errorf("%q is %.1f points wide", l, w)
		}
	}
}
