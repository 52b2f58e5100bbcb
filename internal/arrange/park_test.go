package arrange

import (
	"context"
	"fmt"
	"math"
	"testing"
	"time"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// park is three acres: 20 planting areas between walks, some of them with beds or
// cut corners.
func park() *plan.Plan {
	p := plan.Empty("Park", units.US)
	p.Areas = map[plan.ID]plan.Area{}
	widths, depths := []float64{84, 52, 108, 30, 96}, []float64{62, 92, 28, 88}
	const walk = 8
	y, n := float64(walk), 0
	for j, depth := range depths {
		x := float64(walk)
		for i, width := range widths {
			n++
			o := rect(x, y, x+width, y+depth)
			var holes []geom.Outline
			switch (i + j) % 4 {
			case 1: // a corner cut off
				o = geom.Outline{o[0], o[1], o[2], {X: x + 14, Y: y + depth}, {X: x, Y: y + depth - 14}}
			case 2: // a round bed in it
				if depth > 40 && width > 40 {
					holes = []geom.Outline{round(x+width/2, y+depth/2, 7)}
				}
			}
			a := plan.Area{Name: fmt.Sprintf("Lawn %d", n), Kind: plan.Planting, Outline: o, Holes: holes}
			if (i+2*j)%7 == 3 {
				a.Planting = plan.Flowers
			}
			p.Areas[plan.ID(fmt.Sprintf("a%02d", n))] = a
			x += width + walk
		}
		y += depth + walk
	}
	across, deep := walk*6.0, walk*5.0
	for _, w := range widths {
		across += w
	}
	for _, d := range depths {
		deep += d
	}
	p.Site.Lot = rect(0, 0, across, deep)
	walks := plan.Area{Name: "Walks", Kind: plan.Paving, Outline: rect(0, 0, across, deep)}
	for _, id := range plan.SortedIDs(p.Areas) {
		walks.Holes = append(walks.Holes, p.Areas[id].Outline)
	}
	p.Areas["walks"] = walks
	return p
}

// A park of three acres in one search. The small version takes four areas of it.
func TestLayouts_Park(t *testing.T) {
	p := park()
	if acres := p.Site.Lot.Area() / 43560; math.Abs(acres-3) > 0.3 {
		t.Fatalf("the park has %.2f acres", acres)
	}
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	o := Usual()
	o.Families = []catalog.Family{catalog.Stream, catalog.Spray}
	if !thorough() {
		o.Effort, o.Areas = 500, []plan.ID{"a02", "a04", "a12", "a14"}
	}
	var first time.Duration
	began := time.Now()
	stages := 0
	got, err := Propose(context.Background(), p, o, func(s Stage) {
		stages++
		if s.Best != nil && first == 0 {
			first = time.Since(began)
		}
	})
	whole := time.Since(began)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range got.Answers {
		if len(a.Layouts) == 0 && a.Why == "" {
			t.Errorf("%s has no layout and no reason", a.Area)
		}
		for _, l := range a.Layouts {
			if hard := l.Measures.HardShare(p); hard > o.Hard+1e-9 {
				t.Errorf("%s: %s puts %.4f of it on paving or off the lot", a.Area, l.Says, hard)
			}
		}
		if a.Why != "" {
			t.Log(a.Area, a.Why)
		}
	}
	if len(got.Offers) < 3 {
		t.Fatalf("%d offers", len(got.Offers))
	}
	best := got.Offers[0]
	if _, err := plan.Preview(p.Encode(), best.Patch); err != nil {
		t.Fatal(err)
	}
	const table = "A park of 3 acres, 20 areas, one search"
	result(table, "areas", "arranged", "heads of the first offer", "first offers after", "whole search", "evaluations", "stages told")
	result(table, fmt.Sprint(len(got.Answers)), fmt.Sprint(len(best.Picks)), fmt.Sprint(best.Total.Heads), first.Round(time.Millisecond).String(),
		whole.Round(100*time.Millisecond).String(), fmt.Sprint(got.Evaluations), fmt.Sprint(stages))
}

// Two lawns of different rates that share a line: each gets a row of its own along
// it, and neither counts the other's water.
func TestE30_EachLawnHasItsOwnEdgeRow(t *testing.T) {
	t.Parallel()
	p := plan.Empty("two lawns", units.US)
	p.Areas = map[plan.ID]plan.Area{
		"wide":   {Name: "Wide lawn", Kind: plan.Planting, Outline: rect(0, 0, 48, 28)},
		"narrow": {Name: "Narrow lawn", Kind: plan.Planting, Outline: rect(48, 0, 60, 28)},
	}
	got, err := Propose(context.Background(), p, quick(), nil)
	if err != nil {
		t.Fatal(err)
	}
	narrow, wide := got.Answers[0], got.Answers[1]
	if len(narrow.Layouts) == 0 || len(wide.Layouts) == 0 {
		t.Fatalf("%s %s", narrow.Why, wide.Why)
	}
	a, b := narrow.Layouts[0], wide.Layouts[0]
	if a.Family == b.Family {
		t.Fatalf("both lawns get %s", a.Family)
	}
	along := func(l Layout, west bool) (n int) {
		for _, h := range l.Heads {
			if d := h.At[0] - 48; math.Abs(d) < 1.5 && (d < 0) == west {
				n++
			}
		}
		return n
	}
	if n := along(a, false); n < 2 {
		t.Errorf("%d heads of the narrow lawn stand along the line: %s", n, a.Says)
	}
	if n := along(b, true); n < 2 {
		t.Errorf("%d heads of the wide lawn stand along the line: %s", n, b.Says)
	}
	for _, h := range a.Heads {
		for _, k := range b.Heads {
			if d := distance(h.At, k.At); d < 0.6 {
				t.Errorf("two heads stand %.2f ft apart", d)
			}
		}
	}
	if a.Measures.DU < evenEnough || b.Measures.DU < evenEnough {
		t.Errorf("%s %s", a.Says, b.Says)
	}
}

// BenchmarkFirstOffers is the time from asking for three lawns to the first offers.
func BenchmarkFirstOffers(b *testing.B) {
	p := plan.Empty("three lawns", units.US)
	p.Areas = map[plan.ID]plan.Area{
		"a": {Name: "Front", Kind: plan.Planting, Outline: ownShapes[2].outline},
		"b": {Name: "Side", Kind: plan.Planting, Outline: moved(ownShapes[4].outline, 100)},
		"c": {Name: "Back", Kind: plan.Planting, Outline: moved(ownShapes[8].outline, 200)},
	}
	for b.Loop() {
		ctx, cancel := context.WithCancel(context.Background())
		_, err := Propose(ctx, p, Usual(), func(s Stage) {
			if s.Best != nil && len(s.Best.Offers) > 0 {
				cancel()
			}
		})
		if err == nil {
			b.Fatal("it was not called off")
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s")
}

// moved is an outline so many feet farther east.
func moved(o geom.Outline, by float64) geom.Outline {
	out := make(geom.Outline, len(o))
	for i, v := range o {
		v.X += by
		out[i] = v
	}
	return out
}
